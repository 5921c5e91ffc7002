/*
 * Where a search begins: the few records that can be meant, told by words or by an index, into the
 * table `found`.
 */
#include <string.h>

#include "select.h"

STATEMENT(empty) = {"what was found before", "DELETE FROM found", false};
STATEMENT(add_one) = {"a record found", "INSERT INTO found (row) VALUES (:row)", false};
STATEMENT(add_words) =
	{"records of words",
     "INSERT INTO found (row) SELECT rowid FROM search WHERE search MATCH :words", false};
STATEMENT(add_in_place) =
	{"tools in a place",
     "INSERT INTO found (row) WITH RECURSIVE inner_place (id) AS (SELECT :least UNION"
     " SELECT p.id FROM place p JOIN inner_place i ON p.within = i.id)"
     " SELECT t.id << 3 FROM inner_place i CROSS JOIN tool t ON t.place = i.id",
     false};
STATEMENT(add_carriers) = {"cylinders that carry a job",
                           "INSERT INTO found (row) SELECT tool << 3 FROM cylinder"
                           " WHERE carries = :least",
                           false};
STATEMENT(add_stations) = {"stations of a job",
                           "INSERT INTO found (row) SELECT id << 3 | 5 FROM station"
                           " WHERE job = :least",
                           false};
STATEMENT(add_cuts) = {"cuts of a job",
                       "INSERT INTO found (row) SELECT id << 3 | 6 FROM cut WHERE job = :least",
                       false};
STATEMENT(add_readings) = {"readings of a roll",
                           "INSERT INTO found (row) SELECT id << 3 | 7 FROM reading"
                           " WHERE tool = :least",
                           false};
STATEMENT(add_screens) = {"rolls of a screen",
                          "INSERT INTO found (row) SELECT tool << 3 FROM anilox"
                          " WHERE line_screen BETWEEN :least AND :most",
                          false};
STATEMENT(add_lengths) = {"blades of a length",
                          "INSERT INTO found (row) SELECT tool << 3 FROM blade"
                          " WHERE length BETWEEN :least AND :most",
                          false};
STATEMENT(add_labels) = {"dies of a label",
                         "INSERT INTO found (row) SELECT tool << 3 FROM die"
                         " WHERE label_across BETWEEN :least AND :most",
                         false};

/* An attribute with an index, and the statement that asks it. */
static const struct way {
	enum kind_id kind; /* KIND_COUNT: any tool */
	const char *attribute;
	const struct statement *statement;
	bool bounds; /* asked within bounds that must both be given; else by what is named */
} ways[] = {
	{KIND_READING, "tool", &add_readings, false},
	{KIND_STATION, "job", &add_stations, false},
	{KIND_CUT, "job", &add_cuts, false},
	{KIND_CYLINDER, "carries", &add_carriers, false},
	{KIND_DIE, "label_across", &add_labels, true},
	{KIND_BLADE, "length", &add_lengths, true},
	{KIND_ANILOX, "line_screen", &add_screens, true},
	{KIND_COUNT, "place", &add_in_place, false},
};

static const struct asked *asked_of(const struct selection *selection, const char *attribute)
{
	size_t index = kind_attribute_find(selection->kind, attribute);
	for (size_t i = 0; i < selection->asked_count; i++) {
		if (selection->asked[i].attribute == index) {
			return &selection->asked[i];
		}
	}
	return NULL;
}

/* Can the index tell? Not who has no such thing, nor all from somewhere on. */
static bool way_is_open(const struct selection *selection, const struct way *way)
{
	bool of_kind =
		way->kind == KIND_COUNT ? selection->kind->tool : way->kind == selection->kind->id;
	const struct asked *asked = of_kind ? asked_of(selection, way->attribute) : NULL;
	return asked != NULL && !asked->blank &&
	       (way->bounds ? asked->least.known && asked->most.known : asked->reference != 0);
}

