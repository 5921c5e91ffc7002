/* Promises of tools and presses against a span of time that is asked. */
#ifndef TOOTHRACK_TRADE_PROMISE_H
#define TOOTHRACK_TRADE_PROMISE_H

#include "toothrack/trade.h"

/*
 * Spans that merely touch do not overlap. One of no length does, where it lies inside the other or
 * at its start; and two that start together do.
 */
bool promise_overlaps(const struct promise *promise, struct span span);
/* Less than the turnaround lies between the promise and the span; exactly that much is free. */
bool promise_too_near(const struct promise *promise, struct span span, const struct limits *limits);
/* The longer lasting of two promises; the first where they end together. `a` may be NULL. */
const struct promise *promise_longer(const struct promise *a, const struct promise *b)
	__attribute__((returns_nonnull));
/* ` from 2026-12-01T10:00`, where it begins behind the beginning of the span; else nothing. */
struct quantity_text promise_from_words(const struct promise *promise, struct span span);

#endif
