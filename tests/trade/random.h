/*
 * Random numbers that are the same on every machine and every day, for tests that try many cases.
 */
#ifndef TESTS_TRADE_RANDOM_H
#define TESTS_TRADE_RANDOM_H

#include <stdint.h>

struct random {
	uint64_t state; /* not 0 */
};

/*
 * xorshift64*; S. Vigna, "An experimental exploration of Marsaglia's xorshift generators,
 * scrambled", 2016.
 */
static inline uint32_t random_below(struct random *random, uint32_t limit)
{
	random->state ^= random->state >> 12;
	random->state ^= random->state << 25;
	random->state ^= random->state >> 27;
	return (uint32_t)((random->state * UINT64_C(2685821657736338717)) >> 33) % limit;
}

#endif
