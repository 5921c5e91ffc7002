/* What is to be done to a tool, and why: the rules of `due`, kind by kind. */
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "due.h"

/* ---------------------------------------------------------------- words */

#define MM_OF_FOOT 304.8
#define MM_OF_METRE 1000.0

/* To so many whole metres or feet. */
static const char *web_words(const struct due_list *list, struct length length, double steps)
{
	bool inch = list->limits.units == UNITS_INCH;
	double step = steps * (inch ? MM_OF_FOOT : MM_OF_METRE);
	struct length near = length_from_mm(round(length_to_mm(length) / step) * step);
	return arena_copy(list->arena, length_text(near, LENGTH_WEB, list->limits.units).bytes);
}

const char *words_of_web(const struct due_list *list, struct length length)
{
	return web_words(list, length, 1);
}

const char *words_of_web_rough(const struct due_list *list, struct length length)
{
	return web_words(list, length, 100);
}

const char *words_of_day(const struct due_list *list, struct moment moment)
{
	struct moment day = moment_day_start(moment);
	day.date = true;
	return arena_copy(list->arena, moment_text(day).bytes);
}

/* ---------------------------------------------------------------- cleaning, of any kind */

void due_dirty(struct due_list *list, const struct due_asked *asked)
{
	const struct due_tool *tool = asked->tool;
	if (!tool->dirty.known) {
		return;
	}
	struct due_reason reason = {
		.what = DUE_CLEAN,
		.by = "date",
		.overdue = true,
		.least = tool->dirty,
		.most = tool->dirty,
		.text = arena_format(list->arena, "marked dirty since %s",
	                         moment_text(tool->dirty.value).bytes),
	};
	due_add(list, asked, &reason);
}

/* ---------------------------------------------------------------- rolls */

static bool is_some(struct length length)
{
	return length_compare(length, length_from_nm(0)) > 0;
}

/* `150000m at most`; of what is still to come `150000m is reached about 2026-12-20 ...` */
static const char *cleaning_words(const struct due_list *list, const struct due_asked *asked,
                                  const struct due_reason *reason)
{
	const char *every = words_of_web(list, list->limits.clean_every);
	return reason->overdue ? arena_format(list->arena, "%s at most", every)
	       : reason->at_next
	           ? arena_format(list->arena, "%s is reached in %s", every, asked->tool->next_job)
	           : arena_format(list->arena, "%s is reached about %s at its recent use", every,
	                          words_of_day(list, reason->least.value));
}

static void ask_cleaning(struct due_list *list, const struct due_asked *asked)
{
	const struct due_tool *tool = asked->tool;
	struct length every = list->limits.clean_every;
	struct due_reason reason = {.what = DUE_CLEAN, .by = "metres"};
	if (!is_some(every) ||
	    !due_by_web(list, asked, length_subtract(every, tool->since_cleaned), every, &reason)) {
		return;
	}
	const char *since = tool->cleaned.known ? arena_format(list->arena, "since the cleaning on %s",
	                                                       words_of_day(list, tool->cleaned.value))
	                                        : "and no cleaning is on record";
	reason.text =
		arena_format(list->arena, "ran %s %s, %s", words_of_web(list, tool->since_cleaned), since,
	                 cleaning_words(list, asked, &reason));
	due_add(list, asked, &reason);
}

/* A roll that nobody uses need not be read. */
static void ask_reading(struct due_list *list, const struct due_asked *asked)
{
	const struct due_tool *tool = asked->tool;
	struct due_reason reason = {.what = DUE_READ, .by = "date"};
	if (!asked->used || !is_some(tool->since_read) || !(days_in(list->limits.read_every) > 0)) {
		return;
	}
	if (tool->read.known) {
		reason.least.known = true;
		reason.least.value = moment_add(tool->read.value, list->limits.read_every);
		reason.overdue = moment_compare(reason.least.value, list->now) <= 0;
		reason.text =
			arena_format(list->arena, "last read on %s, ran %s since, read every %s",
		                 words_of_day(list, tool->read.value), words_of_web(list, tool->since_read),
		                 duration_text(list->limits.read_every).bytes);
		if (moment_compare(reason.least.value, list->until) > 0) {
			return;
		}
	} else {
		reason.least = tool->first_run;
		reason.overdue = true;
		reason.text = arena_format(list->arena, "never read after cleaning, ran %s",
		                           words_of_web(list, tool->since_read));
	}
	reason.most = reason.least;
	due_add(list, asked, &reason);
}

