/* `earliest JOB`: the first start on each press, and the latest that still keeps a due moment. */
#include <string.h>

#include "earliest.h"
#include "words.h"

/* The search on one press. */
struct press_search {
	struct asking *asking;
	const struct earliest *all; /* from and due */
	struct earliest_press *out;
	const struct timing *timing; /* of `out->first`, else the first that was looked at */
	struct known_moment before;  /* the last start tried that was short */
};

/* ---------------------------------------------------------------- how long */

/* The length of the job's own time, where it has one. */
static struct known_duration own_duration(const struct question *question)
{
	const struct job *job = question->job;
	const struct calendar *calendar = &question->limits->calendar;
	struct known_duration duration = {.known = false};
	if (!job->from.known || !job->until.known ||
	    moment_compare(job->from.value, job->until.value) >= 0) {
		return duration;
	}
	duration.known = true;
	duration.value = calendar_between(calendar, job->from.value, job->until.value);
	if (moment_compare(moment_add(job->from.value, duration.value), job->from.value) == 0) {
		duration.value = moment_between(job->from.value, job->until.value);
	}
	return duration;
}

static struct known_duration take_duration(struct press_search *search,
                                           const struct question *question)
{
	struct known_duration duration =
		job_duration(&question->layout, &question->press->press, question->limits);
	if (!duration.known) {
		search->out->not_known = words_of_unknown_duration(search->asking->arena, question);
		duration = own_duration(question);
		search->out->own_time = duration.known;
	}
	return duration;
}

/* ---------------------------------------------------------------- one repeat */

static bool is_better(const struct earliest_start *start, const struct earliest_start *than,
                      bool latest)
{
	int order = moment_compare(start->from, than->from);
	order = latest ? -order : order;
	return !than->known || order < 0 || (order == 0 && start->verdict < than->verdict);
}

/* Can nothing be sooner, or later, than what was found, nor better at the same time? */
static bool is_settled(const struct earliest_start *found, struct moment bound, bool latest)
{
	int order = moment_compare(found->from, bound);
	return found->known &&
	       (latest ? order > 0 : order < 0 || (order == 0 && found->verdict == VERDICT_READY));
}

/* Seeks a start of so long a question; one found before is kept where it is no later. */
static void seek_first(struct press_search *search, struct timing *timing)
{
	struct earliest_press *out = search->out;
	struct earliest_start start;
	struct known_moment before;
	if (is_settled(&out->first, timing->from, false)) {
		return;
	}
	if (out->first.known) {
		timing->end = out->first.from;
	}
	if (timing_first(timing, &start, &before) && is_better(&start, &out->first, false)) {
		out->first = start;
		out->duration.value = timing->duration;
		search->timing = timing;
		search->before = before;
	}
}

static void seek_latest(struct press_search *search, const struct timing *timing)
{
	const struct earliest *all = search->all;
	struct earliest_press *out = search->out;
	struct earliest_start start;
	struct timing from = *timing;
	if (!all->due.known ||
	    is_settled(&out->latest, timing_last_start(timing, all->due.value), true)) {
		return;
	}
	if (out->latest.known) {
		from.from = out->latest.from;
	}
	if (timing_latest(&from, all->due.value, &start) && is_better(&start, &out->latest, true)) {
		out->latest = start;
	}
}

static void seek(struct press_search *search, const struct question *question,
                 struct duration duration)
{
	struct timing *timing = arena_take(question->arena, 1, sizeof *timing);
	timing_open(question, duration, search->all->from, timing);
	search->timing = search->timing == NULL ? timing : search->timing;
	if (!search->out->duration.known) {
		search->out->duration = (struct known_duration){.known = true, .value = duration};
	}
	seek_first(search, timing);
	seek_latest(search, timing);
}

/* ---------------------------------------------------------------- the repeats of a new job */

