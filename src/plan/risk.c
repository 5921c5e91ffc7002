/*
 * What has broken a promise. Each tool is judged again by the predicates of the check, on the
 * press, over the time and at the repeat promised; this is done by the change that may have broken
 * it, before that change is committed, so that what is at risk need only be read.
 */
#include <string.h>

#include "promised.h"
#include "words.h"

/* A risk, and whether it counts from a moment of its own, not from the change. */
struct found_risk {
	struct risk risk;
	bool timed;
};
struct judging {
	struct asking asking;
	struct kept_promise promise;
	struct promised promised;
	int64_t entry; /* the last before the change */
	struct moment now;
	const struct job_running *runs;
	size_t run_count;
	const struct risk *before; /* all that is on record, of whatever job */
	size_t before_count;
	struct found_risk *found;
	size_t count, room;
};

/* ---------------------------------------------------------------- one risk a need */

static void add(struct judging *judging, const char *need, int64_t station, int64_t cut,
                const struct tool *tool, const struct moment *since, const char *text)
{
	for (size_t i = 0; i < judging->count; i++) {
		const struct risk *risk = &judging->found[i].risk;
		if (risk->station == station && risk->cut == cut && strcmp(risk->need, need) == 0) {
			return;
		}
	}
	if (judging->count == judging->room) {
		judging->room = judging->room * 2 + 8;
		judging->found = arena_grow(judging->asking.arena, judging->found, judging->count,
		                            judging->room, sizeof *judging->found);
	}
	judging->found[judging->count++] = (struct found_risk){
		.risk =
			{
				.job = judging->promise.job,
				.tool = tool != NULL ? tool->id : 0,
				.need = need,
				.station = station,
				.cut = cut,
				.text = text,
				.since = since != NULL ? *since : judging->now,
			},
		.timed = since != NULL,
	};
}

static void add_row(struct judging *judging, const struct group_rules *rules, size_t row,
                    const char *need, const struct tool *tool, const struct moment *since,
                    const char *text)
{
	int64_t number = rules->row_number(&judging->promised.attempt.question, row);
	add(judging, need, rules->rows_are_cuts ? 0 : number, rules->rows_are_cuts ? number : 0, tool,
	    since, text);
}

/* ---------------------------------------------------------------- what runs meanwhile */

static const struct job_running *run_named(const struct judging *judging, const char *number)
{
	for (size_t i = 0; i < judging->run_count; i++) {
		if (text_equal_fold(judging->runs[i].number, number)) {
			return &judging->runs[i];
		}
	}
	return NULL;
}

static bool at_most(struct moment a, struct moment b)
{
	return moment_compare(a, b) <= 0;
}

/*
 * A job that runs and was to end before this one starts: where it still runs by then, the promise
 * is broken without anything having changed.
 */
static const char *outlasting(struct judging *judging, const struct promise *promises, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (promises[i].until.known && at_most(promises[i].until.value, judging->promise.from) &&
		    run_named(judging, promises[i].job) != NULL) {
			return promises[i].job;
		}
	}
	return NULL;
}

/* What the press still runs, or runs without anybody having said until when. */
static void judge_runs_on_press(struct judging *judging)
{
	const struct press_state *press = &judging->promised.attempt.press;
	struct arena *arena = judging->asking.arena;
	const struct kept_promise *promise = &judging->promise;
	for (size_t i = 0; i < press->promise_count; i++) {
		const struct promise *other = &press->promises[i];
		const struct job_running *run = run_named(judging, other->job);
		if (run == NULL || other->until.known) {
			continue;
		}
		/* Where it ran already, the promise was made knowing that: it counts when it is due. */
		bool known = run->started.known && at_most(run->started.value, promise->asked);
		add(judging, "press", 0, 0, NULL, known ? &promise->from : NULL,
		    arena_format(arena, "press %s runs job %s, end not known", press->press.code,
		                 other->job));
	}
	const char *job = outlasting(judging, press->promises, press->promise_count);
	if (job != NULL) {
		add(judging, "press", 0, 0, NULL, &promise->from,
		    arena_format(arena, "press %s still runs job %s", press->press.code, job));
	}
}

/* ---------------------------------------------------------------- tools */

static const char *remarks_against(struct arena *arena, const struct remarks *remarks)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < remarks->count; i++) {
		if (remarks->items[i].level == SUITS_NOT) {
			text_join(&text, " and ", remarks->items[i].text);
		}
	}
	return text.bytes;
}

/*
 * Due back in time, but nobody knows whether it comes: from the moment that passes on it counts.
 * What was overdue when the promise was made counts from the start of the job on.
 */
