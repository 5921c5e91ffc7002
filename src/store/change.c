/* Records of any kind corrected, and a correction taken back: each with its ledger entry. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "promise.h"
#include "wear.h"

STATEMENT(forget_other_tag) = {"other tag taken away", "DELETE FROM other_tag WHERE tool = :tool",
                               false};
STATEMENT(condition_of_tool) =
	{"condition of a tool",
     "SELECT condition, condition_reason, condition_since, place FROM tool WHERE id = :id", false};
STATEMENT(condition_of_place) =
	{"condition of a place",
     "SELECT condition, condition_reason, condition_since, NULL FROM place WHERE id = :id", false};

/* One writing anew of a record. */
struct rewriting {
	struct store *store;
	struct arena *arena;
	struct record *before, *after;
	struct kept kept;
	const struct undo_entry *undone; /* the correction that it takes back, or NULL */
	const struct actor *actor;
};

static enum outcome read_kept(struct store *store, struct arena *arena, const struct record *record,
                              struct kept *kept, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	*kept = (struct kept){.condition = "new"};
	if (!record->kind->tool && record->kind->id != KIND_PLACE) {
		return outcome;
	}
	sqlite3_stmt *stmt =
		statement_ready(store, record->kind->tool ? &condition_of_tool : &condition_of_place,
	                    fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", record->id);
	if (statement_row(store, stmt, &outcome, fault)) {
		snprintf(kept->condition, sizeof kept->condition, "%s", sqlite3_column_text(stmt, 0));
		kept->reason = column_words(arena, stmt, 1);
		kept->since = column_seconds(stmt, 2);
		kept->place = sqlite3_column_int64(stmt, 3);
	}
	statement_done(stmt);
	return outcome;
}

bool record_differs(struct arena *arena, const struct record *before, const struct record *after,
                    size_t attribute)
{
	const struct value *a = &before->values[attribute], *b = &after->values[attribute];
	return !value_equal(a, b) &&
	       strcmp(value_text(arena, a, UNITS_METRIC), value_text(arena, b, UNITS_METRIC)) != 0;
}

const char *record_changes(struct arena *arena, const struct record *before,
                           const struct record *after)
{
	struct text changes = text_start(arena);
	size_t count = kind_attribute_count(after->kind);
	for (size_t i = 0; i < count; i++) {
		if (record_differs(arena, before, after, i)) {
			const char *old = value_text(arena, &before->values[i], UNITS_METRIC);
			const char *new = value_text(arena, &after->values[i], UNITS_METRIC);
			text_join(&changes, "; ",
			          arena_format(arena, "%s %s -> %s", kind_attribute(after->kind, i)->name,
			                       *old != '\0' ? old : "not known",
			                       *new != '\0' ? new : "not known"));
		}
	}
	return changes.length > 0 ? changes.bytes : NULL;
}

/* So that it can be taken back: the old values, and of a condition its reason and since. */
static enum outcome keep_changes(const struct rewriting *rewriting, struct fault *fault)
{
	const struct record *before = rewriting->before;
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < kind_attribute_count(before->kind) && outcome == OUTCOME_DONE; i++) {
		if (!record_differs(rewriting->arena, before, rewriting->after, i)) {
			continue;
		}
		outcome = before_keep_value(rewriting->store, rewriting->arena, before, i, fault);
		bool condition = strcmp(kind_attribute(before->kind, i)->name, "condition") == 0;
		if (condition && outcome == OUTCOME_DONE && rewriting->kept.reason != NULL) {
			outcome =
				before_keep(rewriting->store, "condition_reason", rewriting->kept.reason, fault);
		}
		if (condition && outcome == OUTCOME_DONE && rewriting->kept.since.known) {
			struct value since = {.type = VALUE_MOMENT,
			                      .known = true,
			                      .moment = rewriting->kept.since.value};
			outcome = before_keep(rewriting->store, "condition_since",
			                      arena_format(rewriting->arena, "%lld",
			                                   (long long)value_to_stored(&since)),
			                      fault);
		}
	}
	return outcome;
}

