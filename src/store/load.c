/*
 * Tools for a check: what every kind has in common, and who else has them promised. The kinds' own
 * queries stand in their files.
 */
#include <assert.h>
#include <string.h>

#include "internal.h"

/* What other jobs hold of a tool: booked spans, and the job it was taken for. */
STATEMENT(promises_of_tool) = {
	"promises of a tool",
	"SELECT j.number, b.starts, b.ends, NULL, NULL, 0, NULL FROM booking b JOIN job j ON j.id = b.job"
	" WHERE b.tool = :tool AND b.job <> :job"
	" UNION ALL SELECT j.number, NULL, NULL, j.starts, j.ends, 0,"
	" CASE WHEN j.state IN ('finished', 'cancelled') THEN j.state END"
	" FROM tool t JOIN job j ON j.id = t.taken_for"
	" WHERE t.id = :tool AND j.id <> :job",
	false};

/*
 * What a press has: the job that runs there, until its own end, else that of its promise; jobs that
 * run without its being known where, by CSV or `edit`, on each press that they may run on; and the
 * promises on it that hold, of the job that runs too, unless their bookings were set aside.
 */
STATEMENT(promises_of_press) = {
	"promises of a press",
	"SELECT j.number, r.started, CASE WHEN j.ends IS NULL THEN p.ends END, NULL, j.ends, 1, NULL FROM job_run r"
	" JOIN job j ON j.id = r.job LEFT JOIN promise p ON p.job = r.job AND p.ended IS NULL"
	" WHERE r.press = :press AND r.finished IS NULL AND j.id <> :job"
	" UNION ALL SELECT j.number, NULL, NULL, j.starts, j.ends, 1, NULL FROM job_press jp"
	" JOIN job j ON j.id = jp.job WHERE jp.press = :press AND j.state = 'running' AND j.id <> :job"
	" AND NOT EXISTS (SELECT 1 FROM job_run r WHERE r.job = j.id AND r.finished IS NULL)"
	" UNION ALL SELECT j.number, p.starts, p.ends, NULL, NULL, 0, NULL FROM promise p"
	" JOIN job j ON j.id = p.job WHERE p.press = :press AND p.ended IS NULL"
	" AND j.id <> :job AND EXISTS (SELECT 1 FROM booking b WHERE b.job = p.job)",
	false};

struct promise_list {
	struct promise *items;
	size_t count, room;
};

/* The promises of a press, read once a query of tools. */
struct press_promises {
	struct press_promises *next;
	int64_t press;
	struct promise_list list;
};

static void promise_add(struct arena *arena, struct promise_list *list, sqlite3_stmt *stmt)
{
	if (list->count == list->room) {
		size_t room = list->room * 2 + 4;
		list->items = arena_grow(arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	struct known_moment starts = column_seconds(stmt, 1), ends = column_seconds(stmt, 2);
	list->items[list->count++] = (struct promise){
		.job = column_words(arena, stmt, 0),
		.from = starts.known ? starts : column_when(stmt, 3),
		.until = ends.known ? ends : column_when(stmt, 4),
		.running = sqlite3_column_int(stmt, 5) != 0,
		.over = column_words(arena, stmt, 6),
	};
}

static enum outcome promises_read(struct store *store, struct arena *arena,
                                  const struct statement *statement, const char *subject,
                                  int64_t id, int64_t job, struct promise_list *out,
                                  struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct promise_list){.items = NULL};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, subject, id);
	bind_number(stmt, ":job", job);
	while (statement_row(store, stmt, &outcome, fault)) {
		promise_add(arena, out, stmt);
	}
	return outcome;
}

