/* What `wear` tells, as data. */
#include <string.h>

#include "wear_words.h"

static void write_length(struct answer *answer, const char *key, bool known, struct length web)
{
	if (known) {
		answer_number(answer, key, length_to_m(web), 1);
	} else {
		answer_null(answer, key);
	}
}

static void write_volume(struct answer *answer, const char *key, bool known, double cm3_m2)
{
	if (known) {
		answer_number(answer, key, cm3_m2, 4);
	} else {
		answer_null(answer, key);
	}
}

static void write_moment(struct answer *answer, const char *key, struct known_moment moment)
{
	if (moment.known) {
		answer_moment(answer, key, moment.value);
	} else {
		answer_null(answer, key);
	}
}

static void write_percent(struct answer *answer, const char *key, struct known_percent percent)
{
	struct value value = {.type = VALUE_PERCENT, .known = percent.known, .percent = percent.value};
	answer_value(answer, key, &value);
}

static void write_count(struct answer *answer, const char *key, struct known_count count)
{
	if (count.known) {
		answer_count(answer, key, count.value);
	} else {
		answer_null(answer, key);
	}
}

static void write_trend(struct answer *answer, const struct wear_kept *wear)
{
	const struct trend *trend = &wear->trend;
	bool told = wear->known && trend->says != TREND_TOO_FEW;
	bool sure = told && trend->count >= READINGS_TELL;
	answer_word(answer, "trend", trend_word(wear->known ? trend->says : TREND_TOO_FEW));
	answer_count(answer, "readings_counted", wear->known ? (int64_t)trend->count : 0);
	answer_word(answer, "method", wear->method);
	answer_count(answer, "run_not_known", wear->run_not_known);
	answer_count(answer, "other_method", wear->other_method);
	/* a million metres */
	if (told) {
		answer_yes_no(answer, "latest_fits", wear->fits);
	} else {
		answer_null(answer, "latest_fits");
	}
	write_volume(answer, "slope_cm3_m2", told, trend->slope);
	write_volume(answer, "slope_least_cm3_m2", sure, trend->slope_least);
	write_volume(answer, "slope_most_cm3_m2", sure, trend->slope_most);
	write_volume(answer, "tau", told, trend->tau);
	if (told) {
		answer_count(answer, "kendall_s", trend->kendall_s);
		answer_number(answer, "p", trend->p, 6);
		answer_number(answer, "scatter_percent", trend->own.share * 100, 2);
	} else {
		answer_null(answer, "kendall_s");
		answer_null(answer, "p");
		answer_null(answer, "scatter_percent");
	}
}

static void write_roll(struct answer *answer, const struct worn *worn)
{
	const struct wear_kept *wear = &worn->wear;
	struct value screen = {.type = VALUE_SCREEN,
	                       .known = worn->line_screen.known,
	                       .screen = worn->line_screen.value};
	answer_value(answer, "line_screen", &screen);
	write_volume(answer, "volume_cm3_m2", worn->when_new.known,
	             volume_to_cm3_m2(worn->when_new.value));
	write_volume(answer, "volume_now_cm3_m2", worn->now.known, volume_to_cm3_m2(worn->now.value));
	write_moment(answer, "read_at", wear->clean_moment);
	write_percent(answer, "loss", worn->lost);
	write_volume(answer, "limit_cm3_m2", worn->limit.known, volume_to_cm3_m2(worn->limit.value));
	write_trend(answer, wear);
	write_volume(answer, "gave_back_cm3_m2", wear->gave_back.known,
	             volume_to_cm3_m2(wear->gave_back.value));
	write_moment(answer, "gave_back_at", wear->gave_back_moment);
	write_percent(answer, "uneven", wear->uneven);
}

static void write_days(struct answer *answer, const struct forecast *forecast, bool least,
                       bool most)
{
	if (least) {
		answer_number(answer, "days_least", forecast->days_least, 1);
		answer_moment(answer, "date_least", forecast->date_least);
	} else {
		answer_null(answer, "days_least");
		answer_null(answer, "date_least");
	}
	if (most) {
		answer_number(answer, "days_most", forecast->days_most, 1);
		answer_moment(answer, "date_most", forecast->date_most);
	} else {
		answer_null(answer, "days_most");
		answer_null(answer, "date_most");
	}
}

