/* How long a job holds a press. */
#include "stored.h"
#include "toothrack/trade.h"

#define MINUTE 60
/* What a duration may be at most, 52000 weeks: so that a moment and a duration always add. */
#define DURATION_MOST (INT64_C(52000) * 7 * 86400)

static int64_t speed_nm_min(struct speed speed)
{
	struct value value = {.type = VALUE_SPEED, .known = true, .speed = speed};
	return value_to_stored(&value);
}

static int64_t duration_s(struct duration duration)
{
	struct value value = {.type = VALUE_DURATION, .known = true, .duration = duration};
	return value_to_stored(&value);
}

/* run / speed in seconds, exact up to the next whole one; then both up to the whole minute. */
struct known_duration job_duration(const struct layout *layout, const struct press *press,
                                   const struct limits *limits)
{
	struct known_duration duration = {.known = false};
	if (!layout->run.known || !press->speed.known || speed_nm_min(press->speed.value) <= 0) {
		return duration;
	}
	wide speed = speed_nm_min(press->speed.value);
	wide run = length_to_nm(layout->run.value);
	wide seconds = (run * MINUTE + speed - 1) / speed + duration_s(limits->make_ready);
	seconds = (seconds + MINUTE - 1) / MINUTE * MINUTE;
	seconds = seconds > DURATION_MOST ? DURATION_MOST : seconds;
	duration.known = true;
	duration.value = value_from_stored(VALUE_DURATION, (int64_t)seconds).duration;
	return duration;
}
