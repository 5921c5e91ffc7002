/* Is a press free: does another job run on it, or hold a promise of it? */
#include "promise.h"
#include "remark.h"

static enum suits said_taken(const struct promise *promise, const char *press, struct span span,
                             struct remarks *remarks)
{
	return REMARK_UNTIL(remarks, SUITS_NOT, promise->until, "press %s taken for job %s%s until %s",
	                    press, promise->job, promise_from_words(promise, span).bytes,
	                    moment_text(promise->until.value).bytes);
}

/* Runs there still though it should have ended by now: nobody knows until when. */
static bool has_overrun(const struct promise *promise, struct span span)
{
	return promise->running && promise->until.known &&
	       moment_compare(promise->until.value, span.now) <= 0 &&
	       moment_compare(promise->until.value, span.from) <= 0;
}

static enum suits said_endless(const struct promise *promise, const char *press,
                               struct remarks *remarks)
{
	if (!promise->until.known) {
		return REMARK(remarks, SUITS_DOUBTFUL, "press %s runs job %s, end not known", press,
		              promise->job);
	}
	return REMARK(remarks, SUITS_DOUBTFUL, "press %s still runs job %s, which was to end %s", press,
	              promise->job, moment_text(promise->until.value).bytes);
}

/*
 * Of several jobs the one that ends last is named; one whose end nobody knows is a doubt beside.
 */
enum suits press_free(const struct promise *promises, size_t count, const char *press,
                      struct span span, struct remarks *remarks)
{
	const struct promise *last = NULL;
	const struct promise *endless = NULL;
	enum suits level = SUITS_YES;
	for (size_t i = 0; i < count; i++) {
		const struct promise *promise = &promises[i];
		bool overlaps = promise_overlaps(promise, span);
		if (overlaps && promise->until.known) {
			last = promise_longer(last, promise);
		} else if ((overlaps || has_overrun(promise, span)) && !endless) {
			endless = promise;
		}
	}
	if (last) {
		level = said_taken(last, press, span, remarks);
	}
	if (endless) {
		level = suits_worse(level, said_endless(endless, press, remarks));
	}
	return level;
}
