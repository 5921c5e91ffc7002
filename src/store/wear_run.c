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
	for (size_t i = 0; i < roll->told_count; i++) {
		roll->told[i].on_record = true;
	}
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
 * A roll may come on record with less than a device told last that it had run, of which nobody had
 * kept count: then the device is believed.
 */
static bool is_told_less(const struct roll *roll, const struct run_told *first)
{
	return first > roll->told && is_less(first->run.value, first[-1].run.value);
}

/*
 * Did the record go one way with this and back with the next? Then this was a slip, put right. So
 * was what is more than the next, unless that was put right to more again: a run does not go back.
 */
static bool is_put_right(const struct run_told *before, const struct run_told *this,
                         const struct run_told *next, const struct run_told *then)
{
	if (next == NULL) {
		return false;
	}
	if (is_less(next->run.value, this->run.value) &&
	    (then == NULL || is_less(then->run.value, this->run.value))) {
		return true;
	}
	return before != NULL && length_compare(this->run.value, by(before, this->web)) *
	                                 length_compare(next->run.value, by(this, next->web)) <
	                             0;
}

static struct run_told *next_on_record(const struct roll *roll, size_t index)
{
	while (index < roll->told_count &&
	       (!roll->told[index].on_record || !roll->told[index].run.known)) {
		index++;
	}
	return index < roll->told_count ? &roll->told[index] : NULL;
}

static struct run_told *next_after(const struct roll *roll, const struct run_told *told)
{
	return told != NULL ? next_on_record(roll, (size_t)(told - roll->told) + 1) : NULL;
}

/* Doubts slips of the record; returns the last of it that is not doubted, or NULL. */
static const struct run_told *doubt_record(struct roll *roll)
{
	const struct run_told *last = NULL;
	struct run_told *this = next_on_record(roll, 0), *next = next_after(roll, this), *then;
	for (; this != NULL; this = next, next = then) {
		then = next_after(roll, next);
		this->doubted =
			is_put_right(last, this, next, then) || (this->first && is_told_less(roll, this));
		last = this->doubted ? last : this;
	}
	return last;
}

/*
 * In `chain`, one for each length, what a sequence of that length begins or ends with: the place
 * for a run, before which are those that go with it.
 */
static size_t place_in(const struct roll *roll, const size_t *chain, size_t count,
                       struct length run, bool falling)
{
	size_t least = 0;
	while (least < count) {
		size_t middle = least + (count - least) / 2;
		int order = length_compare(roll->told[chain[middle]].run.value, run);
		if (falling ? order >= 0 : order <= 0) {
			least = middle + 1;
		} else {
			count = middle;
		}
	}
	return least;
}

/* May it be among those from a run of `least` on? */
static bool may_be(const struct run_told *told, struct length least)
{
	return told->run.known && !told->doubted && !is_less(told->run.value, least);
}

/* Those from `start` to `last`, which is one of them; where several do, with the greatest. */
static void believe_until(struct arena *arena, struct roll *roll, size_t start, size_t last,
                          struct length least)
{
	size_t *chain = arena_take(arena, roll->told_count, sizeof *chain);
	size_t *next = arena_take(arena, roll->told_count, sizeof *next);
	size_t longest = 0;
	for (size_t i = last + 1; i-- > start;) {
		struct length run = roll->told[i].run.value;
		if (!may_be(&roll->told[i], least) ||
		    (i < last && is_less(roll->told[last].run.value, run))) {
			continue;
		}
		size_t place = place_in(roll, chain, longest, run, true);
		next[i] = place > 0 ? chain[place - 1] : i;
		chain[place] = i;
		longest = place == longest ? longest + 1 : longest;
	}
	for (size_t at = chain[longest - 1]; longest > 0; longest--) {
		roll->told[at].believed = true;
		at = next[at];
	}
}

/*
 * Where as many as can be end that do not go back, from `start` on: where several do, the one told
 * last. `told_count`: there are none.
 */
static size_t end_of_most(struct arena *arena, const struct roll *roll, size_t start,
                          struct length least)
{
	size_t *chain = arena_take(arena, roll->told_count + 1, sizeof *chain);
	size_t longest = 0;
	for (size_t i = start; i < roll->told_count; i++) {
		if (may_be(&roll->told[i], least)) {
			size_t place = place_in(roll, chain, longest, roll->told[i].run.value, false);
			chain[place] = i;
			longest = place == longest ? longest + 1 : longest;
		}
	}
	return longest > 0 ? chain[longest - 1] : roll->told_count;
}

/*
 * A run does not go back: of what was told as much as possible is believed that does not, the
 * record as it was put right last in any case. (The longest non-decreasing subsequence: C.
 * Schensted, Canadian Journal of Mathematics 13 (1961) 179; cited from memory.)
 */
static void believe(struct arena *arena, struct roll *roll)
{
	const struct run_told *last = doubt_record(roll);
	struct length least = length_from_nm(0);
	size_t start = 0;
	if (last != NULL) {
		start = (size_t)(last - roll->told);
		believe_until(arena, roll, 0, start, least);
		least = last->run.value;
	}
	size_t end = end_of_most(arena, roll, start, least);
	if (end < roll->told_count) {
		believe_until(arena, roll, start, end, least);
	}
}

/* ---------------------------------------------------------------- between them */

/*
 * By what was told before, with the web since, and by what was told after, less the web until then;
 * NULL: nothing. More than the web between them was told: it ran meanwhile, and counts from when it
 * was told first, `more` having told as much though not believed to the metre. Less was told: a run
 * of a job was never so long, at the latest where it would have run more than was told after. Never
 * less than `floor`, which it had run earlier between the two.
 */
static struct known_length run_between(const struct run_told *before, const struct run_told *more,
                                       const struct run_told *after, struct length web,
                                       struct length floor)
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
	bool told_more = back.known && more != NULL && is_less(on.value, back.value) &&
	                 !is_less(by(more, web), back.value);
	if (told_more) {
		return back;
	}
	if (!is_less(after->run.value, on.value)) {
		return on;
	}
	back.known = back.known && !is_less(back.value, before->run.value);
	back.value = is_less(back.value, floor) ? floor : back.value;
	return back;
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
	struct length floor;           /* run since then */
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
		around->floor = doubted ? around->floor : length_from_nm(0);
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
	const struct run_told *after =
		around->after < roll->told_count ? &roll->told[around->after] : NULL;
	struct known_length run = run_between(around->before, around->more, after, web, around->floor);
	around->floor = run.known && is_less(around->floor, run.value) ? run.value : around->floor;
	return run;
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
	/* As the readings before it are filled. */
	for (size_t i = 0; i < roll->reading_count; i++) {
		struct moment read = roll->readings[i].moment;
		if (moment_compare(read, moment) <= 0) {
			run_at(&around, read, web_until(&along, read));
		}
	}
	return run_at(&around, moment, web_until(&along, moment));
}
