/*
 * What a roll had run when it was read. People tell what it had run by some moments, with its
 * record or with a reading; jobs tell what it ran between them. From both what it had run by any
 * other.
 */
#include <stdlib.h>

#include "wear.h"

/* ---------------------------------------------------------------- web by the runs of jobs */

/* Up to a moment, from one to the next as moments go on. */
struct along {
	const struct roll *roll;
	size_t next;
	struct length web;
};

static struct length web_until(struct along *along, struct moment moment)
{
	const struct roll *roll = along->roll;
	while (along->next < roll->run_count &&
	       moment_compare(roll->runs[along->next].moment, moment) <= 0) {
		along->web = length_add(along->web, roll->runs[along->next++].length);
	}
	return along->web;
}

/* ---------------------------------------------------------------- what was told */

static int compare_told(const void *a, const void *b)
{
	const struct run_told *x = a, *y = b;
	int order = moment_compare(x->moment, y->moment);
	/* Of one moment the record first: who reads the roll looks at it closer. */
	return order != 0 ? order : (x->place > y->place) - (x->place < y->place);
}

/* With the record and with readings, oldest first, and the web that jobs had run by each. */
static void gather_told(struct arena *arena, struct roll *roll)
{
	struct along along = {.roll = roll};
	size_t count = roll->told_count;
	for (size_t i = 0; i < roll->reading_count; i++) {
		count += roll->readings[i].run.known;
	}
	roll->told = arena_grow(arena, roll->told, roll->told_count, count, sizeof *roll->told);
	for (size_t i = 0; i < roll->reading_count; i++) {
		struct wear_reading *reading = &roll->readings[i];
		reading->told = reading->run.known;
		if (reading->told) {
			roll->told[roll->told_count] = (struct run_told){.moment = reading->moment,
			                                                 .run = reading->run,
			                                                 .place = roll->told_count};
			roll->told_count++;
		}
	}
	qsort(roll->told, roll->told_count, sizeof *roll->told, compare_told);
	for (size_t i = 0; i < roll->told_count; i++) {
		struct run_told *told = &roll->told[i];
		told->web = length_subtract(web_until(&along, told->moment), told->ran_after);
	}
}

/*
 * A roll may come on record with less than a device tells that it had run by then, of which nobody
 * had kept count: then the device is believed.
 */
static bool is_doubted(const struct roll *roll, size_t index)
{
	const struct run_told *told = &roll->told[index];
	if (!told->first) {
		return false;
	}
	for (size_t i = 0; i < index; i++) {
		if (length_compare(roll->told[i].run.value, told->run.value) > 0) {
			return true;
		}
	}
	return false;
}

/*
 * A run does not go back: of what was told as much as possible is believed that does not, and the
 * last in any case. Found from the last backwards: for each number believed, the greatest that so
 * many can begin with. (The longest non-decreasing subsequence: C. Schensted, Canadian Journal of
 * Mathematics 13 (1961) 179.)
 */
static void believe(struct arena *arena, struct roll *roll)
{
	size_t *first = arena_take(arena, roll->told_count + 1, sizeof *first);
	size_t *next = arena_take(arena, roll->told_count + 1, sizeof *next);
	size_t longest = 0;
	for (size_t i = roll->told_count; i-- > 0;) {
		const struct run_told *told = roll->told;
		if (!told[i].run.known || is_doubted(roll, i) ||
		    (longest > 0 && length_compare(told[i].run.value, told[first[0]].run.value) > 0)) {
			continue;
		}
		size_t least = 0, most = longest;
		while (least < most) {
			size_t middle = least + (most - least) / 2;
			if (length_compare(told[first[middle]].run.value, told[i].run.value) >= 0) {
				least = middle + 1;
			} else {
				most = middle;
			}
		}
		next[i] = least > 0 ? first[least - 1] : i;
		first[least] = i;
		longest = least == longest ? longest + 1 : longest;
	}
	for (size_t i = longest > 0 ? first[longest - 1] : 0, left = longest; left > 0; left--) {
		roll->told[i].believed = true;
		i = next[i];
	}
}

/* ---------------------------------------------------------------- between them */

static bool is_less(struct length a, struct length b)
{
	return length_compare(a, b) < 0;
}

/* What was told, with the web since or less the web until then. */
static struct length by(const struct run_told *told, struct length web)
{
	return length_add(told->run.value, length_subtract(web, told->web));
}

/*
 * By what was told before, with the web since, and by what was told after, less the web until then;
 * NULL: nothing. More than the web between them was told: it ran meanwhile, and counts from when it
 * was told first, `more` having told as much though not believed to the metre. Less was told:
 * either what was told before was never so, or a run of a job was never so long; the one is ruled
 * out where it had run less than was told before, the other where it had run more than was told
 * after.
 */
