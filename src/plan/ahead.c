/*
 * `ahead`: all planned jobs of the horizon together. Read once, modelled, solved, told; then what
 * is short, why, and what would cure it.
 */
#include <assert.h>

#include "ahead.h"
#include "words.h"

/*
 * How long all of it may take, so that the whole answer stays within 2 s of 500 jobs and 30 s of
 * 5000. Few jobs are done long before that; a slow machine, or one that looks over each step, gets
 * its time. All of it is counted by joint_clock: the processor's, so that other work beside this
 * does not change the answer.
 */
#define SECONDS_OF_FEW 6.0
#define FEW_JOBS 100
#define SECONDS_OF_MANY 1.5
#define SECONDS_A_JOB 0.0035 /* of those above MANY_JOBS */
#define MANY_JOBS 500
#define SHARE_OF_CHOICE 0.8

static struct known_moment known(struct moment moment)
{
	return (struct known_moment){.known = true, .value = moment};
}

/* ---------------------------------------------------------------- what a job runs with */

/* The worst of what is said of the tools of a job, and its first words. */
struct doubts {
	struct arena *arena;
	bool any;
	const char *first;
};

static void doubt_add(struct doubts *doubts, const char *what, const struct remarks *remarks)
{
	for (size_t i = 0; i < remarks->count; i++) {
		if (remarks->items[i].level == SUITS_DOUBTFUL) {
			doubts->any = true;
			if (doubts->first == NULL) {
				doubts->first = arena_format(doubts->arena, "%s%s%s", what,
				                             *what != '\0' ? " " : "", remarks->items[i].text);
			}
		}
	}
}

static void tool_add(struct ahead_job *out, const struct tool *tool, const char *need,
                     const struct group_rules *rules, int64_t number)
{
	out->tools[out->tool_count++] = (struct ahead_tool){
		.tag = tool->tag,
		.need = need,
		.station = rules->rows_are_cuts ? 0 : number,
		.cut = rules->rows_are_cuts ? number : 0,
	};
}

/* One need as it is served: the tool, what goes with it, and what is to be said of both. */
static void tell_row(const struct horizon *horizon, const struct question *question,
                     enum joint_group group, size_t row, uint32_t item, uint32_t companion,
                     struct ahead_job *out, struct doubts *doubts)
{
	const struct group_rules *rules = rules_of_group(group);
	struct remarks remarks = {.count = 0};
	int64_t number = rules->row_number(question, row);
	size_t place, beside;
	resource_kind(horizon, item, &place);
	const struct tool *tool = resource_tool(horizon, item);
	rules->item_suits(question, row, place, &remarks);
	there_now(question, tool, group == JOINT_CYLINDERS, &remarks);
	doubt_add(doubts, tag_shown(tool->tag).bytes, &remarks);
	tool_add(out, tool, rules->item_need, rules, number);
	if (companion == JOINT_NONE) {
		return;
	}
	remarks.count = 0;
	resource_kind(horizon, companion, &beside);
	tool = resource_tool(horizon, companion);
	rules->companion_suits(question, place, beside, &remarks);
	there_now(question, tool, false, &remarks);
	doubt_add(doubts, tag_shown(tool->tag).bytes, &remarks);
	tool_add(out, tool, rules->companion_need, rules, number);
}

/* Cautions of the job itself: plates, and cylinders that print unequal diameters. */
static void tell_job_doubts(const struct question *question, const struct assigned *cylinders,
                            struct doubts *doubts)
{
	struct real_length spread;
	for (size_t i = 0; i < question->printing_count; i++) {
		struct remarks remarks = {.count = 0};
		plates_suit(&question->printing[i], &remarks);
		doubt_add(doubts,
		          arena_format(question->arena,
		                       "station %lld:", (long long)question->printing[i].number),
		          &remarks);
	}
	if (cylinders_spread(question, cylinders, &spread) &&
	    !real_within(spread, question->limits->spread)) {
		doubts->any = true;
		if (doubts->first == NULL) {
			doubts->first =
				arena_format(doubts->arena, "printed diameters differ by %s",
			                 words_of_length(doubts->arena, spread, question->limits->units));
		}
	}
}

