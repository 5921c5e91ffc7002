/*
 * The k-th slope of all pairs, without listing them all.
 *
 * Drawn over a slope t, the points have the heights y - t x. As t rises from below all slopes to
 * above them, each pair changes places in the order of heights once, at its own slope: so the
 * slopes between two values are the pairs that stand otherwise in the two orders, counted by a
 * merge sort, sampled and listed by another. A sample tells two slopes between which the wanted one
 * lies in all likelihood; counting makes sure; again, until what is left can be listed. The sample
 * is drawn by a fixed sequence, and only how long it takes hangs on it. Source: M. B. Dillencourt,
 * D. M. Mount, N. S. Netanyahu, "A randomized algorithm for slope selection", Int. J. Comput.
 * Geometry & Applications 2 (1992) 1-27; J. Matousek, "Randomized optimal algorithm for slope
 * selection", Information Processing Letters 39 (1991) 183-187.
 */
#include <math.h>
#include <string.h>

#include "slopes.h"

/* How many of a sample: more cost more to draw, fewer leave more to list. */
#define SAMPLE 16384
/* How far the sample may mislead, in square roots of its size: two standard deviations. */
#define DOUBT 1.0

/* A slope, or an end of all: how the points stand just before and just after it. */
struct edge {
	double slope;
	int64_t below;            /* slopes less than it */
	int64_t up_to;            /* and those equal to it */
	uint32_t *before, *after; /* places in the series, lowest height first */
};

struct selection {
	const struct series *series;
	struct keyed *items;        /* twice as many as points */
	uint32_t *sequence, *spare; /* as many as points */
	uint32_t *from, *to;        /* the sample: places, from lower x to higher */
	double *slopes, *shuffled;  /* and its slopes */
	double *listed;             /* listed_most */
	uint64_t state;             /* of the fixed sequence */
};

/* xorshift64*; S. Vigna, ACM Transactions on Mathematical Software 42 (2016) 30. */
static uint64_t draw(struct selection *selection, uint64_t limit)
{
	selection->state ^= selection->state >> 12;
	selection->state ^= selection->state << 25;
	selection->state ^= selection->state >> 27;
	return (selection->state * UINT64_C(2685821657736338717)) % limit;
}

/* ------------------------------------------------ pairs that stand otherwise */

struct taking;
/* Is told the pairs that stand otherwise in lots: one point against `many` others. */
typedef void (*take_lot)(struct taking *taking, uint32_t one, const uint32_t *others,
                         uint32_t many);
struct taking {
	struct selection *selection;
	take_lot take;
	const uint32_t *place; /* in the series, of each number in the sequence */
	int64_t inside;        /* pairs there are */
	int64_t passed;        /* of them told so far */
	size_t taken;
	size_t sampled; /* so many are wanted */
	int64_t next;   /* which of all is sampled next */
};

static void list_lot(struct taking *taking, uint32_t one, const uint32_t *others, uint32_t many)
{
	const struct series *series = taking->selection->series;
	double *listed = taking->selection->listed;
	uint32_t a = taking->place[one];
	for (uint32_t i = 0; i < many; i++) {
		uint32_t b = taking->place[others[i]];
		listed[taking->taken++] = a < b ? slope_between(series, a, b) : slope_between(series, b, a);
	}
}

/* One of each of `sampled` equal lots, so that the sample is spread over all. */
static int64_t next_sampled(const struct taking *taking)
{
	if (taking->taken >= taking->sampled) {
		return taking->inside;
	}
	wide start = (wide)taking->inside * (wide)taking->taken / (wide)taking->sampled;
	wide end = (wide)taking->inside * ((wide)taking->taken + 1) / (wide)taking->sampled;
	return (int64_t)start + (int64_t)draw(taking->selection, (uint64_t)(end - start));
}

