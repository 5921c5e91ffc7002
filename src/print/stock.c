/*
 * Reads a stock: lines of `key = value`, `#` begins a comment. Whatever is wrong is told with file,
 * line and what would be right.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "internal.h"

#define LINE_BYTES_MOST 400
#define DOTS_PER_INCH_LEAST 100
#define DOTS_PER_INCH_MOST 1200
#define TAGS_A_ROW_MOST 100
#define LENGTH_MOST_MM 2000
/* What cairo draws in one picture. */
#define PAGE_DOTS_MOST 30000

enum key {
	KEY_TITLE,
	KEY_USE,
	KEY_PAGE_WIDTH,
	KEY_PAGE_HEIGHT,
	KEY_MARGIN_LEFT,
	KEY_MARGIN_TOP,
	KEY_TAG_WIDTH,
	KEY_TAG_HEIGHT,
	KEY_PITCH_ACROSS,
	KEY_PITCH_DOWN,
	KEY_ACROSS,
	KEY_DOWN,
	KEY_DOTS_PER_INCH,
	KEY_SYMBOL,
	KEY_LINE,
	KEY_COUNT
};

enum key_kind { KIND_TITLE, KIND_USE, KIND_LENGTH, KIND_COUNT, KIND_SYMBOL, KIND_LINE };
enum key_need { NEED_ALWAYS, NEED_OF_SHEET, NEED_NOT };

/* Offsets are those of struct stock. */
static const struct {
	const char *name;
	enum key_kind kind;
	enum key_need need;
	size_t offset;
	const char *example;
} keys[KEY_COUNT] = {
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

struct reader {
	struct arena *arena;
	const char *file;
	int64_t line;            /* being read; 0: the file as a whole */
	int64_t seen[KEY_COUNT]; /* line of each key, 0: not there */
	struct stock *stock;
	struct fault *fault;
};

/* The sentence behind file and line; the hint is for the caller. */
static enum outcome refuse(const struct reader *reader, int64_t line, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

static enum outcome refuse(const struct reader *reader, int64_t line, const char *format, ...)
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

static enum outcome read_use(const struct reader *reader, char *value)
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
			refuse(reader, reader->line, "use not known: %s", word);
			fault_hint(reader->fault, "%s%s%sIt is of tool, place, press, job, badge, action.",
			           near != NULL ? "Did you mean " : "", near != NULL ? near : "",
			           near != NULL ? "? " : "");
			return OUTCOME_BAD;
		}
		reader->stock->uses |= uses[found].use;
	}
	return OUTCOME_DONE;
}

static enum outcome read_length(const struct reader *reader, enum key key, const char *value)
{
	struct length length = {0};
	struct fault why = {0};
	if (length_parse(value, &length, &why) != OUTCOME_DONE) {
		refuse(reader, reader->line, "%s is no length: %s", keys[key].name, value);
		fault_hint(reader->fault, "%s",
		           why.hint[0] != '\0' ? why.hint : "Write a length such as 50mm or 2in.");
		return OUTCOME_BAD;
	}
	bool margin = key == KEY_MARGIN_LEFT || key == KEY_MARGIN_TOP;
	struct length none = length_from_nm(0);
	if (length_compare(length, none) < 0 || (!margin && length_compare(length, none) == 0)) {
		refuse(reader, reader->line, "%s is %s: %s", keys[key].name,
		       margin ? "less than nothing" : "not more than nothing", value);
		fault_hint(reader->fault, "Write a length such as %s.", keys[key].example);
		return OUTCOME_BAD;
	}
	if (length_compare(length, length_from_mm(LENGTH_MOST_MM)) > 0) {
		refuse(reader, reader->line, "%s is more than %dmm: %s", keys[key].name, LENGTH_MOST_MM,
		       value);
		fault_hint(reader->fault, "Write a length such as %s.", keys[key].example);
		return OUTCOME_BAD;
	}
	memcpy((char *)reader->stock + keys[key].offset, &length, sizeof length);
	return OUTCOME_DONE;
}

static enum outcome read_count(const struct reader *reader, enum key key, const char *value)
{
	bool dots = key == KEY_DOTS_PER_INCH;
	int64_t least = dots ? DOTS_PER_INCH_LEAST : 1;
	int64_t most = dots ? DOTS_PER_INCH_MOST : TAGS_A_ROW_MOST;
	int64_t count = 0;
	if (count_parse(keys[key].name, value, least, most, &count, NULL) != OUTCOME_DONE) {
		refuse(reader, reader->line, "%s is no whole number from %lld to %lld: %s", keys[key].name,
		       (long long)least, (long long)most, value);
		fault_hint(reader->fault, "Write %s = %s%s.", keys[key].name, keys[key].example,
		           dots ? ", or what the printer has, such as 203 or 600" : "");
		return OUTCOME_BAD;
	}
	memcpy((char *)reader->stock + keys[key].offset, &count, sizeof count);
	return OUTCOME_DONE;
}

