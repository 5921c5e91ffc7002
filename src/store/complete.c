/* What begins as something typed does, for Tab. */
#include <stdio.h>
#include <string.h>

#include "find.h"

/*
 * Codes or tags that begin so; a range over the index, so that nothing else is read. Without
 * `:all` none that is retired, over or scrapped.
 */
STATEMENT(complete_place) =
	{"places that begin so",
     "SELECT code FROM place WHERE code >= :start AND code < :end AND (:all OR retired = 0) "
     "ORDER BY code LIMIT :most",
     false};
STATEMENT(complete_by_supplier) =
	{"places that begin so and are suppliers, or are none",
     "SELECT code FROM place WHERE code >= :start AND code < :end AND (:all OR retired = 0) "
     "AND (sort = 'supplier') = :supplier ORDER BY code LIMIT :most",
     false};
STATEMENT(complete_press) =
	{"presses that begin so",
     "SELECT code FROM press WHERE code >= :start AND code < :end AND (:all OR retired = 0) "
     "ORDER BY code LIMIT :most",
     false};
STATEMENT(
	complete_job) = {"jobs that begin so",
                     "SELECT number FROM job WHERE number >= :start AND number < :end "
                     "AND (:all OR state IN ('planned', 'running')) ORDER BY number LIMIT :most",
                     false};
STATEMENT(complete_tool) = {"tags that begin so",
                            "SELECT tag FROM tool WHERE tag >= :start AND tag < :end "
                            "AND (:all OR condition <> 'scrapped') ORDER BY tag LIMIT :most",
                            false};
STATEMENT(complete_other_tag) =
	{"other tags that begin so",
     "SELECT code FROM other_tag JOIN tool ON tool.id = other_tag.tool "
     "WHERE code >= :start AND code < :end AND (:all OR condition <> 'scrapped') "
     "ORDER BY code LIMIT :most",
     false};

/* What is asked for, and who is told. */
struct completing {
	struct store *store;
	const char *start, *end;
	bool all;
	size_t most;
	void (*each)(const char *code, void *context);
	void *context;
	struct fault *fault;
};

static enum outcome complete_rows(const struct completing *asked, sqlite3_stmt *stmt)
{
	enum outcome outcome = OUTCOME_STORE;
	bind_words(stmt, ":start", asked->start);
	bind_words(stmt, ":end", asked->end);
	bind_number(stmt, ":all", asked->all ? 1 : 0);
	bind_number(stmt, ":most", (int64_t)asked->most);
	while (statement_row(asked->store, stmt, &outcome, asked->fault)) {
		const char *code = (const char *)sqlite3_column_text(stmt, 0);
		struct tag tag;
		asked->each(tag_read(code, &tag) == TAG_READ ? tag_shown(tag).bytes : code, asked->context);
	}
	return outcome;
}

static enum outcome complete_from(const struct completing *asked, const struct statement *statement)
{
	sqlite3_stmt *stmt = statement_ready(asked->store, statement, asked->fault);
	return stmt != NULL ? complete_rows(asked, stmt) : OUTCOME_STORE;
}

/* A tag is kept without its separator and in capitals: look for it so. */
static void tag_start(const char *start, char *out, size_t room)
{
	size_t used = 0;
	for (; *start != '\0' && used + 1 < room; start++) {
		if (*start != '-') {
			out[used++] = *start >= 'a' && *start <= 'z' ? (char)(*start - 'a' + 'A') : *start;
		}
	}
	out[used] = '\0';
}

/* Tags of tools that begin so, of the one class where only that is wanted. */
static enum outcome complete_tags(const struct completing *asked, enum reference wanted)
{
	char tag[260];
	char end[264];
	struct completing tags = *asked;
	tag_start(asked->start, tag, sizeof tag);
	if (wanted == REFER_ANILOX || wanted == REFER_DIE) {
		const char *letters = tag_class_letters(wanted == REFER_ANILOX ? TAG_ANILOX : TAG_DIE);
		size_t length = strlen(tag) < strlen(letters) ? strlen(tag) : strlen(letters);
		if (strncmp(tag, letters, length) != 0) {
			return OUTCOME_DONE;
		}
		if (length < strlen(letters)) {
			snprintf(tag, sizeof tag, "%s", letters);
		}
	}
	snprintf(end, sizeof end, "%s\x7f", tag);
	tags.start = tag;
	tags.end = end;
	return complete_from(&tags, &complete_tool);
}

/* Behind all that begins so; false where it is too long to begin a code. */
static bool range_end(const char *start, char *out, size_t room)
{
	return strlen(start) <= 200 && snprintf(out, room, "%s\xf4\x8f\xbf\xbf", start) > 0;
}

enum outcome store_complete(struct store *store, enum reference wanted, const char *start,
                            size_t most, void (*each)(const char *code, void *context),
                            void *context, struct fault *fault)
{
	char end[260];
	enum outcome outcome = OUTCOME_DONE;
	bool any = wanted == REFER_NONE;
	bool tools = any || wanted == REFER_TOOL || wanted == REFER_ANILOX || wanted == REFER_DIE;
	const struct completing asked = {store, start, end, any, most, each, context, fault};

	if (!range_end(start, end, sizeof end)) {
		return OUTCOME_DONE;
	}
	if (any || wanted == REFER_PLACE) {
		outcome = complete_from(&asked, &complete_place);
	}
	if (outcome == OUTCOME_DONE && (any || wanted == REFER_PRESSES)) {
		outcome = complete_from(&asked, &complete_press);
	}
	if (outcome == OUTCOME_DONE && (any || wanted == REFER_JOB)) {
		outcome = complete_from(&asked, &complete_job);
	}
	if (outcome == OUTCOME_DONE && tools) {
		outcome = complete_tags(&asked, wanted);
	}
	if (outcome == OUTCOME_DONE && tools) {
		outcome = complete_from(&asked, &complete_other_tag);
	}
	return outcome;
}

enum outcome store_complete_place(struct store *store, bool supplier, const char *start,
                                  size_t most, void (*each)(const char *code, void *context),
                                  void *context, struct fault *fault)
{
	char end[260];
	const struct completing asked = {store, start, end, false, most, each, context, fault};
	if (!range_end(start, end, sizeof end)) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &complete_by_supplier, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":supplier", supplier ? 1 : 0);
	return complete_rows(&asked, stmt);
}

STATEMENT(numbers_of_stations) = {"numbers of a job's stations",
                                  "SELECT station FROM station WHERE job = :job ORDER BY station",
                                  false};
STATEMENT(numbers_of_cuts) = {"numbers of a job's cuts",
                              "SELECT cut FROM cut WHERE job = :job ORDER BY cut", false};

enum outcome store_complete_job_row(struct store *store, const struct kind *kind, int64_t job,
                                    void (*each)(const char *number, void *context), void *context,
                                    struct fault *fault)
{
	sqlite3_stmt *stmt =
		statement_ready(store, kind->id == KIND_CUT ? &numbers_of_cuts : &numbers_of_stations,
	                    fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":job", job);
	while (statement_row(store, stmt, &outcome, fault)) {
		each((const char *)sqlite3_column_text(stmt, 0), context);
	}
	return outcome;
}
