/* Anilox rolls: units of volume and of screen, the shape of a cell, and what a drawdown tells. */
#include "calc.h"

static enum outcome volume_run(struct call *call, const struct value *given)
{
	struct figure metric = {"cm3_m2", volume_to_cm3_m2(given[0].volume), "cm3/m2", 3};
	struct figure inch = {"bcm", volume_to_bcm(given[0].volume), "bcm", 3};
	figures_open(call);
	figure_pair(call, "volume", metric, inch);
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key volume_keys[] = {
	{.name = "volume", .type = VALUE_VOLUME, .meaning = "in either unit"},
};

const struct calc_topic calc_volume = {
	.name = "volume",
	.summary = "volume of a roll in cm3/m2 and in BCM",
	.keys = volume_keys,
	.key_count = COUNT_OF(volume_keys),
	.example = "calc volume volume=4bcm",
	.run = volume_run,
};

static enum outcome screen_run(struct call *call, const struct value *given)
{
	struct figure metric = {"per_cm", screen_to_per_cm(given[0].screen), "/cm", 3};
	struct figure inch = {"lpi", screen_to_lpi(given[0].screen), "lpi", 3};
	figures_open(call);
	figure_pair(call, "screen", metric, inch);
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key screen_keys[] = {
	{.name = "screen", .type = VALUE_SCREEN, .meaning = "in either unit"},
};

const struct calc_topic calc_screen = {
	.name = "screen",
	.summary = "line screen in lines a cm and lines an inch",
	.keys = screen_keys,
	.key_count = COUNT_OF(screen_keys),
	.example = "calc screen screen=360lpi",
	.run = screen_run,
};

enum { CELL_SCREEN, CELL_WALL, CELL_DEPTH };

static enum outcome cell_run(struct call *call, const struct value *given)
{
	struct cell cell;
	const struct length *depth = given[CELL_DEPTH].known ? &given[CELL_DEPTH].length : NULL;
	if (!cell_of(given[CELL_SCREEN].screen, given[CELL_WALL].length, depth, &cell)) {
		fault_set(call->fault, OUTCOME_BAD, "wall leaves no opening: %s",
		          value_text(call->arena, &given[CELL_WALL], call->units));
		fault_hint(call->fault, "Type a thinner wall, or a coarser screen.");
		return OUTCOME_BAD;
	}
	struct figure opening = {"opening_um", real_to_mm(cell.opening) * 1000, "um", 2};
	figures_open(call);
	figure_pair(call, "opening", opening, (struct figure){0});
	if (depth != NULL) {
		figure_percent(call, "depth_to_opening", cell.depth_to_opening_percent);
	} else {
		answer_null(call->answer, "depth_to_opening_percent");
	}
	figures_close(call);
	return OUTCOME_DONE;
}

static const struct calc_key cell_keys[] = {
	[CELL_SCREEN] = {.name = "screen", .type = VALUE_SCREEN, .meaning = "of the roll"},
	[CELL_WALL] = {.name = "wall", .type = VALUE_CELL, .meaning = "between two cells"},
	[CELL_DEPTH] = {.name = "depth",
                    .type = VALUE_CELL,
                    .optional = true,
                    .positive = true,
                    .meaning = "of a cell"},
};

const struct calc_topic calc_cell = {
	.name = "cell",
	.summary = "opening of a cell, and its depth against it",
	.keys = cell_keys,
	.key_count = COUNT_OF(cell_keys),
	.example = "calc cell screen=360lpi wall=5um depth=18um",
	.run = cell_run,
};

enum { DRAWDOWN_LIQUID, DRAWDOWN_AREA };

static enum outcome drawdown_run(struct call *call, const struct value *given)
{
	struct value volume = {.type = VALUE_VOLUME, .known = true};
	if (!drawdown_of(given[DRAWDOWN_LIQUID].liquid, given[DRAWDOWN_AREA].area, &volume.volume)) {
		fault_set(call->fault, OUTCOME_BAD, "liquid is too much for the area: %s",
		          value_text(call->arena, &given[DRAWDOWN_LIQUID], call->units));
		fault_hint(call->fault, "Type less liquid, or a larger area.");
		return OUTCOME_BAD;
	}
	return volume_run(call, &volume);
}

static const struct calc_key drawdown_keys[] = {
	[DRAWDOWN_LIQUID] = {.name = "liquid",
                         .type = VALUE_LIQUID,
                         .positive = true,
                         .meaning = "that was drawn down"},
	[DRAWDOWN_AREA] = {.name = "area",
                       .type = VALUE_AREA,
                       .positive = true,
                       .meaning = "that it covered"},
};

const struct calc_topic calc_drawdown = {
	.name = "drawdown",
	.summary = "volume of a roll from a measured drop and the area that it covered",
	.keys = drawdown_keys,
	.key_count = COUNT_OF(drawdown_keys),
	.example = "calc drawdown liquid=10ul area=16cm2",
	.run = drawdown_run,
};
