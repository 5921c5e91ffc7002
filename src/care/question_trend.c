/* Is a reading far from where the trend of its roll lies? */
#include <math.h>
#include <string.h>

#include "question.h"

/*
 * Nine readings in ten lie within the scatter that the trend's band counts by, which is the wider
 * the fewer they are; beyond twice that lies hardly any: common practice.
 */
#define FAR_TIMES 2.0

static bool is_of_trend(const struct held *held, const struct wear_reading *reading)
{
	const char *method = held->wear.method;
	bool alike = method == NULL || reading->method == NULL || strcmp(method, reading->method) == 0;
	return held->wear.known && trend_forecasts(&held->wear.trend) &&
	       held->wear.trend.used.freedom > 0 && reading->clean && alike;
}

static struct volume volume_of(double cm3_m2)
{
	return volume_from_micro(llround(cm3_m2 * 1e6));
}

/* Half of the band of one reading about the line: that of n readings at their mean, by sqrt(n). */
static double scatter_of(const struct trend *trend)
{
	double least, most;
	struct length mean = length_from_nm(llround(trend->mean_run * 1e15));
	trend_band_at(trend, mean, &least, &most);
	return (most - least) / 2 * sqrt((double)trend->count);
}

/* The band of the line, widened by the scatter of one reading about it. */
static void question_at(const struct held *held, const struct wear_reading *reading,
                        struct length run, struct questions *questions)
{
	const struct trend *trend = &held->wear.trend;
	double line = trend_at(trend, run), scatter = FAR_TIMES * scatter_of(trend);
	double least, most, volume = volume_to_cm3_m2(reading->volume);
	trend_band_at(trend, run, &least, &most);
	double lowest = line - hypot(line - least, scatter);
	double highest = line + hypot(most - line, scatter);
	if (volume >= lowest && volume <= highest) {
		return;
	}
	question_add(
		questions,
		arena_format(held->arena,
	                 "volume %s is far from the roll's trend, at %s run %s to %s is usual by "
	                 "its %zu readings after cleaning",
	                 care_volume(held->arena, reading->volume, held->units),
	                 length_text(run, LENGTH_WEB, held->units).bytes,
	                 care_volume(held->arena, volume_of(fmax(lowest, 0)), held->units),
	                 care_volume(held->arena, volume_of(highest), held->units), trend->count));
}

enum outcome question_trend(const struct held *held, const struct wear_reading *reading,
                            struct questions *questions, struct fault *fault)
{
	struct known_length run = reading->run;
	enum outcome outcome = OUTCOME_DONE;
	if (!is_of_trend(held, reading)) {
		return outcome;
	}
	if (!run.known) {
		outcome =
			store_run_at(held->store, held->arena, held->named.tool, reading->moment, &run, fault);
	}
	if (outcome == OUTCOME_DONE && run.known) {
		question_at(held, reading, run.value, questions);
	}
	return outcome;
}