static void sample_lot(struct taking *taking, uint32_t one, const uint32_t *others, uint32_t many)
{
	struct selection *selection = taking->selection;
	while (taking->next < taking->passed + many) {
		uint32_t a = taking->place[one];
		uint32_t b = taking->place[others[taking->next - taking->passed]];
		selection->from[taking->taken] = a < b ? a : b;
		selection->to[taking->taken] = a < b ? b : a;
		taking->taken++;
		taking->next = next_sampled(taking);
	}
	taking->passed += many;
}

/* Merges two sorted parts of the sequence, telling who was passed by whom. */
static void merge_telling(struct taking *taking, const uint32_t *from, uint32_t middle,
                          uint32_t count, uint32_t *to)
{
	if (middle >= count || from[middle - 1] < from[middle]) {
		memcpy(to, from, count * sizeof(*from));
		return;
	}
	uint32_t left = 0;
	uint32_t right = middle;
	while (left < middle && right < count) {
		if (from[right] < from[left]) {
			taking->take(taking, from[right], from + left, middle - left);
			*to++ = from[right++];
		} else {
			*to++ = from[left++];
		}
	}
	memcpy(to, from + left, (middle - left) * sizeof(*from));
	memcpy(to + (middle - left), from + right, (count - right) * sizeof(*from));
}

/* Fills the sequence: where each stands in the later order, told in the earlier. */
static void set_sequence(struct taking *taking, const struct edge *low, const struct edge *high)
{
	struct selection *selection = taking->selection;
	uint32_t count = selection->series->count;
	for (uint32_t i = 0; i < count; i++) {
		selection->spare[high->before[i]] = i;
	}
	for (uint32_t i = 0; i < count; i++) {
		selection->sequence[i] = selection->spare[low->after[i]];
	}
	taking->place = high->before;
}

/* One step a pair: where there are few, less than merging takes. */
static void tell_few(struct taking *taking)
{
	uint32_t *sequence = taking->selection->sequence;
	for (uint32_t i = 1; i < taking->selection->series->count; i++) {
		uint32_t one = sequence[i];
		uint32_t at = i;
		for (; at > 0 && one < sequence[at - 1]; at--) {
			sequence[at] = sequence[at - 1];
		}
		sequence[at] = one;
		if (at < i) {
			taking->take(taking, one, sequence + at + 1, i - at);
		}
	}
}

static void tell_many(struct taking *taking)
{
	uint32_t count = taking->selection->series->count;
	uint32_t *from = taking->selection->sequence;
	uint32_t *to = taking->selection->spare;
	for (uint32_t width = 1; width < count; width *= 2) {
		for (uint32_t start = 0; start < count; start += 2 * width) {
			uint32_t left = count - start;
			uint32_t both = left < 2 * width ? left : 2 * width;
			merge_telling(taking, from + start, width < both ? width : both, both, to + start);
		}
		uint32_t *other = from;
		from = to;
		to = other;
	}
}

/* ------------------------------------------------ edges */

static struct edge edge_new(struct selection *selection)
{
	size_t count = selection->series->count;
	struct arena *arena = selection->series->arena;
	return (struct edge){
		.before = arena_take(arena, count, sizeof(uint32_t)),
		.after = arena_take(arena, count, sizeof(uint32_t)),
	};
}

/* Those of one x, by rising y, stand so before and after every slope. */
static uint32_t same_x_end(const struct series *series, const uint32_t *order, uint32_t start,
                           uint32_t end)
{
	uint32_t at = start + 1;
	while (at < end && series->x[order[at]] == series->x[order[start]]) {
		at++;
	}
	return at;
}

/* Turns a run of one height around, which its pairs' slope does; returns how many pairs those are.
 */
static int64_t turn_run(const struct series *series, const uint32_t *before, uint32_t *after,
                        uint32_t start, uint32_t end)
{
	int64_t pairs = 0;
	for (uint32_t from = start; from < end;) {
		uint32_t until = same_x_end(series, before, from, end);
		memcpy(after + (start + end - until), before + from, (until - from) * sizeof(*before));
		pairs += (int64_t)(until - from) * (from - start);
		from = until;
	}
	return pairs;
}