static enum outcome rewrite_other_tag(struct store *store, const struct record *record,
                                      struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &forget_other_tag, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", record->id);
	enum outcome outcome = statement_run(store, stmt, "writing an other tag", fault);
	return outcome == OUTCOME_DONE ? record_other_tag_write(store, record, fault) : outcome;
}

/* A blank is written as what it means: so that an unchanged row is seen to be unchanged. */
static void fill_fallbacks(struct record *record)
{
	size_t count = kind_attribute_count(record->kind);
	for (size_t i = 0; i < count; i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		struct value *value = &record->values[i];
		if (value->known || attribute->fallback == NULL) {
			continue;
		}
		value->known = true;
		if (value->type == VALUE_YES_NO) {
			value->yes = strcmp(attribute->fallback, "yes") == 0;
		} else {
			value->text = attribute->fallback;
		}
	}
}

static enum outcome write_rows(const struct rewriting *rewriting, struct fault *fault)
{
	struct store *store = rewriting->store;
	struct record *record = rewriting->after;
	enum outcome outcome = OUTCOME_DONE;
	if (record->kind->tool) {
		outcome = record_row_write(store, &tool_sql.update, record, &rewriting->kept,
		                           rewriting->actor, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = rewrite_other_tag(store, record, fault);
		}
	}
	if (outcome == OUTCOME_DONE) {
		outcome = record_row_write(store, &record_sql_of(record->kind)->update, record,
		                           &rewriting->kept, rewriting->actor, fault);
	}
	/* Before the entry: what a correction brings along stands before it, and it can be taken back.
	 */
	return outcome == OUTCOME_DONE
	           ? record_settle(store, rewriting->arena, record, rewriting->actor, fault)
	           : outcome;
}

enum outcome record_rewrite(struct store *store, struct arena *arena, struct record *before,
                            struct record *after, bool keep, const struct actor *actor,
                            struct fault *fault)
{
	struct rewriting rewriting = {
		.store = store,
		.arena = arena,
		.before = before,
		.after = after,
		.actor = actor,
	};
	enum outcome outcome = read_kept(store, arena, after, &rewriting.kept, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = write_rows(&rewriting, fault);
	}
	return outcome == OUTCOME_DONE && keep ? keep_changes(&rewriting, fault) : outcome;
}

static enum outcome write_entry(const struct rewriting *rewriting, const char *changes,
                                struct fault *fault)
{
	const struct record *record = rewriting->after;
	struct entry entry = {.word = "changed",
	                      .happened = actor_moment(rewriting->actor),
	                      .detail = changes};
	record_subject(record, &entry);
	if (record_place(record) != record_place(rewriting->before)) {
		entry.from_place = record_place(rewriting->before);
		entry.to_place = record_place(record);
	}
	if (rewriting->undone != NULL) {
		return undo_write(rewriting->store, rewriting->arena, rewriting->undone, &entry, changes,
		                  rewriting->actor, fault);
	}
	enum outcome outcome = ledger_write(rewriting->store, &entry, rewriting->actor, fault);
	return outcome == OUTCOME_DONE ? keep_changes(rewriting, fault) : outcome;
}

/*
 * A job that is finished or cancelled by this needs its tools no more, and one that runs no more
 * frees its press: by the same entry, so that taking that back brings both back.
 */
static enum outcome settle_job(const struct rewriting *rewriting, struct fault *fault)
{
	struct store *store = rewriting->store;
	const struct record *job = rewriting->after;
	const char *state = record_words(job, "state");
	enum outcome outcome = OUTCOME_DONE;
	int64_t promise;
	if (job->kind->id != KIND_JOB || state == NULL) {
		return outcome;
	}
	bool over = strcmp(state, "finished") == 0 || strcmp(state, "cancelled") == 0;
	if (rewriting->undone != NULL) {
		outcome = run_go_on(store, rewriting->arena, rewriting->undone->number, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = promise_hold_again(store, rewriting->arena, rewriting->undone->number, fault);
		}
	}
	if (outcome == OUTCOME_DONE && strcmp(state, "running") != 0) {
		outcome = run_end_now(store, job->id, actor_moment(rewriting->actor), fault);
	}
	return outcome == OUTCOME_DONE && over ? promise_end_now(store, job->id, &promise, fault)
	                                       : outcome;
}