/* Best first by what is known of them whatever is there; those that no die suits are left out. */
static size_t candidates_sort(const struct question *open, struct candidate *candidates,
                              size_t count)
{
	struct standing *standings = arena_take(open->arena, count, sizeof *standings);
	size_t kept = 0;
	for (size_t i = 0; i < count; i++) {
		struct candidate candidate = candidates[i];
		struct question at = *open;
		at.layout = layout_at(open, candidate);
		at.shelf = at.whole;
		struct standing standing = question_outlook(&at);
		size_t j = kept;
		if (!standing.die_suits) {
			continue;
		}
		while (j > 0 && standing_compare_repeats(&standing, &standings[j - 1]) < 0) {
			standings[j] = standings[j - 1];
			candidates[j] = candidates[j - 1];
			j--;
		}
		standings[j] = standing;
		candidates[j] = candidate;
		kept++;
	}
	return kept;
}

/* Without a repeat there is none, whatever the time. */
static void never_without_repeat(struct press_search *search, const struct question *open)
{
	struct solution solution;
	question_solve(open, false, &solution);
	for (size_t i = 0; i < solution.check.finding_count; i++) {
		if (strcmp(solution.check.findings[i].need, "repeat") == 0) {
			search->out->never =
				arena_format(search->asking->arena, "repeat: %s", solution.check.findings[i].text);
		}
	}
}

/* Before anything is looked for on its shelf: could it come to more than was found already? */
static bool candidate_may_help(const struct press_search *search, const struct question *question,
                               struct duration duration)
{
	const struct earliest *all = search->all;
	const struct timing bare = {.question = *question, .duration = duration};
	struct moment from = calendar_open_from(&question->limits->calendar, all->from);
	return !is_settled(&search->out->first, from, false) ||
	       (all->due.known &&
	        !is_settled(&search->out->latest, timing_last_start(&bare, all->due.value), true));
}

static void seek_new(struct press_search *search, const struct question *open)
{
	struct candidate *candidates;
	size_t count = candidates_find(open, &candidates);
	if (count == 0) {
		never_without_repeat(search, open);
		return;
	}
	size_t with_die = candidates_sort(open, candidates, count);
	/* Where no die suits at all, the first will do to say so. */
	for (size_t i = 0; i < (with_die > 0 ? with_die : 1); i++) {
		struct question at = *open;
		at.layout = layout_at(open, candidates[i]);
		struct known_duration duration = take_duration(search, &at);
		if (duration.known && candidate_may_help(search, &at, duration.value)) {
			at = question_at(open, candidates[i]);
			seek(search, &at, duration.value);
		}
	}
}

/* ---------------------------------------------------------------- one press */

static void say_why(struct press_search *search)
{
	struct earliest_press *out = search->out;
	if (search->timing == NULL) {
		return;
	}
	/* What is said lasts longer than what was tried. */
	struct timing timing = *search->timing;
	timing.question.arena = search->asking->arena;
	if (!out->first.known) {
		out->never = timing_never(&timing);
	} else if (search->before.known) {
		timing_waits(&timing, search->before.value, out->first.from, out);
	}
}

static void seek_on_press(struct press_search *search, struct question *question)
{
	if (job_is_new(question->job)) {
		seek_new(search, question);
	} else {
		struct known_duration duration = take_duration(search, question);
		if (duration.known) {
			question_narrow(question, true);
			seek(search, question, duration.value);
		}
	}
	say_why(search);
}

