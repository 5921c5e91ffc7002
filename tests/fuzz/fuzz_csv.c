/*
 * A CSV file: whatever bytes it holds, its rows come in order or it is refused in words. The first
 * byte chooses the separator; the rest is the file. Then the same file goes through the whole of
 * `import` into an empty shop in memory, as the kind that the first byte chooses.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "room/csv.h"
#include "toothrack/room.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds, const char *what)
{
	if (!holds) {
		fprintf(stderr, "%s\n", what);
		abort();
	}
}

struct seen {
	int64_t line, bytes_read;
	size_t rows;
};

static enum outcome take(const struct csv_row *row, void *context)
{
	struct seen *seen = context;
	must(row->line > seen->line, "a row does not lie behind the one before");
	must(row->bytes_read >= seen->bytes_read, "bytes read go back");
	must(row->count > 0, "a row without cells");
	for (size_t i = 0; i < row->count; i++) {
		must(row->cells[i] != NULL, "a cell that is not there");
	}
	*seen = (struct seen){row->line, row->bytes_read, seen->rows + 1};
	return OUTCOME_DONE;
}

static void read_rows(struct arena *arena, const char *text, size_t length, char separator)
{
	struct seen seen = {0};
	struct csv_tear tear = {0};
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = csv_read(arena, text, length, separator, take, &seen, &tear, &fault);
	if (outcome == OUTCOME_DONE) {
		must(seen.bytes_read <= (int64_t)length, "more read than there is");
	} else {
		must(outcome == OUTCOME_BAD, "a file cannot be the store's fault");
		must(fault.sentence[0] != '\0', "refused without words");
		must(tear.line >= seen.line, "torn before the last row");
	}
}

static void import(struct arena *arena, const struct kind *kind, const char *text, size_t length)
{
	static struct import_report report;
	struct store *store = NULL;
	struct fault fault;
	struct actor actor = {.login = "clerk", .terminal = "bench"};
	fault_clear(&fault);
	must(moment_parse("2026-12-01T08:00:00Z", &actor.now, NULL) == OUTCOME_DONE, "no moment");
	must(store_open(":memory:", STORE_MAKE, true, &store, &fault) == OUTCOME_DONE, fault.sentence);
	enum outcome outcome = room_import_text(store, arena, kind, "rows.csv", text, length, false,
	                                        &actor, &report, &fault);
	bool empty = false;
	must(outcome == OUTCOME_DONE || outcome == OUTCOME_BAD, fault.sentence);
	must(!store_in_transaction(store), "a transaction stays open");
	if (outcome == OUTCOME_BAD) {
		must(fault.sentence[0] != '\0', "refused without words");
		must(store_is_empty(store, &empty, &fault) == OUTCOME_DONE && empty, "half imported");
	}
	store_close(store);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static const char separators[] = {',', ';', '\t'};
	if (size < 1) {
		return 0;
	}
	struct arena *arena = arena_new();
	const char *text = arena_copy_bytes(arena, (const char *)data + 1, size - 1);
	struct arena *rows = arena_new();
	read_rows(rows, text, size - 1, separators[data[0] % COUNT_OF(separators)]);
	import(arena, &kinds[data[0] % KIND_COUNT], text, size - 1);
	arena_free(rows);
	arena_free(arena);
	return 0;
}