/* What was read last is past the shop's limit of loss: due since the first of those that were. */
static enum outcome ask_loss(struct due_list *list, const struct due_asked *asked, bool *past)
{
	const struct due_tool *tool = asked->tool;
	struct anilox roll = {.volume = tool->volume, .reading = {.now = tool->wear.clean_volume}};
	struct remarks remarks = {.count = 0};
	struct known_moment since;
	*past =
		volume_loss_suits(&roll, &list->limits, &remarks) == SUITS_DOUBTFUL && remarks.count > 0;
	if (!*past) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_below_since(list->store, tool, volume_at_limit(tool->volume.value, &list->limits),
	                      &since, list->fault);
	since = since.known ? since : tool->wear.clean_moment;
	struct due_reason reason = {
		.what = DUE_DECIDE,
		.by = "date",
		.overdue = true,
		.least = since,
		.most = since,
		.text = arena_copy(list->arena, remarks.items[0].text),
	};
	due_add(list, asked, &reason);
	return outcome;
}

/* `12600m to 45200m`; `within 45200m` where it may be reached already */
static const char *web_range(const struct due_list *list, const struct forecast *forecast)
{
	const char *most = words_of_web_rough(list, forecast->most);
	return is_some(forecast->least) ? arena_format(list->arena, "%s to %s",
	                                               words_of_web_rough(list, forecast->least), most)
	                                : arena_format(list->arena, "within %s", most);
}

/*
 * `20% loss since new by its trend between 2026-12-24 and 2027-02-10, 12600m to 45200m of web`;
 * without dates, where the recent use is not known, by web alone.
 */
static const char *forecast_words(const struct due_list *list, const struct forecast *forecast)
{
	struct text text = text_start(list->arena);
	bool now = !is_some(forecast->least);
	const char *least = words_of_web_rough(list, forecast->least);
	const char *day =
		now || !forecast->days_known ? "now" : words_of_day(list, forecast->date_least);
	text_add_format(&text, "%s loss since new by its trend ",
	                percent_text(list->limits.volume_loss).bytes);
	if (forecast->passed) {
		text_add(&text, "is reached");
	} else if (!forecast->most_known && now) {
		text_add(&text, "may be reached, no end can be told");
	} else if (!forecast->most_known && forecast->days_known) {
		text_add_format(&text, "on %s at the earliest, in %s, no end can be told", day, least);
	} else if (!forecast->most_known) {
		text_add_format(&text, "in %s at the earliest, no end can be told", least);
	} else if (forecast->days_known) {
		text_add_format(&text, "between %s and %s, %s of web", day,
		                words_of_day(list, forecast->date_most), web_range(list, forecast));
	} else {
		text_add_format(&text, now ? "%s of web" : "after %s of web", web_range(list, forecast));
	}
	return text.bytes;
}

/* The trend says that the limit of loss is reached, or may be in the time that is looked at. */
static void ask_forecast(struct due_list *list, const struct due_asked *asked)
{
	const struct due_tool *tool = asked->tool;
	struct forecast forecast =
		care_forecast(list->arena, tool, &list->limits, list->limits.recent, list->now);
	struct due_reason reason = {.what = DUE_DECIDE, .by = "forecast"};
	if (!forecast.known) {
		bool lacks = !tool->wear.known || tool->wear.trend.says == TREND_TOO_FEW ||
		             !tool->volume.known || !tool->run.known;
		list->rolls_to_read += asked->used && lacks ? 1 : 0;
		return;
	}
	/* By the run that the forecast is counted from. */
	struct length whole = length_add(tool->wear.run_read, forecast.least);
	if (!due_by_life(list, asked, forecast.least, whole, &reason)) {
		return;
	}
	/* What may be reached by now need not be. */
	reason.overdue = forecast.passed;
	if (!is_some(forecast.least)) {
		reason.least = (struct known_moment){.known = true, .value = list->now};
	}
	reason.most = (struct known_moment){
		.known = forecast.days_known && forecast.most_known,
		.value = forecast.date_most,
	};
	reason.left_most = (struct known_length){
		.known = forecast.most_known,
		.value = forecast.most,
	};
	reason.text = forecast_words(list, &forecast);
	due_add(list, asked, &reason);
}

