/*
 * One tool more, as the needs of a shortage ask for it: figures that suit the first of them, and as
 * many of the others as may be.
 */
#include <math.h>
#include <string.h>

#include "ahead.h"
#include "words.h"

/* The needs of a shortage as the tool is to be made for them. */
struct asked_for {
	struct horizon *horizon;
	const struct told_shortage *shortage;
	const struct horizon_job *job; /* of the first */
	const struct run_option *option;
	struct question question; /* the first job, on its first option */
	size_t row;               /* of the first need within its group */
	struct known_length face; /* the widest that one of them prints */
};

static struct question question_of_job(struct horizon *horizon, const struct horizon_job *job)
{
	return horizon_question(horizon, job, job->options[0].press, job->options[0].candidate,
	                        horizon->scratch);
}

/* Needs stand group by group: cylinders, rolls, dies. */
static size_t row_within(const struct horizon_job *job, enum joint_group group, uint32_t need)
{
	size_t before = group == JOINT_CYLINDERS ? 0
	                : group == JOINT_ROLLS   ? job->printing_count
	                                         : job->printing_count * 2;
	return need - before;
}

static const struct horizon_job *job_of(const struct asked_for *asked, struct joint_row row)
{
	return &asked->horizon->jobs[asked->horizon->job_of[row.job]];
}

static void take_face(struct asked_for *asked)
{
	asked->face = asked->question.layout.printed_width;
	for (uint32_t i = 0; i < asked->shortage->row_count; i++) {
		struct question other =
			question_of_job(asked->horizon, job_of(asked, asked->shortage->rows[i]));
		struct known_length width = other.layout.printed_width;
		if (width.known &&
		    (!asked->face.known || length_compare(width.value, asked->face.value) > 0)) {
			asked->face = width;
		}
	}
}

/*
 * The narrowest face of the shop's tools of that kind that is wide enough: what goes with the tool
 * is then at hand. Else the width itself.
 */
static struct known_length face_at_hand(const struct asked_for *asked, enum tool_kind kind)
{
	const struct shelf *tools = &asked->horizon->shelf.tools;
	struct known_length best = {.known = false};
	size_t count = kind_count(tools, kind);
	for (size_t i = 0; i < count && asked->face.known; i++) {
		struct known_length face = shelf_tool(&asked->horizon->shelf, kind, i)->face;
		if (face.known && length_compare(face.value, asked->face.value) >= 0 &&
		    (!best.known || length_compare(face.value, best.value) < 0)) {
			best = face;
		}
	}
	return best.known ? best : asked->face;
}

/* What any new tool is: ready, in the store, of the press's fit. */
static struct tool new_tool(const struct asked_for *asked, enum tool_kind kind)
{
	return (struct tool){
		.fit = asked->question.press->press.fit,
		.condition = CONDITION_READY,
		.place_known = true,
		.place = "",
		.sort = SORT_STORE,
		.face = face_at_hand(asked, kind),
	};
}

/* ---------------------------------------------------------------- rolls */

/* Screens and volumes that still suit all looked at so far. */
struct roll_ranges {
	bool least_known, most_known, volume_known;
	double least, most;
	int64_t volume, volume_least, volume_most;
};

static struct roll_ranges ranges_of(const struct station *station, const struct limits *limits)
{
	struct roll_ranges ranges = {.volume_known = station->volume.known};
	struct volume least, most;
	volumes_taken(station, limits, &least, &most);
	/* Within two steps of what suits: those two are taken back. */
	ranges.volume_least = volume_to_micro(least) + 2;
	ranges.volume_most = volume_to_micro(most) - 2;
	ranges.volume = station->volume.known ? volume_to_micro(station->volume.value) : 0;
	ranges.least_known = station->screen_min.known;
	ranges.least = station->screen_min.known ? screen_to_per_cm(station->screen_min.value) : 0;
	ranges.most_known = station->screen_max.known;
	ranges.most =
		station->screen_max.known ? screen_to_per_cm(station->screen_max.value) : HUGE_VAL;
	if (station->plate_screen.known) {
		double fine = screen_to_per_cm(station->plate_screen.value) * limits->screen_ratio;
		/* Fewer cells to a dot are a caution only: they are kept to where that can be. */
		if (fine <= ranges.most && fine > ranges.least) {
			ranges.least = fine;
			ranges.least_known = true;
		}
	}
	return ranges;
}

static void ranges_join(struct roll_ranges *all, const struct roll_ranges *one)
{
	struct roll_ranges both = {
		.least_known = all->least_known || one->least_known,
		.most_known = all->most_known || one->most_known,
		.volume_known = all->volume_known || one->volume_known,
		.least = fmax(all->least, one->least),
		.most = fmin(all->most, one->most),
		.volume = all->volume_known ? all->volume : one->volume,
		.volume_least = one->volume_known && one->volume_least > all->volume_least
	                        ? one->volume_least
	                        : all->volume_least,
		.volume_most = one->volume_known && one->volume_most < all->volume_most ? one->volume_most
	                                                                            : all->volume_most,
	};
	if (both.least <= both.most && both.volume_least <= both.volume_most) {
		*all = both;
	}
}

