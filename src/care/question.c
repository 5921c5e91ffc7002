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
	return held->named.life_runs &&
	       (engraved == NULL || moment_compare(reading->moment, engraved->moment) >= 0);
}

static void question_engraved(const struct held *held, const struct wear_reading *reading,
                              struct questions *questions)
{
	struct quantity_text engraved = {""};
	if (held_is_of_now(held, reading)) {
		return;
	}
	if (held->named.life_runs) {
		engraved = moment_text(roll_value(held, "engraved")->moment);
	}
	question_add(
		questions,
		arena_format(held->arena,
	                 "read before the roll was engraved %s, it tells of the surface that was",
	                 held->named.life_runs ? engraved.bytes : "anew"));
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

/* A run does not go back: ten times less or more is the usual slip. */
static void question_back(const struct held *held, const struct wear_reading *reading,
                          const struct run_said *said, const char *than,
                          struct questions *questions)
{
	question_add(questions,
	             arena_format(held->arena, "run %s by then is %s than the %s told of %s",
	                          length_text(reading->run.value, LENGTH_WEB, held->units).bytes, than,
	                          length_text(said->run, LENGTH_WEB, held->units).bytes,
	                          moment_text(said->moment.value).bytes));
}

static enum outcome question_said(const struct held *held, const struct wear_reading *reading,
                                  struct questions *questions, struct fault *fault)
{
	struct run_said before, after;
	if (!reading->run.known) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_runs_said(held->store, &held->named, reading, &before, &after, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (before.moment.known && length_compare(reading->run.value, before.run) < 0) {
		question_back(held, reading, &before, "less", questions);
	}
	/* What stands on record now is questioned as that. */
	const struct value *run = held_is_of_now(held, reading) ? roll_value(held, "run") : NULL;
	bool same = run != NULL && length_compare(run->length, after.run) == 0;
	if (after.moment.known && !same && length_compare(reading->run.value, after.run) > 0) {
		question_back(held, reading, &after, "more", questions);
	}
	return outcome;
}

/* ---------------------------------------------------------------- by the readings before it */

/* The last readings before it, by its own method and of its own engraving; `id` 0: none. */
struct before {
	struct wear_reading any, clean; /* of either sort; after cleaning */
	bool same;                      /* the one of its sort is alike */
};

static bool is_alike(const struct wear_reading *a, const struct wear_reading *b)
{
	return a->id != 0 && moment_compare(a->moment, b->moment) == 0 &&
	       volume_to_micro(a->volume) == volume_to_micro(b->volume);
}

static struct wear_reading later_of(struct wear_reading a, struct wear_reading b)
{
	if (a.id == 0 || b.id == 0) {
		return a.id == 0 ? b : a;
	}
	int order = moment_compare(a.moment, b.moment);
	return order > 0 || (order == 0 && a.id > b.id) ? a : b;
}

static enum outcome look_before(const struct held *held, const struct wear_reading *reading,
                                struct before *before, struct fault *fault)
{
	static const char *const sorts[] = {"clean", "run", NULL};
	struct wear_reading last[COUNT_OF(sorts)];
	const struct value *engraved = roll_value(held, "engraved");
	bool since = engraved != NULL && held_is_of_now(held, reading);
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < COUNT_OF(sorts) && outcome == OUTCOME_DONE; i++) {
		outcome = store_reading_before(held->store, &held->named, reading, sorts[i],
		                               since ? &engraved->moment : NULL, &last[i], fault);
	}
	if (outcome == OUTCOME_DONE) {
		struct wear_reading run = later_of(last[1], last[2]);
		*before = (struct before){
			.any = later_of(last[0], run),
			.clean = last[0],
			.same = is_alike(reading->clean ? &last[0] : &run, reading),
		};
	}
	return outcome;
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
	return earlier->id != 0 &&
	       volume_to_micro(reading->volume) > volume_to_micro(most_usual(held, earlier->volume));
}

/*
 * A roll gains volume by cleaning, as far as it was plugged, and by engraving, which begins a life
 * of its own. One that was read after cleaning is therefore held against the last that was, any
 * other against the last of either sort too. A cleaning on record between the two explains it.
 */
static enum outcome question_rise(const struct held *held, const struct wear_reading *reading,
                                  const struct before *before, struct questions *questions,
                                  struct fault *fault)
{
	bool cleaned;
	const struct wear_reading *below = !reading->clean && is_above(held, reading, &before->any)
	                                       ? &before->any
	                                   : is_above(held, reading, &before->clean) ? &before->clean
	                                                                             : NULL;
	if (below == NULL) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = store_cleaned_between(held->store, held->named.tool, below->moment,
	                                             reading->moment, &cleaned, fault);
	if (outcome != OUTCOME_DONE || cleaned) {
		return outcome;
	}
	question_add(
		questions,
		arena_format(held->arena,
	                 "volume %s rose, %s was read %s after %s, and no cleaning or engraving "
	                 "since is on record; usual is %s at most, %s",
	                 care_volume(held->arena, reading->volume, held->units),
	                 care_volume(held->arena, below->volume, held->units),
	                 moment_text(below->moment).bytes, below->clean ? "cleaning" : "a run",
	                 care_volume(held->arena, most_usual(held, below->volume), held->units),
	                 limit_said(held, "volume_rise", held->limits->volume_rise)));
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- all of them */

enum outcome held_question(const struct held *held, const struct wear_reading *reading,
                           struct questions *questions, struct fault *fault)
{
	struct before before;
	enum outcome outcome = look_before(held, reading, &before, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
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
	outcome = question_said(held, reading, questions, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = question_rise(held, reading, &before, questions, fault);
	}
	return outcome == OUTCOME_DONE && held_is_of_now(held, reading)
	           ? question_trend(held, reading, questions, fault)
	           : outcome;
}

enum outcome held_read(struct store *store, struct arena *arena, const struct reading_named *named,
                       const struct limits *limits, enum units units, struct held *out,
                       struct fault *fault)
{
	*out = (struct held){.store = store,
	                     .arena = arena,
	                     .limits = limits,
	                     .units = units,
	                     .named = *named};
	enum outcome outcome =
		store_record_read(store, arena, &kinds[KIND_ANILOX], named->tool, &out->roll, fault);
	return outcome == OUTCOME_DONE && named->life_runs
	           ? store_wear(store, arena, named->tool, &out->wear, fault)
	           : outcome;
}
