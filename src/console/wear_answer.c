/* What `wear` says of a tool. */
#include "wear_answer.h"

#include "wear_words.h"

/* ---------------------------------------------------------------- for people */

/* `12.4% lost`; of a roll that reads above its volume when new `3.1% more than when new`. */
static const char *lost_said(struct call *call, struct percent lost)
{
	struct value value = {.type = VALUE_PERCENT, .known = true, .percent = lost};
	int64_t ppm = value_to_stored(&value);
	struct percent more = value_from_stored(VALUE_PERCENT, -ppm).percent;
	return ppm < 0 ? arena_format(call->arena, "%s more than when new, none lost",
	                              percent_text(more).bytes)
	               : arena_format(call->arena, "%s lost", percent_text(lost).bytes);
}

static void say_lost(struct call *call, const struct worn *worn)
{
	struct text line = text_start(call->arena);
	if (worn->when_new.known) {
		text_add_format(&line, "%s when new",
		                volume_said(call, volume_to_cm3_m2(worn->when_new.value)));
	} else {
		text_add(&line, "volume when new not known");
	}
	if (!worn->now.known) {
		text_add(&line, ", never read after cleaning in this life");
		answer_line(call->answer, MARK_CAUTION, "%s", line.bytes);
		return;
	}
	text_add_format(&line, ", %s read after cleaning %s",
	                volume_said(call, volume_to_cm3_m2(worn->now.value)),
	                moment_text(worn->wear.clean_moment.value).bytes);
	if (worn->lost.known) {
		text_add_format(&line, ": %s, %s at most", lost_said(call, worn->lost.value),
		                percent_text(call->limits.volume_loss).bytes);
	}
	bool over = worn->loss_passed;
	answer_line(call->answer, over ? MARK_CAUTION : MARK_PLAIN, "%s", line.bytes);
}

/* In whole days: a first run lies at any second. */
static const char *days_over(struct call *call, struct duration over)
{
	struct value value = {.type = VALUE_DURATION, .known = true, .duration = over};
	return arena_format(call->arena, "%lldd", (long long)(value_to_stored(&value) / 86400));
}

