/* `undo`: the last entry of an operator at a terminal taken back, as a new entry. */
#include <string.h>

#include "entry.h"
#include "job_row.h"
#include "move.h"
#include "undo_care.h"

struct undo {
	struct store *store;
	struct arena *arena;
	const struct actor *actor;
	struct undo_entry entry;
	struct record *subject; /* what the entry is about; NULL: a setting */
	struct undone *out;
};

/* ---------------------------------------------------------------- what it is about */

/* The entry as a thing: `put of PC000025-1`, `correction of R1`. */
static const char *called_word(const struct undo *undo)
{
	const char *word = undo->entry.word;
	if (strcmp(word, "new") == 0) {
		return "entry";
	}
	return strcmp(word, "changed") == 0 ? "correction" : word;
}

static enum outcome name_subject(struct undo *undo, struct fault *fault)
{
	const struct undo_entry *entry = &undo->entry;
	undo->out->number = entry->number;
	undo->out->word = entry->word;
	undo->out->said = called_word(undo);
	undo->out->happened = entry->happened;
	if (entry->kind == NULL) {
		undo->out->called = entry->setting;
		return OUTCOME_DONE;
	}
	bool removed = strcmp(entry->word, "remove") == 0;
	enum outcome outcome =
		removed ? store_undo_read(undo->store, undo->arena, entry, &undo->subject, fault)
				: store_record_read(undo->store, undo->arena, entry->kind, entry->subject,
	                                &undo->subject, fault);
	if (outcome == OUTCOME_DONE) {
		undo->out->called = record_named(undo->arena, undo->subject);
	}
	return outcome;
}

/* A tool in a few words, as it is again. */
static enum outcome tell_what(struct undo *undo, struct fault *fault)
{
	const struct undo_entry *entry = &undo->entry;
	struct record *record;
	if (entry->kind == NULL || !entry->kind->tool) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_record_read(undo->store, undo->arena, entry->kind, entry->subject, &record, fault);
	if (outcome == OUTCOME_DONE) {
		undo->out->what = room_summary(undo->arena, record, UNITS_METRIC);
	}
	return outcome;
}

static const char *who(const struct ledger_entry *entry)
{
	return entry->operator_name != NULL ? entry->operator_name : entry->login;
}

/* ---------------------------------------------------------------- refusals */

/* What was put on record stays there: what to type instead. */
static enum outcome refuse_new(const struct undo *undo, struct fault *fault)
{
	const struct kind *kind = undo->entry.kind;
	const char *called = undo->out->called;
	fault_set(fault, OUTCOME_NO, "%s was put on record, that is not taken back: %s", kind->title,
	          called);
	if (kind->tool) {
		fault_hint(fault, "Type scrap %s reason=...", called);
	} else if (kind->id == KIND_JOB) {
		fault_hint(fault, "Type edit %s state=cancelled.", called);
	} else if (kind->id == KIND_STATION || kind->id == KIND_CUT) {
		const char *number =
			value_text(undo->arena, record_value(undo->subject, kind->name), UNITS_METRIC);
		const char *job = record_words(undo->subject, "job");
		fault_hint(fault, "Type remove %s %s=%s.", job != NULL ? job : "JOB", kind->name, number);
	} else {
		fault_hint(fault, "Type edit %s retired=yes.", called);
	}
	return OUTCOME_NO;
}

static enum outcome refuse_since(const struct undo *undo, const struct ledger_entry *since,
                                 struct fault *fault)
{
	struct text what = text_start(undo->arena);
	bool moved = since->to_code != NULL || since->from_code != NULL;
	text_add(&what, since->word);
	if (since->from_code != NULL) {
		text_add_format(&what, " from %s", since->from_code);
	}
	if (since->to_code != NULL) {
		text_add_format(&what, " to %s", since->to_code);
	}
	if (!moved && since->detail != NULL) {
		text_add_format(&what, ", %s", since->detail);
	}
	fault_set(fault, OUTCOME_NO,
	          "%s of %s is not taken back, it has %s since: %s, by %s at terminal %s, %s",
	          undo->out->said, undo->out->called, moved ? "moved" : "changed", what.bytes,
	          who(since), since->terminal, moment_text(since->happened).bytes);
	fault_hint(fault, "Look with %s %s, then put it right by its own command.",
	           undo->entry.kind != NULL ? "history" : "set", undo->out->called);
	return OUTCOME_NO;
}

