/* What a need asks, as numbers: needs of the same numbers are answered once. */
#include <string.h>

#include "ahead.h"

struct key_maker {
	struct ways_key key;
	size_t count;
};

static void key_add(struct key_maker *maker, int64_t part)
{
	maker->key.part[maker->count++] = part;
}

static void key_add_length(struct key_maker *maker, struct known_length length)
{
	key_add(maker, length.known ? length_to_nm(length.value) : INT64_MIN);
}

/* As finely as screens are compared; what is derived from one is no coarser. */
static void key_add_screen(struct key_maker *maker, struct known_screen screen)
{
	int64_t bits = INT64_MIN;
	double per_cm = screen_to_per_cm(screen.value);
	if (screen.known) {
		memcpy(&bits, &per_cm, sizeof bits);
	}
	key_add(maker, bits);
}

static void key_add_repeat(struct key_maker *maker, struct repeat repeat)
{
	key_add(maker, repeat.known);
	key_add(maker, repeat.known && repeat.toothed);
	if (!repeat.known || !repeat.toothed) {
		key_add(maker, repeat.known ? length_to_nm(repeat.plain) : 0);
		return;
	}
	key_add(maker, repeat.teeth);
	key_add(maker, (int64_t)repeat.pitch.system);
	key_add(maker, repeat.pitch.numerator);
	key_add(maker, repeat.pitch.denominator);
}

static void key_of_cylinders(struct key_maker *maker, const struct question *question,
                             const struct horizon_press *press, size_t row)
{
	const struct station *station = &question->printing[row];
	key_add(maker, press->traits);
	key_add(maker, station->registered);
	key_add_length(maker, station->plate);
	key_add_length(maker, station->tape);
	key_add_length(maker, question->layout.printed_width);
	if (station->registered) {
		key_add_repeat(maker, question->layout.repeat);
	}
}

/* Runs between the same lives that blades have left ask the same of them. */
static int64_t class_of_run(const struct horizon *horizon, struct known_length run)
{
	const struct whole_shelf *shelf = &horizon->shelf;
	size_t low = 0, high = shelf->life_count;
	if (!run.known) {
		return -1;
	}
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (shelf->lives[middle] < length_to_nm(run.value)) {
			low = middle + 1;
		} else {
			high = middle;
		}
	}
	return (int64_t)low;
}

static void key_of_rolls(const struct horizon *horizon, struct key_maker *maker,
                         const struct question *question, const struct horizon_press *press,
                         size_t row)
{
	const struct station *station = &question->printing[row];
	key_add(maker, press->fit);
	key_add(maker, class_of_run(horizon, question->layout.run));
	key_add_screen(maker, station->screen_min);
	key_add_screen(maker, station->screen_max);
	key_add_screen(maker, station->plate_screen);
	key_add(maker, station->volume.known ? volume_to_micro(station->volume.value) : INT64_MIN);
	struct value tolerance = {.type = VALUE_PERCENT,
	                          .known = true,
	                          .percent = station->volume_tolerance.value};
	key_add(maker, station->volume_tolerance.known ? value_to_stored(&tolerance) : INT64_MIN);
	key_add_length(maker, question->layout.printed_width);
	/* What a roll that wears holds at the end of the run, and so how well it suits. */
	if (some_roll_forecasts(&horizon->shelf, station)) {
		key_add_length(maker, question->layout.run);
	}
}

/* Of dies little is shared between jobs, but much between the presses of one. */
static void key_of_dies(const struct horizon *horizon, struct key_maker *maker,
                        const struct question *question, const struct horizon_job *job,
                        const struct horizon_press *press, size_t row)
{
	const struct known_count around = question->layout.number_around;
	key_add(maker, press->traits);
	key_add(maker, job - horizon->jobs);
	key_add(maker, (int64_t)row);
	key_add(maker, around.known ? around.value : -1);
	key_add_repeat(maker, question->layout.repeat);
}

uint64_t key_hash(const struct ways_key *key)
{
	/* FNV-1a, G. Fowler, L. C. Noll, K.-P. Vo; by words. */
	uint64_t hash = 14695981039346656037U;
	for (size_t i = 0; i < KEY_PARTS; i++) {
		hash = (hash ^ (uint64_t)key->part[i]) * 1099511628211U;
		hash ^= hash >> 29;
	}
	return hash % WAYS_BUCKETS;
}

struct ways_key ways_key_of(const struct horizon *horizon, const struct question *question,
                            const struct horizon_job *job, size_t press, enum joint_group group,
                            size_t row)
{
	struct key_maker maker = {.count = 0};
	const struct horizon_press *at = &horizon->presses[press];
	key_add(&maker, (int64_t)group + 1);
	if (group == JOINT_CYLINDERS) {
		key_of_cylinders(&maker, question, at, row);
	} else if (group == JOINT_ROLLS) {
		key_of_rolls(horizon, &maker, question, at, row);
	} else {
		key_of_dies(horizon, &maker, question, job, at, row);
	}
	return maker.key;
}

/* What is asked of a companion: of a blade by the roll's face, of others by the tool itself. */
struct ways_key companion_key(const struct horizon *horizon, const struct question *question,
                              const struct horizon_press *press, enum joint_group group,
                              size_t item)
{
	struct key_maker maker = {.count = 0};
	key_add(&maker, (int64_t)group + 1);
	if (group == JOINT_ROLLS) {
		key_add(&maker, press->fit);
		key_add(&maker, class_of_run(horizon, question->layout.run));
		key_add_length(&maker, question->shelf->rolls[item].tool.face);
	} else {
		key_add(&maker, press->traits);
		key_add(&maker, (int64_t)item);
	}
	return maker.key;
}
