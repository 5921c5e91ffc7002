/* `history TAG`: the ledger of one record. `history when=MOMENT`: where every tool was. */
#include "../records.h"
#include "commands.h"

/* ---------------------------------------------------------------- of one record */

/* What of a call its rows need; the kind decides the columns. */
struct telling {
	struct call *call;
	const struct kind *kind;
	struct arena *row; /* of one row */
};

static void history_begin(const struct record *record, void *context)
{
	static const char *const tool_columns[] = {"when", "what",     "from",  "to",
	                                           "who",  "terminal", "detail"};
	static const char *const columns[] = {"when", "what", "who", "terminal", "detail"};
	struct telling *telling = context;
	struct call *call = telling->call;
	telling->kind = record->kind;
	answer_array_open(call->answer, NULL);
	answer_line(call->answer, MARK_STRONG, "%s%s", record_called(call->arena, record),
	            room_summary(call->arena, record, call->units));
	if (record->kind->tool) {
		answer_table_open(call->answer, tool_columns, COUNT_OF(tool_columns));
	} else {
		answer_table_open(call->answer, columns, COUNT_OF(columns));
	}
}

static void history_write(struct answer *answer, const struct history_row *row)
{
	const struct ledger_entry *entry = &row->entry;
	answer_object_open(answer, NULL);
	answer_count(answer, "number", entry->number);
	answer_moment(answer, "happened", entry->happened);
	answer_moment(answer, "recorded", entry->recorded);
	answer_word(answer, "what", entry->word);
	answer_word(answer, "of", row->of);
	answer_word(answer, "from", entry->from_code);
	answer_word(answer, "to", entry->to_code);
	answer_word(answer, "job", entry->job);
	answer_word(answer, "operator", entry->operator_name);
	answer_word(answer, "login", entry->login);
	answer_word(answer, "terminal", entry->terminal);
	answer_word(answer, "detail", entry->detail);
	answer_yes_no(answer, "taken_back", row->taken_back);
	if (row->takes_back != 0) {
		answer_count(answer, "takes_back", row->takes_back);
	} else {
		answer_null(answer, "takes_back");
	}
	answer_object_close(answer);
}

/* The entry's own, and before it what one must know of it. */
static const char *detail_of(const struct telling *telling, const struct history_row *row)
{
	const struct ledger_entry *entry = &row->entry;
	struct text detail = text_start(telling->row);
	if (row->taken_back) {
		text_add(&detail, "taken back");
	}
	if (entry->job != NULL && telling->kind->tool) {
		text_join(&detail, "; ", "for job ");
		text_add(&detail, entry->job);
	}
	if (entry->detail != NULL) {
		text_join(&detail, "; ", entry->detail);
	}
	if (moment_compare(entry->happened, entry->recorded) != 0) {
		text_join(&detail, "; ", "recorded ");
		text_add(&detail, moment_text(entry->recorded).bytes);
	}
	return detail.bytes;
}

static void history_each(const struct history_row *row, void *context)
{
	struct telling *telling = context;
	const struct ledger_entry *entry = &row->entry;
	struct answer *answer = telling->call->answer;
	history_write(answer, row);
	const char *when = arena_copy(telling->row, moment_text(entry->happened).bytes);
	const char *what =
		row->of != NULL ? arena_format(telling->row, "%s %s", entry->word, row->of) : entry->word;
	const char *who = entry->operator_name != NULL ? entry->operator_name : entry->login;
	const char *detail = detail_of(telling, row);
	enum answer_mark mark = row->taken_back ? MARK_DIM : MARK_PLAIN;
	if (telling->kind->tool) {
		const char *cells[] = {when,  what, entry->from_code, entry->to_code, who, entry->terminal,
		                       detail};
		answer_table_row(answer, mark, cells);
	} else {
		const char *cells[] = {when, what, who, entry->terminal, detail};
		answer_table_row(answer, mark, cells);
	}
	arena_reset(telling->row);
}

static enum outcome tell_record(struct call *call, const char *tag)
{
	struct telling telling = {.call = call, .row = arena_new()};
	const struct history_reader reader = {history_begin, history_each, &telling};
	enum outcome outcome = room_history(call->store, call->arena, tag, &reader, call->fault);
	if (outcome == OUTCOME_DONE) {
		answer_table_close(call->answer);
		answer_array_close(call->answer);
	}
	arena_free(telling.row);
	return outcome;
}

