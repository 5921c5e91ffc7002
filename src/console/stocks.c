/* The stocks of one call: found by name, held against the kinds. */
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "session.h"
#include "stocks.h"

/* ---------------------------------------------------------------- where stocks lie */

/* `labels` beside the shop's file. */
static const char *labels_folder(const struct call *call)
{
	const char *path = call->console->path;
	const char *slash = strrchr(path, '/');
	return slash == NULL ? "labels"
	                     : arena_format(call->arena, "%.*s/labels", (int)(slash - path), path);
}

static bool is_file_name(const char *name)
{
	size_t length = strlen(name);
	return strchr(name, '/') != NULL || (length > 6 && strcmp(name + length - 6, ".stock") == 0);
}

/* The file that a stock of that name comes from; NULL: the program carries it. */
static const char *file_of(const struct call *call, const char *name)
{
	const char *file = is_file_name(name)
	                       ? name
	                       : arena_format(call->arena, "%s/%s.stock", labels_folder(call), name);
	return access(file, F_OK) == 0 ? file : NULL;
}

/* As it is kept: a file by its whole path, so that it is found again from anywhere. */
static const char *lasting_name(const struct call *call, const char *asked,
                                const struct stock *stock)
{
	char real[PATH_MAX];
	if (is_file_name(asked) && realpath(asked, real) != NULL) {
		return arena_copy(call->arena, real);
	}
	return stock->name;
}

/* ---------------------------------------------------------------- held against the kinds */

/* In the order of enum tag_use. */
static const enum stock_use uses[TAG_USE_COUNT] = {STOCK_TOOL, STOCK_PLACE, STOCK_PRESS,
                                                   STOCK_JOB,  STOCK_BADGE, STOCK_ACTION};
static const char *const said_uses[TAG_USE_COUNT] = {"tools", "places", "presses",
                                                     "jobs",  "badges", "action cards"};

enum stock_use stocks_use(enum tag_use use)
{
	return uses[use];
}

static unsigned uses_of(const struct stock *stock)
{
	unsigned found = 0;
	for (unsigned use = 0; use < TAG_USE_COUNT; use++) {
		found |= (stock->uses & (unsigned)uses[use]) != 0 ? 1U << use : 0;
	}
	return found;
}

static bool tells(unsigned of_uses, const char *attribute)
{
	for (unsigned use = 0; use < TAG_USE_COUNT; use++) {
		if ((of_uses >> use & 1) != 0 && room_tag_tells((enum tag_use)use, attribute)) {
			return true;
		}
	}
	return false;
}

static bool has_word(const char *line, const char *word)
{
	static const char parts[] = "abcdefghijklmnopqrstuvwxyz0123456789_";
	size_t length = strlen(word);
	for (const char *at = strstr(line, word); at != NULL; at = strstr(at + 1, word)) {
		bool begins = at == line || strchr(parts, at[-1]) == NULL;
		if (begins && (at[length] == '\0' || strchr(parts, at[length]) == NULL)) {
			return true;
		}
	}
	return false;
}

/* `line = 4mm tag`, its comment taken off. */
static bool tells_attributes(char *line)
{
	line[strcspn(line, "#")] = '\0';
	line += strspn(line, " \t");
	if (strncmp(line, "line", 4) != 0) {
		return false;
	}
	line += 4;
	return line[strspn(line, " \t")] == '=';
}

/* The line of a stock's file that tells an attribute of that name; 0: none. */
static int line_of(const char *file, const char *word)
{
	char line[4096];
	int number = 0, found = 0;
	FILE *opened = file != NULL ? fopen(file, "rb") : NULL;
	while (opened != NULL && found == 0 && fgets(line, sizeof line, opened) != NULL) {
		number++;
		found = tells_attributes(line) && has_word(line, word) ? number : 0;
	}
	if (opened != NULL) {
		fclose(opened);
	}
	return found;
}

/* `tools or places`, of bits by enum tag_use. */
static const char *say_uses(struct arena *arena, unsigned of_uses, const char *between)
{
	struct text said = text_start(arena);
	for (unsigned use = 0; use < TAG_USE_COUNT; use++) {
		if ((of_uses >> use & 1) != 0) {
			text_join(&said, between, said_uses[use]);
		}
	}
	return said.bytes;
}

/* Those whose records have it. */
static unsigned uses_with(const char *attribute)
{
	unsigned found = 0;
	for (unsigned use = 0; use < TAG_USE_COUNT; use++) {
		found |= room_tag_tells((enum tag_use)use, attribute) ? 1U << use : 0;
	}
	return found;
}