/* `run 8250000m, 27066929 revolutions; 1200m a day over the last 90d` */
static void say_use(struct call *call, const struct worn *worn)
{
	struct text line = text_start(call->arena);
	text_add_format(&line, "run %s",
	                worn->run.known ? web_said(call, worn->run.value) : "not known");
	if (worn->by_readings) {
		text_add(&line, " by its readings");
	}
	if (worn->revolutions.known) {
		text_add_format(&line, ", %lld revolutions", (long long)worn->revolutions.value);
	}
	if (worn->life > 1) {
		text_add_format(&line, " in its %s life", ordinal_said(call, worn->life));
	}
	if (length_compare(worn->per_day, length_from_nm(0)) > 0) {
		text_add_format(&line, "; %s a day over the last %s", web_said(call, worn->per_day),
		                days_over(call, worn->recent));
	} else {
		text_add(&line, worn->used ? "; used for less than a week, its use a day is not known"
		                           : "; no recent use on record");
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
}

static void say_left_out(struct call *call, const struct wear_kept *wear)
{
	if (wear->other_method > 0) {
		answer_line(call->answer, MARK_PLAIN,
		            "not in the trend: %lld reading%s by another method than %s",
		            (long long)wear->other_method, wear->other_method == 1 ? "" : "s",
		            wear->method != NULL ? wear->method : "that of the others (not on record)");
	}
	if (wear->run_not_known > 0) {
		answer_line(call->answer, MARK_PLAIN,
		            "not in the trend: %lld reading%s whose run is not known; import reading FILE "
		            "update=yes with tool, moment, method, after, volume and run puts it on record",
		            (long long)wear->run_not_known, wear->run_not_known == 1 ? "" : "s");
	}
}

static void say_slope(struct call *call, const struct trend *trend)
{
	answer_line(call->answer, trend->says == TREND_RISES ? MARK_CAUTION : MARK_PLAIN,
	            "trend: %s a million %s, %s; %zu readings (%s)", slope_said(call, trend->slope),
	            web_unit(call), slopes_said(call, trend), trend->count, chance_said(call, trend));
}

static void say_trend(struct call *call, const struct worn *worn)
{
	const struct trend *trend = &worn->wear.trend;
	switch (trend->says) {
	case TREND_TOO_FEW:
		answer_line(call->answer, MARK_PLAIN, "trend: too few readings: %s",
		            readings_lacking(call->arena, trend));
		break;
	case TREND_NONE:
		answer_line(call->answer, MARK_PLAIN,
		            trend->count < READINGS_TELL
		                ? "trend: %zu readings are too few to be sure of one (%s)"
		                : "trend: %zu readings show none (%s)",
		            trend->count, chance_said(call, trend));
		answer_line(call->answer, MARK_PLAIN, "slope %s a million %s, %s",
		            slope_said(call, trend->slope), web_unit(call), slopes_said(call, trend));
		break;
	case TREND_FALLS:
	case TREND_RISES:
		say_slope(call, trend);
		break;
	}
	if (trend->says != TREND_TOO_FEW && !worn->wear.fits) {
		answer_line(call->answer, MARK_CAUTION,
		            "the latest reading lies more than %s from the trend's line: a check counts by "
		            "the reading; read the roll again",
		            percent_text(call->limits.trend_match).bytes);
	}
	if (trend->says == TREND_RISES) {
		answer_line(call->answer, MARK_CAUTION,
		            "a roll gains no volume by running: see whether it was engraved anew, or the "
		            "readings are right");
	}
	say_left_out(call, &worn->wear);
}

static void say_cleaning(struct call *call, const struct worn *worn)
{
	const struct wear_kept *wear = &worn->wear;
	if (wear->gave_back.known) {
		double volume = volume_to_cm3_m2(wear->gave_back.value);
		answer_line(call->answer, MARK_PLAIN, "plugging: the cleaning before %s gave back %s",
		            moment_text(wear->gave_back_moment.value).bytes, volume_said(call, volume));
	} else {
		answer_line(call->answer, MARK_PLAIN,
		            "plugging: not known, no cleaning has a reading before and after it");
	}
	if (wear->uneven.known) {
		bool over = percent_over(wear->uneven.value, call->limits.uneven);
		answer_line(call->answer, over ? MARK_CAUTION : MARK_PLAIN,
		            "left, centre and right lie %s apart, %s at most",
		            tenths_said(call, wear->uneven.value), percent_text(call->limits.uneven).bytes);
	}
}

static void say_roll(struct call *call, const struct worn *worn)
{
	say_lost(call, worn);
	say_use(call, worn);
	if (worn->wear.known) {
		say_trend(call, worn);
	}
	answer_line(call->answer, worn->passed ? MARK_CAUTION : MARK_PLAIN, "%s",
	            forecast_said(call, worn));
	if (worn->wear.known) {
		say_cleaning(call, worn);
	}
}

static void say_life(struct call *call, const struct worn *worn)
{
	struct text line = text_start(call->arena);
	if (worn->life_turns.known) {
		text_add_format(&line, "life %lld revolutions", (long long)worn->life_turns.value);
		if (worn->life_web.known) {
			text_add_format(&line, ", %s", web_said(call, worn->life_web.value));
		}
	} else if (worn->life_web.known) {
		text_add_format(&line, "life %s", web_said(call, worn->life_web.value));
	} else {
		text_add(&line, "life not known");
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	say_use(call, worn);
	answer_line(call->answer, worn->passed ? MARK_CAUTION : MARK_PLAIN, "%s",
	            forecast_said(call, worn));
}

/* What came with the record: nobody knows when it was gauged. */
static void say_on_record(struct call *call, const struct worn *worn)
{
	const struct value *diameter = record_known(worn->record, "diameter");
	const struct value *runout = record_known(worn->record, "runout");
	if (diameter != NULL || runout != NULL) {
		answer_line(call->answer, MARK_PLAIN, "on record: diameter %s, runout %s",
		            diameter != NULL ? value_text(call->arena, diameter, call->units) : "not known",
		            runout != NULL ? value_text(call->arena, runout, call->units) : "not known");
	}
}

static void say_gauges(struct call *call, const struct worn *worn)
{
	static const char *const columns[] = {"gauged", ">diameter", ">runout", ">run"};
	say_use(call, worn);
	if (worn->gauge_count == 0) {
		say_on_record(call, worn);
		answer_line(call->answer, MARK_PLAIN,
		            "never gauged in this life; type gauge %s diameter=... "
		            "runout=... when it is",
		            worn->tag);
		return;
	}
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = worn->gauge_count; i > 0; i--) {
		const struct gauge_row *gauge = &worn->gauges[i - 1];
		bool over =
			gauge->runout.known && length_compare(gauge->runout.value, call->limits.runout) > 0;
		const char *cells[] = {
			arena_copy(call->arena, moment_text(gauge->moment).bytes),
			tooling_said(call, gauge->diameter),
			tooling_said(call, gauge->runout),
			gauge->run.known ? web_said(call, gauge->run.value) : NULL,
		};
		answer_table_row(call->answer, over ? MARK_CAUTION : MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
	answer_line(call->answer, MARK_PLAIN, "runout %s at most",
	            length_text(call->limits.runout, LENGTH_TOOLING, call->units).bytes);
}

void wear_say(struct call *call, const struct worn *worn)
{
	answer_line(call->answer, MARK_STRONG, "%s  %s", worn->tag, worn->what);
	switch (worn->kind->id) {
	case KIND_ANILOX:
		say_roll(call, worn);
		break;
	case KIND_BLADE:
	case KIND_DIE:
		say_life(call, worn);
		break;
	case KIND_CYLINDER:
		say_gauges(call, worn);
		break;
	case KIND_GEAR:
	case KIND_MAGNETIC_CYLINDER:
	case KIND_OPERATOR:
	case KIND_PLACE:
	case KIND_PRESS:
	case KIND_JOB:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		say_use(call, worn);
		break;
	}
}

/* ---------------------------------------------------------------- rolls compared */

void wear_rolls_say(struct call *call, const struct worn *rolls, size_t count)
{
	/* As much as a terminal of 80 columns holds. */
	const char *const columns[] = {"tag",
	                               ">screen",
	                               ">lost",
	                               ">now",
	                               call->units == UNITS_INCH ? ">a million ft" : ">a million m",
	                               "limit reached in"};
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		const struct worn *worn = &rolls[i];
		const struct trend *trend = &worn->wear.trend;
		const char *cells[] = {
			worn->tag,
			worn->line_screen.known
				? arena_copy(call->arena, screen_text(worn->line_screen.value, call->units).bytes)
				: NULL,
			worn->lost.known ? arena_copy(call->arena, percent_text(worn->lost.value).bytes) : NULL,
			worn->now.known ? volume_said(call, volume_to_cm3_m2(worn->now.value)) : NULL,
			worn->wear.known && trend->says != TREND_TOO_FEW ? slope_said(call, trend->slope)
															 : NULL,
			forecast_short(call, worn),
		};
		answer_table_row(call->answer, worn->passed ? MARK_CAUTION : MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
}
