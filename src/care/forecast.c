/* When the wear of a tool comes to its limit: of a roll by its trend, of blades and dies by count.
 */
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "use.h"

#define DAY_S 86400
/* A tool's use is not told from less. */
#define DAYS_LEAST 7.0 /* a week: one job would pass for a habit */
/* Nobody plans a tool further: what lies past it has no date. */
#define DAYS_MOST 36500.0

/* ---------------------------------------------------------------- recent use */

double days_in(struct duration duration)
{
	struct value value = {.type = VALUE_DURATION, .known = true, .duration = duration};
	return (double)value_to_stored(&value) / DAY_S;
}

struct duration duration_of_days(double days)
{
	return value_from_stored(VALUE_DURATION, (int64_t)floor(days * DAY_S)).duration;
}

struct duration care_use_over(const struct due_tool *tool, struct duration recent,
                              struct moment now)
{
	double days = days_in(recent);
	if (tool->first_run.known) {
		days = fmin(days, days_in(moment_between(tool->first_run.value, now)));
	}
	return duration_of_days(days < DAYS_LEAST ? 0 : days);
}

struct length care_per_day(const struct due_tool *tool, struct duration recent, struct moment now)
{
	double days = days_in(care_use_over(tool, recent, now));
	return length_from_mm(days > 0 ? length_to_mm(tool->recent) / days : 0);
}

/* Days and dates of a range of web, where there is a recent use. */
static void fill_dates(struct forecast *out, struct length per_day, struct moment now)
{
	out->days_known = days_of(out->least, per_day, &out->days_least);
	if (!out->days_known) {
		out->why = "recent use not known";
		return;
	}
	out->days_least = fmin(out->days_least, DAYS_MOST);
	out->date_least = moment_add(now, duration_of_days(out->days_least));
	if (!out->most_known) {
		return;
	}
	(void)days_of(out->most, per_day, &out->days_most);
	out->most_known = out->exact || out->days_most <= DAYS_MOST;
	out->days_most = fmin(out->days_most, DAYS_MOST);
	out->date_most = moment_add(now, duration_of_days(out->days_most));
}

/* ---------------------------------------------------------------- blades and dies */

static struct length life_of_material(const char *material, const struct limits *limits)
{
	return material == NULL                   ? length_from_nm(0)
	       : strcmp(material, "steel") == 0   ? limits->life_steel
	       : strcmp(material, "coated") == 0  ? limits->life_coated
	       : strcmp(material, "polymer") == 0 ? limits->life_polymer
	                                          : length_from_nm(0);
}

struct known_length care_life(const struct due_tool *tool, const struct limits *limits)
{
	struct known_length life = {.known = false};
	if (tool->kind->id == KIND_BLADE) {
		life = tool->blade_life;
		if (!life.known) {
			life.value = life_of_material(tool->material, limits);
			life.known = length_compare(life.value, length_from_nm(0)) > 0;
		}
	} else if (tool->kind->id == KIND_DIE && tool->die_life.known && tool->around.known) {
		life.known = true;
		life.value = length_times(tool->around.value, tool->die_life.value);
	}
	return life;
}

struct known_length life_left(const struct due_tool *tool, const struct limits *limits)
{
	struct known_length left = care_life(tool, limits);
	if (left.known && tool->run.known) {
		left.value = length_subtract(left.value, tool->run.value);
	}
	return left;
}

static void forecast_life(const struct due_tool *tool, const struct limits *limits,
                          struct forecast *out)
{
	struct known_length left = life_left(tool, limits);
	if (!left.known) {
		out->why = tool->kind->id == KIND_DIE && tool->die_life.known ? "length around not known"
		                                                              : "life not known";
		return;
	}
	out->known = true;
	out->exact = true;
	out->most_known = true;
	out->passed = length_compare(left.value, length_from_nm(0)) <= 0;
	out->least = out->passed ? length_from_nm(0) : left.value;
	out->most = out->least;
}

/* ---------------------------------------------------------------- rolls */

static struct length not_below_none(struct length length)
{
	return length_compare(length, length_from_nm(0)) < 0 ? length_from_nm(0) : length;
}

/* `3 readings after cleaning at a known run needed, 1 on record`; what counts for nothing is told,
 * too. */
static const char *too_few(struct arena *arena, const struct wear_kept *wear)
{
	struct text text = text_start(arena);
	int64_t count = wear->known ? (int64_t)wear->trend.count : 0;
	if (count >= TREND_POINTS_LEAST) {
		return "readings at different runs needed, all are at one";
	}
	text_add_format(&text,
	                "%d readings after cleaning at a known run needed, %" PRId64 " on record",
	                TREND_POINTS_LEAST, count);
	if (wear->known && wear->run_not_known > 0) {
		text_add_format(&text, ", %" PRId64 " more at a run not known", wear->run_not_known);
	}
	if (wear->known && wear->other_method > 0) {
		text_add_format(&text, ", %" PRId64 " more by another method", wear->other_method);
	}
	return text.bytes;
}

/* What is lacking for a forecast of a roll; NULL: nothing. */
static const char *lacking(struct arena *arena, const struct due_tool *tool)
{
	const struct trend *trend = &tool->wear.trend;
	return !tool->wear.known || trend->says == TREND_TOO_FEW ? too_few(arena, &tool->wear)
	       : !tool->volume.known                             ? "volume when new not known"
	       : trend->says == TREND_RISES                      ? "readings rise, none tells of wear"
	       : !trend_forecasts(trend)                         ? "readings show no trend"
	       : !tool->wear.fits ? "the latest reading has left the trend, read it again"
	                          : NULL;
}

static void forecast_roll(struct arena *arena, const struct due_tool *tool,
                          const struct limits *limits, struct forecast *out)
{
	struct trend_reach reach;
	out->why = lacking(arena, tool);
	if (out->why != NULL) {
		return;
	}
	trend_reaches(&tool->wear.trend, volume_at_limit(tool->volume.value, limits), &reach);
	if (!reach.least_known && !reach.most_known) {
		out->why = "readings scatter too much to tell";
		return;
	}
	struct length run = tool->wear.run_read;
	out->known = true;
	out->passed = reach.line_known && length_compare(reach.line, run) <= 0;
	out->most_known = reach.most_known;
	out->least =
		reach.least_known ? not_below_none(length_subtract(reach.least, run)) : length_from_nm(0);
	out->most =
		reach.most_known ? not_below_none(length_subtract(reach.most, run)) : length_from_nm(0);
}

struct forecast care_forecast(struct arena *arena, const struct due_tool *tool,
                              const struct limits *limits, struct duration recent,
                              struct moment now)
{
	struct forecast out = {.known = false};
	if (tool->kind->id == KIND_ANILOX) {
		forecast_roll(arena, tool, limits, &out);
	} else if (tool->kind->id == KIND_BLADE || tool->kind->id == KIND_DIE) {
		forecast_life(tool, limits, &out);
	} else {
		out.why = "nothing of it is forecast";
	}
	if (out.known) {
		fill_dates(&out, care_per_day(tool, recent, now), now);
	}
	return out;
}
