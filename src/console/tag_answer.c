/* What `tag` says before it prints: what, on which stock, where it goes. */
#include <inttypes.h>
#include <string.h>

#include "records.h"
#include "tag_answer.h"

/* More are counted only. */
#define TAGS_SHOWN 20

/* ---------------------------------------------------------------- data */

/* The cell that a tag of a group takes, from 1, and its page. */
static int64_t cell_taken(const struct tag_group *group, size_t index, int64_t *page)
{
	int64_t cells = group->stock->across * group->stock->down;
	int64_t at = group->request.first_cell - 1 + (int64_t)index;
	*page = at / cells + 1;
	return at % cells + 1;
}

/* The lines that are there. */
static const char *text_of(struct call *call, const struct tag_group *group,
                           const struct tag_to_print *tag, const char *between)
{
	struct text text = text_start(call->arena);
	for (size_t i = 0; i < group->stock->line_count; i++) {
		if (tag->lines[i] != NULL) {
			text_join(&text, between, tag->lines[i]);
		}
	}
	return text.bytes;
}

static void row_write(struct call *call, const struct tag_group *group, size_t index)
{
	struct answer *answer = call->answer;
	const struct tag_to_print *tag = group->tags[index];
	const char *file = call_value(call, "file"), *printer = call_value(call, "printer");
	int64_t page;
	int64_t cell = cell_taken(group, index, &page);
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", tag->tag);
	answer_word(answer, "kind", tag->kind != NULL ? tag->kind->name : "action");
	answer_word(answer, "what", tag->what);
	answer_word(answer, "stock", group->stock->name);
	answer_count(answer, "page", page);
	answer_count(answer, "cell", cell);
	answer_word(answer, "symbol", symbology_name(group->symbology));
	answer_word(answer, "content", tag->content);
	answer_word(answer, "text", text_of(call, group, tag, "\n"));
	answer_number(answer, "x_mm", length_to_mm(group->plan.tags[index].x), 3);
	answer_count(answer, "x_dots", group->plan.tags[index].x_dots);
	answer_word(answer, "caution", tag->caution);
	answer_word(answer, "cut_short", group->plan.tags[index].cut);
	answer_word(answer, "file", file);
	answer_word(answer, "printer", printer);
	answer_object_close(answer);
}

void tag_groups_write(struct call *call, const struct tag_group *groups, size_t count)
{
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < groups[i].count; j++) {
			row_write(call, &groups[i], j);
		}
	}
	answer_array_close(call->answer);
}

/* ---------------------------------------------------------------- text */

static const char *plural(int64_t count)
{
	return count == 1 ? "" : "s";
}

/* As a person calls it. */
static const char *symbology_title(enum symbology symbology)
{
	switch (symbology) {
	case SYMBOLOGY_CODE_128:
		return "Code 128";
	case SYMBOLOGY_DATA_MATRIX:
		return "Data Matrix";
	case SYMBOLOGY_QR:
		return "QR";
	case SYMBOLOGY_NONE:
		break;
	}
	return "";
}

static void sheet_say(struct call *call, const struct tag_group *group)
{
	const struct print_plan *plan = &group->plan;
	int64_t cells = group->stock->across * group->stock->down;
	if (cells == 1) {
		return;
	}
	answer_line(call->answer, MARK_PLAIN,
	            "  %" PRId64 " sheet%s of %" PRId64 ", from cell %" PRId64 " on; %" PRId64
	            " left free on the last",
	            plan->pages, plural(plan->pages), cells, group->request.first_cell, plan->cells);
}

static void symbol_say(struct call *call, const struct tag_group *group)
{
	const struct print_plan *plan = &group->plan;
	if (group->symbology == SYMBOLOGY_NONE) {
		answer_line(call->answer, MARK_PLAIN, "  text alone, without a symbol");
		return;
	}
	/* As wide as so many dots are: a whole number of them, rounded for the eye. */
	int64_t step = call->units == UNITS_INCH ? 2540 : 1000;
	struct length x = length_from_nm((length_to_nm(plan->x) + step / 2) / step * step);
	answer_line(call->answer, MARK_PLAIN,
	            "  %s%s, X-dimension %" PRId64 " dot%s of %" PRId64 " per inch: %s%s",
	            symbology_title(group->symbology), group->request.faces[0].gs1 ? " (GS1)" : "",
	            plan->x_dots, plural(plan->x_dots), group->stock->dots_per_inch,
	            length_text(x, LENGTH_TOOLING, call->units).bytes,
	            plan->turned ? "; the symbol stands on its side" : "");
}