static void judge_overdue(struct judging *judging, const struct group_rules *rules, size_t row,
                          const char *need, const struct tool *tool)
{
	const struct kept_promise *promise = &judging->promise;
	if (!tool->place_known || tool->sort != SORT_SUPPLIER || !tool->back.known) {
		return;
	}
	struct moment due = moment_of_day_end(tool->back.value);
	struct moment since = at_most(due, promise->asked) ? promise->from : due;
	add_row(judging, rules, row, need, tool, &since,
	        arena_format(judging->asking.arena, "at supplier %s, overdue since %s", tool->place,
	                     moment_text(tool->back.value).bytes));
}

/* Still on another press, or with another job, when its turnaround should begin. */
static void judge_outlasted(struct judging *judging, const struct group_rules *rules, size_t row,
                            const char *need, const struct tool *tool)
{
	const struct limits *limits = judging->asking.limits;
	const char *job = outlasting(judging, tool->promises, tool->promise_count);
	if (job == NULL && tool->press != 0 && tool->press != judging->promise.press) {
		job = outlasting(judging, tool->press_promises, tool->press_promise_count);
	}
	if (job != NULL) {
		struct moment since =
			calendar_subtract(&limits->calendar, judging->promise.from, limits->turnaround);
		add_row(judging, rules, row, need, tool, &since,
		        arena_format(judging->asking.arena, "still with job %s, which runs", job));
	}
}

static void judge_tool(struct judging *judging, const struct group_rules *rules, size_t row,
                       const char *need, const struct tool *tool, enum suits level,
                       const struct remarks *remarks)
{
	if (level == SUITS_NOT) {
		add_row(judging, rules, row, need, tool, NULL,
		        remarks_against(judging->asking.arena, remarks));
		return;
	}
	if (strcmp(judging->asking.job.state, "running") != 0) {
		judge_overdue(judging, rules, row, need, tool);
		judge_outlasted(judging, rules, row, need, tool);
	}
}

/* A station added since, or a cylinder that takes a loose gear by now. */
static void judge_lack(struct judging *judging, const struct group_rules *rules, size_t row,
                       const char *need, const char *words)
{
	add_row(judging, rules, row, need, NULL, NULL,
	        arena_format(judging->asking.arena, "no %s is booked for it", words));
}

static void judge_row(struct judging *judging, const struct group_rules *rules, size_t row,
                      const struct assigned *chosen)
{
	const struct question *question = &judging->promised.attempt.question;
	size_t item = chosen->item[row], companion = chosen->companion[row];
	struct remarks remarks = {.count = 0};
	if (item == ASSIGNED_NONE) {
		judge_lack(judging, rules, row, rules->item_need, rules->item_words);
		return;
	}
	enum suits level = group_item_remarks(question, rules, row, item, &remarks);
	judge_tool(judging, rules, row, rules->item_need, rules->item_tool(question, item), level,
	           &remarks);
	if (!rules->needs_companion(question, item)) {
		return;
	}
	if (companion == ASSIGNED_NONE) {
		judge_lack(judging, rules, row, rules->companion_need, rules->companion_words);
		return;
	}
	remarks.count = 0;
	level = group_companion_remarks(question, rules, item, companion, &remarks);
	judge_tool(judging, rules, row, rules->companion_need,
	           rules->companion_tool(question, companion), level, &remarks);
}

/* ---------------------------------------------------------------- the job and its press */

static bool differs(struct known_moment own, struct moment promised)
{
	return own.known && moment_compare(own.value, promised) != 0;
}

static void judge_time(struct judging *judging)
{
	const struct job *job = &judging->asking.job;
	const struct kept_promise *promise = &judging->promise;
	if (!differs(job->from, promise->from) && !differs(job->until, promise->until)) {
		return;
	}
	struct text text = text_start(judging->asking.arena);
	text_add(&text, "the job is to run");
	if (job->from.known) {
		text_add_format(&text, " from %s", moment_text(job->from.value).bytes);
	}
	if (job->until.known) {
		text_add_format(&text, " until %s", moment_text(job->until.value).bytes);
	}
	text_add_format(&text, ", booked from %s", moment_text(promise->from).bytes);
	text_add_format(&text, " until %s", moment_text(promise->until).bytes);
	add(judging, "job", 0, 0, NULL, NULL, text.bytes);
}

