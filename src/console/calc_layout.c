/* Labels on the web: around the cylinder, and across. */
#include "calc.h"

/* ---------------------------------------------------------------- around */

/* More are no choice any more. */
#define CHOICES_MOST 500

static void around_row(struct call *call, const struct around *around)
{
	double mm = real_to_mm(around->gap);
	const char *count = arena_format(call->arena, "%lld", (long long)around->number_around);
	const char *metric = arena_format(call->arena, "%.3fmm", mm);
	const char *inch = arena_format(call->arena, "%.4fin", mm / 25.4);
	bool inch_first = call->units == UNITS_INCH;
	const char *cells[] = {count, inch_first ? inch : metric, inch_first ? metric : inch};
	answer_object_open(call->answer, NULL);
	answer_count(call->answer, "number_around", around->number_around);
	answer_number(call->answer, "gap_around_mm", mm, 6);
	answer_number(call->answer, "gap_around_in", mm / 25.4, 6);
	answer_object_close(call->answer);
	answer_table_row(call->answer, MARK_PLAIN, cells);
}

static void around_write(struct call *call, const struct around *choices, size_t count)
{
	static const char *const columns[] = {">labels around", ">gap", ">"};
	answer_object_open(call->answer, NULL);
	answer_array_open(call->answer, "choices");
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		around_row(call, &choices[i]);
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
	answer_object_close(call->answer);
	if (count == 0) {
		answer_line(call->answer, MARK_PLAIN, "no number of labels around has its gap in limits");
	}
}

static enum outcome around_run(struct call *call, const struct value *given)
{
	struct repeat repeat = repeat_of_teeth(given[0].count, given[1].pitch);
	const struct length *least = &given[3].length;
	const struct length *most = &given[4].length;
	if (length_compare(*least, *most) > 0) {
		fault_set(call->fault, OUTCOME_BAD, "gap_around_min is more than gap_around_max: %s",
		          value_text(call->arena, &given[3], call->units));
		fault_hint(call->fault, "Type the smaller gap as gap_around_min.");
		return OUTCOME_BAD;
	}
	struct around *choices = arena_take(call->arena, CHOICES_MOST, sizeof *choices);
	size_t count = around_choices(repeat, given[2].length, least, most, choices, CHOICES_MOST);
	if (count > CHOICES_MOST) {
		fault_set(call->fault, OUTCOME_BAD, "choices are more than %d: %zu", CHOICES_MOST, count);
		fault_hint(call->fault, "Type a longer label_around, or closer limits of the gap.");
		return OUTCOME_BAD;
	}
	around_write(call, choices, count);
	return count > 0 ? OUTCOME_DONE : OUTCOME_NO;
}

static const struct calc_key around_keys[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of the cylinder's gear"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the cylinder's gear"},
	{.name = "label_around",
     .type = VALUE_TOOLING,
     .positive = true,
     .meaning = "label size around the cylinder"},
	{.name = "gap_around_min", .type = VALUE_TOOLING, .meaning = "least gap between labels"},
	{.name = "gap_around_max", .type = VALUE_TOOLING, .meaning = "most gap between labels"},
};

const struct calc_topic calc_around = {
	.name = "around",
	.summary = "how many labels go around a repeat with the gap in limits",
	.keys = around_keys,
	.key_count = COUNT_OF(around_keys),
	.example =
		"calc around teeth=96 pitch=1/8cp label_around=73mm gap_around_min=2mm gap_around_max=4mm",
	.run = around_run,
};

/* ---------------------------------------------------------------- web */

enum { WEB_LABEL, WEB_NUMBER, WEB_GAP, WEB_TRIM };

static const struct calc_key web_keys[] = {
	[WEB_LABEL] = {.name = "label_across",
                   .type = VALUE_TOOLING,
                   .positive = true,
                   .meaning = "label size across the web"},
	[WEB_NUMBER] = {.name = "number_across",
                    .type = VALUE_COUNT,
                    .meaning = "labels across the web"},
	[WEB_GAP] = {.name = "gap_across",
                 .type = VALUE_TOOLING,
                 .optional = true,
                 .meaning = "between them; not asked with one across"},
	[WEB_TRIM] = {.name = "trim", .type = VALUE_TOOLING, .meaning = "on each side"},
};

static enum outcome web_run(struct call *call, const struct value *given)
{
	int64_t number = given[WEB_NUMBER].count;
	struct length gap = given[WEB_GAP].known ? given[WEB_GAP].length : length_from_nm(0);
	struct length trim = given[WEB_TRIM].length;
	if (number > 1 && !given[WEB_GAP].known) {
		return calc_refuse_missing(call, &calc_web, &web_keys[WEB_GAP]);
	}
	struct length web = web_needed(given[WEB_LABEL].length, number, gap, trim);
	struct length printed = length_subtract(web, length_times(trim, 2));
	figures_open(call);
	figure_length(call, "web", real_from_length(web));
	figure_length(call, "printed_width", real_from_length(printed));
	figures_close(call);
	return OUTCOME_DONE;
}

const struct calc_topic calc_web = {
	.name = "web",
	.summary = "width of web that labels across, their gaps and the trim need",
	.keys = web_keys,
	.key_count = COUNT_OF(web_keys),
	.example = "calc web label_across=100mm number_across=3 gap_across=3mm trim=1.5mm",
	.run = web_run,
};