static enum outcome press_seek(struct asking *asking, const struct earliest *all, int64_t press,
                               struct earliest_press *out)
{
	struct attempt *attempt = arena_take(asking->arena, 1, sizeof *attempt);
	struct press_search search = {.asking = asking, .all = all, .out = out};
	enum outcome outcome = attempt_prepare(asking, press, job_is_new(&asking->job), attempt);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->press = attempt->press.press.code;
	if (attempt->press.retired) {
		out->never = "the press is retired";
		return OUTCOME_DONE;
	}
	struct question question = attempt->question;
	question.arena = arena_new();
	seek_on_press(&search, &question);
	arena_free(question.arena);
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- what else is planned there */

static bool overlaps(const struct job_ahead *job, const struct earliest_start *start)
{
	return start->known && job->from.known && job->until.known &&
	       moment_compare(job->from.value, start->until) < 0 &&
	       moment_compare(job->until.value, start->from) > 0;
}

/* The job's presses by code, told once it is known that its time meets one of the starts. */
static enum outcome note_planned(struct asking *asking, struct earliest *all,
                                 const int64_t *presses, const struct job_ahead *ahead)
{
	struct job job;
	struct kept_promise promise;
	enum outcome outcome =
		store_job_read(asking->store, asking->arena, ahead->id, &job, asking->fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_promise_of_job(asking->store, asking->arena, ahead->id, &promise, asking->fault);
	}
	/* What is booked counts already. */
	if (outcome != OUTCOME_DONE || promise.id != 0) {
		return outcome;
	}
	for (size_t i = 0; i < all->press_count; i++) {
		struct earliest_press *press = &all->presses[i];
		for (size_t j = 0; j < job.press_count && overlaps(ahead, &press->first); j++) {
			if (job.presses[j] == presses[i]) {
				press->planned = arena_grow(asking->arena, press->planned, press->planned_count,
				                            press->planned_count + 1, sizeof(const char *));
				press->planned[press->planned_count++] = ahead->number;
			}
		}
	}
	return outcome;
}

static bool meets_some(const struct earliest *all, const struct job_ahead *job)
{
	for (size_t i = 0; i < all->press_count; i++) {
		if (overlaps(job, &all->presses[i].first)) {
			return true;
		}
	}
	return false;
}

/* Before the presses are sorted: `presses` are their ids. */
static enum outcome find_planned(struct asking *asking, struct earliest *all,
                                 const int64_t *presses)
{
	struct moment from = all->from, until = all->from;
	struct job_ahead *jobs;
	size_t count;
	bool any = false;
	for (size_t i = 0; i < all->press_count; i++) {
		const struct earliest_start *first = &all->presses[i].first;
		if (first->known && moment_compare(first->until, until) > 0) {
			until = first->until;
		}
		any = any || first->known;
	}
	if (!any) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_jobs_ahead(asking->store, asking->arena, from, until, &jobs, &count, asking->fault);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		if (jobs[i].id != asking->job.id && meets_some(all, &jobs[i])) {
			outcome = note_planned(asking, all, presses, &jobs[i]);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- all of them */

static int press_compare(const struct earliest_press *a, const struct earliest_press *b)
{
	if (!a->first.known || !b->first.known) {
		return (int)b->first.known - (int)a->first.known;
	}
	int order = moment_compare(a->first.from, b->first.from);
	if (order == 0) {
		order = moment_compare(a->first.until, b->first.until);
	}
	return order != 0 ? order : (int)a->first.verdict - (int)b->first.verdict;
}

static void presses_sort(struct earliest *all)
{
	for (size_t i = 1; i < all->press_count; i++) {
		struct earliest_press press = all->presses[i];
		size_t j = i;
		while (j > 0 && press_compare(&press, &all->presses[j - 1]) < 0) {
			all->presses[j] = all->presses[j - 1];
			j--;
		}
		all->presses[j] = press;
	}
	for (size_t i = 0; i < all->press_count; i++) {
		const struct earliest_start *latest = &all->presses[i].latest;
		if (latest->known && (all->last == NULL || is_better(latest, &all->last->latest, true))) {
			all->last = &all->presses[i];
		}
	}
}

/* ---------------------------------------------------------------- what is refused */

static enum outcome refuse_state(const struct asking *asking)
{
	const struct job *job = &asking->job;
	if (strcmp(job->state, "planned") == 0) {
		return OUTCOME_DONE;
	}
	fault_set(asking->fault, OUTCOME_NO, "job is %s: %s", job->state, job->number);
	if (strcmp(job->state, "cancelled") == 0) {
		fault_hint(asking->fault, "Type edit %s state=planned first, if it is to run after all.",
		           job->number);
	}
	return OUTCOME_NO;
}

static enum outcome refuse_due(const struct asking *asking, const struct earliest *all,
                               const struct earliest_request *request)
{
	bool from = request->from.known && moment_compare(request->from.value, request->now) > 0;
	struct moment least = from ? request->from.value : request->now;
	if (!all->due.known || moment_compare(all->due.value, least) >= 0) {
		return OUTCOME_DONE;
	}
	fault_set(asking->fault, OUTCOME_BAD, "due lies before %s: %s, %s", from ? "from" : "now",
	          moment_text(request->due.value).bytes, moment_text(least).bytes);
	fault_hint(asking->fault, "Type due= with a moment after %s.", from ? "from" : "now");
	return OUTCOME_BAD;
}

/* One named by hand; of a job's own those that are retired are told as such. */
static enum outcome refuse_retired(struct asking *asking, const struct earliest_request *request,
                                   const int64_t *presses, size_t count)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < count && request->press_count > 0 && outcome == OUTCOME_DONE; i++) {
		struct press_state press;
		outcome = store_press_read(asking->store, asking->arena, presses[i], &press, asking->fault);
		if (outcome == OUTCOME_DONE && press.retired) {
			fault_set(asking->fault, OUTCOME_NO, "press is retired: %s", press.press.code);
			fault_hint(asking->fault,
			           "Type press= with one that is in use, as find press retired=no lists them.");
			outcome = OUTCOME_NO;
		}
	}
	if (outcome == OUTCOME_DONE && count == 0) {
		fault_set(asking->fault, OUTCOME_NO, "no press in use is on record");
		fault_hint(asking->fault, "Type new press code=P1 and what is known of it.");
		outcome = OUTCOME_NO;
	}
	return outcome;
}

static enum outcome refuse(struct asking *asking, const struct earliest *all,
                           const struct earliest_request *request, const int64_t *presses,
                           size_t count)
{
	enum outcome outcome = refuse_state(asking);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_due(asking, all, request);
	}
	return outcome == OUTCOME_DONE ? refuse_retired(asking, request, presses, count) : outcome;
}

