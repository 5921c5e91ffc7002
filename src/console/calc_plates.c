/* Plates on a cylinder: distortion, undercut, build-up. */
#include "calc.h"

/* ---------------------------------------------------------------- distortion */

enum {
	DISTORTION_REPEAT,
	DISTORTION_TEETH,
	DISTORTION_PITCH,
	DISTORTION_PLATE,
	DISTORTION_BASE,
	DISTORTION_SLEEVE
};

static const struct calc_key distortion_keys[] = {
	[DISTORTION_REPEAT] = {.name = "repeat",
                           .type = VALUE_TOOLING,
                           .optional = true,
                           .positive = true,
                           .meaning = "of the cylinder; or teeth and pitch"},
	[DISTORTION_TEETH] = {.name = "teeth",
                          .type = VALUE_COUNT,
                          .optional = true,
                          .meaning = "of its gear"},
	[DISTORTION_PITCH] = {.name = "pitch",
                          .type = VALUE_PITCH,
                          .optional = true,
                          .meaning = "of its gear"},
	[DISTORTION_PLATE] = {.name = "plate",
                          .type = VALUE_TOOLING,
                          .optional = true,
                          .positive = true,
                          .meaning = "thickness, its base included"},
	[DISTORTION_BASE] = {.name = "base",
                         .type = VALUE_TOOLING,
                         .optional = true,
                         .meaning = "thickness of its polyester base, as the plate's maker says"},
	[DISTORTION_SLEEVE] = {.name = "sleeve",
                           .type = VALUE_YES_NO,
                           .optional = true,
                           .meaning = "yes: imaged in the round, so that nothing stretches"},
};

static enum outcome distortion_repeat(struct call *call, const struct value *given,
                                      struct real_length *out)
{
	bool toothed = given[DISTORTION_TEETH].known || given[DISTORTION_PITCH].known;
	if (given[DISTORTION_REPEAT].known && toothed) {
		fault_set(call->fault, OUTCOME_BAD, "repeat given twice: as a length, and by its gear");
		fault_hint(call->fault, "Type repeat, or teeth and pitch.");
		return OUTCOME_BAD;
	}
	if (given[DISTORTION_REPEAT].known) {
		*out = real_from_length(given[DISTORTION_REPEAT].length);
		return OUTCOME_DONE;
	}
	for (size_t i = DISTORTION_TEETH; i <= DISTORTION_PITCH; i++) {
		if (!given[i].known) {
			/* Without any of them, the repeat is what is asked for first. */
			size_t missing = toothed ? i : DISTORTION_REPEAT;
			return calc_refuse_missing(call, &calc_distortion, &distortion_keys[missing]);
		}
	}
	*out = pitch_times(given[DISTORTION_PITCH].pitch, given[DISTORTION_TEETH].count);
	return OUTCOME_DONE;
}

static enum outcome distortion_refuse(struct call *call, const struct value *given)
{
	const char *plate = value_text(call->arena, &given[DISTORTION_PLATE], call->units);
	const char *base = value_text(call->arena, &given[DISTORTION_BASE], call->units);
	if (length_compare(given[DISTORTION_BASE].length, given[DISTORTION_PLATE].length) > 0) {
		fault_set(call->fault, OUTCOME_BAD, "base is thicker than the plate: %s", base);
		fault_hint(call->fault, "Type a base of %s at most.", plate);
	} else {
		fault_set(call->fault, OUTCOME_BAD, "plate is too thick for the repeat: %s", plate);
		fault_hint(call->fault, "Type a longer repeat, or a thinner plate.");
	}
	return OUTCOME_BAD;
}

