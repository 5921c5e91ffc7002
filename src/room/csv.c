/* Rows of a CSV text, by libcsv, fed line by line so that every row knows on which line it begins. */
#include <csv.h>
#include <string.h>

#include "csv.h"

struct reading {
	struct arena *arena;
	csv_take take;
	void *context;
	struct csv_row row;
	size_t room;
	int64_t line;       /* the line being fed */
	bool quote_is_open; /* at the end of the lines fed so far */
	enum outcome outcome;
};

static void take_cell(void *bytes, size_t length, void *context)
{
	struct reading *reading = context;
	struct csv_row *row = &reading->row;
	if (row->count == reading->room) {
		size_t room = reading->room * 2 + 32;
		row->cells = arena_grow(reading->arena, row->cells, row->count, room, sizeof *row->cells);
		reading->room = room;
	}
	row->cells[row->count++] = arena_copy_bytes(reading->arena, bytes, length);
}

static bool row_is_blank(const struct csv_row *row)
{
	for (size_t i = 0; i < row->count; i++) {
		if (row->cells[i][0] != '\0') {
			return false;
		}
	}
	return true;
}

static void take_row(int end, void *context)
{
	struct reading *reading = context;
	(void)end;
	/* A line of separators alone is how spreadsheets write an empty one. */
	if (reading->outcome == OUTCOME_DONE && !row_is_blank(&reading->row)) {
		reading->outcome = reading->take(&reading->row, reading->context);
	}
	arena_reset(reading->arena);
	reading->row =
		(struct csv_row){.line = reading->row.line, .bytes_read = reading->row.bytes_read};
	reading->room = 0;
}

/* The separator of the heading: of `,`, `;` and TAB the one that stands in it most often, outside quotes. */
static unsigned char separator_of(const char *text, size_t length)
{
	static const char separators[] = {',', ';', '\t'};
	size_t counts[sizeof separators] = {0}, best = 0;
	bool quoted = false;
	for (size_t i = 0; i < length && (quoted || (text[i] != '\n' && text[i] != '\r')); i++) {
		quoted = text[i] == '"' ? !quoted : quoted;
		for (size_t j = 0; j < sizeof separators; j++) {
			counts[j] += !quoted && text[i] == separators[j] ? 1 : 0;
		}
	}
	for (size_t j = 1; j < sizeof separators; j++) {
		best = counts[j] > counts[best] ? j : best;
	}
	return (unsigned char)separators[best];
}

/* The line that starts here, with its end: LF, CRLF or CR. */
static size_t line_length(const char *text, size_t length)
{
	size_t i = 0;
	while (i < length && text[i] != '\n' && text[i] != '\r') {
		i++;
	}
	if (i + 1 < length && text[i] == '\r' && text[i + 1] == '\n') {
		return i + 2;
	}
	return i < length ? i + 1 : i;
}

/* Quotes come in pairs but where a cell goes on over the line's end. */
static void note_quotes(struct reading *reading, const char *line, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		reading->quote_is_open = line[i] == '"' ? !reading->quote_is_open : reading->quote_is_open;
	}
}

static enum outcome torn(struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "quote out of place, or never closed");
	fault_hint(fault, "Double each quote within a quoted cell, and close the last.");
	return OUTCOME_BAD;
}

static enum outcome feed_lines(struct csv_parser *parser, struct reading *reading, const char *text,
                               size_t length, struct fault *fault)
{
	for (size_t at = 0; at < length && reading->outcome == OUTCOME_DONE;) {
		size_t part = line_length(text + at, length - at);
		reading->line++;
		if (!reading->quote_is_open) {
			reading->row.line = reading->line;
		}
		note_quotes(reading, text + at, part);
		reading->row.bytes_read = (int64_t)(at + part);
		if (csv_parse(parser, text + at, part, take_cell, take_row, reading) != part) {
			return torn(fault);
		}
		at += part;
	}
	if (reading->outcome == OUTCOME_DONE && csv_fini(parser, take_cell, take_row, reading) != 0) {
		return torn(fault);
	}
	return reading->outcome;
}

enum outcome csv_read(struct arena *each_arena, const char *text, size_t length, csv_take take,
                      void *context, int64_t *line, struct fault *fault)
{
	static const char mark[] = "\xef\xbb\xbf";
	struct csv_parser parser;
	struct reading reading = {.arena = each_arena, .take = take, .context = context};
	*line = 1;
	if (length >= 2 && (memcmp(text, "\xff\xfe", 2) == 0 || memcmp(text, "\xfe\xff", 2) == 0)) {
		fault_set(fault, OUTCOME_BAD, "text is UTF-16, not UTF-8");
		fault_hint(fault, "Save it as CSV UTF-8.");
		return OUTCOME_BAD;
	}
	if (memchr(text, '\0', length) != NULL) {
		return fault_set(fault, OUTCOME_BAD, "text holds a NUL byte, it is no CSV");
	}
	if (length >= 3 && memcmp(text, mark, 3) == 0) {
		text += 3;
		length -= 3;
	}
	if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
		return fault_set(fault, OUTCOME_STORE, "CSV cannot be read: no memory");
	}
	csv_set_delim(&parser, separator_of(text, length));
	enum outcome outcome = feed_lines(&parser, &reading, text, length, fault);
	*line = reading.row.line > 0 ? reading.row.line : 1;
	csv_free(&parser);
	return outcome;
}