static enum outcome press_promises_find(struct store *store, struct arena *arena,
                                        struct press_promises **known, int64_t press, int64_t job,
                                        const struct promise_list **out, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	struct press_promises *entry = *known;
	while (entry != NULL && entry->press != press) {
		entry = entry->next;
	}
	if (entry == NULL) {
		entry = arena_take(arena, 1, sizeof *entry);
		*entry = (struct press_promises){.next = *known, .press = press};
		*known = entry;
		outcome = promises_read(store, arena, &promises_of_press, ":press", press, job,
		                        &entry->list, fault);
	}
	*out = &entry->list;
	return outcome;
}

enum outcome store_press_promises(struct store *store, struct arena *arena, int64_t press,
                                  int64_t job, struct promise **out, size_t *count,
                                  struct fault *fault)
{
	struct promise_list list;
	enum outcome outcome =
		promises_read(store, arena, &promises_of_press, ":press", press, job, &list, fault);
	*out = list.items;
	*count = list.count;
	return outcome;
}

static enum condition condition_of(const char *word)
{
	return strcmp(word, "ready") == 0  ? CONDITION_READY
	       : strcmp(word, "hold") == 0 ? CONDITION_HOLD
	                                   : CONDITION_SCRAPPED;
}

static enum place_sort sort_of(const char *word)
{
	static const char *const words[] = {
		[SORT_STORE] = "store", [SORT_PRESS] = "press",       [SORT_CART] = "cart",
		[SORT_WASH] = "wash",   [SORT_SUPPLIER] = "supplier", [SORT_LOST] = "lost",
	};
	for (size_t i = 0; i < COUNT_OF(words); i++) {
		if (strcmp(words[i], word) == 0) {
			return (enum place_sort)i;
		}
	}
	return SORT_LOST;
}

static void tool_fill(struct arena *arena, sqlite3_stmt *stmt, struct tool *tool)
{
	const char *sort = column_words(arena, stmt, 7);
	tool->id = sqlite3_column_int64(stmt, 0);
	tool->tag = column_tag(stmt, 1);
	tool->fit = column_words(arena, stmt, 2);
	tool->condition = condition_of((const char *)sqlite3_column_text(stmt, 3));
	tool->condition_text = column_words(arena, stmt, 4);
	tool->condition_since = column_seconds(stmt, 5);
	tool->place = column_words(arena, stmt, 6);
	tool->place_known = sort != NULL;
	tool->sort = sort != NULL ? sort_of(sort) : SORT_LOST;
	tool->press = sqlite3_column_int64(stmt, 8);
	tool->press_code = column_words(arena, stmt, 9);
	tool->back = column_when(stmt, 10);
	tool->face = column_length(stmt, 11);
	tool->face_from = column_length(stmt, 12);
	tool->face_to = column_length(stmt, 13);
	tool->run = column_length(stmt, 14);
}

static enum outcome tool_promises_fill(struct store *store, struct arena *arena, int64_t job,
                                       bool promised, struct press_promises **known,
                                       struct tool *tool, struct fault *fault)
{
	struct promise_list list = {.items = NULL};
	const struct promise_list *on_press;
	enum outcome outcome = OUTCOME_DONE;
	if (promised) {
		outcome =
			promises_read(store, arena, &promises_of_tool, ":tool", tool->id, job, &list, fault);
	}
	tool->promises = list.items;
	tool->promise_count = list.count;
	if (outcome == OUTCOME_DONE && tool->press != 0) {
		outcome = press_promises_find(store, arena, known, tool->press, job, &on_press, fault);
		tool->press_promises = on_press->items;
		tool->press_promise_count = on_press->count;
	}
	return outcome;
}

static enum outcome tool_row(struct store *store, struct arena *arena, int64_t job,
                             const struct tool_query *query, sqlite3_stmt *stmt,
                             struct press_promises **known, void *tool, struct fault *fault)
{
	tool_fill(arena, stmt, tool);
	enum outcome outcome = query->fill(store, arena, stmt, tool, fault);
	bool promised = sqlite3_column_int(stmt, PROMISED_COLUMN) != 0;
	return outcome == OUTCOME_DONE
	           ? tool_promises_fill(store, arena, job, promised, known, tool, fault)
	           : outcome;
}