static void write_forecast(struct answer *answer, const struct worn *worn)
{
	/* What a reading tells stands before what a trend would: nothing is left, and no day is told.
	 */
	const struct forecast read = {.known = true, .passed = true, .exact = true};
	const struct forecast *forecast =
		worn->passed && !(worn->forecast.known && worn->forecast.passed) ? &read : &worn->forecast;
	bool most = forecast->known && (forecast->most_known || forecast->exact);
	answer_word(answer, "forecast",
	            !forecast->known   ? "not_known"
	            : forecast->passed ? "passed"
	            : forecast->exact  ? "by_count"
	            : most             ? "range"
	                               : "not_before");
	answer_word(answer, "why", forecast->known ? NULL : forecast->why);
	write_length(answer, "left_least_m", forecast->known, forecast->least);
	write_length(answer, "left_most_m", most, forecast->exact ? forecast->least : forecast->most);
	write_days(answer, forecast, forecast->known && forecast->days_known,
	           most && forecast->days_known);
}

static void write_readings(struct answer *answer, const struct worn *worn)
{
	answer_array_open(answer, "readings");
	for (size_t i = 0; i < worn->reading_count; i++) {
		const struct wear_reading *reading = &worn->readings[i];
		struct value across = {.type = VALUE_ACROSS,
		                       .known = reading->across_known,
		                       .across = reading->across};
		answer_object_open(answer, NULL);
		answer_moment(answer, "moment", reading->moment);
		write_volume(answer, "volume_cm3_m2", true, volume_to_cm3_m2(reading->volume));
		answer_value(answer, "across", &across);
		answer_word(answer, "method", reading->method);
		answer_word(answer, "after", reading->clean ? "clean" : "run");
		write_length(answer, "run_m", reading->run.known, reading->run.value);
		answer_yes_no(answer, "counted", reading->counted);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void write_gauges(struct answer *answer, const struct worn *worn)
{
	answer_array_open(answer, "gauged");
	for (size_t i = 0; i < worn->gauge_count; i++) {
		const struct gauge_row *gauge = &worn->gauges[i];
		struct value diameter = {.type = VALUE_TOOLING,
		                         .known = gauge->diameter.known,
		                         .length = gauge->diameter.value};
		struct value runout = {.type = VALUE_TOOLING,
		                       .known = gauge->runout.known,
		                       .length = gauge->runout.value};
		answer_object_open(answer, NULL);
		answer_moment(answer, "moment", gauge->moment);
		answer_value(answer, "diameter", &diameter);
		answer_value(answer, "runout", &runout);
		write_length(answer, "run_m", gauge->run.known, gauge->run.value);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void write_runs(struct answer *answer, const struct worn *worn)
{
	answer_array_open(answer, "runs");
	for (size_t i = 0; i < worn->run_count; i++) {
		answer_object_open(answer, NULL);
		answer_moment(answer, "moment", worn->runs[i].moment);
		answer_word(answer, "job", worn->runs[i].job);
		answer_word(answer, "press", worn->runs[i].press);
		write_length(answer, "length_m", true, worn->runs[i].length);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void write_care(struct answer *answer, const struct worn *worn)
{
	answer_array_open(answer, "care");
	for (size_t i = 0; i < worn->care_count; i++) {
		answer_object_open(answer, NULL);
		answer_moment(answer, "moment", worn->care[i].moment);
		answer_word(answer, "what", worn->care[i].what);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

void wear_write(struct call *call, const struct worn *worn, bool whole)
{
	struct answer *answer = call->answer;
	answer_word(answer, "tag", worn->tag);
	answer_word(answer, "kind", worn->kind->name);
	answer_count(answer, "life", worn->life);
	write_length(answer, "run_m", worn->run.known, worn->run.value);
	write_count(answer, "revolutions", worn->revolutions);
	write_length(answer, "per_day_m", length_compare(worn->per_day, length_from_nm(0)) > 0,
	             worn->per_day);
	if (worn->kind->id == KIND_ANILOX) {
		write_roll(answer, worn);
	} else {
		write_length(answer, "life_m", worn->life_web.known, worn->life_web.value);
		write_count(answer, "life_revolutions", worn->life_turns);
	}
	write_forecast(answer, worn);
	if (!whole) {
		return;
	}
	if (worn->kind->id == KIND_ANILOX) {
		write_readings(answer, worn);
	}
	if (worn->kind->id == KIND_CYLINDER) {
		write_gauges(answer, worn);
	}
	write_runs(answer, worn);
	write_care(answer, worn);
}
