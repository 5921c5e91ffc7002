/* Is a reading far from where the trend of its roll lies? */
#include <math.h>
#include <string.h>

#include "question.h"

/* Beyond three times what readings scatter by lies hardly one in three hundred: common practice. */
#define FAR_SCATTERS 3.0

static bool is_of_trend(const struct held *held, const struct wear_reading *reading)
{
	const char *method = held->wear.method;
	bool alike = method == NULL || reading->method == NULL ? method == reading->method
	                                                       : strcmp(method, reading->method) == 0;
	return held->wear.known && trend_forecasts(&held->wear.trend) &&
	       held->wear.trend.used.freedom > 0 && reading->clean && alike;
}

static struct volume volume_of(double cm3_m2)
{
	return volume_from_micro(llround(cm3_m2 * 1e6));
}

/* The band of the line, widened by the scatter of one reading about it. */
static void question_at(const struct held *held, const struct wear_reading *reading,
                        struct length run, struct questions *questions)
{
	const struct trend *trend = &held->wear.trend;
	double line = trend_at(trend, run), scatter = FAR_SCATTERS * trend->used.share * line;
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
		outcome = store_run_at(held->store, held->tool, reading->moment, &run, fault);
	}
	if (outcome == OUTCOME_DONE && run.known) {
		question_at(held, reading, run.value, questions);
	}
	return outcome;
}