/* A screen between: the middle in whole lines, where that lies within. */
static struct known_screen screen_between(const struct roll_ranges *ranges)
{
	double screen = ranges->least_known && ranges->most_known
	                    ? round((ranges->least + ranges->most) / 2)
	                : ranges->least_known ? ranges->least
	                                      : ranges->most;
	if (ranges->least_known && screen < ranges->least) {
		screen = ranges->least;
	}
	if (ranges->most_known && screen > ranges->most) {
		screen = ranges->most;
	}
	return (struct known_screen){.known = ranges->least_known || ranges->most_known,
	                             .value = screen_from_per_cm(screen)};
}

static bool imagine_roll(const struct asked_for *asked, struct imagined *out)
{
	struct shelf *tools = &asked->horizon->shelf.tools;
	struct anilox *roll = &tools->rolls[tools->roll_count];
	const struct limits *limits = asked->question.limits;
	struct roll_ranges all = ranges_of(&asked->question.printing[asked->row], limits);
	for (uint32_t i = 0; i < asked->shortage->row_count; i++) {
		struct joint_row row = asked->shortage->rows[i];
		const struct horizon_job *job = job_of(asked, row);
		struct roll_ranges one =
			ranges_of(&job->printing[row_within(job, JOINT_ROLLS, row.need)], limits);
		ranges_join(&all, &one);
	}
	*roll = (struct anilox){.tool = new_tool(asked, TOOL_ROLL)};
	roll->line_screen = screen_between(&all);
	int64_t volume = all.volume < all.volume_least  ? all.volume_least
	                 : all.volume > all.volume_most ? all.volume_most
	                                                : all.volume;
	roll->volume =
		(struct known_volume){.known = all.volume_known, .value = volume_from_micro(volume)};
	out->words =
		words_of_roll(asked->horizon->arena, roll, asked->question.layout.run, limits->units);
	return true;
}

/* The roll that a blade is wanted for: the first that would do for the need. */
static bool imagine_blade(const struct asked_for *asked, struct imagined *out)
{
	struct shelf *tools = &asked->horizon->shelf.tools;
	struct blade *blade = &tools->blades[tools->blade_count];
	const struct ways *ways = asked->option->ways[asked->job->printing_count + asked->row];
	size_t item;
	if (ways->count == 0) {
		return false;
	}
	resource_kind(asked->horizon, ways->list[0].item, &item);
	*blade = (struct blade){.tool = new_tool(asked, TOOL_BLADE)};
	blade->length = tools->rolls[item].tool.face;
	out->words = words_of_blade(asked->horizon->arena, blade, asked->question.limits->units);
	return blade->length.known;
}

/* ---------------------------------------------------------------- cylinders */

static bool is_geared(const struct press *press)
{
	return press->drive_known && press->geared;
}

static bool imagine_cylinder(const struct asked_for *asked, struct imagined *out)
{
	struct shelf *tools = &asked->horizon->shelf.tools;
	struct cylinder *cylinder = &tools->cylinders[tools->cylinder_count];
	const struct press *press = &asked->question.press->press;
	const struct station *station = &asked->question.printing[asked->row];
	*cylinder = (struct cylinder){.tool = new_tool(asked, TOOL_CYLINDER)};
	cylinder->own = asked->question.layout.repeat;
	cylinder->drive = is_geared(press) || cylinder->own.toothed ? DRIVE_GEARED : DRIVE_GEARLESS;
	cylinder->pressure_angle = press->pressure_angle;
	cylinder->helix = press->helix;
	if (!cylinder->own.known || !station->plate.known || !station->tape.known) {
		return false;
	}
	cylinder->undercut =
		(struct known_length){.known = true,
	                          .value = length_add(station->plate.value, station->tape.value)};
	cylinder->runout = (struct known_length){.known = true, .value = length_from_nm(0)};
	out->words = words_of_cylinder(asked->horizon->arena, cylinder, asked->question.limits->units);
	return true;
}

static bool imagine_gear(const struct asked_for *asked, struct imagined *out)
{
	struct shelf *tools = &asked->horizon->shelf.tools;
	struct gear *gear = &tools->gears[tools->gear_count];
	const struct ways *ways = asked->option->ways[asked->row];
	size_t item;
	for (uint32_t i = 0; i < ways->count; i++) {
		resource_kind(asked->horizon, ways->list[i].item, &item);
		if (ways->list[i].needs_companion) {
			const struct cylinder *cylinder = &tools->cylinders[item];
			*gear = (struct gear){.tool = new_tool(asked, TOOL_GEAR)};
			gear->own = cylinder->own;
			gear->bore = cylinder->bore;
			gear->pressure_angle = cylinder->pressure_angle;
			gear->helix = cylinder->helix;
			out->words = words_of_gear(asked->horizon->arena, gear);
			return true;
		}
	}
	return false;
}