static enum outcome fill_by(struct store *store, const struct selection *selection,
                            const struct way *way, struct fault *fault)
{
	const struct asked *asked = asked_of(selection, way->attribute);
	sqlite3_stmt *stmt = statement_ready(store, way->statement, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	if (!way->bounds) {
		bind_number(stmt, ":least", asked->reference);
	} else if (asked->least.type == VALUE_SCREEN) {
		/* A little more than the query lets through. */
		bind_real(stmt, ":least", screen_to_per_cm(asked->least.screen) - 0.001);
		bind_real(stmt, ":most", screen_to_per_cm(asked->most.screen) + 0.001);
	} else {
		bind_number(stmt, ":least", value_to_stored(&asked->least));
		bind_number(stmt, ":most", value_to_stored(&asked->most));
	}
	return statement_run(store, stmt, "looking for records", fault);
}

/*
 * Words as FTS5 takes them: each a string in quotes, so that nothing in it is an operator, and a
 * prefix. One that is a tag of ours stands as it is kept.
 */
static const char *query_of(struct arena *arena, const struct selection *selection)
{
	struct text query = text_start(arena);
	for (size_t i = 0; i < selection->word_count; i++) {
		struct tag tag;
		struct tag_text stored;
		const char *word = selection->words[i];
		if (tag_read(word, &tag) == TAG_READ) {
			stored = tag_stored(tag);
			word = stored.bytes;
		}
		text_add(&query, i == 0 ? "\"" : " \"");
		for (; *word != '\0'; word++) {
			text_add_bytes(&query, word, 1);
			text_add(&query, *word == '"' ? "\"" : "");
		}
		text_add(&query, "\"*");
	}
	return query.bytes;
}

static enum outcome fill_by_words(struct store *store, const struct selection *selection,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &add_words, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	struct arena *arena = arena_new();
	bind_words(stmt, ":words", query_of(arena, selection));
	enum outcome outcome = statement_run(store, stmt, "looking for words", fault);
	arena_free(arena);
	return outcome;
}

/* What names a record of the kind, where it is asked. */
static const char *name_asked(const struct selection *selection, enum reference *among)
{
	static const struct {
		const char *attribute;
		enum reference among;
	} names[] = {{"tag", REFER_NONE},
	             {"other_tag", REFER_TOOL},
	             {"code", REFER_PLACE},
	             {"number", REFER_JOB}};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		const struct asked *asked = asked_of(selection, names[i].attribute);
		if (asked != NULL && !asked->blank) {
			*among = names[i].among;
			if (selection->kind->id == KIND_PRESS && *among == REFER_PLACE) {
				*among = REFER_PRESSES;
			}
			return asked->words;
		}
	}
	return NULL;
}

static enum outcome fill_by_name(struct store *store, const struct selection *selection,
                                 const char *name, enum reference among, struct fault *fault)
{
	struct found found;
	struct fault unknown = {.sentence = ""};
	enum outcome outcome = store_find_plain(store, name, among, &found, &unknown);
	if (outcome == OUTCOME_STORE) {
		return fault_set(fault, outcome, "%s", unknown.sentence);
	}
	if (outcome != OUTCOME_DONE || found_code(found.kind) != found_code(selection->kind)) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &add_one, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":row", found.id * 8 + found_code(found.kind));
	return statement_run(store, stmt, "looking for a record", fault);
}

enum outcome found_fill(struct store *store, const struct selection *selection, bool *narrowed,
                        struct fault *fault)
{
	enum reference among = REFER_NONE;
	const char *name = name_asked(selection, &among);
	*narrowed = true;
	if (selection->word_count > 0 && selection->words_found) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &empty, fault);
	enum outcome outcome =
		stmt != NULL ? statement_run(store, stmt, "looking for records", fault) : OUTCOME_STORE;
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (selection->word_count > 0) {
		return fill_by_words(store, selection, fault);
	}
	if (name != NULL) {
		return fill_by_name(store, selection, name, among, fault);
	}
	for (size_t i = 0; i < COUNT_OF(ways); i++) {
		if (way_is_open(selection, &ways[i])) {
			return fill_by(store, selection, &ways[i], fault);
		}
	}
	*narrowed = false;
	return OUTCOME_DONE;
}
