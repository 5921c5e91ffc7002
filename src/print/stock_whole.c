/* A stock that was read line by line, as a whole: that nothing is missing and that its grid fits.
 */
#include "stock.h"

/* What cairo draws in one picture. */
#define PAGE_DOTS_MOST 30000

static enum outcome require(const struct stock_reader *reader, enum key key, const char *why)
{
	if (reader->seen[key] != 0) {
		return OUTCOME_DONE;
	}
	stock_refuse(reader, 0, "%s is missing%s", stock_keys[key].name, why);
	fault_hint(reader->fault, "Write a line such as %s = %s.", stock_keys[key].name,
	           stock_keys[key].example);
	return OUTCOME_BAD;
}

/* A roll names its tag alone; who names any of a sheet's keys means a sheet. */
static enum outcome require_all(const struct stock_reader *reader)
{
	enum key sheet = KEY_COUNT;
	enum outcome outcome = OUTCOME_DONE;
	for (enum key key = 0; key < KEY_COUNT; key++) {
		if (stock_keys[key].need == NEED_OF_SHEET && reader->seen[key] != 0) {
			sheet = sheet == KEY_COUNT ? key : sheet;
		}
	}
	for (enum key key = 0; key < KEY_COUNT && outcome == OUTCOME_DONE; key++) {
		if (stock_keys[key].need == NEED_ALWAYS) {
			outcome = require(reader, key, "");
		} else if (stock_keys[key].need == NEED_OF_SHEET && sheet != KEY_COUNT) {
			outcome = require(reader, key, ", though the stock is a sheet");
		}
	}
	return outcome;
}

static void fill_in(const struct stock_reader *reader)
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

static enum outcome look_at_side(const struct stock_reader *reader, const struct side *side)
{
	struct arena *arena = reader->arena;
	if (length_compare(side->tag, side->page) > 0) {
		stock_refuse(reader, reader->seen[side->tag_key],
		             "tag is %s than the page: %s, the page is %s", side->wider,
		             shown(arena, side->tag), shown(arena, side->page));
		fault_hint(reader->fault, "Write the size of one tag as %s.",
		           stock_keys[side->tag_key].name);
		return OUTCOME_BAD;
	}
	if (length_compare(side->pitch, side->tag) < 0) {
		stock_refuse(reader, reader->seen[side->pitch_key],
		             "tags would overlap, %s is less than %s: %s", stock_keys[side->pitch_key].name,
		             stock_keys[side->tag_key].name, shown(arena, side->pitch));
		fault_hint(reader->fault, "It goes from tag to tag, at least %s here.",
		           shown(arena, side->tag));
		return OUTCOME_BAD;
	}
	struct length end =
		length_add(length_add(side->margin, side->tag), length_times(side->pitch, side->count - 1));
	if (length_compare(end, side->page) > 0) {
		int64_t line = reader->seen[side->count_key];
		stock_refuse(reader, line != 0 ? line : reader->seen[side->tag_key],
		             "%lld tags %s reach to %s, the page is %s %s", (long long)side->count,
		             stock_keys[side->count_key].name, shown(arena, end), shown(arena, side->page),
		             side->width);
		fault_hint(reader->fault, "Look at %s, the margin and the pitch.",
		           stock_keys[side->count_key].name);
		return OUTCOME_BAD;
	}
	int64_t dots = dots_covering(side->page, reader->stock->dots_per_inch);
	if (dots > PAGE_DOTS_MOST) {
		stock_refuse(reader, reader->seen[KEY_DOTS_PER_INCH], "page is %lld dots %s, more than %d",
		             (long long)dots, side->width, PAGE_DOTS_MOST);
		fault_hint(reader->fault, "Write fewer dots_per_inch, or a smaller page.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome look_at_grid(const struct stock_reader *reader)
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

/* A symbol may be scratched or the scanner dead: then a person reads the tag. */
static enum outcome require_tag(const struct stock_reader *reader)
{
	const struct stock *stock = reader->stock;
	bool has_tag = stock->symbology == SYMBOLOGY_NONE;
	for (size_t i = 0; i < stock->line_count; i++) {
		has_tag = has_tag || line_holds_tag(&stock->lines[i]);
	}
	if (has_tag) {
		return OUTCOME_DONE;
	}
	stock_refuse(reader, reader->seen[KEY_LINE], "no line tells the tag beside its symbol");
	fault_hint(reader->fault, "Write a line such as line = %s: without a scanner it is read.",
	           stock_keys[KEY_LINE].example);
	return OUTCOME_BAD;
}

enum outcome stock_look_at_whole(const struct stock_reader *reader)
{
	enum outcome outcome = require_all(reader);
	if (outcome == OUTCOME_DONE) {
		outcome = require_tag(reader);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	fill_in(reader);
	return look_at_grid(reader);
}
