/* Rows of a CSV text, by libcsv, fed line by line so that every row knows on which line it begins.
 */
#include <csv.h>
#include <string.h>

#include "csv.h"

const char csv_separators[] = {',', ';', '\t', '\0'};

struct reading {
	struct arena *arena;
	csv_take take;
	void *context;
	struct csv_row row;
	size_t room;
	int64_t line;        /* the line being fed */
	bool quote_is_open;  /* at the end of what was fed so far */
	bool quote_was_last; /* the byte before was a quote: with another it is one quote of the text */
	int64_t quote_line;  /* on which the last one was opened */
	int64_t
		cell_line; /* on which the cell began that was open when this line was fed; 0: none was */
	size_t cell;   /* and which one of its row it is */
	enum outcome outcome;
};

/* A line break within quotes is a newline, whether the file's lines end in LF, CRLF or CR. */
static void unify_breaks(char *cell)
{
	char *to = cell;
	for (const char *from = cell; *from != '\0'; from++) {
		if (*from == '\r' && from[1] == '\n') {
			continue;
		}
		*to++ = *from == '\r' ? '\n' : *from;
	}
	*to = '\0';
}

static void take_cell(void *bytes, size_t length, void *context)
{
	struct reading *reading = context;
	struct csv_row *row = &reading->row;
	if (row->count == reading->room) {
		size_t room = reading->room * 2 + 32;
		row->cells = arena_grow(reading->arena, row->cells, row->count, room, sizeof *row->cells);
		reading->room = room;
	}
	char *cell = arena_copy_bytes(reading->arena, bytes, length);
	unify_breaks(cell);
	row->cells[row->count++] = cell;
}

static bool row_is_blank(const struct csv_row *row)
{
	for (size_t i = 0; i < row->count; i++) {
		const char *cell = row->cells[i];
		if (cell[strspn(cell, " \t,;")] != '\0') {
			return false;
		}
	}
	return true;
}

static void take_row(int end, void *context)
{
	struct reading *reading = context;
	(void)end;
	/* A line of separators alone, of whatever sort, is how spreadsheets write an empty one. */
	if (reading->outcome == OUTCOME_DONE && !row_is_blank(&reading->row)) {
		reading->outcome = reading->take(&reading->row, reading->context);
	}
	arena_reset(reading->arena);
	reading->row =
		(struct csv_row){.line = reading->row.line, .bytes_read = reading->row.bytes_read};
	reading->room = 0;
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

/*
 * Quotes come in pairs but where a cell goes on over the line's end; a doubled one opens nothing
 * anew.
 */
static void note_quotes(struct reading *reading, const char *line, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		bool quote = line[i] == '"';
		if (quote && !reading->quote_is_open && !reading->quote_was_last) {
			reading->quote_line = reading->line;
		}
		reading->quote_is_open = quote ? !reading->quote_is_open : reading->quote_is_open;
		reading->quote_was_last = quote;
	}
}

/* ---------------------------------------------------------------- torn texts */

static enum outcome refuse_quote(const struct reading *reading, bool cell_is_quoted,
                                 struct csv_tear *tear, struct fault *fault)
{
	*tear = (struct csv_tear){reading->line, reading->row.count};
	if (reading->cell_line != 0 && reading->cell == reading->row.count) {
		/* Most often it was to end on its first line. */
		tear->line = reading->cell_line;
		fault_set(fault, OUTCOME_BAD,
		          "quote is opened here, and the cell goes on behind the next one, in line %lld",
		          (long long)reading->line);
		fault_hint(fault, "Close it where the cell ends.");
	} else if (cell_is_quoted) {
		fault_set(fault, OUTCOME_BAD, "cell goes on behind its closing quote");
		fault_hint(fault, "Double each quote that is part of the cell: \"13\"\" wide\".");
	} else {
		fault_set(fault, OUTCOME_BAD, "quote within a cell that does not begin with one");
		fault_hint(fault, "Put the cell in quotes and double the one within; inches are 13in.");
	}
	return OUTCOME_BAD;
}

