/* What the tags said that were printed, and which records are due for one. */
#include "internal.h"

STATEMENT(write_printed) =
	{"tag printed",
     "INSERT INTO tag_printed (subject_kind, subject, stock, symbol, carrier, face, printed,"
     " entry) VALUES (:kind, :id, :stock, :symbol, :carrier, :face, :printed, :entry)"
     " ON CONFLICT (subject_kind, subject) DO UPDATE SET stock = :stock, symbol = :symbol,"
     " carrier = :carrier, face = :face, printed = :printed, entry = :entry",
     false};

/* Entries of the record itself since; what it is at home in, lies in or carries may be called
   otherwise. */
#define PRINTED \
	"SELECT p.subject, p.stock, p.face, p.printed, p.entry, p.symbol, p.carrier FROM tag_printed p"
#define ENTRY_SINCE \
	" WHERE p.subject_kind = :kind AND (EXISTS (SELECT 1 FROM ledger l" \
	" WHERE l.subject_kind = :kind AND l.subject = p.subject AND l.number > p.entry)"
#define OTHER_ENTRY_SINCE(table, id, kind, column) \
	" OR EXISTS (SELECT 1 FROM " table " t JOIN ledger h ON h.subject_kind = '" kind "'" \
	" AND h.subject = t." column " WHERE t." id " = p.subject AND h.number > p.entry)"
#define BY_NUMBER ") ORDER BY p.subject"
STATEMENT(touched_tools) = {"tools touched since their tag was printed",
                            PRINTED ENTRY_SINCE OTHER_ENTRY_SINCE("tool", "id", "place", "home")
                                OTHER_ENTRY_SINCE("tool", "id", "place", "place")
                                    OTHER_ENTRY_SINCE("cylinder", "tool", "job", "carries")
                                        BY_NUMBER,
                            false};
STATEMENT(touched_places) = {"places touched since their tag was printed",
                             PRINTED ENTRY_SINCE OTHER_ENTRY_SINCE("place", "id", "place", "within")
                                 BY_NUMBER,
                             false};
STATEMENT(touched_others) = {"records touched since their tag was printed",
                             PRINTED ENTRY_SINCE BY_NUMBER, false};

/* Those in use alone: nobody wants a tag for what is scrapped or retired. */
#define UNPRINTED(table, in_use) \
	"SELECT t.id FROM " table " t WHERE " in_use " AND NOT EXISTS (SELECT 1 FROM tag_printed p" \
	" WHERE p.subject_kind = :kind AND p.subject = t.id) ORDER BY t.tag"
STATEMENT(unprinted_tools) = {"tools without a printed tag",
                              UNPRINTED("tool", "t.kind = :kind AND t.condition <> 'scrapped'"),
                              true};
STATEMENT(unprinted_places) = {"places without a printed tag", UNPRINTED("place", "t.retired = 0"),
                               true};
STATEMENT(unprinted_presses) = {"presses without a printed tag",
                                UNPRINTED("press", "t.retired = 0"), true};
STATEMENT(unprinted_operators) = {"operators without a printed badge",
                                  UNPRINTED("operator", "t.retired = 0"), true};
STATEMENT(unprinted_jobs) = {"jobs without a printed tag",
                             UNPRINTED("job", "t.state IN ('planned', 'running')"), true};

int64_t store_last_entry(struct store *store)
{
	return ledger_last(store);
}

enum outcome store_tag_printed_write(struct store *store, const struct kind *kind, int64_t id,
                                     const struct tag_printed *printed, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &write_printed, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_words(stmt, ":kind", kind->name);
	bind_number(stmt, ":id", id);
	bind_words(stmt, ":stock", printed->stock);
	bind_words(stmt, ":symbol", printed->symbol);
	bind_id(stmt, ":carrier", length_to_nm(printed->carrier)); /* 0 is NULL */
	bind_words(stmt, ":face", printed->face);
	bind_moment(stmt, ":printed", printed->printed);
	bind_number(stmt, ":entry", printed->entry);
	return statement_run(store, stmt, "keeping what a tag said", fault);
}

enum outcome store_tags_touched(struct store *store, const struct kind *kind, tag_take take,
                                void *context, struct fault *fault)
{
	const struct statement *statement = kind->tool               ? &touched_tools
	                                    : kind->id == KIND_PLACE ? &touched_places
	                                                             : &touched_others;
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	struct arena *arena = arena_new();
	bind_words(stmt, ":kind", kind->name);
	outcome = OUTCOME_DONE;
	while (outcome == OUTCOME_DONE && statement_row(store, stmt, &outcome, fault)) {
		struct tag_printed printed = {
			.stock = column_words(arena, stmt, 1),
			.face = column_words(arena, stmt, 2),
			.printed = column_seconds(stmt, 3).value,
			.entry = sqlite3_column_int64(stmt, 4),
			.symbol = column_words(arena, stmt, 5),
			.carrier = length_from_nm(sqlite3_column_int64(stmt, 6)), /* 0 where NULL */
		};
		outcome = take(kind, sqlite3_column_int64(stmt, 0), &printed, context);
		arena_reset(arena);
	}
	statement_done(stmt);
	arena_free(arena);
	return outcome;
}

static const struct statement *unprinted_of(const struct kind *kind)
{
	switch (kind->id) {
	case KIND_OPERATOR:
		return &unprinted_operators;
	case KIND_PLACE:
		return &unprinted_places;
	case KIND_PRESS:
		return &unprinted_presses;
	case KIND_JOB:
		return &unprinted_jobs;
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
	return &unprinted_tools;
}

enum outcome store_tags_unprinted(struct store *store, const struct kind *kind, tag_take take,
                                  void *context, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, unprinted_of(kind), fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":kind", kind->name);
	outcome = OUTCOME_DONE;
	while (outcome == OUTCOME_DONE && statement_row(store, stmt, &outcome, fault)) {
		outcome = take(kind, sqlite3_column_int64(stmt, 0), NULL, context);
	}
	statement_done(stmt);
	return outcome;
}
