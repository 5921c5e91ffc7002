/* A series made ready for its slopes, and the sorting and picking that they need. */
#include "slopes.h"

#include <string.h>

/* Doubles hold whole numbers up to here. */
#define DOUBLE_WHOLE_MOST (INT64_C(1) << 53)
/* Listing this many slopes costs less than narrowing them down. */
#define LISTED_MOST 40000

/* Blocks of so many are put in order one by one. */
#define BLOCK 8
/* One by one is quicker than merging where each passes no more than this, on average. */
#define PLACES_FEW 8

/* Puts one in its place among those before it; returns how many it passed. */
static uint32_t insert_one(struct keyed *items, uint32_t from)
{
	struct keyed item = items[from];
	uint32_t at = from;
	for (; at > 0 && item.key < items[at - 1].key; at--) {
		items[at] = items[at - 1];
	}
	items[at] = item;
	return from - at;
}

static int64_t insert_block(struct keyed *items, uint32_t count)
{
	int64_t moved = 0;
	for (uint32_t i = 1; i < count; i++) {
		moved += insert_one(items, i);
	}
	return moved;
}

/* How many of a sorted list are not above a key; near the end more quickly. */
static uint32_t not_above(const struct keyed *items, uint32_t count, int64_t key)
{
	uint32_t step = 1;
	while (step < count && items[count - step].key > key) {
		step *= 2;
	}
	uint32_t least = step < count ? count - step : 0;
	uint32_t most = count - step / 2;
	while (least < most) {
		uint32_t middle = least + (most - least) / 2;
		if (items[middle].key <= key) {
			least = middle + 1;
		} else {
			most = middle;
		}
	}
	return least;
}

/*
 * Merges items[0..middle) and items[middle..count), each sorted. What stands right already stays:
 * where little is to be changed, little is done.
 */
static int64_t merge(struct keyed *items, uint32_t middle, uint32_t count, struct keyed *spare)
{
	uint32_t settled = not_above(items, middle, items[middle].key);
	uint32_t left_count = middle - settled;
	if (left_count == 0) {
		return 0;
	}
	memcpy(spare, items + settled, left_count * sizeof(*items));
	struct keyed *to = items + settled;
	int64_t moved = 0;
	uint32_t left = 0;
	uint32_t right = middle;
	while (left < left_count && right < count) {
		bool take_right = items[right].key < spare[left].key;
		*to++ = *(take_right ? items + right : spare + left);
		moved += take_right ? left_count - left : 0;
		right += take_right;
		left += !take_right;
	}
	memcpy(to, spare + left, (left_count - left) * sizeof(*items));
	return moved;
}

/* Goes on as long as few places are passed; returns how many are in order then. */
static uint32_t insert_near(struct keyed *items, uint32_t count, int64_t *moved)
{
	uint32_t sorted = 0;
	while (sorted < count && *moved <= PLACES_FEW * ((int64_t)sorted + BLOCK)) {
		*moved += insert_one(items, sorted++);
	}
	return sorted;
}

static uint32_t lesser(uint32_t a, uint32_t b)
{
	return a < b ? a : b;
}

int64_t keyed_sort(struct keyed *items, struct keyed *spare, uint32_t count)
{
	int64_t moved = 0;
	if (insert_near(items, count, &moved) == count) {
		return moved;
	}
	for (uint32_t start = 0; start < count; start += BLOCK) {
		moved += insert_block(items + start, lesser(BLOCK, count - start));
	}
	for (uint32_t width = BLOCK; width < count; width *= 2) {
		for (uint32_t start = 0; start + width < count; start += 2 * width) {
			moved += merge(items + start, width, lesser(2 * width, count - start), spare);
		}
	}
	return moved;
}

static void ties_add(struct ties *ties, int64_t group)
{
	double size = (double)group;
	ties->pairs += group * (group - 1) / 2;
	ties->triples += size * (size - 1) * (size - 2);
	ties->spread += size * (size - 1) * (2 * size + 5);
}