static void tell_verdict(const struct horizon *horizon, const struct horizon_job *job,
                         const struct doubts *doubts, struct ahead_job *out)
{
	struct text text = text_start(horizon->arena);
	out->verdict_known = true;
	out->verdict = doubts->any ? VERDICT_CAUTION : VERDICT_READY;
	text_add_format(&text, "%s on %s", doubts->any ? "ready with caution" : "ready", out->press);
	if (doubts->any) {
		text_add_format(&text, ": %s", doubts->first);
	}
	if (job->broken != NULL && job->promise != NULL && job->standing == JOB_TO_PLAN) {
		text_add_format(&text, "; unbook it and book it again, its booking does not hold: %s",
		                job->broken);
	}
	out->text = text.bytes;
}

static void tell_served(struct horizon *horizon, const struct horizon_job *job,
                        struct ahead_job *out)
{
	const struct joint_plan *plan = &horizon->answer.plan;
	const struct joint_job *modelled = &horizon->model.jobs[job->modelled];
	uint32_t option = plan->option[job->modelled];
	const struct run_option *run = &job->options[option];
	struct arena *scratch = horizon->scratch;
	struct question question = horizon_question(horizon, job, run->press, run->candidate, scratch);
	struct doubts doubts = {.arena = horizon->arena};
	struct assigned cylinders = {
		.item = arena_take(scratch, job->printing_count, sizeof *cylinders.item)};
	out->press = question.press->press.code;
	out->tools = arena_take(horizon->arena, (size_t)modelled->need_count * 2, sizeof *out->tools);
	size_t row = 0;
	for (uint32_t need = 0; need < modelled->need_count; need++, row++) {
		const struct joint_need *here = &modelled->options[option].needs[need];
		struct joint_given given = plan->given[job->modelled][need];
		if (need > 0 && here->group != modelled->options[option].needs[need - 1].group) {
			row = 0;
		}
		uint32_t item = here->ways[given.way].item;
		uint32_t companion =
			given.companion != JOINT_NONE ? given.companion : horizon->spare[job->modelled][need];
		tell_row(horizon, &question, here->group, row, item, companion, out, &doubts);
		if (here->group == JOINT_CYLINDERS) {
			resource_kind(horizon, item, &cylinders.item[row]);
		}
	}
	tell_job_doubts(&question, &cylinders, &doubts);
	tell_verdict(horizon, job, &doubts, out);
	arena_reset(scratch);
}

/* ---------------------------------------------------------------- what a promise gives it */

static void tell_kept(struct horizon *horizon, const struct horizon_job *job, struct ahead_job *out)
{
	const struct kept_promise *promise = job->promise;
	struct arena *scratch = horizon->scratch;
	size_t press;
	assert(promise != NULL); /* else nothing were kept */
	struct candidate candidate = {.repeat = promise->repeat,
	                              .number_around = promise->number_around.known
	                                                   ? promise->number_around.value
	                                                   : 0};
	struct doubts doubts = {.arena = horizon->arena};
	horizon_press_of(horizon, promise->press, &press);
	struct question question = horizon_question(horizon, job, press, candidate, scratch);
	struct assigned cylinders = {
		.item = arena_take(scratch, job->printing_count, sizeof *cylinders.item)};
	out->press = question.press->press.code;
	out->tools = arena_take(horizon->arena, promise->tool_count, sizeof *out->tools);
	for (int group = JOINT_CYLINDERS; group <= JOINT_DIES; group++) {
		size_t rows = rules_of_group((enum joint_group)group)->row_count(&question);
		for (size_t row = 0; row < rows; row++) {
			struct promised_pair pair =
				promised_row(horizon, &question, promise, (enum joint_group)group, row);
			tell_row(horizon, &question, (enum joint_group)group, row, pair.item, pair.companion,
			         out, &doubts);
			if (group == JOINT_CYLINDERS) {
				resource_kind(horizon, pair.item, &cylinders.item[row]);
			}
		}
	}
	tell_job_doubts(&question, &cylinders, &doubts);
	tell_verdict(horizon, job, &doubts, out);
	arena_reset(scratch);
}