/* Before all slopes the points stand by x; after them the other way. */
static struct edge edge_first(struct selection *selection)
{
	struct edge edge = edge_new(selection);
	for (uint32_t i = 0; i < selection->series->count; i++) {
		edge.before[i] = i;
		edge.after[i] = i;
	}
	return edge;
}

static struct edge edge_last(struct selection *selection, const struct edge *first)
{
	struct edge edge = edge_new(selection);
	turn_run(selection->series, first->after, edge.before, 0, selection->series->count);
	edge.below = selection->series->pairs;
	edge.up_to = edge.below;
	return edge;
}

/* A slope as two whole numbers: heights over it are exact, and all scaled by `across`. */
struct line {
	const struct series *series;
	wide across, up;
	int shift; /* of a height, so that it fits 64 bits */
};

static struct line line_through(const struct series *series, uint32_t from, uint32_t to)
{
	struct line line = {
		.series = series,
		.across = (wide)series->x[to] - series->x[from],
		.up = (wide)series->y[to] - series->y[from],
	};
	wide steep = line.up < 0 ? -line.up : line.up;
	for (wide most = series->y_range * line.across + series->x_range * steep; most >= INT64_MAX;
	     most /= 2) {
		line.shift++;
	}
	return line;
}

static wide height_of(const struct line *line, uint32_t at)
{
	const struct series *series = line->series;
	return ((wide)series->y[at] - series->y[0]) * line->across -
	       ((wide)series->x[at] - series->x[0]) * line->up;
}

/* Sorts by height what is equal but for what was shifted out; returns how many changed places. */
static int64_t settle_run(const struct line *line, struct keyed *items, uint32_t count)
{
	int64_t moved = 0;
	for (uint32_t i = 1; i < count; i++) {
		struct keyed item = items[i];
		wide height = height_of(line, item.index);
		uint32_t at = i;
		for (; at > 0 && height < height_of(line, items[at - 1].index); at--) {
			items[at] = items[at - 1];
		}
		items[at] = item;
		moved += i - at;
	}
	return moved;
}

/* The order just before and just after the line's slope, of a run of equal keys. */
static void place_run(const struct line *line, struct edge *edge, struct keyed *items,
                      uint32_t start, uint32_t end)
{
	edge->below += settle_run(line, items + start, end - start);
	for (uint32_t i = start; i < end; i++) {
		edge->before[i] = items[i].index;
	}
	for (uint32_t from = start; from < end;) {
		wide height = height_of(line, items[from].index);
		uint32_t until = from + 1;
		while (until < end && height_of(line, items[until].index) == height) {
			until++;
		}
		edge->up_to += turn_run(line->series, edge->before, edge->after, from, until);
		from = until;
	}
}

/* The edge at the slope of two points, which is more than that of `low`. */
static struct edge edge_at(struct selection *selection, const struct edge *low, uint32_t from,
                           uint32_t to)
{
	const struct series *series = selection->series;
	struct keyed *items = selection->items;
	struct line line = line_through(series, from, to);
	struct edge edge = edge_new(selection);
	for (uint32_t i = 0; i < series->count; i++) {
		uint32_t at = low->after[i];
		items[i] =
			(struct keyed){.key = (int64_t)(height_of(&line, at) >> line.shift), .index = at};
	}
	edge.slope = slope_between(series, from, to);
	edge.below = low->up_to + keyed_sort(items, items + series->count, series->count);
	for (uint32_t start = 0; start < series->count;) {
		uint32_t end = start + 1;
		while (end < series->count && items[end].key == items[start].key) {
			end++;
		}
		if (end == start + 1) {
			edge.before[start] = items[start].index;
			edge.after[start] = items[start].index;
		} else {
			place_run(&line, &edge, items, start, end);
		}
		start = end;
	}
	edge.up_to += edge.below;
	return edge;
}