static enum outcome distortion_run(struct call *call, const struct value *given)
{
	struct real_length repeat = {0};
	enum outcome outcome = distortion_repeat(call, given, &repeat);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct distortion distortion = {.factor_percent = 100, .flat_length = repeat};
	if (!given[DISTORTION_SLEEVE].known || !given[DISTORTION_SLEEVE].yes) {
		for (size_t i = DISTORTION_PLATE; i <= DISTORTION_BASE; i++) {
			if (!given[i].known) {
				return calc_refuse_missing(call, &calc_distortion, &distortion_keys[i]);
			}
		}
		if (!distortion_of(repeat, given[DISTORTION_PLATE].length, given[DISTORTION_BASE].length,
		                   &distortion)) {
			return distortion_refuse(call, given);
		}
	}
	figures_open(call);
	figure_length(call, "repeat", repeat);
	figure_length(call, "k", distortion.k);
	figure_percent(call, "reduction", distortion.reduction_percent);
	figure_percent(call, "factor", distortion.factor_percent);
	figure_length(call, "flat_length", distortion.flat_length);
	figures_close(call);
	return OUTCOME_DONE;
}

const struct calc_topic calc_distortion = {
	.name = "distortion",
	.summary = "how much shorter a plate is made flat, by the K method",
	.keys = distortion_keys,
	.key_count = COUNT_OF(distortion_keys),
	.example = "calc distortion repeat=15in plate=0.112in base=0.005in",
	.run = distortion_run,
};

/* ---------------------------------------------------------------- undercut */

static enum outcome undercut_run(struct call *call, const struct value *given)
{
	struct repeat repeat = repeat_of_teeth(given[0].count, given[1].pitch);
	struct length plate = given[2].length;
	struct length tape = given[3].length;
	struct real_length bare = bare_diameter(repeat, plate, tape);
	if (real_at_most(bare, real_from_length(length_from_nm(0)))) {
		fault_set(call->fault, OUTCOME_BAD, "plate and tape are too thick for the repeat: %s",
		          length_text(length_add(plate, tape), LENGTH_TOOLING, call->units).bytes);
		fault_hint(call->fault, "Type more teeth, or a thinner plate.");
		return OUTCOME_BAD;
	}
	figures_open(call);
	figure_length(call, "undercut", real_from_length(length_add(plate, tape)));
	figure_length(call, "bare_diameter", bare);
	figure_length(call, "pitch_diameter", pitch_diameter(given[1].pitch, given[0].count));
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key undercut_keys[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of the cylinder's gear"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the cylinder's gear"},
	{.name = "plate", .type = VALUE_TOOLING, .meaning = "thickness"},
	{.name = "tape", .type = VALUE_TOOLING, .meaning = "thickness of the mounting tape"},
};

const struct calc_topic calc_undercut = {
	.name = "undercut",
	.summary = "undercut (radial) that a plate and its tape need, and the bare diameter",
	.keys = undercut_keys,
	.key_count = COUNT_OF(undercut_keys),
	.example = "calc undercut teeth=96 pitch=1/8cp plate=1.702mm tape=0.381mm",
	.run = undercut_run,
};

/* ---------------------------------------------------------------- build-up */

static enum outcome buildup_run(struct call *call, const struct value *given)
{
	struct real_length repeat = pitch_times(given[1].pitch, given[0].count);
	struct real_length bare = real_from_length(given[2].length);
	struct real_length printed = printed_diameter(bare, given[3].length, given[4].length);
	struct real_length around = length_around(printed);
	figures_open(call);
	figure_length(call, "print_diameter", printed);
	figure_length(call, "print_length", around);
	figure_length(call, "repeat", repeat);
	figure_length(call, "error", real_subtract(around, repeat));
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key buildup_keys[] = {
	{.name = "teeth", .type = VALUE_COUNT, .meaning = "of the cylinder's gear"},
	{.name = "pitch", .type = VALUE_PITCH, .meaning = "of the cylinder's gear"},
	{.name = "diameter", .type = VALUE_TOOLING, .positive = true, .meaning = "measured, bare"},
	{.name = "plate", .type = VALUE_TOOLING, .meaning = "thickness"},
	{.name = "tape", .type = VALUE_TOOLING, .meaning = "thickness of the mounting tape"},
};

const struct calc_topic calc_buildup = {
	.name = "buildup",
	.summary = "what a cylinder prints with what is mounted; error is that less the repeat",
	.keys = buildup_keys,
	.key_count = COUNT_OF(buildup_keys),
	.example = "calc buildup teeth=96 pitch=1/8cp diameter=92.855mm plate=1.702mm tape=0.381mm",
	.run = buildup_run,
};