/* ---------------------------------------------------------------- dies */

/* A magnetic cylinder of the print's own teeth that the shop has; NULL: none. */
static const struct magnetic_cylinder *cylinder_at_hand(const struct asked_for *asked)
{
	const struct shelf *tools = &asked->horizon->shelf.tools;
	const struct repeat own = asked->question.layout.repeat;
	for (size_t i = 0; i < tools->magnetic_cylinder_count; i++) {
		const struct magnetic_cylinder *cylinder = &tools->magnetic_cylinders[i];
		if (cylinder->own.known && cylinder->own.toothed && own.toothed &&
		    cylinder->own.teeth == own.teeth && pitch_equal(cylinder->own.pitch, own.pitch) &&
		    cylinder->die_gap.known && cylinder->tool.condition == CONDITION_READY) {
			return cylinder;
		}
	}
	return NULL;
}

static bool imagine_die(const struct asked_for *asked, bool solid, struct imagined *out)
{
	struct shelf *tools = &asked->horizon->shelf.tools;
	struct die *die = &tools->dies[tools->die_count];
	const struct cut *cut = &asked->question.cuts[asked->row];
	const struct layout *layout = &asked->question.layout;
	const struct magnetic_cylinder *carrier = solid ? NULL : cylinder_at_hand(asked);
	/* Where the cut names its die no other is looked at; a special shape takes none but that. */
	bool named =
		cut->die_id != 0 || (layout->shape != NULL && strcmp(layout->shape, "special") == 0);
	if (named || !layout->repeat.known || (!solid && carrier == NULL)) {
		return false;
	}
	*die = (struct die){
		.tool = new_tool(asked, TOOL_DIE),
		.build = solid ? BUILD_SOLID : BUILD_FLEXIBLE,
		.cut = cut->kind,
		.shape = layout->shape,
		.own = layout->repeat,
		.number_across = layout->number_across,
		.number_around = layout->number_around,
		.label_across = layout->label_across,
		.label_around = layout->label_around,
		.gap_across = layout->gap_across,
		.corner = layout->corner,
		.liner_caliper = layout->liner_caliper,
	};
	die->tool.face = asked->face;
	if (carrier != NULL) {
		die->die_gap = carrier->die_gap;
	}
	out->words =
		arena_format(asked->horizon->arena, "%s, %s", solid ? "solid" : "flexible",
	                 words_of_die(asked->horizon->arena, die, asked->question.limits->units));
	return true;
}

static bool imagine_magnetic_cylinder(const struct asked_for *asked, struct imagined *out)
{
	struct shelf *tools = &asked->horizon->shelf.tools;
	struct magnetic_cylinder *cylinder = &tools->magnetic_cylinders[tools->magnetic_cylinder_count];
	const struct ways *ways = asked->option->ways[asked->job->printing_count * 2 + asked->row];
	for (uint32_t i = 0; i < ways->count; i++) {
		size_t item;
		resource_kind(asked->horizon, ways->list[i].item, &item);
		if (ways->list[i].needs_companion) {
			const struct die *die = &tools->dies[item];
			*cylinder = (struct magnetic_cylinder){.tool = new_tool(asked, TOOL_MAGNETIC_CYLINDER)};
			cylinder->own = die->own;
			cylinder->die_gap = die->die_gap;
			cylinder->tool.face = usable_face(&die->tool);
			out->words = words_of_magnetic_cylinder(asked->horizon->arena, cylinder,
			                                        asked->question.limits->units);
			return true;
		}
	}
	return false;
}

/* ---------------------------------------------------------------- any of them */

static bool imagine_kind(const struct asked_for *asked, bool solid, struct imagined *out)
{
	switch (out->kind) {
	case TOOL_CYLINDER:
		return imagine_cylinder(asked, out);
	case TOOL_GEAR:
		return imagine_gear(asked, out);
	case TOOL_ROLL:
		return imagine_roll(asked, out);
	case TOOL_BLADE:
		return imagine_blade(asked, out);
	case TOOL_DIE:
		return imagine_die(asked, solid, out);
	case TOOL_MAGNETIC_CYLINDER:
		return imagine_magnetic_cylinder(asked, out);
	}
	return false;
}

bool imagine_tool(struct horizon *horizon, const struct told_shortage *shortage,
                  struct joint_row first, bool solid, struct imagined *out)
{
	struct asked_for asked = {.horizon = horizon, .shortage = shortage};
	asked.job = job_of(&asked, first);
	asked.option = &asked.job->options[0];
	asked.question = question_of_job(horizon, asked.job);
	asked.row = row_within(asked.job, shortage->group, first.need);
	take_face(&asked);
	*out = (struct imagined){
		.kind = kind_of_group(shortage->group, shortage->companions),
		.need = need_of_group(shortage->group, shortage->companions),
	};
	if (!imagine_kind(&asked, solid, out)) {
		return false;
	}
	out->figures = figures_of_imagined(horizon, out->kind, &out->figure_count);
	return true;
}
