/*
 * How long a job holds a press: make-ready (45 min, common practice, no source), then run / speed
 * (arithmetic), up to the whole minute. Make-ready runs from the end of one job to acceptable
 * quality on the next (PNEAC).
 */
#include "builders.h"

static const struct {
	const char *make_ready, *run, *speed;
	const char *duration;
} rows[] = {
	{"45min", "6000m", "100m/min", "105min"},   /* 60 min */
	{"45min", "6000.1m", "100m/min", "106min"}, /* 60.001 min */
	{"0min", "6000m", "100m/min", "1h"},
	{"0min", "0m", "100m/min", "0s"},
	{"45min", "0m", "100m/min", "45min"},
	{"45min", "1m", "100m/min", "46min"},
	{"30s", "50m", "100m/min", "1min"}, /* half a minute each */
	{"0min", "330ft", "330ft/min", "1min"},
	{"0min", "1000m", "90m/min", "12min"}, /* 11.11 min */
	{"24h", "60000m", "100m/min", "34h"},
	/* Past what a duration holds it is held to that. */
	{"0min", "9000000000m", "1m/min", "52000w"},
};

static struct speed speed_given(const char *text)
{
	struct speed speed;
	if (speed_parse(text, &speed, NULL) != OUTCOME_DONE)
		fail_msg("no speed: %s", text);
	return speed;
}

static void job_duration__make_ready_and_run__up_to_the_minute(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct limits limits = limits_by_default();
		struct press press = geared_press();
		struct layout layout = {.run = long_known(rows[i].run)};
		limits.make_ready = duration_given(rows[i].make_ready);
		press.speed.known = true;
		press.speed.value = speed_given(rows[i].speed);
		struct known_duration duration = job_duration(&layout, &press, &limits);
		assert_true(duration.known);
		assert_string_equal(duration_text(duration.value).bytes, rows[i].duration);
	}
}

static void job_duration__run_or_speed_not_known__not_known(void **state)
{
	(void)state;
	struct limits limits = limits_by_default();
	struct press press = geared_press();
	struct layout layout = {.run = long_known("6000m")};
	assert_false(job_duration(&layout, &press, &limits).known);
	press.speed.known = true; /* 0: it stands still */
	assert_false(job_duration(&layout, &press, &limits).known);
	press.speed.value = speed_given("100m/min");
	assert_true(job_duration(&layout, &press, &limits).known);
	layout.run.known = false;
	assert_false(job_duration(&layout, &press, &limits).known);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(job_duration__make_ready_and_run__up_to_the_minute),
		cmocka_unit_test(job_duration__run_or_speed_not_known__not_known),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