enum outcome tools_load(struct store *store, struct arena *arena, int64_t job,
                        const struct tool_query *query, sqlite3_stmt *stmt, void **out,
                        size_t *count, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	struct press_promises *known = NULL;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	while (outcome == OUTCOME_DONE && statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 16, query->size);
			room = room * 2 + 16;
		}
		outcome = tool_row(store, arena, job, query, stmt, &known,
		                   (char *)*out + *count * query->size, fault);
		++*count;
	}
	statement_done(stmt);
	return outcome;
}

enum outcome tools_load_listed(struct store *store, struct arena *arena, int64_t job,
                               const struct tool_query *query, const int64_t *ids, size_t id_count,
                               struct length face, void **out, size_t *count, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	struct press_promises *known = NULL;
	*out = arena_take(arena, id_count, query->size);
	*count = 0;
	for (size_t i = 0; i < id_count && outcome == OUTCOME_DONE; i++) {
		sqlite3_stmt *stmt = statement_ready(store, query->statement, fault);
		if (stmt == NULL) {
			return OUTCOME_STORE;
		}
		bind_number(stmt, ":id", ids[i]);
		bind_number(stmt, ":face", length_to_nm(face));
		if (statement_row(store, stmt, &outcome, fault)) {
			outcome = tool_row(store, arena, job, query, stmt, &known,
			                   (char *)*out + *count * query->size, fault);
			++*count;
		}
		statement_done(stmt);
	}
	return outcome;
}

enum outcome tools_load_between(struct store *store, struct arena *arena, int64_t job,
                                const struct tool_query *query, struct length least,
                                struct length most, void **out, size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, query->statement, fault);
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":least", length_to_nm(least));
	bind_number(stmt, ":most", length_to_nm(most));
	return tools_load(store, arena, job, query, stmt, out, count, fault);
}

enum outcome tools_load_one(struct store *store, struct arena *arena, int64_t job,
                            const struct tool_query *query, int64_t id, void *out,
                            struct fault *fault)
{
	void *tools = NULL;
	size_t count = 0;
	sqlite3_stmt *stmt = statement_ready(store, query->statement, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":id", id);
	enum outcome outcome = tools_load(store, arena, job, query, stmt, &tools, &count, fault);
	if (outcome == OUTCOME_DONE && count == 0) {
		return fault_set(fault, OUTCOME_STORE, "%s is not on record: number %lld",
		                 query->statement->name, (long long)id);
	}
	if (outcome == OUTCOME_DONE) {
		memcpy(out, tools, query->size);
	}
	return outcome;
}

static const struct tool_query *query_of_one(enum kind_id kind)
{
	switch (kind) {
	case KIND_CYLINDER:
		return &cylinder_one;
	case KIND_GEAR:
		return &gear_one;
	case KIND_ANILOX:
		return &anilox_one;
	case KIND_BLADE:
		return &blade_one;
	case KIND_DIE:
		return &die_one;
	case KIND_MAGNETIC_CYLINDER:
		return &magnetic_cylinder_one;
	case KIND_OPERATOR:
	case KIND_PLACE:
	case KIND_PRESS:
	case KIND_JOB:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return NULL;
}

enum outcome store_tool_asked(struct store *store, struct arena *arena, int64_t job,
                              enum kind_id kind, int64_t id, union any_tool *out,
                              struct fault *fault)
{
	const struct tool_query *query = query_of_one(kind);
	assert(query != NULL && query->size <= sizeof *out);
	return tools_load_one(store, arena, job, query, id, out, fault);
}

enum outcome store_tool(struct store *store, struct arena *arena, enum kind_id kind, int64_t id,
                        union any_tool *out, struct fault *fault)
{
	return store_tool_asked(store, arena, 0, kind, id, out, fault);
}
