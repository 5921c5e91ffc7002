/* Records by the ledger: each put on record by an entry, and where and how the last entry left it.
 */
#include <string.h>

#include "copy.h"
#include "proof.h"

#define RECORDS_A_TELLING 4096

/* ---------------------------------------------------------------- room for what is told */

#define ROWS_OF(constant, table) \
	STATEMENT(constant) = {"every " table, "SELECT id, '" table "', NULL, NULL, NULL FROM " table, \
	                       true}
#define ROWS_WITH_TAG_OF(constant, table) \
	STATEMENT(constant) = {"every " table, "SELECT id, '" table "', tag, NULL, NULL FROM " table, \
	                       true}
STATEMENT(every_tool) = {"every tool", "SELECT id, kind, tag, place, condition FROM tool", true};
STATEMENT(every_place) = {"every place", "SELECT id, 'place', tag, NULL, condition FROM place",
                          true};
ROWS_WITH_TAG_OF(every_press, "press");
STATEMENT(every_job) = {"every job", "SELECT id, 'job', tag, NULL, state FROM job", true};
ROWS_WITH_TAG_OF(every_operator, "operator");
ROWS_OF(every_station, "station");
ROWS_OF(every_cut, "cut");
ROWS_OF(every_reading, "reading");

enum row_column { ROW_ID, ROW_KIND, ROW_TAG, ROW_PLACE, ROW_CONDITION };

#define LAST_OF(constant, table) \
	STATEMENT(constant) = {"last " table, "SELECT max(id) FROM " table, false}
LAST_OF(last_tool, "tool");
LAST_OF(last_place, "place");
LAST_OF(last_press, "press");
LAST_OF(last_job, "job");
LAST_OF(last_operator, "operator");
LAST_OF(last_station, "station");
LAST_OF(last_cut, "cut");
LAST_OF(last_reading, "reading");

static const struct table {
	const struct statement *rows, *last;
} tables[FOLLOW_COUNT] = {
	[FOLLOW_TOOL] = {&every_tool, &last_tool},
	[FOLLOW_PLACE] = {&every_place, &last_place},
	[FOLLOW_PRESS] = {&every_press, &last_press},
	[FOLLOW_JOB] = {&every_job, &last_job},
	[FOLLOW_OPERATOR] = {&every_operator, &last_operator},
	[FOLLOW_STATION] = {&every_station, &last_station},
	[FOLLOW_CUT] = {&every_cut, &last_cut},
	[FOLLOW_READING] = {&every_reading, &last_reading},
};

static enum followed_table table_of(const struct kind *kind)
{
	switch (kind->id) {
	case KIND_OPERATOR:
		return FOLLOW_OPERATOR;
	case KIND_PLACE:
		return FOLLOW_PLACE;
	case KIND_PRESS:
		return FOLLOW_PRESS;
	case KIND_JOB:
		return FOLLOW_JOB;
	case KIND_STATION:
		return FOLLOW_STATION;
	case KIND_CUT:
		return FOLLOW_CUT;
	case KIND_READING:
		return FOLLOW_READING;
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_COUNT:
		break;
	}
	return FOLLOW_TOOL;
}

STATEMENT(last_subject) = {"last record of a kind that the ledger names",
                           "SELECT max(subject) FROM ledger WHERE subject_kind = :kind", false};

