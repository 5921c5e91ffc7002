/* What the bench asks before a tool goes out for a job or onto a press: the planner's room knows.
 */
#include "bench.h"
#include "toothrack/plan.h"

static enum outcome serves(struct store *store, struct arena *arena, int64_t job, int64_t tool,
                           struct moment now, struct bench_verdict *out, struct fault *fault)
{
	struct limits limits;
	struct served served = {0};
	enum outcome outcome = store_limits(store, &limits, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = plan_serves(store, arena, job, tool, now, &limits, &served, fault);
	}
	*out = (struct bench_verdict){
		.yes = served.serves,
		.text = served.text,
		.expected = served.expected,
		.caution = served.caution,
	};
	if (served.expected != NULL) {
		out->expected = arena_format(arena, "Expected: %s.", served.expected);
	}
	return outcome;
}

static enum outcome takes(struct store *store, struct arena *arena, int64_t place, int64_t tool,
                          struct bench_verdict *out, struct fault *fault)
{
	struct limits limits;
	struct station_takes takes_it = {0};
	enum outcome outcome = store_limits(store, &limits, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = plan_station_takes(store, arena, place, tool, &limits, &takes_it, fault);
	}
	*out = (struct bench_verdict){
		.yes = takes_it.takes,
		.text = takes_it.text,
		.caution = takes_it.caution,
	};
	return outcome;
}

const struct bench_asks bench_asks = {.serves = serves, .takes = takes};