static int64_t ppm_of(struct percent percent)
{
	struct value value = {.type = VALUE_PERCENT, .known = true, .percent = percent};
	return value_to_stored(&value);
}

/* Without a date: it may be of an earlier reading than the latest, and which is not kept. */
static void ask_evenness(struct due_list *list, const struct due_asked *asked)
{
	const struct wear_kept *wear = &asked->tool->wear;
	if (!wear->uneven.known || ppm_of(wear->uneven.value) <= ppm_of(list->limits.uneven)) {
		return;
	}
	struct due_reason reason = {
		.what = DUE_DECIDE,
		.by = "date",
		.overdue = true,
		.text = arena_format(list->arena,
	                         "left, centre and right differ by %.1f%% of their mean, %s at most",
	                         (double)ppm_of(wear->uneven.value) / 10000,
	                         percent_text(list->limits.uneven).bytes),
	};
	due_add(list, asked, &reason);
}

enum outcome due_roll(struct due_list *list, const struct due_asked *asked)
{
	bool past;
	ask_cleaning(list, asked);
	ask_reading(list, asked);
	enum outcome outcome = ask_loss(list, asked, &past);
	if (!past) {
		ask_forecast(list, asked);
	}
	ask_evenness(list, asked);
	return outcome;
}

/* ---------------------------------------------------------------- blades */

/* Fewer tell nothing of a material. */
#define BLADES_TELL_LEAST 5

static const char *const materials[MATERIALS] = {"steel", "coated", "polymer"};

/* Behind those where the material is not known. */
static size_t material_of(const char *material)
{
	size_t index = 0;
	while (index < MATERIALS && (material == NULL || strcmp(materials[index], material) != 0)) {
		index++;
	}
	return index;
}

/* How long blades of the material ran here; read once a list. */
static enum outcome lives_of(struct due_list *list, const char *material, struct lives_run *out)
{
	size_t index = material_of(material);
	struct material_run *run = &list->materials[index];
	enum outcome outcome = OUTCOME_DONE;
	if (index < MATERIALS && !run->read) {
		outcome = store_blades_run(list->store, material, &run->lives, list->fault);
		run->read = outcome == OUTCOME_DONE;
	}
	*out = run->lives;
	return outcome;
}

static void add_material(const struct due_list *list, const char *material,
                         const struct lives_run *lives, struct text *text)
{
	if (lives->count >= BLADES_TELL_LEAST) {
		text_add_format(text, "; %s blades here ran %s in the middle of %" PRId64, material,
		                words_of_web(list, lives->middle), lives->count);
	}
}

enum outcome due_blade(struct due_list *list, const struct due_asked *asked)
{
	const struct due_tool *tool = asked->tool;
	struct known_length whole = care_life(tool, &list->limits);
	struct known_length left = life_left(tool, &list->limits);
	struct due_reason reason = {.what = DUE_BLADE, .by = "metres"};
	struct lives_run lives = {.count = 0};
	if (!left.known && asked->used) {
		list->materials[material_of(tool->material)].without_life++;
	}
	if (!left.known || !due_by_life(list, asked, left.value, whole.value, &reason)) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = lives_of(list, tool->material, &lives);
	struct text text = text_start(list->arena);
	text_add_format(&text, reason.overdue ? "ran %s of %s" : "%s left of %s",
	                words_of_web(list, reason.overdue ? tool->run.value : left.value),
	                words_of_web(list, whole.value));
	if (!tool->blade_life.known) {
		text_add_format(&text, " (set life_%s)", tool->material);
	}
	add_material(list, tool->material, &lives, &text);
	reason.text = text.bytes;
	due_add(list, asked, &reason);
	return outcome;
}

/* ---------------------------------------------------------------- dies */

static bool is_build(const struct due_tool *tool, const char *build)
{
	return tool->die_build != NULL && strcmp(tool->die_build, build) == 0;
}

static int64_t turns_of(struct length web, struct length around)
{
	return (int64_t)floor(length_to_mm(web) / length_to_mm(around) + 1e-9);
}