static enum outcome read_number(struct proving *proving, sqlite3_stmt *stmt, int64_t *out,
                                struct fault *failed)
{
	enum outcome outcome = OUTCOME_STORE;
	*out = 0;
	if (stmt != NULL && statement_row(proving->store, stmt, &outcome, failed)) {
		*out = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

/* The highest number that a table or the ledger gives to a record of each table. */
static enum outcome read_highest(struct proving *proving, struct fault *failed)
{
	enum outcome outcome = OUTCOME_DONE;
	int64_t number;
	for (size_t i = 0; i < FOLLOW_COUNT && outcome == OUTCOME_DONE; i++) {
		sqlite3_stmt *stmt = statement_ready(proving->store, tables[i].last, failed);
		outcome = read_number(proving, stmt, &proving->tables[i].most, failed);
	}
	for (size_t i = 0; i < KIND_COUNT && outcome == OUTCOME_DONE; i++) {
		struct followed *table = &proving->tables[table_of(&kinds[i])];
		sqlite3_stmt *stmt = statement_ready(proving->store, &last_subject, failed);
		if (stmt != NULL) {
			bind_words(stmt, ":kind", kinds[i].name);
		}
		outcome = read_number(proving, stmt, &number, failed);
		table->most = number > table->most ? number : table->most;
	}
	return outcome;
}

enum outcome follow_begin(struct proving *proving)
{
	struct fault failed;
	fault_clear(&failed);
	enum outcome outcome = read_highest(proving, &failed);
	if (outcome != OUTCOME_DONE) {
		return damage_unless_fault(proving, "numbers of records", &failed);
	}
	/* Numbers of records follow one another, and each has an entry: a higher one is no number. */
	int64_t entries = ledger_last(proving->store);
	for (size_t i = 0; i < FOLLOW_COUNT; i++) {
		struct followed *table = &proving->tables[i];
		int64_t most = table->most < entries ? table->most : entries;
		table->most = most > 0 ? most : 0;
		table->told = arena_take(proving->scratch, (size_t)table->most + 1, sizeof *table->told);
	}
	proving->stays = arena_take(proving->scratch, (size_t)proving->tables[FOLLOW_TOOL].most + 1,
	                            sizeof *proving->stays);
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- what an entry tells */

static const char *words_at(sqlite3_stmt *stmt, int column)
{
	const char *text = (const char *)sqlite3_column_text(stmt, column);
	return text != NULL ? text : "";
}

static enum told_condition condition_of(const char *word)
{
	static const struct {
		const char *word;
		enum told_condition condition;
	} words[] = {
		{"hold", TOLD_HOLD},         {"clear", TOLD_READY},         {"ready", TOLD_READY},
		{"scrapped", TOLD_SCRAPPED}, {"scrap", TOLD_SCRAPPED},      {"planned", TOLD_PLANNED},
		{"running", TOLD_RUNNING},   {"start", TOLD_RUNNING},       {"finished", TOLD_FINISHED},
		{"finish", TOLD_FINISHED},   {"cancelled", TOLD_CANCELLED},
	};
	for (size_t i = 0; i < COUNT_OF(words); i++) {
		if (strcmp(words[i].word, word) == 0) {
			return words[i].condition;
		}
	}
	return TOLD_NOTHING;
}

/*
 * A correction names what it changed, `condition ready -> hold; note x -> y`, and a note may hold
 * any words: only at the start is it certain what they say. `start` is what is asked for, with a
 * blank behind it.
 */
static enum told_condition condition_in(const char *detail, const char *start,
                                        enum told_condition before)
{
	static const char arrow[] = " -> ";
	if (strstr(detail, start) == NULL) {
		return before;
	}
	const char *to = strncmp(detail, start, strlen(start)) == 0 ? strstr(detail, arrow) : NULL;
	char word[16] = "";
	size_t length = to != NULL ? strcspn(to + strlen(arrow), ";") : 0;
	if (length < sizeof word) {
		memcpy(word, to != NULL ? to + strlen(arrow) : "", length);
	}
	return condition_of(word);
}

static void tell_condition(struct told *told, const char *word, sqlite3_stmt *stmt)
{
	enum told_condition condition = condition_of(word);
	int64_t happened = sqlite3_column_int64(stmt, LEDGER_HAPPENED);
	if (condition == TOLD_NOTHING && strcmp(word, "changed") == 0) {
		condition = condition_in(words_at(stmt, LEDGER_DETAIL), "condition ",
		                         (enum told_condition)told->written);
	} else if (condition == TOLD_NOTHING && strcmp(word, "undo") != 0 && strcmp(word, "new") != 0) {
		return;
	}
	/* What was taken back, or a row of a file, may have changed it: then nothing is told. */
	told->written = (uint8_t)condition;
	if (happened >= told->condition_at) {
		told->condition = (uint8_t)condition;
		told->condition_at = happened;
	}
}

/* A job's state is written whenever it happened; what was taken back or came by CSV is not told. */
static void tell_state(struct told *told, const char *word, sqlite3_stmt *stmt)
{
	if (strcmp(word, "changed") == 0) {
		told->written = (uint8_t)condition_in(words_at(stmt, LEDGER_DETAIL), "state ",
		                                      (enum told_condition)told->written);
	} else if (strcmp(word, "start") == 0 || strcmp(word, "finish") == 0 ||
	           strcmp(word, "undo") == 0) {
		told->written = (uint8_t)condition_of(word);
	}
}

static bool is_movement(const char *word)
{
	static const char *const words[] = {"put", "send", "receive", "take"};
	for (size_t i = 0; i < COUNT_OF(words); i++) {
		if (strcmp(words[i], word) == 0) {
			return true;
		}
	}
	return false;
}

static void tell_place(struct stay *stay, const char *word, sqlite3_stmt *stmt)
{
	if (sqlite3_column_type(stmt, LEDGER_FROM_PLACE) == SQLITE_NULL &&
	    sqlite3_column_type(stmt, LEDGER_TO_PLACE) == SQLITE_NULL) {
		return;
	}
	int64_t happened = sqlite3_column_int64(stmt, LEDGER_HAPPENED);
	int32_t place = (int32_t)sqlite3_column_int64(stmt, LEDGER_TO_PLACE);
	bool latest = happened >= stay->happened;
	if (latest || !is_movement(word)) {
		stay->written = place;
	}
	if (latest) {
		stay->happened = happened;
		stay->latest = place;
	}
}

void follow_entry(struct proving *proving, sqlite3_stmt *stmt)
{
	const struct kind *kind = kind_find(words_at(stmt, LEDGER_SUBJECT_KIND));
	if (kind == NULL) {
		return; /* a setting, or the shop itself */
	}
	const char *word = words_at(stmt, LEDGER_WORD);
	enum followed_table table = table_of(kind);
	int64_t id = sqlite3_column_int64(stmt, LEDGER_SUBJECT);
	if (id < 1 || id > proving->tables[table].most) {
		damage_add(proving, sqlite3_column_int64(stmt, LEDGER_NUMBER), NULL,
		           "entry %lld names a record that cannot be: %s number %lld",
		           (long long)sqlite3_column_int64(stmt, LEDGER_NUMBER), kind->title,
		           (long long)id);
		return;
	}
	struct told *told = &proving->tables[table].told[id];
	if (told->kind == 0) {
		told->kind = (uint8_t)(kind->id + 1);
		told->began = strcmp(word, "new") == 0;
		told->condition_at = INT64_MIN;
		if (table == FOLLOW_TOOL) {
			proving->stays[id].happened = INT64_MIN;
		}
	}
	told->may_be_gone = strcmp(word, "remove") == 0 || strcmp(word, "undo") == 0;
	if (table == FOLLOW_JOB) {
		tell_state(told, word, stmt);
	} else {
		tell_condition(told, word, stmt);
	}
	if (table == FOLLOW_TOOL) {
		tell_place(&proving->stays[id], word, stmt);
	}
}

/* ---------------------------------------------------------------- the records as they stand */

STATEMENT(found_by_words) = {"record by the words that find it",
                             "SELECT 1 FROM search WHERE search MATCH :words AND rowid = :row",
                             false};
STATEMENT(code_of_place) = {"code of a place", "SELECT code FROM place WHERE id = :id", false};
STATEMENT(told_last) = {"entry that tells where a tool is",
                        "SELECT number FROM ledger WHERE subject = :id AND subject_kind = :kind"
                        " AND (to_place IS NOT NULL OR from_place IS NOT NULL)"
                        " ORDER BY happened DESC, number DESC LIMIT 1",
                        false};

/* "R1-1", or "nowhere". In the arena. */
static const char *code_of(struct proving *proving, int64_t place)
{
	sqlite3_stmt *stmt = statement_ready(proving->store, &code_of_place, NULL);
	enum outcome outcome;
	const char *code = "nowhere";
	if (stmt != NULL) {
		bind_number(stmt, ":id", place);
		if (statement_row(proving->store, stmt, &outcome, NULL)) {
			code = column_words(proving->arena, stmt, 0);
		}
	}
	statement_done(stmt);
	return code;
}

static void add_place(struct proving *proving, const char *tag, sqlite3_stmt *row,
                      const struct stay *stay)
{
	int64_t entry = 0;
	sqlite3_stmt *stmt = statement_ready(proving->store, &told_last, NULL);
	struct fault unread;
	fault_clear(&unread);
	if (stmt != NULL) {
		bind_number(stmt, ":id", sqlite3_column_int64(row, ROW_ID));
		bind_words(stmt, ":kind", words_at(row, ROW_KIND));
		(void)read_number(proving, stmt, &entry, &unread);
	}
	damage_add(proving, entry, tag, "%s: place is %s, the ledger says %s", tag,
	           code_of(proving, sqlite3_column_int64(row, ROW_PLACE)),
	           code_of(proving, stay->latest));
}

static void look_at_place(struct proving *proving, const char *tag, sqlite3_stmt *row, int64_t id)
{
	const struct stay *stay = &proving->stays[id];
	int64_t place = sqlite3_column_int64(row, ROW_PLACE);
	proving->proof->tools++;
	if (place != stay->latest && place != stay->written) {
		add_place(proving, tag, row, stay);
	}
}

static const char *const told_words[] = {
	[TOLD_NOTHING] = "",          [TOLD_READY] = "ready",         [TOLD_HOLD] = "hold",
	[TOLD_SCRAPPED] = "scrapped", [TOLD_PLANNED] = "planned",     [TOLD_RUNNING] = "running",
	[TOLD_FINISHED] = "finished", [TOLD_CANCELLED] = "cancelled",
};

static void look_at_condition(struct proving *proving, const char *tag, sqlite3_stmt *row,
                              const struct told *told)
{
	const char *condition = words_at(row, ROW_CONDITION);
	if (told->condition != TOLD_NOTHING && told->written != TOLD_NOTHING &&
	    condition_of(condition) != told->condition && condition_of(condition) != told->written) {
		damage_add(proving, 0, tag, "%s: condition is %s, the ledger says %s", tag, condition,
		           told_words[told->condition]);
	}
}

static void look_at_state(struct proving *proving, const char *tag, sqlite3_stmt *row,
                          const struct told *told)
{
	const char *state = words_at(row, ROW_CONDITION);
	if (told->written != TOLD_NOTHING && condition_of(state) != told->written) {
		damage_add(proving, 0, tag, "%s: state is %s, the ledger says %s", tag, state,
		           told_words[told->written]);
	}
}

/* Only letters and digits: what stands in the words of a search is then no sign of its language. */
static bool is_plain(const char *tag)
{
	return *tag != '\0' && strspn(tag, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == strlen(tag);
}

static enum outcome look_at_words(struct proving *proving, enum followed_table table,
                                  const char *tag, sqlite3_stmt *row, struct fault *failed)
{
	const char *stored = words_at(row, ROW_TAG);
	sqlite3_stmt *stmt = statement_ready(proving->store, &found_by_words, failed);
	int64_t found = 0;
	if (stmt == NULL || !is_plain(stored)) {
		return stmt == NULL ? OUTCOME_STORE : OUTCOME_DONE;
	}
	bind_words(stmt, ":words", stored);
	bind_number(stmt, ":row", sqlite3_column_int64(row, ROW_ID) * 8 + (int64_t)table);
	enum outcome outcome = read_number(proving, stmt, &found, failed);
	if (outcome == OUTCOME_DONE && found == 0) {
		damage_add(proving, 0, tag, "%s: not found by its words", tag);
	}
	return outcome;
}

static const char *called(struct proving *proving, sqlite3_stmt *row)
{
	struct tag tag = column_tag(row, ROW_TAG);
	return tag.serial > 0
	           ? arena_copy(proving->scratch, tag_shown(tag).bytes)
	           : arena_format(proving->scratch, "%s number %lld", words_at(row, ROW_KIND),
	                          (long long)sqlite3_column_int64(row, ROW_ID));
}

static enum outcome look_at_record(struct proving *proving, enum followed_table table,
                                   sqlite3_stmt *row, struct fault *failed)
{
	struct followed *followed = &proving->tables[table];
	int64_t id = sqlite3_column_int64(row, ROW_ID);
	bool counted = id >= 1 && id <= followed->most;
	struct told *told = &followed->told[counted ? id : 0];
	const struct kind *kind = kind_find(words_at(row, ROW_KIND));
	const char *name = called(proving, row);
	proving->proof->records++;
	if (!counted || told->kind == 0) {
		damage_add(proving, 0, name, "%s: on record without an entry in the ledger", name);
		return OUTCOME_DONE;
	}
	told->on_record = true;
	if (!told->began) {
		damage_add(proving, 0, name, "%s: its first entry in the ledger is not new", name);
	}
	if (kind == NULL || kind->id + 1 != told->kind) {
		damage_add(proving, 0, name, "%s: kind is %s, the ledger says %s", name,
		           words_at(row, ROW_KIND), kinds[told->kind - 1].name);
	}
	if (table == FOLLOW_TOOL) {
		look_at_place(proving, name, row, id);
	}
	if (table == FOLLOW_TOOL || table == FOLLOW_PLACE) {
		look_at_condition(proving, name, row, told);
	} else if (table == FOLLOW_JOB) {
		look_at_state(proving, name, row, told);
	}
	return table < FOLLOW_WITH_WORDS ? look_at_words(proving, table, name, row, failed)
	                                 : OUTCOME_DONE;
}

/* What the ledger tells of and is not there. */
static void look_for_gone(struct proving *proving, const struct followed *followed)
{
	for (int64_t id = 1; id <= followed->most; id++) {
		const struct told *told = &followed->told[id];
		if (told->kind != 0 && !told->on_record && !told->may_be_gone) {
			const char *title = kinds[told->kind - 1].title;
			damage_add(proving, 0, NULL, "%s number %lld is in the ledger and not on record", title,
			           (long long)id);
		}
	}
}

static enum outcome prove_table(struct proving *proving, enum followed_table table, int64_t all)
{
	struct fault failed;
	fault_clear(&failed);
	struct arena *scratch = proving->scratch;
	struct arena *each = arena_new();
	sqlite3_stmt *row = statement_ready(proving->store, tables[table].rows, &failed);
	enum outcome outcome = OUTCOME_STORE;
	proving->scratch = each;
	while (row != NULL && statement_row(proving->store, row, &outcome, &failed)) {
		outcome = look_at_record(proving, table, row, &failed);
		if (outcome != OUTCOME_DONE) {
			break;
		}
		arena_reset(each);
		if (proving->proof->records % RECORDS_A_TELLING == 0) {
			watch_tell(proving->watch, "records", proving->proof->records, all);
		}
	}
	if (outcome != OUTCOME_DONE) {
		outcome = damage_unless_fault(proving, tables[table].rows->name, &failed);
	} else {
		look_for_gone(proving, &proving->tables[table]);
	}
	statement_done(row);
	proving->scratch = scratch;
	arena_free(each);
	return outcome;
}

enum outcome prove_records(struct proving *proving)
{
	int64_t all = 0;
	enum outcome outcome = count_records(proving->store, &all, proving->fault);
	for (int table = 0; table < FOLLOW_COUNT && outcome == OUTCOME_DONE; table++) {
		outcome = prove_table(proving, (enum followed_table)table, all);
	}
	return outcome;
}