static enum outcome refuse_open_quote(const struct reading *reading, struct csv_tear *tear,
                                      struct fault *fault)
{
	*tear = (struct csv_tear){reading->quote_line, reading->row.count};
	fault_set(fault, OUTCOME_BAD, "quote is opened and never closed");
	fault_hint(fault, "Close it, or double it where it is part of the cell.");
	return OUTCOME_BAD;
}

static enum outcome refuse_memory(struct fault *fault)
{
	return fault_set(fault, OUTCOME_STORE, "memory of this machine is used up while reading CSV");
}

static int64_t lines_until(const char *text, const char *end)
{
	int64_t lines = 1;
	while (text < end) {
		size_t part = line_length(text, (size_t)(end - text));
		lines += text[part - 1] == '\n' || text[part - 1] == '\r' ? 1 : 0;
		text += part;
	}
	return lines;
}

/* What is no text in UTF-8 at all; a cell that is not is told by who reads it. */
static enum outcome refuse_bytes(const char *text, size_t length, struct csv_tear *tear,
                                 struct fault *fault)
{
	if (length >= 2 && (memcmp(text, "\xff\xfe", 2) == 0 || memcmp(text, "\xfe\xff", 2) == 0)) {
		*tear = (struct csv_tear){1, SIZE_MAX};
		fault_set(fault, OUTCOME_BAD, "text is in UTF-16, not in UTF-8");
		fault_hint(fault, "Save it as CSV UTF-8.");
		return OUTCOME_BAD;
	}
	const char *nul = length > 0 ? memchr(text, '\0', length) : NULL;
	if (nul == NULL) {
		return OUTCOME_DONE;
	}
	*tear = (struct csv_tear){lines_until(text, nul), SIZE_MAX};
	fault_set(fault, OUTCOME_BAD, "text holds a NUL byte, it is no CSV");
	fault_hint(fault, "Save it as CSV UTF-8.");
	return OUTCOME_BAD;
}

/* ---------------------------------------------------------------- reading */

static enum outcome feed_lines(struct csv_parser *parser, struct reading *reading, const char *text,
                               size_t length, struct csv_tear *tear, struct fault *fault)
{
	for (size_t at = 0; at < length && reading->outcome == OUTCOME_DONE;) {
		size_t part = line_length(text + at, length - at);
		reading->line++;
		if (!reading->quote_is_open) {
			reading->row.line = reading->line;
		}
		reading->cell_line = reading->quote_is_open ? reading->quote_line : 0;
		reading->cell = reading->row.count;
		note_quotes(reading, text + at, part);
		reading->row.bytes_read = (int64_t)(at + part);
		if (csv_parse(parser, text + at, part, take_cell, take_row, reading) != part) {
			return csv_error(parser) == CSV_EPARSE
			           ? refuse_quote(reading, parser->quoted != 0, tear, fault)
			           : refuse_memory(fault);
		}
		at += part;
	}
	if (reading->outcome == OUTCOME_DONE && csv_fini(parser, take_cell, take_row, reading) != 0) {
		return refuse_open_quote(reading, tear, fault);
	}
	return reading->outcome;
}

enum outcome csv_read(struct arena *each_arena, const char *text, size_t length, char separator,
                      csv_take take, void *context, struct csv_tear *tear, struct fault *fault)
{
	static const char mark[] = "\xef\xbb\xbf";
	struct csv_parser parser;
	struct reading reading = {.arena = each_arena, .take = take, .context = context};
	enum outcome outcome = refuse_bytes(text, length, tear, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (length >= 3 && memcmp(text, mark, 3) == 0) {
		text += 3;
		length -= 3;
	}
	if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
		return refuse_memory(fault);
	}
	csv_set_delim(&parser, (unsigned char)separator);
	outcome = feed_lines(&parser, &reading, text, length, tear, fault);
	csv_free(&parser);
	return outcome;
}