/* The job has another repeat by now than what the tools were chosen for. */
static void judge_repeat(struct judging *judging)
{
	const struct promised *promised = &judging->promised;
	const struct limits *limits = judging->asking.limits;
	struct arena *arena = judging->asking.arena;
	struct repeat own = promised->own_repeat, booked = judging->promise.repeat;
	if (own.known && booked.known && !repeat_equal(own, booked, limits->repeat_match)) {
		add(judging, "repeat", 0, 0, NULL, NULL,
		    arena_format(arena, "repeat is %s, booked for %s",
		                 words_of_repeat(arena, own, limits->units),
		                 words_of_repeat(arena, booked, limits->units)));
	} else if (own.known && promised->own_around.known && judging->promise.number_around.known &&
	           promised->own_around.value != judging->promise.number_around.value) {
		add(judging, "repeat", 0, 0, NULL, NULL,
		    arena_format(arena, "number_around is %lld, booked for %lld",
		                 (long long)promised->own_around.value,
		                 (long long)judging->promise.number_around.value));
	}
}

/* The job names presses, and the promised one is not among them: by now it is to run elsewhere. */
static enum outcome judge_presses(struct judging *judging)
{
	const struct asking *asking = &judging->asking;
	const struct job *job = &asking->job;
	struct text codes = text_start(asking->arena);
	for (size_t i = 0; i < job->press_count; i++) {
		struct press_state state;
		if (job->presses[i] == judging->promise.press) {
			return OUTCOME_DONE;
		}
		enum outcome outcome =
			store_press_read(asking->store, asking->arena, job->presses[i], &state, asking->fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		text_join(&codes, ",", state.press.code);
	}
	if (job->press_count > 0) {
		add(judging, "press", 0, 0, NULL, NULL,
		    arena_format(asking->arena, "the job is to run on %s, booked on %s", codes.bytes,
		                 judging->promise.press_code));
	}
	return OUTCOME_DONE;
}

static void judge_job(struct judging *judging)
{
	const struct question *question = &judging->promised.attempt.question;
	struct finding_list list = {.arena = judging->asking.arena};
	judge_time(judging);
	judge_repeat(judging);
	if (question->press->retired) {
		add(judging, "press", 0, 0, NULL, NULL,
		    arena_format(list.arena, "press %s is retired", question->press->press.code));
	}
	findings_of_job(question, judging->promise.repeat.known, &list);
	for (size_t i = 0; i < list.count; i++) {
		const struct finding *finding = &list.items[i];
		if (finding->level == FINDING_SHORT) {
			add(judging, finding->need, finding->station, finding->cut, NULL, NULL, finding->text);
		}
	}
	if (strcmp(judging->asking.job.state, "running") != 0) {
		judge_runs_on_press(judging);
	}
}

/* ---------------------------------------------------------------- since when, by which change */

static const struct risk *known_before(const struct judging *judging, const struct risk *risk)
{
	for (size_t i = 0; i < judging->before_count; i++) {
		const struct risk *before = &judging->before[i];
		if (before->job == risk->job && before->tool == risk->tool &&
		    before->station == risk->station && before->cut == risk->cut &&
		    strcmp(before->need, risk->need) == 0 && strcmp(before->text, risk->text) == 0) {
			return before;
		}
	}
	return NULL;
}

/* The entry about a record among those of the change; 0: none. */
static enum outcome entry_about(struct judging *judging, const struct kind *kind, int64_t id,
                                int64_t *out)
{
	return *out != 0 ? OUTCOME_DONE
	                 : store_entry_about(judging->asking.store, judging->entry, kind, id, out,
	                                     judging->asking.fault);
}

static const struct kind *kind_of_tool(const struct judging *judging, int64_t tool)
{
	for (size_t i = 0; i < judging->promise.tool_count; i++) {
		if (judging->promise.tools[i].tool == tool) {
			return judging->promise.tools[i].kind;
		}
	}
	return NULL;
}

/* Of several entries of one change that about the tool, else about the press or the job. */
static enum outcome find_entry(struct judging *judging, const struct risk *risk, int64_t *out)
{
	int64_t last = store_entry_last(judging->asking.store);
	enum outcome outcome = OUTCOME_DONE;
	*out = 0;
	if (last <= judging->entry + 1) {
		*out = last;
		return outcome;
	}
	const struct kind *kind = kind_of_tool(judging, risk->tool);
	if (kind != NULL) {
		outcome = entry_about(judging, kind, risk->tool, out);
	}
	if (outcome == OUTCOME_DONE && strcmp(risk->need, "press") == 0) {
		outcome = entry_about(judging, &kinds[KIND_PRESS], judging->promise.press, out);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_about(judging, &kinds[KIND_JOB], judging->promise.job, out);
	}
	*out = *out != 0 ? *out : last;
	return outcome;
}

static enum outcome write_risks(struct judging *judging)
{
	struct arena *arena = judging->asking.arena;
	enum outcome outcome = OUTCOME_DONE;
	struct risk *risks = arena_take(arena, judging->count, sizeof *risks);
	for (size_t i = 0; i < judging->count && outcome == OUTCOME_DONE; i++) {
		risks[i] = judging->found[i].risk;
		const struct risk *before = known_before(judging, &risks[i]);
		if (before != NULL) {
			risks[i].entry = before->entry;
			risks[i].since = judging->found[i].timed ? risks[i].since : before->since;
		} else {
			outcome = find_entry(judging, &risks[i], &risks[i].entry);
		}
	}
	return outcome == OUTCOME_DONE ? store_risks_write(judging->asking.store, judging->promise.job,
	                                                   risks, judging->count, judging->asking.fault)
	                               : outcome;
}

/* ---------------------------------------------------------------- judging */

/* All the risks on record, those that lie ahead too. */
static enum outcome read_before(struct store *store, struct arena *arena, struct judging *judging,
                                struct fault *fault)
{
	struct moment end;
	struct risk *risks;
	enum outcome outcome = moment_parse("9999-12-30T00:00Z", &end, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_risks(store, arena, end, &risks, &judging->before_count, fault);
		judging->before = risks;
	}
	return outcome;
}

static enum outcome judge(const struct judging *common, int64_t job)
{
	struct judging judging = *common;
	struct asking *asking = &judging.asking;
	enum outcome outcome =
		store_promise_of_job(asking->store, asking->arena, job, &judging.promise, asking->fault);
	if (outcome != OUTCOME_DONE || judging.promise.id == 0) {
		return outcome;
	}
	outcome = promised_open(asking, &judging.promise, judging.now, &judging.promised);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = judge_presses(&judging);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	judge_job(&judging);
	for (size_t group = 0; group < GROUPS; group++) {
		size_t rows = serving_rules[group]->row_count(&judging.promised.attempt.question);
		for (size_t row = 0; row < rows; row++) {
			judge_row(&judging, serving_rules[group], row, &judging.promised.chosen[group]);
		}
	}
	return write_risks(&judging);
}

static enum outcome judging_open(struct store *store, struct arena *arena, int64_t entry,
                                 struct moment now, const struct limits *limits,
                                 struct judging *out, struct fault *fault)
{
	struct job_running *runs;
	*out = (struct judging){
		.asking = {.store = store, .arena = arena, .fault = fault, .limits = limits},
		.entry = entry,
		.now = now,
	};
	enum outcome outcome = store_runs(store, arena, &runs, &out->run_count, fault);
	out->runs = runs;
	return outcome == OUTCOME_DONE ? read_before(store, arena, out, fault) : outcome;
}

enum outcome plan_promise_judge(struct store *store, struct arena *arena, int64_t job,
                                int64_t entry, struct moment now, const struct limits *limits,
                                struct fault *fault)
{
	struct judging common;
	enum outcome outcome = judging_open(store, arena, entry, now, limits, &common, fault);
	return outcome == OUTCOME_DONE ? judge(&common, job) : outcome;
}

/* One after the other, what one took given back before the next. */
static enum outcome judge_each(struct judging *common, const int64_t *jobs, size_t count)
{
	enum outcome outcome = OUTCOME_DONE;
	struct arena *arena = arena_new();
	common->asking.arena = arena;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		arena_reset(arena);
		outcome = judge(common, jobs[i]);
	}
	arena_free(arena);
	return outcome;
}

