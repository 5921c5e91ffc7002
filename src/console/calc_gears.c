/* Teeth and repeat of a gear. */
#include "calc.h"

static enum outcome repeat_run(struct call *call, const struct value *given)
{
	struct pitch pitch = given[1].pitch;
	figures_open(call);
	figure_length(call, "repeat", pitch_times(pitch, given[0].count));
	figure_length(call, "pitch_diameter", pitch_diameter(pitch, given[0].count));
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key repeat_keys[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of the gear"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the gear"},
};

const struct calc_topic calc_repeat = {
	.name = "repeat",
	.summary = "repeat and pitch diameter of a gear",
	.keys = repeat_keys,
	.key_count = COUNT_OF(repeat_keys),
	.example = "calc repeat teeth=96 pitch=1/8cp",
	.run = repeat_run,
};

static enum outcome teeth_run(struct call *call, const struct value *given)
{
	struct real_length asked = real_from_length(given[0].length);
	struct pitch pitch = given[1].pitch;
	int64_t teeth = teeth_nearest(asked, pitch);
	struct real_length repeat = pitch_times(pitch, teeth);
	figures_open(call);
	figure_count(call, "teeth", teeth);
	figure_length(call, "repeat", repeat);
	figure_length(call, "error", real_subtract(asked, repeat));
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key teeth_keys[] = {
	{.name = "repeat", .type = VALUE_TOOLING, .positive = true, .meaning = "length asked"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the gear"},
};

const struct calc_topic calc_teeth = {
	.name = "teeth",
	.summary = "whole teeth nearest to a repeat; error is what was asked less what they give",
	.keys = teeth_keys,
	.key_count = COUNT_OF(teeth_keys),
	.example = "calc teeth repeat=12in pitch=1/8cp",
	.run = teeth_run,
};
