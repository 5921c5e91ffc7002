/* `at_risk`: promises that something has broken, what, and by which change. */
#include <string.h>

#include "../check_answer.h"
#include "commands.h"

/* The name of who did it, else the login. */
static const char *who(const struct ledger_entry *entry)
{
	return entry->operator_name != NULL ? entry->operator_name : entry->login;
}

static void number_write(struct answer *answer, const char *key, int64_t number)
{
	if (number != 0) {
		answer_count(answer, key, number);
	} else {
		answer_null(answer, key);
	}
}

static void risk_write(struct answer *answer, const struct promise_risk *row)
{
	const struct risk *risk = &row->risk;
	bool changed = row->entry.number != 0;
	answer_object_open(answer, NULL);
	answer_word(answer, "job", risk->job_number);
	answer_moment(answer, "start", risk->from);
	answer_word(answer, "press", risk->press_code);
	answer_word(answer, "need", risk->need);
	number_write(answer, "station", risk->station);
	number_write(answer, "cut", risk->cut);
	answer_word(answer, "tool", risk->tool != 0 ? tag_shown(risk->tag).bytes : NULL);
	answer_word(answer, "why", risk->text);
	answer_moment(answer, "since", risk->since);
	number_write(answer, "entry", row->entry.number);
	answer_word(answer, "what", changed ? row->entry.word : NULL);
	answer_word(answer, "of", changed ? row->of : NULL);
	answer_word(answer, "who", changed ? who(&row->entry) : NULL);
	answer_object_close(answer);
}

/* `anilox at station 3`, `die at cut 1`, `press` */
static const char *need_said(struct call *call, const struct risk *risk)
{
	char *need = arena_copy(call->arena, risk->need);
	for (char *at = strchr(need, '_'); at != NULL; at = strchr(at, '_')) {
		*at = ' ';
	}
	int64_t number = risk->cut != 0 ? risk->cut : risk->station;
	return number == 0 ? need
	                   : arena_format(call->arena, "%s at %s %lld", need,
	                                  risk->cut != 0 ? "cut" : "station", (long long)number);
}

/* `AN000045-3 on hold since ...: scored band` */
static const char *why_said(struct call *call, const struct risk *risk)
{
	return risk->tool == 0
	           ? risk->text
	           : arena_format(call->arena, "%s %s", tag_shown(risk->tag).bytes, risk->text);
}

/* `hold AN000045-3 by Nora Tindle`, `correction of J2603 by Nora Tindle` */
static const char *change_said(struct call *call, const struct promise_risk *row)
{
	bool corrected = row->entry.number != 0 && strcmp(row->entry.word, "changed") == 0;
	return row->entry.number == 0 ? NULL
	                              : arena_format(call->arena, "%s %s by %s",
	                                             corrected ? "correction of" : row->entry.word,
	                                             row->of != NULL ? row->of : "", who(&row->entry));
}

static void risks_say(struct call *call, const struct promise_risk *risks, size_t count)
{
	static const char *const columns[] = {"", "", ""};
	const char *job = NULL;
	for (size_t i = 0; i < count; i++) {
		const struct risk *risk = &risks[i].risk;
		if (job == NULL || strcmp(job, risk->job_number) != 0) {
			if (job != NULL) {
				answer_table_close(call->answer);
				answer_blank(call->answer);
			}
			job = risk->job_number;
			answer_line(call->answer, MARK_STRONG, "%s, booked on %s from %s", job,
			            risk->press_code, moment_text(risk->from).bytes);
			answer_table_open(call->answer, columns, COUNT_OF(columns));
		}
		const char *cells[] = {"  ", need_said(call, risk), why_said(call, risk)};
		const char *change[] =
			{NULL, NULL,
		     arena_format(call->arena, "since %s%s%s", moment_text(risk->since).bytes,
		                  risks[i].entry.number != 0 ? ", by " : "",
		                  risks[i].entry.number != 0 ? change_said(call, &risks[i]) : "")};
		answer_table_row(call->answer, MARK_BAD, cells);
		answer_table_row(call->answer, MARK_DIM, change);
	}
	if (job != NULL) {
		answer_table_close(call->answer);
	}
}

static enum outcome run(struct call *call)
{
	struct promise_risk *risks;
	size_t count = 0;
	enum outcome outcome =
		plan_at_risk(call->store, call->arena, call->now, &risks, &count, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		risk_write(call->answer, &risks[i]);
	}
	answer_array_close(call->answer);
	if (count == 0) {
		answer_line(call->answer, MARK_GOOD, "no promise is at risk");
		return OUTCOME_DONE;
	}
	if (answer_form(call->answer) == FORM_TEXT) {
		risks_say(call, risks, count);
	}
	return OUTCOME_NO;
}

static const char *const examples[] = {
	"at_risk",
	"at_risk --json",
	NULL,
};

const struct command command_at_risk = {
	.name = "at_risk",
	.summary = "promises that something has broken: what, since when, by which change",
	.more = "Exit 1 where one is. The console's prompt shows how many jobs that are.",
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