/* ---------------------------------------------------------------- where all was */

struct finding {
	struct call *call;
	struct moment moment;
	int64_t count; /* tools told of */
};

static void whereabouts_begin(struct moment moment, void *context)
{
	static const char *const columns[] = {"tag", "what", "place", "since"};
	struct finding *finding = context;
	struct call *call = finding->call;
	finding->moment = moment;
	answer_array_open(call->answer, NULL);
	answer_line(call->answer, MARK_STRONG, "where tools were at %s", moment_text(moment).bytes);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
}

static void whereabouts_each(const struct whereabouts *where, void *context)
{
	struct finding *finding = context;
	struct answer *answer = finding->call->answer;
	finding->count++;
	const struct tag_text tag = tag_shown(where->tag);
	if (answer_form(answer) == FORM_TEXT) {
		const struct quantity_text since = moment_text(where->since);
		const char *cells[] = {tag.bytes, where->kind->title,
		                       where->place != NULL ? where->place : "place not known",
		                       since.bytes};
		answer_table_row(answer, MARK_PLAIN, cells);
		return;
	}
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", tag.bytes);
	answer_word(answer, "kind", where->kind->name);
	answer_word(answer, "place", where->place);
	answer_moment(answer, "since", where->since);
	answer_object_close(answer);
}

static enum outcome tell_whereabouts(struct call *call)
{
	struct finding finding = {.call = call};
	const struct whereabouts_reader reader = {whereabouts_begin, whereabouts_each, &finding};
	struct known_moment when;
	enum outcome outcome = call_moment(call, "when", &when);
	if (outcome == OUTCOME_DONE && !when.known) {
		fault_set(call->fault, OUTCOME_BAD, "when is not given");
		fault_hint(call->fault, "Type when=2026-01-15 or when=2026-01-15T14:30.");
		return OUTCOME_BAD;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = room_whereabouts(call->store, when.value, call_value(call, "at"), call->now,
		                           &reader, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		answer_table_close(call->answer);
		answer_array_close(call->answer);
	}
	if (outcome == OUTCOME_DONE && finding.count == 0) {
		const char *at = call_value(call, "at");
		return fault_set(call->fault, OUTCOME_NO, "no tool was %s%s at %s",
		                 at != NULL ? "at " : "on record", at != NULL ? at : "",
		                 moment_text(finding.moment).bytes);
	}
	return outcome;
}

static enum outcome run(struct call *call)
{
	const char *tag = call_bare(call, 0);
	bool when = call_value(call, "when") != NULL;
	if (tag != NULL && (when || call_value(call, "at") != NULL)) {
		fault_set(call->fault, OUTCOME_BAD,
		          "history is of one record or of a moment, not of both: %s", tag);
		fault_hint(call->fault, "Type history %s, or history when=MOMENT at=PLACE.", tag);
		return OUTCOME_BAD;
	}
	if (tag == NULL && !when && call_value(call, "at") == NULL) {
		fault_set(call->fault, OUTCOME_BAD, "history of what is not given");
		fault_hint(call->fault, "Type history TAG, or history when=MOMENT.");
		return OUTCOME_BAD;
	}
	return tag != NULL ? tell_record(call, tag) : tell_whereabouts(call);
}

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TAG, .meaning = "the record whose whole history is asked"},
	{.name = "when",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "or a moment: where every tool was; a bare date is the end of that day"},
	{.name = "at",
     .type = ARGUMENT_PLACE,
     .keyed = true,
     .meaning = "with when: at this place and those within it alone"},
};

static const char *const examples[] = {
	"history PC000025-1",
	"history when=2026-01-15",
	"history when=2026-01-15T08:00 at=R1",
	NULL,
};

const struct command command_history = {
	.name = "history",
	.summary = "all that happened to one record; or where every tool was at a moment",
	.more =
		"Of a record the latest entry stands last; one that was taken back is marked so. Of a job "
		"its stations and cuts are told too, of an anilox roll its readings.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
