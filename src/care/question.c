/*
 * What looks like a slip in a reading. Each question names the figure, what would be usual and who
 * says so, and how the reading is taken back.
 */
#include <string.h>

#include "question.h"

void question_add(struct questions *questions, const char *text)
{
	if (questions->count < questions->most) {
		questions->texts[questions->count] =
			arena_format(questions->arena, "%s%s; %s", questions->about, text, questions->back);
	}
	questions->count++;
}

/* `5% by volume_rise (common practice, no source)` */
static const char *limit_said(const struct held *held, const char *name, struct percent limit)
{
	return arena_format(held->arena, "%s by %s (%s)", percent_text(limit).bytes, name,
	                    setting_find(name)->source);
}

static const struct value *roll_value(const struct held *held, const char *attribute)
{
	return record_known(held->roll, attribute);
}

/* ---------------------------------------------------------------- by the roll as it is on record
 */

bool held_is_of_now(const struct held *held, const struct wear_reading *reading)
{
	const struct value *engraved = roll_value(held, "engraved");
	return held->life_runs &&
	       (engraved == NULL || moment_compare(reading->moment, engraved->moment) >= 0);
}

static void question_engraved(const struct held *held, const struct wear_reading *reading,
                              struct questions *questions)
{
	struct quantity_text engraved = {""};
	if (held_is_of_now(held, reading)) {
		return;
	}
	if (held->life_runs) {
		engraved = moment_text(roll_value(held, "engraved")->moment);
	}
	question_add(
		questions,
		arena_format(held->arena,
	                 "read before the roll was engraved %s, it tells of the surface that was",
	                 held->life_runs ? engraved.bytes : "anew"));
}

const char *question_of_band(struct arena *arena, struct screen screen, struct volume read,
                             enum units units)
{
	struct volume_band band = volume_band_of(screen);
	int64_t volume = volume_to_micro(read);
	if (!band.known ||
	    (volume >= volume_to_micro(band.least) && volume <= volume_to_micro(band.most))) {
		return NULL;
	}
	return arena_format(arena,
	                    "volume %s, usual at %s is %s to %s (Harper Corporation of America, anilox "
	                    "tables)",
	                    care_volume(arena, read, units), screen_text(screen, units).bytes,
	                    care_volume(arena, band.least, units),
	                    care_volume(arena, band.most, units));
}

static void question_band(const struct held *held, const struct wear_reading *reading,
                          struct questions *questions)
{
	const struct value *screen = roll_value(held, "line_screen");
	const char *text =
		screen != NULL ? question_of_band(held->arena, screen->screen, reading->volume, held->units)
					   : NULL;
	if (text != NULL) {
		question_add(questions, text);
	}
}

static void question_gain(const struct held *held, const struct wear_reading *reading,
                          struct questions *questions)
{
	const struct value *when_new = roll_value(held, "volume");
	if (when_new == NULL) {
		return;
	}
	struct anilox roll = {.volume = {true, when_new->volume},
	                      .reading.now = {true, reading->volume}};
	if (volume_gain_suits(&roll, held->limits, NULL) == SUITS_YES) {
		return;
	}
	double new = volume_to_cm3_m2(when_new->volume), read = volume_to_cm3_m2(reading->volume);
	question_add(
		questions,
		arena_format(
			held->arena,
			"volume %s is %.1f%% above the %s when new, usual is at most %s; perhaps its unit "
			"is wrong",
			care_volume(held->arena, reading->volume, held->units), 100 * (read - new) / new,
			care_volume(held->arena, when_new->volume, held->units),
			limit_said(held, "volume_loss", held->limits->volume_loss)));
}

static void question_run(const struct held *held, const struct wear_reading *reading,
                         struct questions *questions)
{
	const struct value *run = roll_value(held, "run");
	if (run == NULL || !reading->run.known ||
	    length_compare(reading->run.value, run->length) <= 0) {
		return;
	}
	question_add(questions,
	             arena_format(held->arena,
	                          "run %s by then, on record it has run %s since it was engraved",
	                          length_text(reading->run.value, LENGTH_WEB, held->units).bytes,
	                          length_text(run->length, LENGTH_WEB, held->units).bytes));
}

/* ---------------------------------------------------------------- by the readings before it */

/* What the readings before it tell, those by its own method and of its own engraving. */
struct before {
	const struct wear_reading *last;       /* of any sort; NULL: none */
	const struct wear_reading *last_clean; /* after cleaning; NULL: none */
	bool same;                             /* one that is alike in all */
};

/* "surface" and "drawdown" stand as constants. */
static bool is_alike(const struct wear_reading *a, const struct wear_reading *b)
{
	return a->method == b->method && a->clean == b->clean &&
	       moment_compare(a->moment, b->moment) == 0 &&
	       volume_to_micro(a->volume) == volume_to_micro(b->volume);
}

