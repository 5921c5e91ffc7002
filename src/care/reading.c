/* `reading TAG volume=...`: what was read of a roll put on record, and questioned. */
#include <stdlib.h>
#include <string.h>

#include "question.h"
#include "tool.h"

/* One reading being put on record. */
struct taking {
	struct store *store;
	struct arena *arena;
	const struct reading_asked *asked;
	const struct actor *actor;
	enum units units;
	struct limits limits;
	struct record *reading;
	int64_t tool;
	bool life_runs; /* it is of the life that runs */
	struct cared *out;
};

/* ---------------------------------------------------------------- the volume */

/* A volume, and the key that it came by. */
struct source {
	const char *key;
	struct volume volume;
};

static enum outcome refuse_blank(const char *what, const char *hint, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s", what);
	fault_hint(fault, "%s", hint);
	return OUTCOME_BAD;
}

static enum outcome take_across(const struct taking *taking, struct source *out,
                                struct fault *fault)
{
	const struct across *across = &taking->asked->across.across;
	const struct volume parts[] = {across->left, across->centre, across->right};
	for (size_t i = 0; i < COUNT_OF(parts); i++) {
		if (volume_to_micro(parts[i]) <= 0) {
			fault_set(fault, OUTCOME_BAD, "across must be more than nothing: %s",
			          across_text(*across, taking->units).bytes);
			fault_hint(fault, "Leave it out where one was not read.");
			return OUTCOME_BAD;
		}
	}
	*out = (struct source){"across", across_mean(*across)};
	return OUTCOME_DONE;
}

