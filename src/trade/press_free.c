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

/* Of several jobs the one that ends last is named; one whose end is not known is a doubt beside. */
enum suits press_free(const struct promise *promises, size_t count, const char *press,
                      struct span span, struct remarks *remarks)
{
	const struct promise *last = NULL;
	const struct promise *endless = NULL;
	enum suits level = SUITS_YES;
	for (size_t i = 0; i < count; i++) {
		const struct promise *promise = &promises[i];
		if (!promise_overlaps(promise, span)) {
			continue;
		}
		if (promise->until.known) {
			last = promise_longer(last, promise);
		} else if (!endless) {
			endless = promise;
		}
	}
	if (last) {
		level = said_taken(last, press, span, remarks);
	}
	if (endless) {
		level =
			suits_worse(level, REMARK(remarks, SUITS_DOUBTFUL,
		                              "press %s runs job %s, end not known", press, endless->job));
	}
	return level;
}
