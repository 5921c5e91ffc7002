/*
 * The slopes of all pairs of a series, without listing them: how many lie below one, and which is
 * the k-th. Counted in whole numbers, so that nothing rounds and ties are ties.
 */
#ifndef TOOTHRACK_TRADE_SLOPES_H
#define TOOTHRACK_TRADE_SLOPES_H

#include "stored.h"
#include "toothrack/trade.h"

/* Sums over the groups of equal ones, each of t: t(t-1)/2, t(t-1)(t-2), t(t-1)(2t+5). */
struct ties {
	int64_t pairs;
	double triples;
	double spread;
};

/* A series by rising x, those of one x by rising y. */
struct series {
	struct arena *arena;
	const int64_t *x, *y;
	wide x_range, y_range; /* greatest less least */
	uint32_t count;
	int64_t pairs;      /* whose x differ */
	int64_t inverted;   /* pairs that fall */
	int64_t both_pairs; /* equal in both */
	struct ties x_ties, y_ties;
	bool small_numbers;  /* differences are exact as doubles */
	int64_t listed_most; /* so many slopes are listed rather than narrowed down; at least 1 */
};

/*
 * The series of x and y in any order, fewer than 2^31; no two x are further apart than 2^63, no y
 * is further than 2^60 from 0.
 */
struct series series_of(struct arena *arena, const int64_t *x, const int64_t *y, size_t count);

/*
 * The slope of two of the series that differ in x, rounded once, so that it never falls where the
 * true one rises.
 */
static inline double slope_between(const struct series *series, uint32_t from, uint32_t to)
{
	int64_t across = series->x[to] - series->x[from];
	int64_t up = series->y[to] - series->y[from];
	return series->small_numbers ? (double)up / (double)across
	                             : (double)((long double)up / (long double)across);
}

/* As sen_of and kendall_of, of a series made ready. */
struct sen sen_of_series(const struct series *series, double confidence);
struct kendall kendall_of_series(const struct series *series);

#define SLOPE_RANKS 4
/*
 * The slopes at these ranks among all whose x differ, sorted (0 is the least slope). The ranks
 * rise, are below `pairs`, and at most SLOPE_RANKS.
 */
void slopes_at(const struct series *series, const int64_t *ranks, size_t count, double *out);

/* The k-th smallest, 0 the least, of count > k numbers, which change places. */
double number_at(double *numbers, size_t count, size_t k);

/* Something to be sorted by a key. */
struct keyed {
	int64_t key;
	uint32_t index;
};
/*
 * Sorts by key, those of equal keys as they came; returns how many pairs changed places. `spare`
 * has room for as many.
 */
int64_t keyed_sort(struct keyed *items, struct keyed *spare, uint32_t count);

#endif
