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

/* Merges from[0..middle) and from[middle..count), each sorted, into `to`. */
static int64_t merge(const struct keyed *from, uint32_t middle, uint32_t count, struct keyed *to)
{
	if (middle >= count || from[middle - 1].key <= from[middle].key) {
		memcpy(to, from, count * sizeof(*from));
		return 0;
	}
	int64_t moved = 0;
	uint32_t left = 0;
	uint32_t right = middle;
	while (left < middle && right < count) {
		bool take_right = from[right].key < from[left].key;
		*to++ = from[take_right ? right : left];
		moved += take_right ? middle - left : 0;
		right += take_right;
		left += !take_right;
	}
	memcpy(to, from + left, (middle - left) * sizeof(*from));
	memcpy(to + (middle - left), from + right, (count - right) * sizeof(*from));
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
	struct keyed *from = items;
	struct keyed *to = spare;
	for (uint32_t width = BLOCK; width < count; width *= 2) {
		for (uint32_t start = 0; start < count; start += 2 * width) {
			uint32_t both = lesser(2 * width, count - start);
			moved += merge(from + start, lesser(width, both), both, to + start);
		}
		struct keyed *other = from;
		from = to;
		to = other;
	}
	if (from != items) {
		memcpy(items, from, count * sizeof(*items));
	}
	return moved;
}

/* Pairs that a sorted list holds of equal ones. */
static int64_t equal_pairs(const int64_t *sorted, uint32_t count)
{
	int64_t pairs = 0;
	int64_t run = 0;
	for (uint32_t i = 1; i < count; i++) {
		run = sorted[i] == sorted[i - 1] ? run + 1 : 0;
		pairs += run;
	}
	return pairs;
}

struct series series_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count)
{
	uint32_t many = (uint32_t)count;
	struct keyed *items = arena_take(arena, 2 * count + 1, sizeof(*items));
	int64_t *sorted_x = arena_take(arena, count + 1, sizeof(*sorted_x));
	int64_t *sorted_y = arena_take(arena, count + 1, sizeof(*sorted_y));
	/* By x first, by y within it: one key of the two. */
	for (uint32_t i = 0; i < many; i++) {
		items[i] = (struct keyed){.key = ((wide)x[i] * ((wide)1 << 64)) + y[i], .index = i};
	}
	keyed_sort(items, items + many, many);
	int64_t least = 0;
	int64_t most = 0;
	for (uint32_t i = 0; i < many; i++) {
		sorted_x[i] = x[items[i].index];
		sorted_y[i] = y[items[i].index];
		least = i == 0 || sorted_y[i] < least ? sorted_y[i] : least;
		most = i == 0 || sorted_y[i] > most ? sorted_y[i] : most;
	}
	wide across = many > 0 ? (wide)sorted_x[many - 1] - sorted_x[0] : 0;
	return (struct series){
		.arena = arena,
		.x = sorted_x,
		.y = sorted_y,
		.count = many,
		.pairs = (int64_t)many * ((int64_t)many - 1) / 2 - equal_pairs(sorted_x, many),
		.small_numbers = across <= DOUBLE_WHOLE_MOST && (wide)most - least <= DOUBLE_WHOLE_MOST,
		.listed_most = LISTED_MOST,
	};
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