static enum outcome rewrite(const struct rewriting *rewriting, const char *changes,
                            struct fault *fault)
{
	const struct record *record = rewriting->after;
	enum outcome outcome = OUTCOME_DONE;
	if (record_place(record) != record_place(rewriting->before)) {
		outcome =
			whereabouts_refuse_early(rewriting->store, record->id, record_words(record, "tag"),
		                             rewriting->actor->now, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_rows(rewriting, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_entry(rewriting, changes, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = rewriting->undone != NULL
		              ? run_told_forget(rewriting->store, rewriting->undone->number, fault)
		              : run_told_keep(rewriting->store, rewriting->before, record, rewriting->actor,
		                              fault);
	}
	return outcome == OUTCOME_DONE ? settle_job(rewriting, fault) : outcome;
}

enum outcome store_record_update(struct store *store, struct arena *arena, struct record *record,
                                 const struct actor *actor, bool *changed, struct fault *fault)
{
	struct rewriting rewriting = {.store = store, .arena = arena, .after = record, .actor = actor};
	enum outcome outcome =
		store_record_read(store, arena, record->kind, record->id, &rewriting.before, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	fill_fallbacks(record);
	if (record->kind->id == KIND_PLACE) {
		outcome = place_fill_within(store, arena, record, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char *changes = record_changes(arena, rewriting.before, record);
	if (changed != NULL) {
		*changed = changes != NULL;
	}
	if (changes == NULL) {
		return OUTCOME_DONE;
	}
	outcome = read_kept(store, arena, record, &rewriting.kept, fault);
	return outcome == OUTCOME_DONE ? rewrite(&rewriting, changes, fault) : outcome;
}

/* ---------------------------------------------------------------- taken back */

/* Of a condition that changed: its reason and since as they stood. */
static enum outcome restore_kept(struct rewriting *rewriting, struct fault *fault)
{
	struct store *store = rewriting->store;
	int64_t entry = rewriting->undone->number;
	const char *condition, *since = NULL;
	bool known;
	enum outcome outcome =
		before_read(store, rewriting->arena, entry, "condition", &known, &condition, fault);
	if (outcome != OUTCOME_DONE || !known) {
		return outcome;
	}
	struct kept *kept = &rewriting->kept;
	snprintf(kept->condition, sizeof kept->condition, "%s", condition);
	outcome = before_read(store, rewriting->arena, entry, "condition_reason", &known, &kept->reason,
	                      fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			before_read(store, rewriting->arena, entry, "condition_since", &known, &since, fault);
	}
	kept->since = (struct known_moment){.known = since != NULL};
	if (since != NULL) {
		kept->since.value = value_from_stored(VALUE_MOMENT, strtoll(since, NULL, 10)).moment;
	}
	return outcome;
}

enum outcome store_undo_change(struct store *store, struct arena *arena,
                               const struct undo_entry *entry, struct record *record,
                               const struct actor *actor, struct fault *fault)
{
	struct rewriting rewriting = {
		.store = store,
		.arena = arena,
		.after = record,
		.actor = actor,
		.undone = entry,
	};
	enum outcome outcome =
		store_record_read(store, arena, record->kind, record->id, &rewriting.before, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_kept(store, arena, record, &rewriting.kept, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = restore_kept(&rewriting, fault);
	}
	fill_fallbacks(record);
	return outcome == OUTCOME_DONE
	           ? rewrite(&rewriting, record_changes(arena, rewriting.before, record), fault)
	           : outcome;
}
