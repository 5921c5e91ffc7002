/* What the commands of care answer with. */
#include "cared_answer.h"

#include <string.h>

#include "records.h"
#include "wear_words.h"

/* ---------------------------------------------------------------- as data */

static void volume_write(struct answer *answer, const char *attribute, struct known_volume volume)
{
	const struct value value = {.type = VALUE_VOLUME,
	                            .known = volume.known,
	                            .volume = volume.value};
	answer_value(answer, attribute, &value);
}

static void trend_write(struct answer *answer, const struct wear_kept *wear)
{
	const struct value uneven = {.type = VALUE_PERCENT,
	                             .known = wear->uneven.known,
	                             .percent = wear->uneven.value};
	answer_object_open(answer, "trend");
	answer_word(answer, "says", trend_word(wear->trend.says));
	answer_count(answer, "readings", (int64_t)wear->trend.count);
	volume_write(answer, "clean_volume", wear->clean_volume);
	answer_value(answer, "uneven", &uneven);
	volume_write(answer, "gave_back", wear->gave_back);
	answer_object_close(answer);
}

void questions_write(struct answer *answer, const char *const *questions, size_t count)
{
	answer_array_open(answer, "questions");
	for (size_t i = 0; i < count; i++) {
		answer_word(answer, NULL, questions[i]);
	}
	answer_array_close(answer);
}

