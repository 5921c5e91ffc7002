/*
 * Is the file whole? Every page and row by SQLite's own look; every index against its table. SQLite
 * looks each entry of the ledger up in each of its indexes, which takes a minute where the ledger
 * is long; so those are summed up instead, from the table once and from each index once.
 */
#include <stdio.h>
#include <string.h>

#include "copy.h"
#include "proof.h"

STATEMENT(look_at_pages) = {"every page", "PRAGMA quick_check(1000)", true};
STATEMENT(look_at_all) = {"every page and index", "PRAGMA integrity_check(1000)", true};
STATEMENT(look_at_indexes) =
	{"every index but the ledger's",
     "SELECT i.integrity_check FROM sqlite_schema s, pragma_integrity_check(s.name) i"
     " WHERE s.type = 'table' AND s.name <> 'ledger'",
     true};
STATEMENT(look_at_references) = {"every reference", "PRAGMA foreign_key_check", true};

STATEMENT(look_at_read_volumes) =
	{"every volume read last",
     "SELECT t.tag FROM anilox k JOIN tool t ON t.id = k.tool JOIN volume_read v ON v.tool = k.tool"
     " WHERE k.read_volume IS NOT v.volume",
     true};
/*
 * What is summed up of an entry: its number with what an index holds of it, mixed, cut to 32 bits
 * so that no sum is too large.
 */
#define MIXED(words) "sum((number * 2654435761 + " words ") & 4294967295)"
#define BY_SUBJECT \
	MIXED("subject * 40503 + happened * 97 + COALESCE(unicode(subject_kind), 0) * 7" \
	      " + length(subject_kind)")
#define BY_FROM MIXED("from_place * 40503 + happened * 97")
#define BY_TO MIXED("to_place * 40503 + happened * 97")
#define BY_STAY MIXED("subject * 40503 + happened * 97")
#define BY_WHOM \
	MIXED("COALESCE(operator, 0) * 40503 + COALESCE(unicode(terminal), 0) * 97" \
	      " + length(terminal) * 31 + COALESCE(unicode(login), 0) * 7 + length(login)")
#define BY_JOB MIXED("job * 40503 + happened * 97")
#define BY_OPERATOR MIXED("operator * 40503")
#define HAS_JOB "job IS NOT NULL"
#define HAS_OPERATOR "operator IS NOT NULL"
#define HAS_FROM "from_place IS NOT NULL"
#define HAS_TO "to_place IS NOT NULL"
#define HAS_STAY "to_place IS NOT NULL OR from_place IS NOT NULL"

STATEMENT(sums_of_table) = {"the ledger summed up",
                            "SELECT count(*), " BY_SUBJECT ", count(from_place), " BY_FROM
                            " FILTER (WHERE " HAS_FROM "),"
                            " count(to_place), " BY_TO " FILTER (WHERE " HAS_TO
                            "), count(*) FILTER (WHERE " HAS_STAY "), " BY_STAY
                            " FILTER (WHERE " HAS_STAY "), count(*), " BY_WHOM
                            ", count(job), " BY_JOB " FILTER (WHERE " HAS_JOB
                            "), count(operator), " BY_OPERATOR " FILTER (WHERE " HAS_OPERATOR
                            ") FROM ledger NOT INDEXED",
                            true};

#define SUM_OF_INDEX(constant, index, sum, condition) \
	STATEMENT(constant) = {"the index " index " summed up", \
	                       "SELECT count(*), " sum " FROM ledger INDEXED BY " index condition, \
	                       true}
SUM_OF_INDEX(sum_of_subject, "ledger_of_subject", BY_SUBJECT, "");
SUM_OF_INDEX(sum_of_from, "ledger_from_place", BY_FROM, " WHERE " HAS_FROM);
SUM_OF_INDEX(sum_of_to, "ledger_to_place", BY_TO, " WHERE " HAS_TO);
SUM_OF_INDEX(sum_of_stay, "ledger_whereabouts", BY_STAY, " WHERE " HAS_STAY);
SUM_OF_INDEX(sum_of_whom, "ledger_by_whom", BY_WHOM, "");
SUM_OF_INDEX(sum_of_job, "ledger_of_job", BY_JOB, " WHERE " HAS_JOB);
SUM_OF_INDEX(sum_of_operator, "ledger_of_operator", BY_OPERATOR, " WHERE " HAS_OPERATOR);

/* The ledger's indexes, in the order of the columns of sums_of_table; a test holds them to be all.
 */
const struct ledger_index ledger_indexes[LEDGER_INDEXES] = {
	{"ledger_of_subject", &sum_of_subject},   {"ledger_from_place", &sum_of_from},
	{"ledger_to_place", &sum_of_to},          {"ledger_whereabouts", &sum_of_stay},
	{"ledger_by_whom", &sum_of_whom},         {"ledger_of_job", &sum_of_job},
	{"ledger_of_operator", &sum_of_operator},
};

