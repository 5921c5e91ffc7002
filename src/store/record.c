/* Records of any kind: put on record, with a ledger entry each. */
#include <string.h>

#include "record.h"
#include "wear.h"

static const struct record_sql *const sql_of_kind[KIND_COUNT] = {
	[KIND_OPERATOR] = &operator_sql, [KIND_PLACE] = &place_sql,
	[KIND_PRESS] = &press_sql,       [KIND_JOB] = &job_sql,
	[KIND_CYLINDER] = &cylinder_sql, [KIND_GEAR] = &gear_sql,
	[KIND_ANILOX] = &anilox_sql,     [KIND_BLADE] = &blade_sql,
	[KIND_DIE] = &die_sql,           [KIND_MAGNETIC_CYLINDER] = &magnetic_cylinder_sql,
	[KIND_STATION] = &station_sql,   [KIND_CUT] = &cut_sql,
	[KIND_READING] = &reading_sql,
};

const struct record_sql *record_sql_of(const struct kind *kind)
{
	return sql_of_kind[kind->id];
}

STATEMENT(set_other_tag) = {"other tag", "INSERT INTO other_tag (code, tool) VALUES (:code, :tool)",
                            false};
enum outcome record_row_write(struct store *store, const struct statement *statement,
                              const struct record *record, const struct kept *kept,
                              const struct actor *actor, struct fault *fault)
{
	struct tag_text stored; /* bound: outlives the step */
	if (statement_ready(store, statement, fault) == NULL) {
		return OUTCOME_STORE;
	}
	struct prepared *entry = statement_entry(store, statement, fault);
	record_bind(store, entry, record, kept, actor, &stored);
	return statement_run(store, entry->stmt, "writing a record", fault);
}

enum outcome record_other_tag_write(struct store *store, const struct record *record,
                                    struct fault *fault)
{
	const char *code = record_words(record, "other_tag");
	if (code == NULL) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &set_other_tag, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_words(stmt, ":code", code);
	bind_number(stmt, ":tool", record->id);
	return statement_run(store, stmt, "writing an other tag", fault);
}

enum outcome record_settle(struct store *store, struct arena *arena, struct record *record,
                           const struct actor *actor, struct fault *fault)
{
	switch (record->kind->id) {
	case KIND_PLACE:
		return place_settle(store, arena, record, actor, fault);
	case KIND_PRESS:
		return press_settle(store, arena, record, actor, fault);
	case KIND_JOB:
		return job_settle(store, arena, record, actor, fault);
	case KIND_OPERATOR:
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return OUTCOME_DONE;
}

void record_subject(const struct record *record, struct entry *entry)
{
	entry->subject_kind = record->kind->name;
	entry->subject = record->id;
	size_t job = kind_attribute_find(record->kind, "job");
	if (job != SIZE_MAX) {
		entry->job = record->references[job];
	}
}

int64_t record_place(const struct record *record)
{
	return record->kind->tool ? record->references[kind_attribute_find(record->kind, "place")] : 0;
}

static enum outcome settle_tag(struct store *store, struct arena *arena, struct record *record,
                               struct fault *fault)
{
	struct tag tag;
	struct value *value;
	if (!record->kind->tagged) {
		return OUTCOME_DONE;
	}
	value = record_value(record, "tag");
	if (value->known && tag_read(value->text, &tag) == TAG_READ) {
		return tag_keep(store, tag, fault);
	}
	enum outcome outcome = tag_give(store, record->kind->class, &tag, fault);
	if (outcome == OUTCOME_DONE) {
		value->known = true;
		value->text = arena_copy(arena, tag_shown(tag).bytes);
	}
	return outcome;
}

/*
 * What the ledger tells of it beside its name: of a reading `volume 12.6cm3/m2, after cleaning,
 * read 2026-12-01T08:00`, to 0.01 of what is read; NULL of all else.
 */
static const char *detail_of(struct arena *arena, const struct record *record)
{
	const struct value *volume, *moment;
	if (record->kind->id != KIND_READING) {
		return NULL;
	}
	volume = record_known(record, "volume");
	moment = record_known(record, "moment");
	if (volume == NULL || moment == NULL) {
		return NULL;
	}
	const int64_t step = 10000; /* of 1e-6 cm3/m2 */
	struct volume shown =
		volume_from_micro((volume_to_micro(volume->volume) + step / 2) / step * step);
	const char *after = record_words(record, "after");
	return arena_format(arena, "volume %s, after %s, read %s",
	                    volume_text(shown, UNITS_METRIC).bytes,
	                    after != NULL && strcmp(after, "clean") == 0 ? "cleaning" : "a run",
	                    moment_text(moment->moment).bytes);
}

enum outcome store_record_insert(struct store *store, struct arena *arena, struct record *record,
                                 const struct actor *actor, struct fault *fault)
{
	static const struct kept nothing = {.condition = "new"};
	const struct record_sql *sql = record_sql_of(record->kind);
	enum outcome outcome = settle_tag(store, arena, record, fault);
	if (outcome == OUTCOME_DONE && record->kind->tool) {
		outcome = record_row_write(store, &tool_sql.insert, record, &nothing, actor, fault);
		record->id = sqlite3_last_insert_rowid(store->db);
		if (outcome == OUTCOME_DONE) {
			outcome = record_other_tag_write(store, record, fault);
		}
	}
	if (outcome == OUTCOME_DONE) {
		outcome = record_row_write(store, &sql->insert, record, &nothing, actor, fault);
	}
	if (!record->kind->tool) {
		record->id = sqlite3_last_insert_rowid(store->db);
	}
	struct entry entry = {.word = "new",
	                      .happened = actor_moment(actor),
	                      .to_place = record_place(record),
	                      .detail = detail_of(arena, record)};
	record_subject(record, &entry);
	if (outcome == OUTCOME_DONE) {
		outcome = ledger_write(store, &entry, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = run_told_keep(store, NULL, record, actor, fault);
	}
	return outcome == OUTCOME_DONE ? record_settle(store, arena, record, actor, fault) : outcome;
}

STATEMENT(anything) = {"is anything on record", "SELECT EXISTS (SELECT 1 FROM ledger)", true};

enum outcome store_is_empty(struct store *store, bool *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &anything, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	*out = statement_row(store, stmt, &outcome, fault) && sqlite3_column_int64(stmt, 0) == 0;
	statement_done(stmt);
	return outcome;
}