enum outcome plan_promises_watch(struct store *store, int64_t entry, struct moment now,
                                 void *context, struct fault *fault)
{
	struct arena *arena = arena_new();
	struct limits limits;
	struct judging common;
	int64_t *jobs;
	size_t count = 0;
	(void)context;
	enum outcome outcome = store_promises_touched(store, arena, entry, &jobs, &count, fault);
	if (outcome == OUTCOME_DONE && count > 0) {
		outcome = store_limits(store, &limits, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = judging_open(store, arena, entry, now, &limits, &common, fault);
		}
		if (outcome == OUTCOME_DONE) {
			outcome = judge_each(&common, jobs, count);
		}
	}
	arena_free(arena);
	return outcome;
}

/* ---------------------------------------------------------------- what is at risk */

enum outcome plan_at_risk(struct store *store, struct arena *arena, struct moment now,
                          struct promise_risk **out, size_t *count, struct fault *fault)
{
	struct risk *risks;
	*out = NULL;
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_risks(store, arena, now, &risks, count, fault);
	*out = arena_take(arena, *count, sizeof **out);
	for (size_t i = 0; i < *count && outcome == OUTCOME_DONE; i++) {
		struct promise_risk *risk = &(*out)[i];
		risk->risk = risks[i];
		if (risks[i].entry != 0) {
			outcome =
				store_entry_read(store, arena, risks[i].entry, &risk->entry, &risk->of, fault);
		}
	}
	store_snapshot_end(store);
	return outcome;
}