struct sum {
	int64_t count, mixed;
};

static void add_page(struct proving *proving, sqlite3_stmt *stmt)
{
	const char *text = (const char *)sqlite3_column_text(stmt, 0);
	if (text == NULL || strcmp(text, "ok") != 0) {
		damage_add(proving, 0, NULL, "file: %s", text != NULL ? text : "no answer");
		proving->torn = true;
	}
}

/* Told once a table: one entry removed may leave many rows that name it. */
static void add_entry_named(struct proving *proving, const char *table)
{
	const struct proof *proof = proving->proof;
	char text[96];
	snprintf(text, sizeof text, "%s names an entry that is not on record", table);
	for (size_t i = 0; i < proof->damages_kept; i++) {
		if (strcmp(proof->damages[i].text, text) == 0) {
			return;
		}
	}
	damage_add(proving, 0, NULL, "%s", text);
}

static void add_reference(struct proving *proving, sqlite3_stmt *stmt)
{
	const char *named = (const char *)sqlite3_column_text(stmt, 2);
	if (named != NULL && strcmp(named, "ledger") == 0) {
		add_entry_named(proving, (const char *)sqlite3_column_text(stmt, 0));
		return;
	}
	damage_add(proving, 0, NULL, "%s number %lld names %s %s that is not on record",
	           (const char *)sqlite3_column_text(stmt, 0), (long long)sqlite3_column_int64(stmt, 1),
	           named != NULL && strchr("aeiou", named[0]) != NULL ? "an" : "a", named);
}

static void add_read_volume(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag tag = column_tag(stmt, 0);
	struct tag_text text = tag_shown(tag);
	damage_add(proving, 0, text.bytes, "%s: volume read last does not agree with its readings",
	           text.bytes);
}

enum outcome prove_look(struct proving *proving, const struct statement *statement,
                        const char *where, void (*add)(struct proving *, sqlite3_stmt *))
{
	struct fault failed;
	fault_clear(&failed);
	sqlite3_stmt *stmt = statement_ready(proving->store, statement, &failed);
	enum outcome outcome = OUTCOME_STORE;
	while (stmt != NULL && statement_row(proving->store, stmt, &outcome, &failed)) {
		add(proving, stmt);
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE ? outcome : damage_unless_fault(proving, where, &failed);
}

static enum outcome read_sums(struct proving *proving, const struct statement *statement,
                              struct sum *sums, size_t count)
{
	struct fault failed;
	fault_clear(&failed);
	sqlite3_stmt *stmt = statement_ready(proving->store, statement, &failed);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt != NULL && statement_row(proving->store, stmt, &outcome, &failed)) {
		for (size_t i = 0; i < count; i++) {
			sums[i].count = sqlite3_column_int64(stmt, (int)(2 * i));
			sums[i].mixed = sqlite3_column_int64(stmt, (int)(2 * i + 1));
		}
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE ? outcome
	                               : damage_unless_fault(proving, statement->name, &failed);
}

static enum outcome look_at_ledger_indexes(struct proving *proving)
{
	struct sum of_table[LEDGER_INDEXES] = {{0, 0}};
	enum outcome outcome = read_sums(proving, &sums_of_table, of_table, LEDGER_INDEXES);
	for (size_t i = 0; i < LEDGER_INDEXES && outcome == OUTCOME_DONE && !proving->torn; i++) {
		struct sum of_index = {0, 0};
		outcome = read_sums(proving, ledger_indexes[i].sum, &of_index, 1);
		if (outcome == OUTCOME_DONE && !proving->torn &&
		    (of_index.count != of_table[i].count || of_index.mixed != of_table[i].mixed)) {
			damage_add(proving, 0, NULL, "file: index %s does not agree with the ledger",
			           ledger_indexes[i].name);
			proving->torn = true;
		}
	}
	return outcome;
}

enum outcome prove_file(struct proving *proving)
{
	/* An older copy has not all those indexes. */
	bool old = migration_is_due(proving->store);
	watch_tell(proving->watch, "every page of the file", 0, 0);
	proving->proof->pages = store_pragma(proving->store, "PRAGMA page_count");
	enum outcome outcome =
		prove_look(proving, old ? &look_at_all : &look_at_pages, "file", add_page);
	if (outcome == OUTCOME_DONE && !old && !proving->torn) {
		outcome = prove_look(proving, &look_at_indexes, "file", add_page);
	}
	if (outcome == OUTCOME_DONE && !old && !proving->torn) {
		outcome = look_at_ledger_indexes(proving);
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			prove_look(proving, &look_at_references, "references between records", add_reference);
	}
	if (outcome == OUTCOME_DONE && !old && !proving->torn) {
		outcome = prove_look(proving, &look_at_read_volumes, "volumes read last", add_read_volume);
	}
	return outcome;
}
