/* The answer of a topic: an object, and a table of figures for people. */
#include <string.h>

#include "answer.h"
#include "calc.h"

/* A nanometre in mm: as fine as anything is stored. */
#define DATA_DECIMALS 6

void figures_open(struct call *call)
{
	static const char *const columns[] = {"", ">", ">"};
	answer_object_open(call->answer, NULL);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
}

void figures_close(struct call *call)
{
	answer_table_close(call->answer);
	answer_object_close(call->answer);
}

/* `flat_length` as people read it. */
static const char *title_of(struct arena *arena, const char *name)
{
	char *title = arena_copy(arena, name);
	for (char *c = strchr(title, '_'); c != NULL; c = strchr(c, '_')) {
		*c = ' ';
	}
	return title;
}

static const char *shown(struct arena *arena, const struct figure *figure)
{
	if (figure->key == NULL) {
		return NULL;
	}
	double number = answer_rounded(figure->number, figure->shown_decimals);
	char *text = arena_format(arena, "%.*f", figure->shown_decimals, number);
	if (strchr(text, '.') != NULL) {
		char *end = text + strlen(text);
		while (end[-1] == '0') {
			*--end = '\0';
		}
		if (end[-1] == '.') {
			end[-1] = '\0';
		}
	}
	return arena_format(arena, "%s%s", text, figure->unit);
}

void figure_pair(struct call *call, const char *title, struct figure metric, struct figure inch)
{
	const struct figure *first = call->units == UNITS_INCH && inch.key != NULL ? &inch : &metric;
	const struct figure *second = first == &metric ? &inch : &metric;
	if (metric.key != NULL) {
		answer_number(call->answer, metric.key, metric.number, DATA_DECIMALS);
	}
	if (inch.key != NULL) {
		answer_number(call->answer, inch.key, inch.number, DATA_DECIMALS);
	}
	const char *cells[] = {title, shown(call->arena, first), shown(call->arena, second)};
	answer_table_row(call->answer, MARK_PLAIN, cells);
}

void figure_length(struct call *call, const char *name, struct real_length length)
{
	double mm = real_to_mm(length);
	struct figure metric = {arena_format(call->arena, "%s_mm", name), mm, "mm", 3};
	struct figure inch = {arena_format(call->arena, "%s_in", name), mm / 25.4, "in", 4};
	figure_pair(call, title_of(call->arena, name), metric, inch);
}

void figure_percent(struct call *call, const char *name, double percent)
{
	struct figure figure = {arena_format(call->arena, "%s_percent", name), percent, "%", 2};
	figure_pair(call, title_of(call->arena, name), figure, (struct figure){0});
}

void figure_count(struct call *call, const char *name, int64_t count)
{
	const char *text = arena_format(call->arena, "%lld", (long long)count);
	const char *cells[] = {title_of(call->arena, name), text, NULL};
	answer_count(call->answer, name, count);
	answer_table_row(call->answer, MARK_PLAIN, cells);
}
