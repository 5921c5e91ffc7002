/* Rolls whose wear is known, with the readings that a shop takes of them. */
#ifndef TESTS_TRADE_WEARING_H
#define TESTS_TRADE_WEARING_H

#include <math.h>
#include <string.h>

#include "random.h"
#include "toothrack/trade.h"
#include "trade/pi.h"

/* How rolls of a shop wear and are read: shares of the volume when new; all drawn between two. */
struct wearing {
	double wear_least, wear_most;       /* a million metres; least 0: none wears */
	double scatter_least, scatter_most; /* standard deviation of a reading */
	double hardly;                      /* share of rolls that wear a fiftieth of that */
	bool heavy;                         /* readings scatter as Student's t with 3 freedom does */
	double step;                        /* cm3/m2 that readings are rounded to; 0: not */
};

/* The life over which rolls that do not wear out are read, in metres. */
#define LONG_LIFE 5e6
#define LOST 0.2
#define POINTS_MOST 200

static inline struct trend_point point_rounded(struct trend_point point, double step)
{
	if (step > 0) {
		double micro = step * 1e6;
		double volume = (double)volume_to_micro(point.volume);
		point.volume = volume_from_micro(llround(round(volume / micro) * micro));
	}
	return point;
}

/* A roll's history. */
struct worn_roll {
	struct volume new;
	double wear; /* volume lost, a metre */
	double life; /* metres until LOST of the volume is gone; INFINITY: never */
	double read; /* metres over which it was read */
	struct trend_point clean[POINTS_MOST]; /* readings after cleaning */
	struct trend_point run[POINTS_MOST];   /* before it: what plugs the cells is in them */
	size_t count;
};

static inline double uniform(struct random *random)
{
	return (random_below(random, UINT32_C(1) << 30) + 0.5) / (double)(UINT32_C(1) << 30);
}

/* Between two, by their ratio. */
static inline double uniform_ratio(struct random *random, double least, double most)
{
	return least * pow(most / least, uniform(random));
}

/* G. E. P. Box, M. E. Muller, Annals of Mathematical Statistics 29 (1958) 610. */
static inline double normal(struct random *random)
{
	double radius = sqrt(-2 * log(uniform(random)));
	return radius * cos(2 * (double)PI * uniform(random));
}

/* Of variance 1. */
static inline double scattered(struct random *random, bool heavy)
{
	double value = normal(random);
	if (!heavy) {
		return value;
	}
	double square = 0;
	for (int i = 0; i < 3; i++) {
		double one = normal(random);
		square += one * one;
	}
	return value / sqrt(square);
}

static inline struct trend_point point_at(double metres, double micro)
{
	return (struct trend_point){
		.run = length_from_mm(metres * 1e3),
		.volume = volume_from_micro(micro > 0 ? llround(micro) : 0),
	};
}

/*
 * A roll read `count` times at uneven distances, over a quarter to the whole of its life. Each time
 * it has plugged by up to a tenth since it was cleaned last, is read, cleaned and read again.
 */
static inline void roll_draw(struct random *random, const struct wearing *wearing, size_t count,
                             struct worn_roll *roll)
{
	double new = uniform_ratio(random, 2e6, 15e6);
	double scatter = new *uniform_ratio(random, wearing->scatter_least, wearing->scatter_most);
	double wear = 0;
	if (wearing->wear_least > 0) {
		wear = uniform_ratio(random, wearing->wear_least, wearing->wear_most) / 1e6;
	}
	bool hardly = uniform(random) < wearing->hardly;
	wear = hardly ? wear / 50 : wear;
	*roll = (struct worn_roll){
		.new = volume_from_micro(llround(new)),
		.wear = wear *new,
		.life = wear > 0 ? LOST / wear : (double)INFINITY,
		.count = count,
	};
	double life = hardly || !(wear > 0) ? LONG_LIFE : roll->life;
	roll->read = life * (0.25 + 0.75 * uniform(random));
	for (size_t i = 0; i < count; i++) {
		double metres = roll->read * uniform(random);
		double volume = new - roll->wear *metres;
		double plugged = 0.1 * uniform(random);
		roll->run[i] =
			point_at(metres, volume * (1 - plugged) + scatter * scattered(random, wearing->heavy));
		roll->clean[i] =
			point_rounded(point_at(metres, volume + scatter * scattered(random, wearing->heavy)),
		                  wearing->step);
	}
}

#endif