/* ------------------------------------------------ narrowing down */

static void list_all(struct selection *selection, const struct edge *low, const struct edge *high,
                     const int64_t *ranks, size_t count, double *out)
{
	struct taking taking = {.selection = selection, .take = list_lot};
	set_sequence(&taking, low, high);
	tell_few(&taking);
	size_t done = 0;
	for (size_t i = 0; i < count; i++) {
		size_t rank = (size_t)(ranks[i] - low->up_to);
		out[i] = number_at(selection->listed + done, taking.taken - done, rank - done);
		done = rank; /* those before it are out of the way by now */
	}
}

/* Any pairs whose x differ: of all slopes, where few are tied, the quicker way. */
static size_t draw_any(struct selection *selection)
{
	const struct series *series = selection->series;
	size_t taken = 0;
	while (taken < SAMPLE) {
		uint32_t a = (uint32_t)draw(selection, series->count);
		uint32_t b = (uint32_t)draw(selection, series->count);
		if (series->x[a] != series->x[b]) {
			selection->from[taken] = a < b ? a : b;
			selection->to[taken++] = a < b ? b : a;
		}
	}
	return taken;
}

/* Pairs whose slopes lie between the two. */
static size_t draw_between(struct selection *selection, const struct edge *low,
                           const struct edge *high)
{
	int64_t inside = high->below - low->up_to;
	struct taking taking = {
		.selection = selection,
		.take = sample_lot,
		.inside = inside,
		.sampled = inside < SAMPLE ? (size_t)inside : SAMPLE,
	};
	taking.next = next_sampled(&taking);
	set_sequence(&taking, low, high);
	tell_many(&taking);
	return taking.taken;
}

/* Slopes of the sample; returns how many. */
static size_t draw_sample(struct selection *selection, const struct edge *low,
                          const struct edge *high)
{
	const struct series *series = selection->series;
	bool all = high->below - low->up_to == series->pairs;
	bool few_tied = series->pairs > series->x_ties.pairs;
	bool many = series->pairs > SAMPLE;
	size_t taken =
		all && many && few_tied ? draw_any(selection) : draw_between(selection, low, high);
	for (size_t i = 0; i < taken; i++) {
		selection->slopes[i] = slope_between(series, selection->from[i], selection->to[i]);
	}
	return taken;
}

/*
 * Where in the sorted sample to cut, so that each rank lies between two cuts that are near to it in
 * all likelihood; rising, returns how many, at least one.
 */
static size_t cuts_of(const struct edge *low, const struct edge *high, size_t sampled,
                      const int64_t *ranks, size_t count, size_t *cuts)
{
	double many = (double)sampled;
	double doubt = DOUBT * sqrt(many) + 1;
	double inside = (double)(high->below - low->up_to);
	double ends[2 * SLOPE_RANKS];
	size_t end_count = 0;
	for (size_t i = 0; i < count; i++) {
		double at = ((double)(ranks[i] - low->up_to) + 0.5) / inside * many;
		if (end_count > 0 && at - doubt <= ends[end_count - 1]) {
			end_count--;
		} else {
			ends[end_count++] = floor(at - doubt);
		}
		ends[end_count++] = ceil(at + doubt);
	}
	size_t cut_count = 0;
	for (size_t i = 0; i < end_count; i++) {
		if (ends[i] >= 0 && ends[i] < many) {
			cuts[cut_count++] = (size_t)ends[i];
		}
	}
	if (cut_count == 0) {
		cuts[cut_count++] = sampled / 2;
	}
	return cut_count;
}

/*
 * The edges at the sample's slopes of these ranks, each above the one before; returns how many.
 * Each is worked out from the order before it, which is nearly right already.
 */