static enum outcome refuse_attribute(const struct call *call, const struct stock *stock,
                                     const char *asked, const char *attribute, struct fault *fault)
{
	const char *file = file_of(call, asked);
	int line = line_of(file, attribute);
	unsigned others = uses_with(attribute);
	const char *what = others == 0 ? "attribute not known"
	                               : arena_format(call->arena, "attribute is not one of %s",
	                                              say_uses(call->arena, uses_of(stock), " or "));
	if (line > 0) {
		fault_set(fault, OUTCOME_BAD, "%s, line %d: %s: %s", file, line, what, attribute);
	} else {
		fault_set(fault, OUTCOME_BAD, "stock %s: %s: %s", stock->name, what, attribute);
	}
	const char *nearest = room_tag_nearest(call->arena, uses_of(stock), attribute);
	if (others != 0) {
		fault_hint(fault, "Take it out: only %s have one.", say_uses(call->arena, others, " and "));
	} else if (nearest != NULL) {
		fault_hint(fault, "Write %s.", nearest);
	} else {
		fault_hint(fault,
		           "Write tag, title or an attribute; help KIND, such as help cylinder, says "
		           "which there are.");
	}
	return OUTCOME_BAD;
}

static enum outcome check_lines(const struct call *call, const struct stock *stock,
                                const char *asked, struct fault *fault)
{
	unsigned of_uses = uses_of(stock);
	for (size_t i = 0; i < stock->line_count; i++) {
		const struct stock_line *line = &stock->lines[i];
		for (size_t j = 0; j < line->attribute_count; j++) {
			if (!tells(of_uses, line->attributes[j])) {
				return refuse_attribute(call, stock, asked, line->attributes[j], fault);
			}
		}
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- finding */

static struct tag_stock for_room(const struct call *call, const char *asked,
                                 const struct stock *stock)
{
	struct tag_line *lines = arena_take(call->arena, stock->line_count + 1, sizeof *lines);
	for (size_t i = 0; i < stock->line_count; i++) {
		lines[i] = (struct tag_line){stock->lines[i].attributes, stock->lines[i].attribute_count};
	}
	return (struct tag_stock){lasting_name(call, asked, stock), lines, stock->line_count};
}

static enum outcome find(struct stocks *stocks, const char *name, struct shop_stock **out,
                         struct fault *fault)
{
	const struct call *call = stocks->call;
	for (*out = stocks->first; *out != NULL; *out = (*out)->next) {
		if (strcmp((*out)->asked, name) == 0) {
			return OUTCOME_DONE;
		}
	}
	struct shop_stock *found = arena_take(call->arena, 1, sizeof *found);
	enum outcome outcome = stock_find(call->arena, labels_folder(call), name, &found->stock, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = check_lines(call, &found->stock, name, fault);
	}
	if (outcome == OUTCOME_DONE) {
		found->asked = arena_copy(call->arena, name);
		found->room = for_room(call, name, &found->stock);
		found->next = stocks->first;
		stocks->first = found;
		*out = found;
	}
	return outcome;
}

/* That of the settings; where it is gone, it is said where its name comes from. */
static enum outcome find_own(struct stocks *stocks, enum tag_use use, struct shop_stock **out,
                             struct fault *fault)
{
	struct fault gone = {.sentence = ""};
	enum outcome outcome = find(stocks, stocks->habits->stocks[use], out, &gone);
	if (outcome != OUTCOME_DONE) {
		fault_set(fault, outcome, "%s (by set %s)", gone.sentence, room_tag_setting(use));
		fault_hint(fault, "%s", gone.hint);
	}
	return outcome;
}

enum outcome stocks_find(enum tag_use use, const char *printed_on, const struct tag_stock **out,
                         void *context, struct fault *fault)
{
	struct stocks *stocks = context;
	struct shop_stock *found = NULL;
	enum outcome outcome = OUTCOME_BAD;
	if (stocks->forced == NULL && printed_on != NULL) {
		/* It may be gone by now. */
		outcome = find(stocks, printed_on, &found, NULL);
	}
	if (outcome != OUTCOME_DONE && stocks->forced != NULL) {
		outcome = find(stocks, stocks->forced, &found, fault);
	} else if (outcome != OUTCOME_DONE) {
		outcome = find_own(stocks, use, &found, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if ((found->stock.uses & (unsigned)uses[use]) == 0) {
		fault_set(fault, OUTCOME_BAD, "stock is not for %s: %s", said_uses[use], found->stock.name);
		fault_hint(fault,
		           stocks->habits->stocks[use] != NULL
		               ? "Type stock=%s, or write another use in the stock's file."
		               : "Name another, or write another use in the stock's file.",
		           stocks->habits->stocks[use]);
		return OUTCOME_BAD;
	}
	*out = &found->room;
	return OUTCOME_DONE;
}

const struct stock *stocks_of(const struct stocks *stocks, const struct tag_stock *stock)
{
	const struct shop_stock *found = stocks->first;
	while (&found->room != stock) {
		found = found->next;
	}
	return &found->stock;
}