static struct before look_before(const struct held *held, size_t index)
{
	const struct wear_reading *reading = &held->readings[index];
	const struct value *engraved = held->life_runs ? roll_value(held, "engraved") : NULL;
	bool since = engraved != NULL && moment_compare(reading->moment, engraved->moment) >= 0;
	struct before before = {.last = NULL};
	for (size_t i = 0; i < index; i++) {
		const struct wear_reading *earlier = &held->readings[i];
		before.same = before.same || is_alike(earlier, reading);
		if (earlier->method != reading->method ||
		    (since && moment_compare(earlier->moment, engraved->moment) < 0)) {
			continue;
		}
		before.last = earlier;
		before.last_clean = earlier->clean ? earlier : before.last_clean;
	}
	return before;
}

static bool cleaned_between(const struct held *held, struct moment from, struct moment until)
{
	for (size_t i = 0; i < held->cleaning_count; i++) {
		if (moment_compare(held->cleanings[i], from) >= 0 &&
		    moment_compare(held->cleanings[i], until) <= 0) {
			return true;
		}
	}
	return false;
}

/* The most that a reading may be above another and yet be no rise. */
static struct volume most_usual(const struct held *held, struct volume volume)
{
	const struct value share = {.type = VALUE_PERCENT,
	                            .known = true,
	                            .percent = held->limits->volume_rise};
	const double whole = 1e6, rise = (double)value_to_stored(&share) / whole;
	return volume_from_micro((int64_t)((double)volume_to_micro(volume) * (1.0 + rise) + 0.5));
}

static bool is_above(const struct held *held, const struct wear_reading *reading,
                     const struct wear_reading *earlier)
{
	return earlier != NULL &&
	       volume_to_micro(reading->volume) > volume_to_micro(most_usual(held, earlier->volume));
}

/*
 * A roll gains volume by cleaning, as far as it was plugged, and by engraving, which begins a life
 * of its own. One that was read after cleaning is therefore held against the last that was, any
 * other against the last of either sort too. A cleaning on record between the two explains it.
 */
static void question_rise(const struct held *held, size_t index, const struct before *before,
                          struct questions *questions)
{
	const struct wear_reading *reading = &held->readings[index];
	const struct wear_reading *below =
		!reading->clean && is_above(held, reading, before->last) ? before->last
		: is_above(held, reading, before->last_clean)            ? before->last_clean
																 : NULL;
	if (below == NULL || cleaned_between(held, below->moment, reading->moment)) {
		return;
	}
	question_add(
		questions,
		arena_format(
			held->arena,
			"volume %s rose, %s was read %s after %s, and no cleaning or engraving since is "
			"on record; usual is %s at most, %s",
			care_volume(held->arena, reading->volume, held->units),
			care_volume(held->arena, below->volume, held->units), moment_text(below->moment).bytes,
			below->clean ? "cleaning" : "a run",
			care_volume(held->arena, most_usual(held, below->volume), held->units),
			limit_said(held, "volume_rise", held->limits->volume_rise)));
}

/* ---------------------------------------------------------------- all of them */

enum outcome held_question(const struct held *held, size_t index, struct questions *questions,
                           struct fault *fault)
{
	const struct wear_reading *reading = &held->readings[index];
	struct before before = look_before(held, index);
	if (before.same) {
		question_add(questions,
		             arena_format(held->arena, "the same volume is on record already as read %s",
		                          moment_text(reading->moment).bytes));
	}
	question_engraved(held, reading, questions);
	if (held_is_of_now(held, reading)) {
		question_band(held, reading, questions);
		question_gain(held, reading, questions);
		question_run(held, reading, questions);
	}
	question_rise(held, index, &before, questions);
	return held_is_of_now(held, reading) ? question_trend(held, reading, questions, fault)
	                                     : OUTCOME_DONE;
}

size_t held_find(const struct held *held, int64_t id)
{
	size_t index = 0;
	while (index < held->count && held->readings[index].id != id) {
		index++;
	}
	return index;
}

enum outcome held_read(struct store *store, struct arena *arena, int64_t tool, int64_t life,
                       bool life_runs, const struct limits *limits, enum units units,
                       struct held *out, struct fault *fault)
{
	*out = (struct held){.store = store,
	                     .arena = arena,
	                     .limits = limits,
	                     .units = units,
	                     .tool = tool,
	                     .life_runs = life_runs};
	enum outcome outcome =
		store_record_read(store, arena, &kinds[KIND_ANILOX], tool, &out->roll, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_life_readings(store, arena, tool, life, &out->readings, &out->count, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_cleanings(store, arena, tool, &out->cleanings, &out->cleaning_count, fault);
	}
	if (outcome == OUTCOME_DONE && life_runs) {
		outcome = store_wear(store, arena, tool, &out->wear, fault);
	}
	return outcome;
}
