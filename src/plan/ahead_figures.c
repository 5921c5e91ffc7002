/* The figures of a tool that is imagined, under the names by which it would be put on record. */
#include "ahead.h"

struct figures {
	struct arena *arena;
	struct ahead_figure *items;
	size_t count;
};
#define FIGURES_MOST 20

static void figure_add(struct figures *figures, const char *name, bool known, const char *value)
{
	if (known && value != NULL) {
		figures->items[figures->count++] =
			(struct ahead_figure){name, arena_copy(figures->arena, value)};
	}
}

static void length_add_to(struct figures *figures, const char *name, struct known_length length)
{
	figure_add(figures, name, length.known,
	           length_text(length.value, LENGTH_TOOLING, UNITS_METRIC).bytes);
}

static void angle_add_to(struct figures *figures, const char *name, struct known_angle angle)
{
	figure_add(figures, name, angle.known, angle_text(angle.value).bytes);
}

static void count_add_to(struct figures *figures, const char *name, struct known_count count)
{
	figure_add(figures, name, count.known,
	           arena_format(figures->arena, "%lld", (long long)count.value));
}

static void repeat_add_to(struct figures *figures, struct repeat own)
{
	bool toothed = own.known && own.toothed;
	count_add_to(figures, "teeth", (struct known_count){toothed, toothed ? own.teeth : 0});
	if (toothed) {
		figure_add(figures, "pitch", true, pitch_text(own.pitch).bytes);
	} else if (own.known) {
		length_add_to(figures, "repeat",
		              (struct known_length){true, real_round(repeat_length(own))});
	}
}

static void cylinder_figures(struct figures *figures, const struct cylinder *cylinder)
{
	static const char *const drives[] = {[DRIVE_UNKNOWN] = NULL,
	                                     [DRIVE_GEARED] = "geared",
	                                     [DRIVE_DEMOUNTABLE] = "demountable",
	                                     [DRIVE_GEARLESS] = "gearless"};
	repeat_add_to(figures, cylinder->own);
	figure_add(figures, "drive", true, drives[cylinder->drive]);
	length_add_to(figures, "undercut", cylinder->undercut);
	length_add_to(figures, "runout", cylinder->runout);
	angle_add_to(figures, "pressure_angle", cylinder->pressure_angle);
	angle_add_to(figures, "helix", cylinder->helix);
	length_add_to(figures, "bore", cylinder->bore);
}

static void gear_figures(struct figures *figures, const struct gear *gear)
{
	repeat_add_to(figures, gear->own);
	angle_add_to(figures, "pressure_angle", gear->pressure_angle);
	angle_add_to(figures, "helix", gear->helix);
	length_add_to(figures, "bore", gear->bore);
}

static void roll_figures(struct figures *figures, const struct anilox *roll)
{
	figure_add(figures, "line_screen", roll->line_screen.known,
	           screen_text(roll->line_screen.value, UNITS_METRIC).bytes);
	figure_add(figures, "volume", roll->volume.known,
	           volume_text(roll->volume.value, UNITS_METRIC).bytes);
}

static void die_figures(struct figures *figures, const struct die *die)
{
	figure_add(figures, "build", true, die->build == BUILD_SOLID ? "solid" : "flexible");
	figure_add(figures, "cut", die->cut != NULL, die->cut);
	repeat_add_to(figures, die->own);
	count_add_to(figures, "number_across", die->number_across);
	count_add_to(figures, "number_around", die->number_around);
	length_add_to(figures, "label_across", die->label_across);
	length_add_to(figures, "label_around", die->label_around);
	length_add_to(figures, "gap_across", die->gap_across);
	length_add_to(figures, "corner", die->corner);
	figure_add(figures, "shape", die->shape != NULL, die->shape);
	length_add_to(figures, "liner_caliper", die->liner_caliper);
	length_add_to(figures, "die_gap", die->die_gap);
}

struct ahead_figure *figures_of_imagined(struct horizon *horizon, enum tool_kind kind,
                                         size_t *count)
{
	const struct shelf *tools = &horizon->shelf.tools;
	size_t last = kind_count(tools, kind);
	const struct tool *tool = NULL;
	struct figures figures = {.arena = horizon->arena};
	figures.items = arena_take(horizon->arena, FIGURES_MOST, sizeof *figures.items);
	switch (kind) {
	case TOOL_CYLINDER:
		tool = &tools->cylinders[last].tool;
		cylinder_figures(&figures, &tools->cylinders[last]);
		break;
	case TOOL_GEAR:
		gear_figures(&figures, &tools->gears[last]);
		break;
	case TOOL_ROLL:
		tool = &tools->rolls[last].tool;
		roll_figures(&figures, &tools->rolls[last]);
		break;
	case TOOL_BLADE:
		tool = &tools->blades[last].tool;
		length_add_to(&figures, "length", tools->blades[last].length);
		break;
	case TOOL_DIE:
		tool = &tools->dies[last].tool;
		die_figures(&figures, &tools->dies[last]);
		break;
	case TOOL_MAGNETIC_CYLINDER:
		tool = &tools->magnetic_cylinders[last].tool;
		repeat_add_to(&figures, tools->magnetic_cylinders[last].own);
		length_add_to(&figures, "die_gap", tools->magnetic_cylinders[last].die_gap);
		break;
	}
	if (tool != NULL) {
		if (kind != TOOL_BLADE) {
			length_add_to(&figures, "face", tool->face);
		}
		figure_add(&figures, "fit", tool->fit != NULL, tool->fit);
	}
	*count = figures.count;
	return figures.items;
}
