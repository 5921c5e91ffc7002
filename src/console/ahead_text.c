/* The answer of `ahead` for people: how many jobs can run first, then why not all. */
#include <string.h>

#include "ahead_answer.h"
#include "check_answer.h"

/* ---------------------------------------------------------------- the verdict */

static bool is_short(const struct ahead_job *job)
{
	return job->verdict_known && job->verdict == VERDICT_SHORT;
}

/* `9 of 11 jobs can run: J3, J7 short` */
static void verdict_say(struct call *call, const struct ahead *ahead)
{
	struct text text = text_start(call->arena);
	struct text names = text_start(call->arena);
	enum answer_mark mark = MARK_GOOD;
	for (size_t i = 0; i < ahead->job_count; i++) {
		if (is_short(&ahead->jobs[i])) {
			text_join(&names, ", ", ahead->jobs[i].job);
			mark = MARK_BAD;
		}
	}
	if (ahead->planned == 0) {
		text_add_format(&text, "no job with a time is planned from %s until %s",
		                moment_text(ahead->from).bytes, moment_text(ahead->until).bytes);
		mark = MARK_STRONG;
	} else if (ahead->served == ahead->planned) {
		text_add_format(&text,
		                ahead->planned == 1 ? "the one job planned can run"
		                                    : "all %zu jobs can run",
		                ahead->planned);
	} else {
		text_add_format(&text, "%zu of %zu job%s can run: %s short", ahead->served, ahead->planned,
		                ahead->planned == 1 ? "" : "s", names.bytes);
	}
	answer_line(call->answer, mark, "%s", text.bytes);
}

/* The first shortage that nothing can avoid, of several needs or of one. */
static const struct ahead_shortage *certain_first(const struct ahead *ahead)
{
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		if (ahead->shortages[i].certain) {
			return &ahead->shortages[i];
		}
	}
	return NULL;
}

/* `anilox rolls` of the need `anilox`. */
static const char *tools_said(const char *need, bool one)
{
	static const struct {
		const char *need, *one, *many;
	} words[] = {
		{"press", "press", "presses"},
		{"cylinder", "plate cylinder", "plate cylinders"},
		{"gear", "gear", "gears"},
		{"anilox", "anilox roll", "anilox rolls"},
		{"blade", "doctor blade assembly", "doctor blade assemblies"},
		{"die", "die", "dies"},
		{"magnetic_cylinder", "magnetic cylinder", "magnetic cylinders"},
	};
	for (size_t i = 0; i < COUNT_OF(words); i++) {
		if (strcmp(words[i].need, need) == 0) {
			return one ? words[i].one : words[i].many;
		}
	}
	return need;
}

/* How it is known that no more can run, in one sentence. */
static void proof_say(struct call *call, const struct ahead *ahead)
{
	const struct ahead_shortage *first = certain_first(ahead);
	if (ahead->served == ahead->planned) {
		return;
	}
	if (!ahead->proven) {
		answer_line(call->answer, MARK_PLAIN, "at most %zu could run, gap %.1f%%", ahead->bound,
		            100.0 * ahead->gap);
	} else if (strcmp(ahead->proof, "matching") != 0 || first == NULL) {
		answer_line(call->answer, MARK_PLAIN, "no plan serves more: %s",
		            strcmp(ahead->proof, "matching") != 0 ? "proven by integer program"
		                                                  : "proven by matching");
	} else {
		answer_line(call->answer, MARK_PLAIN, "no plan serves more: %lld %s for %lld %s",
		            (long long)first->have, tools_said(first->need, first->have == 1),
		            (long long)first->wanted,
		            first->needs[0].cut != 0       ? first->wanted == 1 ? "cut" : "cuts"
		            : first->needs[0].station != 0 ? first->wanted == 1 ? "station" : "stations"
		            : first->wanted == 1           ? "job"
		                                           : "jobs");
	}
}

/* ---------------------------------------------------------------- the jobs */

static const char *moment_said(const struct call *call, struct known_moment moment)
{
	return moment.known ? arena_copy(call->arena, moment_text(moment.value).bytes) : NULL;
}

static void jobs_say(struct call *call, const struct ahead *ahead)
{
	static const char *const columns[] = {"from", "until", "press", "job", "booked", "verdict"};
	if (ahead->job_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < ahead->job_count; i++) {
		const struct ahead_job *job = &ahead->jobs[i];
		const char *cells[] = {
			moment_said(call, job->from),
			moment_said(call, job->until),
			job->press,
			job->job,
			job->broken   ? "broken"
			: job->booked ? "yes"
						  : NULL,
			job->text,
		};
		answer_table_row(call->answer, job->verdict_known ? verdict_mark(job->verdict) : MARK_DIM,
		                 cells);
	}
	answer_table_close(call->answer);
}

/* ---------------------------------------------------------------- what is short, what would help
 */

static void cures_say(struct call *call, const struct ahead_shortage *shortage)
{
	for (size_t i = 0; i < shortage->cure_count; i++) {
		answer_line(call->answer, MARK_PLAIN, "  %s: %s", shortage->cures[i].kind,
		            shortage->cures[i].text);
	}
}

static void shortages_say(struct call *call, const struct ahead *ahead)
{
	if (ahead->shortage_count > 0) {
		answer_blank(call->answer);
	}
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		const struct ahead_shortage *shortage = &ahead->shortages[i];
		answer_line(call->answer, MARK_BAD, "short: %s: %s", tools_said(shortage->need, true),
		            shortage->text);
		cures_say(call, shortage);
	}
}

static void purchase_say(struct call *call, const struct ahead *ahead)
{
	if (ahead->purchase != NULL) {
		answer_blank(call->answer);
		answer_line(call->answer, MARK_STRONG, "the purchase that helps most: %s",
		            ahead->purchase->text);
	}
}

void ahead_say(struct call *call, const struct ahead *ahead)
{
	if (answer_form(call->answer) != FORM_TEXT) {
		return;
	}
	verdict_say(call, ahead);
	proof_say(call, ahead);
	jobs_say(call, ahead);
	shortages_say(call, ahead);
	purchase_say(call, ahead);
}

void ahead_say_help(struct call *call, const struct ahead *ahead)
{
	bool any = false;
	if (answer_form(call->answer) != FORM_TEXT) {
		return;
	}
	proof_say(call, ahead);
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		if (ahead->shortages[i].cure_count > 0 && !any) {
			answer_blank(call->answer);
			answer_line(call->answer, MARK_STRONG, "what would help");
			any = true;
		}
		cures_say(call, &ahead->shortages[i]);
	}
	purchase_say(call, ahead);
}