static struct known_length run_between(const struct run_told *before, const struct run_told *more,
                                       const struct run_told *after, struct length web)
{
	struct known_length on = {.known = before != NULL}, back = {.known = after != NULL};
	if (on.known) {
		on.value = by(before, web);
	}
	if (back.known) {
		back.value = by(after, web);
		back.known = !is_less(back.value, length_from_nm(0));
	}
	if (!on.known || after == NULL) {
		return on.known ? on : back;
	}
	if (back.known && !is_less(back.value, before->run.value)) {
		bool told_more = more != NULL && !is_less(by(more, web), back.value);
		return is_less(on.value, back.value) && !told_more ? on : back;
	}
	on.known = !is_less(after->run.value, on.value);
	return on;
}

/* Was the roll on record by then, in the life that runs, so that jobs tell what it ran? */
bool roll_is_followed(const struct roll *roll, struct moment moment)
{
	return roll->followed.known && moment_compare(moment, roll->followed.value) >= 0;
}

static size_t believed_from(const struct roll *roll, size_t index)
{
	while (index < roll->told_count && !roll->told[index].believed) {
		index++;
	}
	return index;
}

/* By what was told first since jobs tell of it: had it run nothing when it was put on record? */
static bool was_new(const struct roll *roll)
{
	size_t index = 0;
	while (index < roll->told_count && !roll_is_followed(roll, roll->told[index].moment)) {
		index++;
	}
	index = believed_from(roll, index);
	return index < roll->told_count &&
	       length_compare(roll->told[index].run.value, roll->told[index].web) == 0;
}

/* Goes along what was told as moments go on. */
struct run_around {
	const struct roll *roll;
	const struct run_told *before; /* NULL: nothing was, or that it is not known */
	const struct run_told *more;   /* since then, and not believed */
	size_t next, after;            /* the next one, and the next one believed */
	bool any, was_new;
};

static struct run_around around_start(const struct roll *roll)
{
	return (struct run_around){
		.roll = roll,
		.any = believed_from(roll, 0) < roll->told_count,
		.was_new = was_new(roll),
	};
}

static struct known_length run_at(struct run_around *around, struct moment moment,
                                  struct length web)
{
	const struct roll *roll = around->roll;
	for (; around->next < roll->told_count &&
	       moment_compare(roll->told[around->next].moment, moment) <= 0;
	     around->next++) {
		const struct run_told *told = &roll->told[around->next];
		bool doubted = told->run.known && !told->believed;
		around->before = doubted ? around->before : told->run.known ? told : NULL;
		around->more = doubted ? told : NULL;
	}
	/* Nobody knows what it ran before it was followed, unless it was new then. */
	if (!roll_is_followed(roll, moment)) {
		return (struct known_length){.known = around->was_new, .value = length_from_nm(0)};
	}
	/* Where nobody has ever told what it had run, it is counted from when it was first followed. */
	if (!around->any) {
		return (struct known_length){roll->told_count == 0, web};
	}
	if (around->after < around->next || around->next == 0) {
		around->after = believed_from(roll, around->next);
	}
	return run_between(around->before, around->more,
	                   around->after < roll->told_count ? &roll->told[around->after] : NULL, web);
}

/* A run told with the reading itself, where that is believed, is what it had run. */
static bool is_believed(const struct run_around *around, const struct wear_reading *reading)
{
	return reading->told && around->before != NULL &&
	       moment_compare(around->before->moment, reading->moment) == 0 &&
	       length_compare(around->before->run.value, reading->run.value) == 0;
}

/*
 * By now: on from what was told last, be that the record or a reading. Where that is not known any
 * more, no less than when it was read last with all that ran since.
 */
static struct length run_by_now(const struct roll *roll, struct run_around *around,
                                struct length read, struct length web_read)
{
	const struct moment ever_after = {.s = INT64_MAX};
	struct known_length now = run_at(around, ever_after, roll->web);
	struct length least = length_add(read, length_subtract(roll->web, web_read));
	if (around->any && now.known) {
		return now.value;
	}
	return is_less(roll->run, least) ? least : roll->run;
}

void roll_fill_runs(struct arena *arena, struct roll *roll)
{
	gather_told(arena, roll);
	believe(arena, roll);
	struct run_around around = around_start(roll);
	struct along along = {.roll = roll};
	struct length read = length_from_nm(0), web_read = length_from_nm(0);
	for (size_t i = 0; i < roll->reading_count; i++) {
		struct wear_reading *reading = &roll->readings[i];
		struct length web = web_until(&along, reading->moment);
		struct known_length run = run_at(&around, reading->moment, web);
		reading->run = is_believed(&around, reading) ? reading->run : run;
		if (reading->run.known) {
			read = reading->run.value;
			web_read = web;
		}
	}
	roll->run_by_now = run_by_now(roll, &around, read, web_read);
}

struct known_length roll_run_at(struct arena *arena, struct roll *roll, struct moment moment)
{
	struct along along = {.roll = roll};
	gather_told(arena, roll);
	believe(arena, roll);
	struct run_around around = around_start(roll);
	return run_at(&around, moment, web_until(&along, moment));
}