static enum outcome read_symbol(const struct reader *reader, const char *value)
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
	refuse(reader, reader->line, "symbol not known: %s", value);
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
static enum outcome read_line(const struct reader *reader, char *value)
{
	struct stock *stock = reader->stock;
	if (stock->line_count == STOCK_LINES_MOST) {
		refuse(reader, reader->line, "more lines of text than %d", STOCK_LINES_MOST);
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
			refuse(reader, reader->line, "height of the line is no length: %s", word);
			fault_hint(reader->fault, "Write line = 4mm tag, or leave the height out.");
			return OUTCOME_BAD;
		}
		word = next_word(&value);
	}
	for (; word != NULL; word = next_word(&value)) {
		if (!is_attribute_name(word)) {
			refuse(reader, reader->line, "name of an attribute has another form: %s", word);
			fault_hint(reader->fault,
			           "Write attributes as in line = 4mm tag, or line = teeth pitch.");
			return OUTCOME_BAD;
		}
		if (line->attribute_count == STOCK_ATTRIBUTES_MOST) {
			refuse(reader, reader->line, "more attributes in a line than %d",
			       STOCK_ATTRIBUTES_MOST);
			fault_hint(reader->fault, "Begin another line with line =.");
			return OUTCOME_BAD;
		}
		line->attributes[line->attribute_count++] = arena_copy(reader->arena, word);
	}
	if (line->attribute_count == 0) {
		refuse(reader, reader->line, "line names no attribute");
		fault_hint(reader->fault, "Write line = 4mm tag, or line = teeth pitch.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome read_value(const struct reader *reader, enum key key, char *value)
{
	switch (keys[key].kind) {
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

static enum outcome refuse_key(const struct reader *reader, const char *name)
{
	const char *names[KEY_COUNT + 1] = {NULL};
	for (enum key key = 0; key < KEY_COUNT; key++) {
		names[key] = keys[key].name;
	}
	const char *near = text_nearest(name, names);
	refuse(reader, reader->line, "key not known: %s", name);
	if (near != NULL) {
		fault_hint(reader->fault, "Did you mean %s?", near);
	} else {
		struct text all = text_start(reader->arena);
		for (enum key key = 0; key < KEY_COUNT; key++) {
			text_join(&all, ", ", keys[key].name);
		}
		fault_hint(reader->fault, "A key is one of %s.", all.bytes);
	}
	return OUTCOME_BAD;
}

static enum outcome read_pair(struct reader *reader, char *text)
{
	char *equals = strchr(text, '=');
	if (equals == NULL) {
		refuse(reader, reader->line, "line has no =: %s", text);
		fault_hint(reader->fault,
		           "Write key = value, such as tag_width = 50mm; # begins a comment.");
		return OUTCOME_BAD;
	}
	*equals = '\0';
	const char *name = trim(text);
	char *value = trim(equals + 1);
	enum key key = 0;
	while (key < KEY_COUNT && strcmp(name, keys[key].name) != 0) {
		key++;
	}
	if (key == KEY_COUNT) {
		return refuse_key(reader, name);
	}
	if (reader->seen[key] != 0 && key != KEY_LINE) {
		refuse(reader, reader->line, "key is there already, in line %lld: %s",
		       (long long)reader->seen[key], name);
		fault_hint(reader->fault, "Take one of the two lines out.");
		return OUTCOME_BAD;
	}
	reader->seen[key] = reader->line;
	if (value[0] == '\0') {
		refuse(reader, reader->line, "value is missing: %s", name);
		fault_hint(reader->fault, "Write %s = %s.", name, keys[key].example);
		return OUTCOME_BAD;
	}
	return read_value(reader, key, value);
}

static enum outcome read_text_line(struct reader *reader, const char *bytes, size_t length)
{
	char text[LINE_BYTES_MOST + 1];
	reader->line++;
	if (length > LINE_BYTES_MOST) {
		refuse(reader, reader->line, "line is longer than %d bytes", LINE_BYTES_MOST);
		fault_hint(reader->fault, "A stock has lines such as tag_width = 50mm.");
		return OUTCOME_BAD;
	}
	for (size_t i = 0; i < length; i++) {
		unsigned char c = (unsigned char)bytes[i];
		if ((c < 0x20 && c != '\t' && c != '\r') || c == 0x7f) {
			refuse(reader, reader->line, "control character in the line: \\x%02x", c);
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

/* ---------------------------------------------------------------- what belongs together */

static enum outcome require(const struct reader *reader, enum key key, const char *why)
{
	if (reader->seen[key] != 0) {
		return OUTCOME_DONE;
	}
	refuse(reader, 0, "%s is missing%s", keys[key].name, why);
	fault_hint(reader->fault, "Write a line such as %s = %s.", keys[key].name, keys[key].example);
	return OUTCOME_BAD;
}

/* A roll names its tag alone; who names any of a sheet's keys means a sheet. */
static enum outcome require_all(const struct reader *reader)
{
	enum key sheet = KEY_COUNT;
	enum outcome outcome = OUTCOME_DONE;
	for (enum key key = 0; key < KEY_COUNT; key++) {
		if (keys[key].need == NEED_OF_SHEET && reader->seen[key] != 0) {
			sheet = sheet == KEY_COUNT ? key : sheet;
		}
	}
	for (enum key key = 0; key < KEY_COUNT && outcome == OUTCOME_DONE; key++) {
		if (keys[key].need == NEED_ALWAYS) {
			outcome = require(reader, key, "");
		} else if (keys[key].need == NEED_OF_SHEET && sheet != KEY_COUNT) {
			outcome = require(reader, key, ", though the stock is a sheet");
		}
	}
	return outcome;
}

static void fill_in(const struct reader *reader)
{
	struct stock *stock = reader->stock;
	if (reader->seen[KEY_PAGE_WIDTH] == 0) {
		stock->page_width = stock->width;
		stock->page_height = stock->height;
		stock->across = 1;
		stock->down = 1;
	}
	if (reader->seen[KEY_PITCH_ACROSS] == 0) {
		stock->pitch_across = stock->width;
	}
	if (reader->seen[KEY_PITCH_DOWN] == 0) {
		stock->pitch_down = stock->height;
	}
}

/* One direction of a sheet. */
struct side {
	enum key tag_key, pitch_key, count_key;
	const char *wider, *width; /* words */
	struct length page, margin, tag, pitch;
	int64_t count;
};

static const char *shown(struct arena *arena, struct length length)
{
	return arena_copy(arena, length_text(length, LENGTH_TOOLING, UNITS_METRIC).bytes);
}

static enum outcome look_at_side(const struct reader *reader, const struct side *side)
{
	struct arena *arena = reader->arena;
	if (length_compare(side->tag, side->page) > 0) {
		refuse(reader, reader->seen[side->tag_key], "tag is %s than the page: %s, the page is %s",
		       side->wider, shown(arena, side->tag), shown(arena, side->page));
		fault_hint(reader->fault, "Write the size of one tag as %s.", keys[side->tag_key].name);
		return OUTCOME_BAD;
	}
	if (length_compare(side->pitch, side->tag) < 0) {
		refuse(reader, reader->seen[side->pitch_key], "tags would overlap, %s is less than %s: %s",
		       keys[side->pitch_key].name, keys[side->tag_key].name, shown(arena, side->pitch));
		fault_hint(reader->fault, "It goes from tag to tag, at least %s here.",
		           shown(arena, side->tag));
		return OUTCOME_BAD;
	}
	struct length end =
		length_add(length_add(side->margin, side->tag), length_times(side->pitch, side->count - 1));
	if (length_compare(end, side->page) > 0) {
		int64_t line = reader->seen[side->count_key];
		refuse(reader, line != 0 ? line : reader->seen[side->tag_key],
		       "%lld tags %s reach to %s, the page is %s %s", (long long)side->count,
		       keys[side->count_key].name, shown(arena, end), shown(arena, side->page),
		       side->width);
		fault_hint(reader->fault, "Look at %s, the margin and the pitch.",
		           keys[side->count_key].name);
		return OUTCOME_BAD;
	}
	int64_t dots = dots_covering(side->page, reader->stock->dots_per_inch);
	if (dots > PAGE_DOTS_MOST) {
		refuse(reader, reader->seen[KEY_DOTS_PER_INCH], "page is %lld dots %s, more than %d",
		       (long long)dots, side->width, PAGE_DOTS_MOST);
		fault_hint(reader->fault, "Write fewer dots_per_inch, or a smaller page.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome look_at_grid(const struct reader *reader)
{
	const struct stock *stock = reader->stock;
	const struct side across = {KEY_TAG_WIDTH,
	                            KEY_PITCH_ACROSS,
	                            KEY_ACROSS,
	                            "wider",
	                            "wide",
	                            stock->page_width,
	                            stock->margin_left,
	                            stock->width,
	                            stock->pitch_across,
	                            stock->across};
	const struct side down = {KEY_TAG_HEIGHT,    KEY_PITCH_DOWN, KEY_DOWN,
	                          "higher",          "high",         stock->page_height,
	                          stock->margin_top, stock->height,  stock->pitch_down,
	                          stock->down};
	enum outcome outcome = look_at_side(reader, &across);
	return outcome == OUTCOME_DONE ? look_at_side(reader, &down) : outcome;
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
	struct reader reader = {.arena = arena, .file = file, .stock = out, .fault = fault};
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
	if (outcome == OUTCOME_DONE) {
		outcome = require_all(&reader);
	}
	if (outcome == OUTCOME_DONE) {
		fill_in(&reader);
		outcome = look_at_grid(&reader);
	}
	return outcome;
}