/* Of an entry older than this program's keeping of what stood before. */
static enum outcome refuse_unkept(const struct undo *undo, struct fault *fault)
{
	fault_set(fault, OUTCOME_NO, "%s of %s is older than what can be taken back: %s",
	          undo->out->said, undo->out->called, moment_text(undo->entry.happened).bytes);
	fault_hint(fault, "Put it right by hand: with put, hold, clear, edit or set.");
	return OUTCOME_NO;
}

static enum outcome refuse_retired(const struct undo *undo, int64_t id, struct fault *fault)
{
	struct place_state place;
	if (id == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_place_state(undo->store, undo->arena, id, &place, fault);
	if (outcome == OUTCOME_DONE && place.retired) {
		fault_set(fault, OUTCOME_NO, "place is retired: %s", place.code);
		fault_hint(fault, "Type put %s at=PLACE with a place that is in use.", undo->out->called);
		return OUTCOME_NO;
	}
	return outcome;
}

/* ---------------------------------------------------------------- each sort of entry */

/* `from C1 to R1`; what was put where it was already stays there. */
static void movement_say(struct text *text, const char *from, const char *to)
{
	if (from != NULL && to != NULL && strcmp(from, to) == 0) {
		text_add_format(text, "it stays at %s", to);
		return;
	}
	text_add_format(text, "from %s ", from != NULL ? from : "nowhere");
	text_add(text, to != NULL ? "to " : "to a place not known");
	text_add(text, to != NULL ? to : "");
}

static enum outcome undo_movement(struct undo *undo, struct fault *fault)
{
	struct tool_state before;
	struct moved *moved = &undo->out->movement;
	enum outcome outcome = refuse_retired(undo, undo->entry.from_place, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(undo->store, undo->arena, undo->entry.subject, &before, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_undo_movement(undo->store, undo->arena, &undo->entry, undo->actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_tool_state(undo->store, undo->arena, undo->entry.subject, &moved->tool, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct text result = text_start(undo->arena);
	const char *to = moved->tool.place_code;
	undo->out->moved = true;
	moved->from = before.place_code;
	if (strcmp(undo->entry.word, "take") == 0) {
		text_add_format(&result, "not out for job %s any more",
		                before.taken_for != NULL ? before.taken_for : "?");
	} else {
		movement_say(&result, before.place_code, to);
	}
	if (moved->tool.back != NULL) {
		text_add_format(&result, ", due back %s", moved->tool.back);
	}
	if (moved->tool.taken_for != NULL) {
		text_add_format(&result, ", out for job %s", moved->tool.taken_for);
	}
	undo->out->result = result.bytes;
	return OUTCOME_DONE;
}

static enum outcome undo_condition(struct undo *undo, struct fault *fault)
{
	const char *condition = NULL, *reason = NULL;
	enum outcome outcome =
		store_undo_condition(undo->store, undo->arena, &undo->entry, undo->actor, fault);
	if (outcome == OUTCOME_DONE && undo->entry.kind->tool) {
		struct tool_state tool;
		outcome = store_tool_state(undo->store, undo->arena, undo->entry.subject, &tool, fault);
		condition = tool.condition;
		reason = tool.condition_reason;
	} else if (outcome == OUTCOME_DONE) {
		struct place_state place;
		outcome = store_place_state(undo->store, undo->arena, undo->entry.subject, &place, fault);
		condition = place.condition;
		reason = place.condition_reason;
	}
	if (outcome == OUTCOME_DONE) {
		bool held = strcmp(condition, "hold") == 0;
		undo->out->result = arena_format(undo->arena, "%s again%s%s", held ? "on hold" : condition,
		                                 reason != NULL ? ": " : "", reason != NULL ? reason : "");
	}
	return outcome;
}

static enum outcome undo_setting(struct undo *undo, struct fault *fault)
{
	struct setting_state state;
	enum outcome outcome =
		store_undo_setting(undo->store, undo->arena, &undo->entry, undo->actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_setting_read(undo->store, undo->arena, setting_find(undo->entry.setting),
		                             &state, fault);
	}
	if (outcome == OUTCOME_DONE) {
		undo->out->result = arena_format(undo->arena, "%s again%s", state.value,
		                                 state.set_by == NULL ? ", the default" : "");
	}
	return outcome;
}

static enum outcome undo_care(struct undo *undo, struct fault *fault)
{
	return undo_care_entry(undo->store, undo->arena, &undo->entry, undo->out->called, undo->actor,
	                       &undo->out->result, fault);
}

/* What was measured is an event: it stays in the history, but counts nowhere any more. */
static enum outcome undo_reading(struct undo *undo, struct fault *fault)
{
	const char *volume =
		value_text(undo->arena, record_value(undo->subject, "volume"), UNITS_METRIC);
	const char *moment =
		value_text(undo->arena, record_value(undo->subject, "moment"), UNITS_METRIC);
	undo->out->result =
		arena_format(undo->arena, "volume %s, read %s, counts no more", volume, moment);
	return store_undo_reading(undo->store, undo->arena, &undo->entry, undo->actor, fault);
}

/* Whether the job has its tools by now, and how long: `booked again on P1, from ... until ...`. */
static enum outcome say_booked(struct undo *undo, struct text *text, bool always,
                               struct fault *fault)
{
	struct kept_promise promise;
	enum outcome outcome =
		store_promise_of_job(undo->store, undo->arena, undo->entry.subject, &promise, fault);
	if (outcome == OUTCOME_DONE && promise.id != 0) {
		text_join(text, ", ",
		          arena_format(undo->arena, "booked again on %s, from %s until %s",
		                       promise.press_code, moment_text(promise.from).bytes,
		                       moment_text(promise.until).bytes));
	} else if (outcome == OUTCOME_DONE && always) {
		text_add(text, "not booked any more");
	}
	undo->out->result = text->bytes;
	return outcome;
}

static enum outcome undo_promise(struct undo *undo, struct fault *fault)
{
	struct text result = text_start(undo->arena);
	enum outcome outcome =
		store_undo_promise(undo->store, undo->arena, &undo->entry, undo->actor, fault);
	return outcome == OUTCOME_DONE ? say_booked(undo, &result, true, fault) : outcome;
}

static enum outcome undo_run(struct undo *undo, struct fault *fault)
{
	struct text result = text_start(undo->arena);
	struct job job = {.id = 0};
	struct job_running run = {.job = 0};
	int64_t tools = 0;
	enum outcome outcome = store_web_reached(undo->store, undo->entry.number, &tools, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_undo_run(undo->store, undo->arena, &undo->entry, undo->actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_job_read(undo->store, undo->arena, undo->entry.subject, &job, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_run_of_job(undo->store, undo->arena, undo->entry.subject, &run, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	text_add_format(&result, "%s again", job.state);
	if (run.press_code != NULL) {
		text_add_format(&result, " on %s", run.press_code);
	}
	if (tools > 0) {
		text_add_format(&result, ", its web taken from the run of %lld tool%s", (long long)tools,
		                tools == 1 ? "" : "s");
	}
	/* Starting left its promise as it was: only finishing has ended one. */
	bool finished = strcmp(undo->entry.word, "finish") == 0;
	undo->out->result = result.bytes;
	return finished ? say_booked(undo, &result, false, fault) : outcome;
}

/* The old values must still be allowed: a code may be another record's by now. */
static enum outcome check_restored(struct undo *undo, struct record *record, struct fault *fault)
{
	struct limits limits;
	enum outcome outcome = store_limits(undo->store, &limits, fault);
	struct entry_form form =
		entry_form_new(undo->store, undo->arena, undo->actor, &limits, record->kind);
	form.record = record;
	/* It stood on hold before, with or without a reason. */
	form.stood_condition = record_words(record, "condition");
	if (outcome == OUTCOME_DONE && record->kind->tagged) {
		outcome = entry_identify(&form, fault);
	}
	form.known = record->id;
	if (outcome == OUTCOME_DONE) {
		outcome = entry_check(&form, fault);
	}
	return outcome == OUTCOME_DONE ? entry_first_complaint(&form.complaints, OUTCOME_NO, fault)
	                               : outcome;
}

static enum outcome undo_change(struct undo *undo, struct fault *fault)
{
	struct record *record;
	struct ledger_entry *last;
	size_t count;
	enum outcome outcome = store_undo_read(undo->store, undo->arena, &undo->entry, &record, fault);
	if (outcome == OUTCOME_DONE && (undo->entry.from_place != 0 || undo->entry.to_place != 0)) {
		outcome = refuse_retired(undo, undo->entry.from_place, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = check_restored(undo, record, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_undo_change(undo->store, undo->arena, &undo->entry, record, undo->actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_ledger_of(undo->store, undo->arena, undo->entry.kind, undo->entry.subject,
		                          1, &last, &count, fault);
	}
	if (outcome == OUTCOME_DONE && count > 0 && last->detail != NULL) {
		/* Behind the word: `changed: face 320mm -> 330mm`. */
		const char *changes = strstr(last->detail, ": ");
		undo->out->result = changes != NULL ? changes + 2 : last->detail;
	}
	return outcome;
}

static enum outcome undo_removal(struct undo *undo, struct fault *fault)
{
	struct record *record;
	int64_t id = 0;
	enum outcome outcome = store_undo_read(undo->store, undo->arena, &undo->entry, &record, fault);
	if (outcome == OUTCOME_DONE) {
		int64_t job = record->references[kind_attribute_find(record->kind, "job")];
		outcome = store_job_row_find(undo->store, record->kind, job,
		                             record_known(record, record->kind->name)->count, &id, fault);
	}
	if (outcome == OUTCOME_DONE && id != 0) {
		fault_set(fault, OUTCOME_NO, "%s has been put on record anew", undo->out->called);
		fault_hint(fault, "Type remove %s %s=%lld first, or edit it.", record_words(record, "job"),
		           record->kind->name, (long long)record_known(record, record->kind->name)->count);
		return OUTCOME_NO;
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_undo_removal(undo->store, undo->arena, &undo->entry, record, undo->actor, fault);
	}
	undo->out->result = "there again";
	return outcome;
}

/* ---------------------------------------------------------------- which it is */

static enum outcome undo_by_word(struct undo *undo, struct fault *fault)
{
	static const struct {
		const char *word;
		enum outcome (*run)(struct undo *undo, struct fault *fault);
	} words[] = {
		{"changed", undo_change}, {"remove", undo_removal},  {"set", undo_setting},
		{"hold", undo_condition}, {"clear", undo_condition}, {"scrap", undo_condition},
		{"cleaned", undo_care},   {"dirty", undo_care},      {"book", undo_promise},
		{"move", undo_promise},   {"unbook", undo_promise},  {"start", undo_run},
		{"finish", undo_run},     {"gauge", undo_care},      {"reblade", undo_care},
		{"regrind", undo_care},
	};
	const struct undo_entry *entry = &undo->entry;
	if (strcmp(entry->word, "new") == 0) {
		return undo_reading(undo, fault);
	}
	for (size_t i = 0; i < COUNT_OF(words); i++) {
		if (strcmp(words[i].word, entry->word) == 0) {
			return entry->kept ? words[i].run(undo, fault) : refuse_unkept(undo, fault);
		}
	}
	bool taken = strcmp(entry->word, "take") == 0;
	if (entry->kind != NULL && entry->kind->tool && (entry->to_place != 0 || taken)) {
		return undo_movement(undo, fault);
	}
	if (entry->kind == NULL) {
		fault_set(fault, OUTCOME_NO, "%s is not taken back", entry->word);
		fault_hint(fault, "What was here before lies beside the shop's file, before-restore in its "
		                  "name: type restore with that file.");
		return OUTCOME_NO;
	}
	return fault_set(fault, OUTCOME_NO, "%s is not taken back: %s", entry->word, undo->out->called);
}

static enum outcome undo_last(struct undo *undo, struct fault *fault)
{
	struct ledger_entry since = {.number = 0};
	enum outcome outcome =
		store_undo_find(undo->store, undo->arena, undo->actor, &undo->entry, fault);
	if (outcome == OUTCOME_DONE && undo->entry.number == 0) {
		fault_set(fault, OUTCOME_NO, "nothing to take back, at terminal %s by %s%s",
		          undo->actor->terminal, undo->actor->login,
		          undo->actor->operator_id != 0 ? " with this badge" : " without a badge");
		fault_hint(fault,
		           "An entry is taken back where it was made, by who made it: --as OPERATOR.");
		return OUTCOME_NO;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = name_subject(undo, fault);
	}
	bool reading = undo->entry.kind != NULL && undo->entry.kind->id == KIND_READING;
	if (outcome == OUTCOME_DONE && strcmp(undo->entry.word, "new") == 0 && !reading) {
		return refuse_new(undo, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_undo_since(undo->store, undo->arena, &undo->entry, &since, fault);
	}
	if (outcome == OUTCOME_DONE && since.number != 0) {
		return refuse_since(undo, &since, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = undo_by_word(undo, fault);
	}
	return outcome == OUTCOME_DONE ? tell_what(undo, fault) : outcome;
}

enum outcome undo_in_transaction(struct store *store, struct arena *arena,
                                 const struct actor *actor, struct undone *out, struct fault *fault)
{
	struct undo undo = {.store = store, .arena = arena, .actor = actor, .out = out};
	*out = (struct undone){.number = 0};
	return undo_last(&undo, fault);
}

enum outcome room_undo(struct store *store, struct arena *arena, const struct actor *actor,
                       struct undone *out, struct fault *fault)
{
	enum outcome outcome = store_begin(store, "room_undo", fault);
	return outcome == OUTCOME_DONE
	           ? transaction_end(store, undo_in_transaction(store, arena, actor, out, fault), fault)
	           : outcome;
}
