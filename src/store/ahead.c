/* Jobs that planning looks at. */
#include <stdlib.h>
#include <string.h>

#include "internal.h"

STATEMENT(planned) = {"jobs planned",
                      "SELECT j.id, j.number, j.title, j.state, j.starts, j.ends, p.starts, p.ends"
                      " FROM job j LEFT JOIN promise p ON p.job = j.id AND p.ended IS NULL"
                      " WHERE j.state = 'planned'",
                      false};

/* Does a time meet from..until? What is not known of it is open; both moments are of its time. */
static bool meets(struct known_moment starts, struct known_moment ends, struct moment from,
                  struct moment until)
{
	return (!starts.known || moment_compare(starts.value, until) < 0) &&
	       (!ends.known || moment_compare(ends.value, from) >= 0);
}

/* By `from`, those without last; then by number, then id. */
static int compare(const void *a, const void *b)
{
	const struct job_ahead *one = a, *two = b;
	if (one->from.known != two->from.known) {
		return one->from.known ? -1 : 1;
	}
	int order = one->from.known ? moment_compare(one->from.value, two->from.value) : 0;
	if (order == 0) {
		order = strcmp(one->number, two->number);
	}
	return order != 0 ? order : (one->id > two->id) - (one->id < two->id);
}

enum outcome store_jobs_ahead(struct store *store, struct arena *arena, struct moment from,
                              struct moment until, struct job_ahead **out, size_t *count,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &planned, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		struct job_ahead job = {
			.id = sqlite3_column_int64(stmt, 0),
			.from = column_when(stmt, 4),
			.until = column_when(stmt, 5),
		};
		struct known_moment starts = column_seconds(stmt, 6), ends = column_seconds(stmt, 7);
		if (!meets(job.from, job.until, from, until) &&
		    !(starts.known && meets(starts, ends, from, until))) {
			continue;
		}
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 64, sizeof **out);
			room = room * 2 + 64;
		}
		job.number = column_words(arena, stmt, 1);
		job.title = column_words(arena, stmt, 2);
		job.state = column_words(arena, stmt, 3);
		(*out)[(*count)++] = job;
	}
	if (*count > 1) {
		qsort(*out, *count, sizeof **out, compare);
	}
	return outcome;
}
