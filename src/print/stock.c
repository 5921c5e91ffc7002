/*
 * Reads a stock: lines of `key = value`, `#` begins a comment. Whatever is wrong is told with file,
 * line and what would be right.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "stock.h"

#define LINE_BYTES_MOST 400
#define DOTS_PER_INCH_LEAST 100
#define DOTS_PER_INCH_MOST 1200
#define TAGS_A_ROW_MOST 100
#define LENGTH_MOST_MM 2000
#define TAG_LEAST_MM 3

const struct stock_key stock_keys[KEY_COUNT] = {
	[KEY_TITLE] = {"title", KIND_TITLE, NEED_ALWAYS, 0, "roll, 50 x 25 mm, 203 dots per inch"},
	[KEY_USE] = {"use", KIND_USE, NEED_ALWAYS, 0, "tool place"},
	[KEY_PAGE_WIDTH] = {"page_width", KIND_LENGTH, NEED_OF_SHEET,
                        offsetof(struct stock, page_width), "210mm"},
	[KEY_PAGE_HEIGHT] = {"page_height", KIND_LENGTH, NEED_OF_SHEET,
                         offsetof(struct stock, page_height), "297mm"},
	[KEY_MARGIN_LEFT] = {"margin_left", KIND_LENGTH, NEED_OF_SHEET,
                         offsetof(struct stock, margin_left), "7mm"},
	[KEY_MARGIN_TOP] = {"margin_top", KIND_LENGTH, NEED_OF_SHEET,
                        offsetof(struct stock, margin_top), "13mm"},
	[KEY_TAG_WIDTH] = {"tag_width", KIND_LENGTH, NEED_ALWAYS, offsetof(struct stock, width),
                       "50mm"},
	[KEY_TAG_HEIGHT] = {"tag_height", KIND_LENGTH, NEED_ALWAYS, offsetof(struct stock, height),
                        "25mm"},
	[KEY_PITCH_ACROSS] = {"pitch_across", KIND_LENGTH, NEED_NOT,
                          offsetof(struct stock, pitch_across), "66mm"},
	[KEY_PITCH_DOWN] = {"pitch_down", KIND_LENGTH, NEED_NOT, offsetof(struct stock, pitch_down),
                        "34mm"},
	[KEY_ACROSS] = {"across", KIND_COUNT, NEED_OF_SHEET, offsetof(struct stock, across), "3"},
	[KEY_DOWN] = {"down", KIND_COUNT, NEED_OF_SHEET, offsetof(struct stock, down), "8"},
	[KEY_DOTS_PER_INCH] = {"dots_per_inch", KIND_COUNT, NEED_ALWAYS,
                           offsetof(struct stock, dots_per_inch), "300"},
	[KEY_SYMBOL] = {"symbol", KIND_SYMBOL, NEED_ALWAYS, 0, "datamatrix"},
	[KEY_LINE] = {"line", KIND_LINE, NEED_ALWAYS, 0, "4mm tag"},
};

static const struct {
	const char *name;
	enum stock_use use;
} uses[] = {
	{"tool", STOCK_TOOL}, {"place", STOCK_PLACE}, {"press", STOCK_PRESS},
	{"job", STOCK_JOB},   {"badge", STOCK_BADGE}, {"action", STOCK_ACTION},
};

enum outcome stock_refuse(const struct stock_reader *reader, int64_t line, const char *format, ...)
{
	char sentence[600];
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(sentence, sizeof sentence, format, arguments);
	va_end(arguments);
	if (line == 0) {
		return fault_set(reader->fault, OUTCOME_BAD, "%s: %s", reader->file, sentence);
	}
	return fault_set(reader->fault, OUTCOME_BAD, "%s, line %lld: %s", reader->file, (long long)line,
	                 sentence);
}

/* ---------------------------------------------------------------- values */

/* The next word of a value, NULL at its end; cuts the value up. */
static char *next_word(char **rest)
{
	char *word = *rest + strspn(*rest, " \t,");
	if (*word == '\0') {
		return NULL;
	}
	char *end = word + strcspn(word, " \t,");
	*rest = *end == '\0' ? end : end + 1;
	*end = '\0';
	return word;
}