static size_t edges_at(struct selection *selection, const struct edge *low, size_t sampled,
                       const size_t *cuts, size_t cut_count, struct edge *edges)
{
	size_t edge_count = 0;
	size_t done = 0;
	memcpy(selection->shuffled, selection->slopes, sampled * sizeof(double));
	for (size_t i = 0; i < cut_count; i++) {
		/* Those before it are out of the way by now. */
		double slope = number_at(selection->shuffled + done, sampled - done, cuts[i] - done);
		done = cuts[i];
		size_t at = 0;
		while (selection->slopes[at] < slope || selection->slopes[at] > slope) {
			at++;
		}
		if (edge_count == 0 || slope > edges[edge_count - 1].slope) {
			const struct edge *before = edge_count > 0 ? &edges[edge_count - 1] : low;
			edges[edge_count++] =
				edge_at(selection, before, selection->from[at], selection->to[at]);
		}
	}
	return edge_count;
}

static void narrow(struct selection *selection, const struct edge *low, const struct edge *high,
                   const int64_t *ranks, size_t count, double *out)
{
	if (high->below - low->up_to <= selection->series->listed_most) {
		list_all(selection, low, high, ranks, count, out);
		return;
	}
	size_t cuts[2 * SLOPE_RANKS];
	struct edge edges[2 * SLOPE_RANKS + 1];
	size_t sampled = draw_sample(selection, low, high);
	size_t cut_count = cuts_of(low, high, sampled, ranks, count, cuts);
	size_t edge_count = edges_at(selection, low, sampled, cuts, cut_count, edges);
	edges[edge_count] = *high;
	const struct edge *start = low;
	size_t done = 0;
	for (size_t i = 0; i <= edge_count && done < count; start = &edges[i++]) {
		size_t first = done;
		while (done < count && ranks[done] < edges[i].below) {
			done++;
		}
		if (done > first) {
			narrow(selection, start, &edges[i], ranks + first, done - first, out + first);
		}
		while (done < count && ranks[done] < edges[i].up_to) {
			out[done++] = edges[i].slope;
		}
	}
}

/* All slopes, one by one. */
static void slopes_of_all(const struct series *series, double *out)
{
	size_t listed = 0;
	for (uint32_t from = 0; from < series->count; from++) {
		for (uint32_t to = from + 1; to < series->count; to++) {
			if (series->x[to] != series->x[from]) {
				out[listed++] = slope_between(series, from, to);
			}
		}
	}
}

static void slopes_of_few(const struct series *series, const int64_t *ranks, size_t count,
                          double *out)
{
	size_t pairs = (size_t)series->pairs;
	double *listed = arena_take(series->arena, pairs, sizeof(*listed));
	slopes_of_all(series, listed);
	for (size_t i = 0; i < count; i++) {
		out[i] = number_at(listed, pairs, (size_t)ranks[i]);
	}
}

static void slopes_of_many(const struct series *series, const int64_t *ranks, size_t count,
                           double *out)
{
	struct arena *arena = series->arena;
	struct selection selection = {
		.series = series,
		.items = arena_take(arena, 2 * (size_t)series->count, sizeof(struct keyed)),
		.sequence = arena_take(arena, series->count, sizeof(uint32_t)),
		.spare = arena_take(arena, series->count, sizeof(uint32_t)),
		.from = arena_take(arena, SAMPLE, sizeof(uint32_t)),
		.to = arena_take(arena, SAMPLE, sizeof(uint32_t)),
		.slopes = arena_take(arena, SAMPLE, sizeof(double)),
		.shuffled = arena_take(arena, SAMPLE, sizeof(double)),
		.listed = arena_take(arena, (size_t)series->listed_most, sizeof(double)),
		.state = UINT64_C(88172645463325252),
	};
	struct edge first = edge_first(&selection);
	struct edge last = edge_last(&selection, &first);
	narrow(&selection, &first, &last, ranks, count, out);
}

void slopes_at(const struct series *series, const int64_t *ranks, size_t count, double *out)
{
	if (series->pairs <= series->listed_most) {
		slopes_of_few(series, ranks, count, out);
	} else {
		slopes_of_many(series, ranks, count, out);
	}
}