static enum outcome take_drawdown(const struct taking *taking, struct source *out,
                                  struct fault *fault)
{
	const struct reading_asked *asked = taking->asked;
	if (!asked->liquid.known || !asked->area.known) {
		return refuse_blank(asked->liquid.known ? "area is not given, a drawdown has one"
		                                        : "liquid is not given, a drawdown has some",
		                    "Type both: liquid=12ul area=25cm2.", fault);
	}
	if (asked->method != NULL && strcmp(asked->method, "drawdown") != 0) {
		fault_set(fault, OUTCOME_BAD, "method of liquid and area is drawdown, not: %s",
		          asked->method);
		fault_hint(fault, "Leave method= out, or type volume= as the surface was read.");
		return OUTCOME_BAD;
	}
	*out = (struct source){.key = "liquid and area"};
	if (!drawdown_of(asked->liquid.liquid, asked->area.area, &out->volume) ||
	    volume_to_micro(out->volume) <= 0) {
		fault_set(fault, OUTCOME_BAD, "liquid and area give no volume: %s, %s",
		          liquid_text(asked->liquid.liquid).bytes,
		          area_text(asked->area.area, taking->units).bytes);
		fault_hint(fault, "Type the liquid taken up and the area it filled: liquid=12ul "
		                  "area=25cm2.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/*
 * Figures rounded to two digits, as 6.7 for 6.65, are off by less than one percent; more apart they
 * are two readings, or one of them is a slip.
 */
static bool agree(struct volume a, struct volume b)
{
	int64_t x = volume_to_micro(a), y = volume_to_micro(b);
	return llabs(x - y) <= (x > y ? x : y) / 100;
}

static enum outcome refuse_apart(const struct taking *taking, const struct source *a,
                                 const struct source *b, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s and %s tell two volumes: %s, %s", a->key, b->key,
	          volume_text(a->volume, taking->units).bytes,
	          volume_text(b->volume, taking->units).bytes);
	fault_hint(fault, "Leave one of them out.");
	return OUTCOME_BAD;
}

/* From whatever was given; where that is several, they agree and the first counts. */
static enum outcome settle_volume(const struct taking *taking, struct volume *out,
                                  struct fault *fault)
{
	const struct reading_asked *asked = taking->asked;
	struct source sources[3];
	size_t count = 0;
	enum outcome outcome = OUTCOME_DONE;
	if (asked->volume.known && volume_to_micro(asked->volume.volume) <= 0) {
		fault_set(fault, OUTCOME_BAD, "volume must be more than nothing: %s",
		          volume_text(asked->volume.volume, taking->units).bytes);
		fault_hint(fault, "Type what was read: volume=4.3bcm.");
		return OUTCOME_BAD;
	}
	if (asked->volume.known) {
		sources[count++] = (struct source){"volume", asked->volume.volume};
	}
	if (asked->across.known) {
		outcome = take_across(taking, &sources[count++], fault);
	}
	if (outcome == OUTCOME_DONE && (asked->liquid.known || asked->area.known)) {
		outcome = take_drawdown(taking, &sources[count++], fault);
	}
	if (outcome == OUTCOME_DONE && count == 0) {
		return refuse_blank("volume is not given, nor across, nor liquid and area",
		                    "Type volume=4.3bcm, across=left/centre/right, or liquid=12ul "
		                    "area=25cm2.",
		                    fault);
	}
	for (size_t i = 1; i < count && outcome == OUTCOME_DONE; i++) {
		if (!agree(sources[0].volume, sources[i].volume)) {
			return refuse_apart(taking, &sources[0], &sources[i], fault);
		}
	}
	*out = sources[0].volume;
	return outcome;
}

/* ---------------------------------------------------------------- the record */

static void put_words(struct record *record, const char *attribute, const char *words)
{
	struct value *value = record_value(record, attribute);
	value->known = words != NULL;
	value->text = words;
}

static enum outcome settle_moment(const struct taking *taking, struct moment *out,
                                  struct fault *fault)
{
	const struct value *given = &taking->asked->moment;
	*out = given->known ? given->moment : actor_moment(taking->actor);
	/* A year mistyped would make it the latest reading for good. */
	if (moment_compare(*out, taking->actor->now) > 0) {
		fault_set(fault, OUTCOME_BAD, "moment lies ahead: %s, and it is %s",
		          moment_text(*out).bytes, moment_text(taking->actor->now).bytes);
		fault_hint(fault, "Type when it was taken; it cannot be put on record before.");
		return OUTCOME_BAD;
	}
	out->date = false; /* kept to the second: as that day begins */
	return OUTCOME_DONE;
}

static enum outcome fill_record(struct taking *taking, struct fault *fault)
{
	const struct reading_asked *asked = taking->asked;
	struct record *record = record_new(taking->arena, &kinds[KIND_READING]);
	struct value *volume = record_value(record, "volume"), *moment = record_value(record, "moment");
	enum outcome outcome = settle_volume(taking, &volume->volume, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = settle_moment(taking, &moment->moment, fault);
	}
	volume->known = moment->known = true;
	*record_value(record, "across") = asked->across;
	record_value(record, "across")->type = VALUE_ACROSS;
	*record_value(record, "run") = asked->run;
	record_value(record, "run")->type = VALUE_WEB;
	put_words(record, "method", asked->liquid.known ? "drawdown" : asked->method);
	put_words(record, "after", asked->after);
	record->references[kind_attribute_find(record->kind, "tool")] = taking->tool;
	taking->reading = record;
	return outcome;
}

/* A tag mistyped is most often that of another roll: one that is scrapped is read by nobody. */
static enum outcome find_roll(struct taking *taking, const char *tag, struct fault *fault)
{
	struct found found;
	struct care_tool tool;
	enum outcome outcome = store_find(taking->store, tag, REFER_ANILOX, &found, fault);
	taking->tool = found.id;
	return outcome == OUTCOME_DONE ? care_tool_find(taking->store, taking->arena, tag, &tool, fault)
	                               : outcome;
}

/* ---------------------------------------------------------------- what is said of it */

/* A roll below the limit is known when it is read, not when it is next asked for. */
static void say_lost(const struct taking *taking, const struct held *held,
                     const struct wear_reading *reading)
{
	struct remarks remarks = {.count = 0};
	const struct value *when_new = record_known(held->roll, "volume");
	if (!reading->clean || when_new == NULL || !held_is_of_now(held, reading)) {
		return;
	}
	struct anilox roll = {.volume = {true, when_new->volume},
	                      .reading.now = {true, reading->volume}};
	if (volume_loss_suits(&roll, &taking->limits, &remarks) != SUITS_YES) {
		taking->out->lost = arena_copy(taking->arena, remarks.items[0].text);
	}
}

/* In millionths. */
static int64_t millionths(struct percent percent)
{
	struct value value = {.type = VALUE_PERCENT, .known = true, .percent = percent};
	return value_to_stored(&value);
}

/* One that is worn or plugged more on one side prints darker on the other. */
static void say_uneven(const struct taking *taking, const struct held *held,
                       const struct wear_reading *reading)
{
	const struct value *across = record_known(taking->reading, "across");
	if (across == NULL || !held_is_of_now(held, reading)) {
		return;
	}
	const double millionths_of_percent = 10000;
	int64_t uneven = millionths(across_unevenness(across->across));
	if (uneven > millionths(taking->limits.uneven)) {
		taking->out->uneven =
			arena_format(taking->arena,
		                 "left, centre and right differ by %.1f%% of their mean, %s at most%s",
		                 (double)uneven / millionths_of_percent,
		                 percent_text(taking->limits.uneven).bytes,
		                 reading->clean ? ""
		                                : "; perhaps it is plugged: read it again after cleaning");
	}
}

static enum outcome question_it(struct taking *taking, struct fault *fault)
{
	struct held held;
	struct wear_reading reading;
	struct questions questions = {
		.arena = taking->arena,
		.texts = arena_take(taking->arena, QUESTIONS_MOST, sizeof(const char *)),
		.most = QUESTIONS_MOST,
		.about = "",
		.back = "if it is a slip, type undo",
	};
	struct reading_named named = {.id = taking->reading->id, .tool = taking->tool};
	enum outcome outcome =
		store_reading_life(taking->store, named.id, &named.life, &named.life_runs, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_reading_one(taking->store, named.id, &reading, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = held_read(taking->store, taking->arena, &named, &taking->limits, taking->units,
		                    &held, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = held_question(&held, &reading, &questions, fault);
		taking->life_runs = named.life_runs;
		taking->out->life = named.life;
		say_lost(taking, &held, &reading);
		say_uneven(taking, &held, &reading);
		taking->out->kind = held.roll->kind;
		taking->out->tag = record_words(held.roll, "tag");
		taking->out->what = care_what(taking->arena, held.roll, taking->units);
		taking->out->record = held.roll;
	}
	taking->out->questions = questions.texts;
	taking->out->question_count = questions.count;
	if (taking->asked->after == NULL) {
		taking->out->note = "after= is not given: it counts as read after a run; if it was read "
							"after cleaning, type undo, then the reading again with after=clean";
	}
	return outcome;
}

static enum outcome take(struct taking *taking, const char *tag, struct fault *fault)
{
	enum outcome outcome = store_limits(taking->store, &taking->limits, fault);
	taking->limits.units = taking->units;
	if (outcome == OUTCOME_DONE) {
		outcome = find_roll(taking, tag, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = fill_record(taking, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_insert(taking->store, taking->arena, taking->reading, taking->actor,
		                              fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = question_it(taking, fault);
	}
	return outcome;
}

/* As it is on record, its tool by its tag; and the trend with it. */
static enum outcome read_back(struct taking *taking, struct fault *fault)
{
	enum outcome outcome = store_record_read(taking->store, taking->arena, &kinds[KIND_READING],
	                                         taking->reading->id, &taking->out->reading, fault);
	return outcome == OUTCOME_DONE
	           ? store_wear(taking->store, taking->arena, taking->tool, &taking->out->wear, fault)
	           : outcome;
}

enum outcome care_reading(struct store *store, struct arena *arena, const char *tag,
                          const struct reading_asked *asked, enum units units,
                          const struct actor *actor, struct cared *out, struct fault *fault)
{
	struct taking taking = {.store = store,
	                        .arena = arena,
	                        .asked = asked,
	                        .actor = actor,
	                        .units = units,
	                        .out = out};
	*out = (struct cared){.kind = NULL};
	enum outcome outcome = store_begin(store, "care_reading", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = take(&taking, tag, fault);
	outcome = care_tool_end(store, outcome, fault);
	/* The trend is worked out as it is committed. */
	return outcome == OUTCOME_DONE ? read_back(&taking, fault) : outcome;
}
