/* A series made ready for its slopes, and the sorting and picking that they need. */
#include "slopes.h"

#include <string.h>

/* Doubles hold whole numbers up to here. */
#define DOUBLE_WHOLE_MOST (INT64_C(1) << 53)
/* Listing this many slopes costs less than narrowing them down. */
#define LISTED_MOST 40000

/* Blocks of so many are put in order one by one. */
#define BLOCK 8

static int64_t insert_block(struct keyed *items, uint32_t count)
{
	int64_t moved = 0;
	for (uint32_t i = 1; i < count; i++) {
		struct keyed item = items[i];
		uint32_t at = i;
		for (; at > 0 && item.key < items[at - 1].key; at--) {
			items[at] = items[at - 1];
		}
		items[at] = item;
		moved += i - at;
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

static uint32_t lesser(uint32_t a, uint32_t b)
{
	return a < b ? a : b;
}

int64_t keyed_sort(struct keyed *items, struct keyed *spare, uint32_t count)
{
	int64_t moved = 0;
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

/* C. A. R. Hoare, Algorithm 65, Communications of the ACM 4 (1961) 321; equal ones stand together.
 */
double number_at(double *numbers, size_t count, size_t k)
{
	size_t start = 0;
	size_t end = count;
	while (end - start > 1) {
		double first = numbers[start];
		double middle = numbers[start + (end - start) / 2];
		double last = numbers[end - 1];
		double least = first < last ? first : last;
		double most = first < last ? last : first;
		double pivot = middle < least ? least : (middle > most ? most : middle);
		size_t below = start;
		size_t above = end;
		for (size_t i = start; i < above;) {
			double number = numbers[i];
			if (number < pivot) {
				numbers[i++] = numbers[below];
				numbers[below++] = number;
			} else if (number > pivot) {
				numbers[i] = numbers[--above];
				numbers[above] = number;
			} else {
				i++;
			}
		}
		if (k < below) {
			end = below;
		} else if (k >= above) {
			start = above;
		} else {
			return pivot;
		}
	}
	return numbers[start];
}