static enum outcome read_use(const struct stock_reader *reader, char *value)
{
	const char *names[COUNT_OF(uses) + 1] = {NULL};
	for (size_t i = 0; i < COUNT_OF(uses); i++) {
		names[i] = uses[i].name;
	}
	for (char *word = next_word(&value); word != NULL; word = next_word(&value)) {
		size_t found = 0;
		while (found < COUNT_OF(uses) && strcmp(word, uses[found].name) != 0) {
			found++;
		}
		if (found == COUNT_OF(uses)) {
			const char *near = text_nearest(word, names);
			stock_refuse(reader, reader->line, "use not known: %s", word);
			fault_hint(reader->fault, "%s%s%sIt is of tool, place, press, job, badge, action.",
			           near != NULL ? "Did you mean " : "", near != NULL ? near : "",
			           near != NULL ? "? " : "");
			return OUTCOME_BAD;
		}
		reader->stock->uses |= uses[found].use;
	}
	if (reader->stock->uses == 0) {
		stock_refuse(reader, reader->line, "use names nothing");
		fault_hint(reader->fault, "Write use = %s.", stock_keys[KEY_USE].example);
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome read_length(const struct stock_reader *reader, enum key key, const char *value)
{
	struct length length = {0};
	struct fault why = {0};
	if (length_parse(value, &length, &why) != OUTCOME_DONE) {
		stock_refuse(reader, reader->line, "%s is no length: %s", stock_keys[key].name, value);
		fault_hint(reader->fault, "%s",
		           why.hint[0] != '\0' ? why.hint : "Write a length such as 50mm or 2in.");
		return OUTCOME_BAD;
	}
	bool margin = key == KEY_MARGIN_LEFT || key == KEY_MARGIN_TOP;
	struct length none = length_from_nm(0);
	if (length_compare(length, none) < 0 || (!margin && length_compare(length, none) == 0)) {
		stock_refuse(reader, reader->line, "%s is %s: %s", stock_keys[key].name,
		             margin ? "less than nothing" : "not more than nothing", value);
		fault_hint(reader->fault, "Write a length such as %s.", stock_keys[key].example);
		return OUTCOME_BAD;
	}
	if (length_compare(length, length_from_mm(LENGTH_MOST_MM)) > 0) {
		stock_refuse(reader, reader->line, "%s is more than %dmm: %s", stock_keys[key].name,
		             LENGTH_MOST_MM, value);
		fault_hint(reader->fault, "Write a length such as %s.", stock_keys[key].example);
		return OUTCOME_BAD;
	}
	bool tag = key == KEY_TAG_WIDTH || key == KEY_TAG_HEIGHT;
	if (tag && length_compare(length, length_from_mm(TAG_LEAST_MM)) < 0) {
		stock_refuse(reader, reader->line, "%s is less than %dmm: %s", stock_keys[key].name,
		             TAG_LEAST_MM, value);
		fault_hint(reader->fault, "Write a length such as %s.", stock_keys[key].example);
		return OUTCOME_BAD;
	}
	memcpy((char *)reader->stock + stock_keys[key].offset, &length, sizeof length);
	return OUTCOME_DONE;
}

static enum outcome read_count(const struct stock_reader *reader, enum key key, const char *value)
{
	bool dots = key == KEY_DOTS_PER_INCH;
	int64_t least = dots ? DOTS_PER_INCH_LEAST : 1;
	int64_t most = dots ? DOTS_PER_INCH_MOST : TAGS_A_ROW_MOST;
	int64_t count = 0;
	if (count_parse(stock_keys[key].name, value, least, most, &count, NULL) != OUTCOME_DONE) {
		stock_refuse(reader, reader->line, "%s is no whole number from %lld to %lld: %s",
		             stock_keys[key].name, (long long)least, (long long)most, value);
		fault_hint(reader->fault, "Write %s = %s%s.", stock_keys[key].name, stock_keys[key].example,
		           dots ? ", or what the printer has, such as 203 or 600" : "");
		return OUTCOME_BAD;
	}
	memcpy((char *)reader->stock + stock_keys[key].offset, &count, sizeof count);
	return OUTCOME_DONE;
}

static enum outcome read_symbol(const struct stock_reader *reader, const char *value)
{
	const char *names[SYMBOLOGY_COUNT + 2] = {NULL};
	for (enum symbology one = 0; one <= SYMBOLOGY_NONE; one++) {
		names[one] = symbology_name(one);
		if (strcmp(value, names[one]) == 0) {
			reader->stock->symbology = one;
			return OUTCOME_DONE;
		}
	}
	const char *near = text_nearest(value, names);
	stock_refuse(reader, reader->line, "symbol not known: %s", value);
	fault_hint(reader->fault, "%s%s%sIt is one of code128, datamatrix, qr, none.",
	           near != NULL ? "Did you mean " : "", near != NULL ? near : "",
	           near != NULL ? "? " : "");
	return OUTCOME_BAD;
}

/* Whether there is such an attribute is for those who know the records to say. */
static bool is_attribute_name(const char *word)
{
	return strspn(word, "abcdefghijklmnopqrstuvwxyz_0123456789") == strlen(word) &&
	       word[0] >= 'a' && word[0] <= 'z';
}

/* `4mm tag` or `teeth pitch repeat`. */
static enum outcome read_line(const struct stock_reader *reader, char *value)
{
	struct stock *stock = reader->stock;
	if (stock->line_count == STOCK_LINES_MOST) {
		stock_refuse(reader, reader->line, "more lines of text than %d", STOCK_LINES_MOST);
		fault_hint(reader->fault, "Put attributes together in one line.");
		return OUTCOME_BAD;
	}
	struct stock_line *line = &stock->lines[stock->line_count++];
	char *word = next_word(&value);
	if (word != NULL && word[0] >= '0' && word[0] <= '9') {
		struct length none = length_from_nm(0);
		if (length_parse(word, &line->height, NULL) != OUTCOME_DONE ||
		    length_compare(line->height, none) <= 0 ||
		    length_compare(line->height, length_from_mm(LENGTH_MOST_MM)) > 0) {
			stock_refuse(reader, reader->line, "height of the line is no length: %s", word);
			fault_hint(reader->fault, "Write line = 4mm tag, or leave the height out.");
			return OUTCOME_BAD;
		}
		word = next_word(&value);
	}
	for (; word != NULL; word = next_word(&value)) {
		if (!is_attribute_name(word)) {
			stock_refuse(reader, reader->line, "name of an attribute has another form: %s", word);
			fault_hint(reader->fault,
			           "Write attributes as in line = 4mm tag, or line = teeth pitch.");
			return OUTCOME_BAD;
		}
		if (line->attribute_count == STOCK_ATTRIBUTES_MOST) {
			stock_refuse(reader, reader->line, "more attributes in a line than %d",
			             STOCK_ATTRIBUTES_MOST);
			fault_hint(reader->fault, "Begin another line with line =.");
			return OUTCOME_BAD;
		}
		line->attributes[line->attribute_count++] = arena_copy(reader->arena, word);
	}
	if (line->attribute_count == 0) {
		stock_refuse(reader, reader->line, "line names no attribute");
		fault_hint(reader->fault, "Write line = 4mm tag, or line = teeth pitch.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome read_value(const struct stock_reader *reader, enum key key, char *value)
{
	switch (stock_keys[key].kind) {
	case KIND_TITLE:
		reader->stock->title = arena_copy(reader->arena, value);
		return OUTCOME_DONE;
	case KIND_USE:
		return read_use(reader, value);
	case KIND_LENGTH:
		return read_length(reader, key, value);
	case KIND_COUNT:
		return read_count(reader, key, value);
	case KIND_SYMBOL:
		return read_symbol(reader, value);
	case KIND_LINE:
		return read_line(reader, value);
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- lines */

static char *trim(char *text)
{
	text += strspn(text, " \t");
	size_t length = strlen(text);
	while (length > 0 && strchr(" \t\r", text[length - 1]) != NULL) {
		text[--length] = '\0';
	}
	return text;
}

static enum outcome refuse_key(const struct stock_reader *reader, const char *name)
{
	const char *names[KEY_COUNT + 1] = {NULL};
	for (enum key key = 0; key < KEY_COUNT; key++) {
		names[key] = stock_keys[key].name;
	}
	const char *near = text_nearest(name, names);
	stock_refuse(reader, reader->line, "key not known: %s", name);
	if (near != NULL) {
		fault_hint(reader->fault, "Did you mean %s?", near);
	} else {
		struct text all = text_start(reader->arena);
		for (enum key key = 0; key < KEY_COUNT; key++) {
			text_join(&all, ", ", stock_keys[key].name);
		}
		fault_hint(reader->fault, "A key is one of %s.", all.bytes);
	}
	return OUTCOME_BAD;
}

static enum outcome read_pair(struct stock_reader *reader, char *text)
{
	char *equals = strchr(text, '=');
	if (equals == NULL) {
		stock_refuse(reader, reader->line, "line has no =: %s", text);
		fault_hint(reader->fault,
		           "Write key = value, such as tag_width = 50mm; # begins a comment.");
		return OUTCOME_BAD;
	}
	*equals = '\0';
	const char *name = trim(text);
	char *value = trim(equals + 1);
	enum key key = 0;
	while (key < KEY_COUNT && strcmp(name, stock_keys[key].name) != 0) {
		key++;
	}
	if (key == KEY_COUNT) {
		return refuse_key(reader, name);
	}
	if (reader->seen[key] != 0 && key != KEY_LINE) {
		stock_refuse(reader, reader->line, "key is there already, in line %lld: %s",
		             (long long)reader->seen[key], name);
		fault_hint(reader->fault, "Take one of the two lines out.");
		return OUTCOME_BAD;
	}
	reader->seen[key] = reader->line;
	if (value[0] == '\0') {
		stock_refuse(reader, reader->line, "value is missing: %s", name);
		fault_hint(reader->fault, "Write %s = %s.", name, stock_keys[key].example);
		return OUTCOME_BAD;
	}
	return read_value(reader, key, value);
}

static enum outcome read_text_line(struct stock_reader *reader, const char *bytes, size_t length)
{
	char text[LINE_BYTES_MOST + 1];
	reader->line++;
	if (length > LINE_BYTES_MOST) {
		stock_refuse(reader, reader->line, "line is longer than %d bytes", LINE_BYTES_MOST);
		fault_hint(reader->fault, "A stock has lines such as tag_width = 50mm.");
		return OUTCOME_BAD;
	}
	for (size_t i = 0; i < length; i++) {
		unsigned char c = (unsigned char)bytes[i];
		if ((c < 0x20 && c != '\t' && c != '\r') || c == 0x7f) {
			stock_refuse(reader, reader->line, "control character in the line: \\x%02x", c);
			fault_hint(reader->fault, "A stock is plain text.");
			return OUTCOME_BAD;
		}
		text[i] = bytes[i];
	}
	text[length] = '\0';
	text[strcspn(text, "#")] = '\0';
	char *trimmed = trim(text);
	return *trimmed == '\0' ? OUTCOME_DONE : read_pair(reader, trimmed);
}

/* `labels/roll-50x25.stock` to `roll-50x25`. */
static const char *name_of(struct arena *arena, const char *file)
{
	const char *slash = strrchr(file, '/');
	char *name = arena_copy(arena, slash != NULL ? slash + 1 : file);
	size_t length = strlen(name);
	if (length > 6 && strcmp(name + length - 6, ".stock") == 0) {
		name[length - 6] = '\0';
	}
	return name;
}

enum outcome stock_read(struct arena *arena, const char *file, const char *bytes, size_t length,
                        struct stock *out, struct fault *fault)
{
	struct stock_reader reader = {.arena = arena, .file = file, .stock = out, .fault = fault};
	enum outcome outcome = OUTCOME_DONE;
	memset(out, 0, sizeof *out);
	out->name = name_of(arena, file);
	while (length > 0 && outcome == OUTCOME_DONE) {
		const char *end = memchr(bytes, '\n', length);
		size_t line = end != NULL ? (size_t)(end - bytes) : length;
		outcome = read_text_line(&reader, bytes, line);
		line += end != NULL ? 1 : 0;
		bytes += line;
		length -= line;
	}
	outcome = outcome == OUTCOME_DONE ? stock_look_at_whole(&reader) : outcome;
	return outcome;
}