/* Attributes of the tool as they are now, and what changed of it by this. */
static void told_write(struct answer *answer, const struct cared *cared)
{
	if (cared->told == NULL) {
		return;
	}
	for (const char *const *name = cared->told; *name != NULL; name++) {
		if (kind_attribute_find(cared->kind, *name) != SIZE_MAX) {
			answer_value(answer, *name, record_value(cared->record, *name));
		}
	}
	if (cared->usable != NULL) {
		struct value left = {.type = VALUE_TOOLING, .known = true};
		left.length = length_subtract(record_value(cared->record, "face_to")->length,
		                              record_value(cared->record, "face_from")->length);
		answer_value(answer, "usable_face", &left);
	}
	answer_array_open(answer, "changes");
	for (size_t i = 0; i < cared->change_count; i++) {
		answer_object_open(answer, NULL);
		answer_word(answer, "attribute", cared->changes[i].attribute);
		answer_word(answer, "before", cared->changes[i].before);
		answer_word(answer, "after", cared->changes[i].after);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

/* All that is on record of a reading but its roll, whose tag stands above. */
static void reading_write(struct answer *answer, const struct record *reading)
{
	for (size_t i = 0; reading != NULL && i < kind_attribute_count(reading->kind); i++) {
		const struct attribute *attribute = kind_attribute(reading->kind, i);
		if (attribute->reference == REFER_NONE) {
			answer_value(answer, attribute->name, &reading->values[i]);
		}
	}
}

void cared_write(struct call *call, const struct cared *cared)
{
	struct answer *answer = call->answer;
	const struct value ended = {.type = VALUE_WEB,
	                            .known = cared->ended.known,
	                            .length = cared->ended.value};
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", cared->tag);
	answer_word(answer, "kind", cared->kind->name);
	answer_count(answer, "life", cared->life);
	answer_yes_no(answer, "new_life", cared->new_life);
	if (cared->new_life) {
		answer_value(answer, "ended", &ended);
	}
	told_write(answer, cared);
	reading_write(answer, cared->reading);
	if (cared->wear.known) {
		trend_write(answer, &cared->wear);
	}
	questions_write(answer, cared->questions, cared->question_count);
	answer_word(answer, "lost", cared->lost);
	answer_word(answer, "uneven", cared->uneven);
	answer_word(answer, "note", cared->note);
	answer_word(answer, "caution", cared->caution);
	answer_object_close(answer);
}

/* ---------------------------------------------------------------- as text */

/* To whole metres or feet: nobody counts a life finer. */
static const char *ended_said(struct call *call, struct length run)
{
	const double inches = length_to_in(run), inches_a_foot = 12;
	return call->units == UNITS_INCH ? arena_format(call->arena, "%.0fft", inches / inches_a_foot)
	                                 : arena_format(call->arena, "%.0fm", length_to_m(run));
}

static void life_say(struct call *call, const struct cared *cared)
{
	if (cared->new_life && cared->ended.known) {
		answer_line(call->answer, MARK_PLAIN, "  the life before had run %s",
		            ended_said(call, cared->ended.value));
	} else if (cared->new_life) {
		answer_line(call->answer, MARK_PLAIN, "  what the life before had run is not known");
	}
}

/* What became of the face is told as a whole, and the run by that of the life before. */
static void changes_say(struct call *call, const struct cared *cared)
{
	struct text line = text_start(call->arena);
	for (size_t i = 0; i < cared->change_count; i++) {
		const struct cared_change *change = &cared->changes[i];
		bool edge = strncmp(change->attribute, "face_", 5) == 0;
		if (edge || strcmp(change->attribute, "run") == 0) {
			continue;
		}
		text_join(&line, "; ", change->attribute);
		text_add_format(&line, " %s -> %s", change->before != NULL ? change->before : "not known",
		                change->after != NULL ? change->after : "not known");
	}
	if (line.length > 0) {
		answer_line(call->answer, MARK_PLAIN, "  %s", line.bytes);
	}
}

static void trend_say(struct call *call, const struct wear_kept *wear)
{
	const struct trend *trend = &wear->trend;
	struct text line = text_start(call->arena);
	switch (trend->says) {
	case TREND_TOO_FEW:
		text_add_format(&line, "too few readings for a trend of wear: %s",
		                readings_lacking(call->arena, trend));
		break;
	case TREND_NONE:
		text_add_format(&line,
		                trend->count < READINGS_TELL
		                    ? "%zu readings after cleaning are too few to be sure of a trend"
		                    : "no trend in %zu readings after cleaning",
		                trend->count);
		break;
	case TREND_FALLS:
		text_add_format(&line, "wears %s a million m of web, by %zu readings after cleaning",
		                volume_said(call, -trend->slope), trend->count);
		break;
	case TREND_RISES:
		text_add_format(&line,
		                "rises %s a million m of web, by %zu readings after cleaning: no "
		                "roll does that by running",
		                volume_said(call, trend->slope), trend->count);
		break;
	}
	answer_line(call->answer, trend->says == TREND_RISES ? MARK_CAUTION : MARK_PLAIN, "  %s",
	            line.bytes);
}

void questions_say(struct answer *answer, const char *const *questions, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		answer_line(answer, MARK_CAUTION, "  caution: %s", questions[i]);
	}
}

void cared_say(struct call *call, const struct cared *cared, const char *said)
{
	struct answer *answer = call->answer;
	if (answer_form(answer) != FORM_TEXT) {
		return;
	}
	answer_line(answer, MARK_PLAIN, "%s  %s: %s", cared->tag, cared->what, said);
	life_say(call, cared);
	changes_say(call, cared);
	if (cared->usable != NULL) {
		answer_line(answer, MARK_PLAIN, "  %s", cared->usable);
	}
	if (cared->wear.known) {
		trend_say(call, &cared->wear);
	}
	if (cared->note != NULL) {
		answer_line(answer, MARK_PLAIN, "  %s", cared->note);
	}
	if (cared->lost != NULL) {
		answer_line(answer, MARK_CAUTION, "  caution: %s", cared->lost);
	}
	if (cared->uneven != NULL) {
		answer_line(answer, MARK_CAUTION, "  caution: %s", cared->uneven);
	}
	questions_say(answer, cared->questions, cared->question_count);
	if (cared->caution != NULL) {
		answer_line(answer, MARK_DIM, "handling: %s", cared->caution);
	}
}

enum outcome cared_answer(struct call *call, const struct cared *cared, const char *said)
{
	cared_write(call, cared);
	cared_say(call, cared, said);
	return OUTCOME_DONE;
}