/* ---------------------------------------------------------------- what it lacks */

/* `short: web; anilox at stations 3 and 5` of what is open of a job. */
static const char *lacks_said(struct horizon *horizon, const struct horizon_job *job,
                              const struct open_needs *open)
{
	struct arena *arena = horizon->arena;
	const struct joint_job *modelled = &horizon->model.jobs[job->modelled];
	struct text text = text_start(arena);
	int64_t *numbers = arena_take(arena, modelled->need_count, sizeof *numbers);
	if (open->press) {
		text_add(&text, "press");
	}
	for (int group = JOINT_CYLINDERS; group <= JOINT_DIES; group++) {
		for (uint8_t what = 1; what <= 2; what++) {
			size_t count = 0;
			for (uint32_t need = 0; need < modelled->need_count; need++) {
				const struct joint_need *here = &modelled->options[open->option].needs[need];
				if ((int)here->group == group && open->without[need] == what) {
					numbers[count++] = here->number;
				}
			}
			if (count > 0) {
				text_join(&text, "; ", need_of_group((enum joint_group)group, what == 2));
				text_add_format(&text, " at %s",
				                words_of_numbers(arena, group == JOINT_DIES ? "cut" : "station",
				                                 numbers, count));
			}
		}
	}
	return text.bytes;
}

static void tell_short(struct horizon *horizon, const struct horizon_job *job,
                       struct ahead_job *out)
{
	struct text text = text_start(horizon->arena);
	out->verdict_known = true;
	out->verdict = VERDICT_SHORT;
	text_add(&text, "short: ");
	if (job->option_count > 0) {
		struct open_needs open =
			open_needs_of(&horizon->model, &horizon->answer.plan, job->modelled, horizon->arena);
		/* All that it needs is left, yet another job would lose it: the press at the least. */
		text_add(&text, open.count > 0 ? lacks_said(horizon, job, &open) : "no plan found for it");
	} else {
		struct text needs = text_start(horizon->arena);
		for (size_t i = 0; i < job->finding_count; i++) {
			text_join(&needs, "; ", job->findings[i].text);
		}
		text_add(&text, needs.bytes);
	}
	if (job->broken != NULL && job->promise != NULL) {
		text_add_format(&text, "; its booking does not hold: %s", job->broken);
	}
	out->text = text.bytes;
}

/* ---------------------------------------------------------------- the jobs, told */

/* Did the plan give the job anything else than the first, greedy one? */
static bool was_moved(const struct horizon *horizon, uint32_t job)
{
	const struct joint_plan *first = &horizon->answer.greedy, *plan = &horizon->answer.plan;
	if (first->option[job] != plan->option[job]) {
		return true;
	}
	for (uint32_t i = 0; plan->option[job] != JOINT_NONE && i < horizon->model.jobs[job].need_count;
	     i++) {
		if (first->given[job][i].way != plan->given[job][i].way ||
		    first->given[job][i].companion != plan->given[job][i].companion) {
			return true;
		}
	}
	return false;
}

static void tell_running(const struct horizon *horizon, const struct horizon_job *job,
                         struct ahead_job *out)
{
	const struct job_running *run = job->run;
	out->running = true;
	out->press = run->press_code;
	out->from = job->job.from.known ? job->job.from : run->started;
	out->until = run->until.known ? run->until : job->job.until;
	out->verdict_known = true;
	out->verdict = VERDICT_READY;
	out->text = run->press_code != NULL
	                ? arena_format(horizon->arena, "runs on %s", run->press_code)
	                : "runs, on which press is not known";
}

