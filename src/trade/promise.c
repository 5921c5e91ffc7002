/* When promises of tools and presses meet a span of time. */
#include <stdio.h>

#include "promise.h"

/* a before b; a promise that began ever since, or has no end, is before or behind everything. */
static bool starts_before(struct known_moment a, struct moment b)
{
	return !a.known || moment_compare(a.value, b) < 0;
}

static bool ends_after(struct known_moment a, struct moment b)
{
	return !a.known || moment_compare(a.value, b) > 0;
}

bool promise_overlaps(const struct promise *promise, struct span span)
{
	bool together = promise->from.known && moment_compare(promise->from.value, span.from) == 0;
	return together ||
	       (starts_before(promise->from, span.until) && ends_after(promise->until, span.from));
}

struct moment promise_free(struct moment until, const struct limits *limits)
{
	return calendar_add(&limits->calendar, until, limits->turnaround);
}

bool promise_too_near(const struct promise *promise, struct span span, const struct limits *limits)
{
	if (promise_overlaps(promise, span)) {
		return true;
	}
	if (promise->until.known && moment_compare(promise->until.value, span.from) <= 0) {
		return moment_compare(promise_free(promise->until.value, limits), span.from) > 0;
	}
	return starts_before(promise->from, promise_free(span.until, limits));
}

const struct promise *promise_longer(const struct promise *a, const struct promise *b)
{
	if (!a) {
		return b;
	}
	return a->until.known && ends_after(b->until, a->until.value) ? b : a;
}

struct quantity_text promise_from_words(const struct promise *promise, struct span span)
{
	struct quantity_text words = {.bytes = ""};
	if (promise->from.known && moment_compare(promise->from.value, span.from) > 0) {
		snprintf(words.bytes, sizeof words.bytes, " from %.56s",
		         moment_text(promise->from.value).bytes);
	}
	return words;
}