/* ---------------------------------------------------------------- the answer */

/* A whole minute that is not past. */
static struct moment first_moment(const struct earliest_request *request)
{
	bool ahead = request->from.known && moment_compare(request->from.value, request->now) > 0;
	return moment_minute_up(ahead ? request->from.value : request->now);
}

static enum outcome earliest_now(struct store *store, struct arena *arena,
                                 const struct earliest_request *request, struct earliest *out,
                                 struct fault *fault)
{
	struct asking asking;
	int64_t *presses;
	*out = (struct earliest){.from = first_moment(request), .due = request->due};
	out->due.value = moment_of_day_end(request->due.value);
	const struct known_moment from = {.known = true, .value = out->from};
	const struct check_request named = {.job = request->job,
	                                    .presses = request->presses,
	                                    .press_count = request->press_count,
	                                    .from = from,
	                                    .until = from,
	                                    .now = request->now,
	                                    .limits = request->limits};
	enum outcome outcome =
		asking_open(store, arena, &named, &asking, &presses, &out->press_count, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse(&asking, out, request, presses, out->press_count);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->job = asking.job.number;
	out->title = asking.job.title;
	out->presses = arena_take(arena, out->press_count, sizeof *out->presses);
	for (size_t i = 0; i < out->press_count && outcome == OUTCOME_DONE; i++) {
		outcome = press_seek(&asking, out, presses[i], &out->presses[i]);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = find_planned(&asking, out, presses);
	}
	if (outcome == OUTCOME_DONE) {
		presses_sort(out);
	}
	return outcome;
}

enum outcome plan_earliest(struct store *store, struct arena *arena,
                           const struct earliest_request *request, struct earliest *out,
                           struct fault *fault)
{
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = earliest_now(store, arena, request, out, fault);
		store_snapshot_end(store);
	}
	return outcome;
}