static void tell_job(struct horizon *horizon, const struct horizon_job *job, struct ahead_job *out)
{
	*out = (struct ahead_job){
		.job = job->job.number,
		.title = job->job.title,
		.state = job->job.state,
		.booked = job->promise != NULL,
		.broken = job->promise != NULL && job->broken != NULL,
	};
	if (job->standing != JOB_WITHOUT_TIME) {
		out->from = known(job->span.from);
		out->until = known(job->span.until);
	}
	switch (job->standing) {
	case JOB_WITHOUT_TIME:
		out->text = "no time given";
		break;
	case JOB_PASSED:
		out->text = "its time has passed, not started";
		break;
	case JOB_RUNNING:
		tell_running(horizon, job, out);
		break;
	case JOB_KEPT:
		tell_kept(horizon, job, out);
		break;
	case JOB_TO_PLAN:
		out->moved = was_moved(horizon, job->modelled);
		if (horizon->answer.plan.option[job->modelled] != JOINT_NONE) {
			tell_served(horizon, job, out);
		} else {
			tell_short(horizon, job, out);
		}
		break;
	}
}

static void tell(struct horizon *horizon, struct ahead *out)
{
	const struct joint_answer *answer = &horizon->answer;
	size_t kept = 0;
	out->from = horizon->request->from;
	out->until = horizon->request->until;
	out->job_count = horizon->job_count;
	out->jobs = arena_take(horizon->arena, horizon->job_count, sizeof *out->jobs);
	for (size_t i = 0; i < horizon->job_count; i++) {
		tell_job(horizon, &horizon->jobs[i], &out->jobs[i]);
		kept += horizon->jobs[i].standing == JOB_KEPT ? 1 : 0;
	}
	out->planned = horizon->model.job_count + kept;
	out->served = answer->plan.served + kept;
	out->bound = answer->bound + kept;
	out->gap = out->bound > 0 ? (double)(out->bound - out->served) / (double)out->bound : 0;
	out->proven = answer->proven;
	out->proof = answer->proof;
	out->moved = answer->moved;
	out->parts = answer->parts;
}

/* ---------------------------------------------------------------- from end to end */

static double seconds_for(const struct horizon *horizon)
{
	uint32_t jobs = horizon->model.job_count;
	double seconds = jobs <= FEW_JOBS ? SECONDS_OF_FEW : SECONDS_OF_MANY;
	if (jobs > MANY_JOBS) {
		seconds += SECONDS_A_JOB * (jobs - MANY_JOBS);
	}
	return horizon->request->seconds < seconds ? horizon->request->seconds : seconds;
}

static void solve(struct horizon *horizon, double deadline)
{
	double left = deadline - joint_clock();
	struct joint_settings asked = {.seconds = left > 0 ? left : 0};
	joint_solve(horizon->arena, &horizon->model, &asked, &horizon->answer);
}

static enum outcome ahead_now(struct horizon *horizon, struct ahead *out)
{
	const struct ahead_request *request = horizon->request;
	struct shortage_list shortages = {.items = NULL};
	double began = joint_clock();
	enum outcome outcome = horizon_read(horizon);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	horizon_model(horizon);
	if (request->lp != NULL && !joint_write_lp(&horizon->model, request->lp)) {
		return fault_set(horizon->fault, OUTCOME_STORE, "the model cannot be written");
	}
	double seconds = seconds_for(horizon);
	solve(horizon, began + seconds * (request->cures ? SHARE_OF_CHOICE : 1));
	horizon_choose_spare(horizon);
	tell(horizon, out);
	shortages_find(horizon, &shortages);
	if (request->cures) {
		shortages_cure(horizon, &shortages, began + seconds, &out->purchase);
	}
	out->shortage_count = shortages.count;
	out->shortages = arena_take(horizon->arena, shortages.count, sizeof *out->shortages);
	for (size_t i = 0; i < shortages.count; i++) {
		out->shortages[i] = shortages.items[i].told;
	}
	return OUTCOME_DONE;
}

enum outcome plan_ahead(struct store *store, struct arena *arena,
                        const struct ahead_request *request, struct ahead *out, struct fault *fault)
{
	struct horizon horizon = {
		.store = store,
		.arena = arena,
		.scratch = arena_new(),
		.fault = fault,
		.request = request,
		.ways = arena_take(arena, 1, sizeof *horizon.ways),
	};
	*out = (struct ahead){.from = request->from, .until = request->until};
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = ahead_now(&horizon, out);
		store_snapshot_end(store);
	}
	arena_free(horizon.scratch);
	return outcome;
}