static bool carriers_alike(const struct tag_group *group)
{
	for (size_t i = 1; i < group->count; i++) {
		if (length_compare(group->tags[i]->carrier, group->tags[0]->carrier) != 0) {
			return false;
		}
	}
	return true;
}

/* The bars of a symbol stand around what is round, so that a scan line meets all of them. */
static void carrier_say(struct call *call, const struct tag_group *group)
{
	bool alike = carriers_alike(group);
	size_t said = 0;
	for (size_t i = 0; i < (alike ? 1 : group->count) && said < TAGS_SHOWN; i++) {
		const struct tag_to_print *tag = group->tags[i];
		if (length_to_nm(tag->carrier) > 0) {
			answer_line(call->answer, MARK_PLAIN,
			            "  %s%sfor a round carrier of %s: put the tag's long side along its axis",
			            alike ? "" : tag->tag, alike ? "" : " ",
			            length_text(tag->carrier, LENGTH_TOOLING, call->units).bytes);
			said++;
		}
	}
}

static void tags_say(struct call *call, const struct tag_group *group)
{
	static const char *const sheet[] = {"tag", "what it is", ">page", ">cell"};
	bool roll = group->stock->across * group->stock->down == 1;
	answer_table_open(call->answer, sheet, roll ? 2 : COUNT_OF(sheet));
	for (size_t i = 0; i < group->count && i < TAGS_SHOWN; i++) {
		int64_t page;
		int64_t cell = cell_taken(group, i, &page);
		const char *cells[] = {
			group->tags[i]->tag,
			group->tags[i]->what,
			arena_format(call->arena, "%" PRId64, page),
			arena_format(call->arena, "%" PRId64, cell),
		};
		answer_table_row(call->answer, group->tags[i]->caution != NULL ? MARK_CAUTION : MARK_PLAIN,
		                 cells);
	}
	answer_table_close(call->answer);
	if (group->count > TAGS_SHOWN) {
		answer_line(call->answer, MARK_PLAIN, "and %zu more", group->count - TAGS_SHOWN);
	}
}

void tag_group_say(struct call *call, const struct tag_group *group)
{
	answer_line(call->answer, MARK_STRONG, "%zu tag%s on %s (%s)", group->count,
	            plural((int64_t)group->count), group->stock->name, group->stock->title);
	sheet_say(call, group);
	symbol_say(call, group);
	carrier_say(call, group);
	tags_say(call, group);
	if (group->count == 1) {
		answer_line(call->answer, MARK_PLAIN, "it says: %s",
		            text_of(call, group, group->tags[0], " / "));
	}
}

void tag_cut_say(struct call *call, const struct tag_group *groups, size_t count)
{
	size_t found = 0;
	for (size_t i = 0; i < count; i++) {
		for (size_t j = 0; j < groups[i].count; j++) {
			const char *cut = groups[i].plan.tags[j].cut;
			if (cut != NULL && found < TAGS_SHOWN) {
				answer_line(call->answer, MARK_CAUTION, "caution: the text of %s is cut short: %s",
				            groups[i].tags[j]->tag, cut);
			}
			found += cut != NULL ? 1 : 0;
		}
	}
	if (found > TAGS_SHOWN) {
		answer_line(call->answer, MARK_CAUTION, "caution: the text of %zu more is cut short",
		            found - TAGS_SHOWN);
	}
}

static void out_of_use_say(struct call *call, const struct tags_to_print *tags)
{
	for (size_t i = 0, said = 0; i < tags->count && said < TAGS_SHOWN; i++) {
		if (tags->tags[i].caution != NULL) {
			answer_line(call->answer, MARK_CAUTION, "caution: %s is %s", tags->tags[i].tag,
			            tags->tags[i].caution);
			said++;
		}
	}
}

void tag_cautions_say(struct call *call, const struct tags_to_print *tags)
{
	unsigned kinds_tagged = 0;
	bool tools = false, at_press = false;
	for (size_t i = 0; i < tags->count; i++) {
		const struct kind *kind = tags->tags[i].kind;
		kinds_tagged |= kind != NULL ? 1U << kind->id : 0;
		tools = tools || (kind != NULL && kind->tool);
		at_press = at_press || tags->tags[i].at_press;
	}
	if (answer_form(call->answer) != FORM_TEXT) {
		return;
	}
	out_of_use_say(call, tags);
	if (tools) {
		answer_line(call->answer, MARK_PLAIN,
		            "where it goes: on a journal, an end face, a cover or a carrier; never on a "
		            "working face");
	}
	handling_say_kinds(call, kinds_tagged, at_press);
}