/* `ground 4 times, 4 at most: order a new one`; regrind, or what there is to decide. */
static const char *die_words(const struct due_list *list, const struct due_tool *tool,
                             enum due_what *what)
{
	int64_t ground = tool->life - 1;
	*what = DUE_DECIDE;
	if (is_build(tool, "flexible")) {
		return "a flexible die is replaced, not ground: order a new one";
	}
	if (!is_build(tool, "solid")) {
		return "build not known: a solid die is ground, a flexible one replaced";
	}
	if (ground >= list->limits.regrinds) {
		return arena_format(list->arena,
		                    "ground %" PRId64 " times, %" PRId64 " at most: order a new one",
		                    ground, list->limits.regrinds);
	}
	*what = DUE_REGRIND;
	return ground == 0 ? "not ground yet"
	                   : arena_format(list->arena, "ground %" PRId64 " time%s so far", ground,
	                                  ground == 1 ? "" : "s");
}

void due_die(struct due_list *list, const struct due_asked *asked)
{
	const struct due_tool *tool = asked->tool;
	struct known_length whole = care_life(tool, &list->limits);
	struct known_length left = life_left(tool, &list->limits);
	struct due_reason reason = {.by = "metres"};
	list->dies_without_life += !left.known && asked->used ? 1 : 0;
	if (!left.known || !due_by_life(list, asked, left.value, whole.value, &reason)) {
		return;
	}
	struct length told = reason.overdue ? tool->run.value : left.value;
	const char *more = die_words(list, tool, &reason.what);
	reason.text =
		arena_format(list->arena,
	                 reason.overdue ? "ran %" PRId64 " of %" PRId64 " revolutions, %s; %s"
	                                : "%" PRId64 " of %" PRId64 " revolutions left, %s; %s",
	                 turns_of(told, tool->around.value), tool->die_life.value,
	                 words_of_web(list, told), more);
	due_add(list, asked, &reason);
}

/* ---------------------------------------------------------------- cylinders */

void due_cylinder(struct due_list *list, const struct due_asked *asked)
{
	const struct cylinder cylinder = {.runout = asked->tool->runout};
	struct remarks remarks = {.count = 0};
	if (runout_suits(&cylinder, &list->limits, &remarks) != SUITS_NOT) {
		return;
	}
	struct due_reason reason = {
		.what = DUE_DECIDE,
		.by = "date",
		.overdue = true,
		.least = asked->tool->gauged,
		.most = asked->tool->gauged,
		.text = arena_copy(list->arena, remarks.items[0].text),
	};
	due_add(list, asked, &reason);
}

/* ---------------------------------------------------------------- what cannot be told */

static const char *many(int64_t count)
{
	return count == 1 ? "" : "s";
}

static void say(struct due *out, const char *sentence)
{
	out->says[out->say_count++] = sentence;
}

static enum outcome say_materials(struct due_list *list, struct due *out)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < MATERIALS && outcome == OUTCOME_DONE; i++) {
		int64_t count = list->materials[i].without_life;
		struct lives_run lives;
		struct text text = text_start(list->arena);
		if (count == 0) {
			continue;
		}
		outcome = lives_of(list, materials[i], &lives);
		text_add_format(&text, "life not known of %" PRId64 " %s blade%s in use: set life_%s",
		                count, materials[i], many(count), materials[i]);
		add_material(list, materials[i], &lives, &text);
		say(out, text.bytes);
	}
	return outcome;
}

enum outcome due_says(struct due_list *list, struct due *out)
{
	out->says = arena_take(list->arena, MATERIALS + 3, sizeof *out->says);
	enum outcome outcome = say_materials(list, out);
	int64_t blades = list->materials[MATERIALS].without_life;
	if (blades > 0) {
		say(out,
		    arena_format(list->arena,
		                 "life not known of %" PRId64 " blade%s in use, nor of what: edit each "
		                 "with material= or life=",
		                 blades, many(blades)));
	}
	if (list->dies_without_life > 0) {
		say(out,
		    arena_format(list->arena,
		                 "life not known of %" PRId64 " die%s in use: edit each with life=, in "
		                 "revolutions",
		                 list->dies_without_life, many(list->dies_without_life)));
	}
	if (list->rolls_to_read > 0) {
		say(out,
		    arena_format(list->arena,
		                 "no forecast of %" PRId64 " roll%s in use: wear TAG says what it needs",
		                 list->rolls_to_read, many(list->rolls_to_read)));
	}
	return outcome;
}