static struct ties ties_of(const struct keyed *sorted, uint32_t count)
{
	struct ties ties = {0};
	for (uint32_t start = 0; start < count;) {
		uint32_t end = start + 1;
		while (end < count && sorted[end].key == sorted[start].key) {
			end++;
		}
		ties_add(&ties, end - start);
		start = end;
	}
	return ties;
}

/* By x, those of one x by y; returns how many pairs are equal. `items`: twice as many. */
static int64_t order_points(const int64_t *x, const int64_t *y, struct keyed *items, uint32_t count)
{
	int64_t both = 0;
	for (uint32_t i = 0; i < count; i++) {
		items[i] = (struct keyed){.key = x[i], .index = i};
	}
	keyed_sort(items, items + count, count);
	for (uint32_t start = 0; start < count;) {
		uint32_t end = start;
		int64_t same = items[start].key;
		for (; end < count && items[end].key == same; end++) {
			items[end].key = y[items[end].index];
		}
		keyed_sort(items + start, items + count, end - start);
		both += ties_of(items + start, end - start).pairs;
		start = end;
	}
	return both;
}

/* What the sorted series holds of equal ones and of pairs that fall; `items`: twice as many. */
static void count_ties(struct series *series, struct keyed *items)
{
	uint32_t count = series->count;
	for (uint32_t i = 0; i < count; i++) {
		items[i].key = series->x[i];
	}
	series->x_ties = ties_of(items, count);
	for (uint32_t i = 0; i < count; i++) {
		items[i].key = series->y[i];
	}
	series->inverted = keyed_sort(items, items + count, count);
	series->y_ties = ties_of(items, count);
	series->pairs = (int64_t)count * ((int64_t)count - 1) / 2 - series->x_ties.pairs;
	if (count > 0) {
		series->x_range = (wide)series->x[count - 1] - series->x[0];
		series->y_range = (wide)items[count - 1].key - items[0].key;
	}
}

struct series series_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count)
{
	uint32_t many = (uint32_t)count;
	struct keyed *items = arena_take(arena, 2 * count + 1, sizeof(*items));
	int64_t *sorted_x = arena_take(arena, count + 1, sizeof(*sorted_x));
	int64_t *sorted_y = arena_take(arena, count + 1, sizeof(*sorted_y));
	struct series series = {
		.arena = arena,
		.x = sorted_x,
		.y = sorted_y,
		.count = many,
		.both_pairs = order_points(x, y, items, many),
		.listed_most = LISTED_MOST,
	};
	for (uint32_t i = 0; i < many; i++) {
		sorted_x[i] = x[items[i].index];
		sorted_y[i] = y[items[i].index];
	}
	count_ties(&series, items);
	series.small_numbers =
		series.x_range <= DOUBLE_WHOLE_MOST && series.y_range <= DOUBLE_WHOLE_MOST;
	return series;
}

/*
 * Brings those that are less than `pivot`, or with `equal` as little as it, to the front; returns
 * how many. What no guess of the processor can tell decides no jump here: it is most of the time.
 */
static size_t bring_forward(double *numbers, size_t count, double pivot, bool equal)
{
	size_t front = 0;
	for (size_t i = 0; i < count; i++) {
		double number = numbers[i];
		numbers[i] = numbers[front];
		numbers[front] = number;
		front += equal ? number <= pivot : number < pivot;
	}
	return front;
}

static double middle_of(double a, double b, double c)
{
	double least = a < b ? a : b;
	double most = a < b ? b : a;
	return c < least ? least : (c > most ? most : c);
}

/* C. A. R. Hoare, Algorithm 65, Communications of the ACM 4 (1961) 321. */
double number_at(double *numbers, size_t count, size_t k)
{
	while (count > 1) {
		double pivot = middle_of(numbers[0], numbers[count - 1], numbers[count / 2]);
		size_t below = bring_forward(numbers, count, pivot, false);
		if (k < below) {
			count = below;
			continue;
		}
		numbers += below;
		size_t equal = bring_forward(numbers, count - below, pivot, true);
		if (k - below < equal) {
			return pivot;
		}
		numbers += equal;
		k -= below + equal;
		count -= below + equal;
	}
	return numbers[0];
}
