/* What `start`, `finish` and `unbook` share: a job that turns, with its promise and its run. */
#ifndef TOOTHRACK_PLAN_TURN_H
#define TOOTHRACK_PLAN_TURN_H

#include "toothrack/plan.h"

struct turning {
	struct store *store;
	struct arena *arena;
	struct fault *fault;
	const struct actor *actor;
	const char *press_asked;            /* of start; or NULL */
	const struct finish_request *asked; /* of finish */
	struct job job;
	struct kept_promise promise; /* `id` 0: none */
	struct job_running run;      /* `job` 0: none */
	struct job_turned *out;
};

/* Reads the job and does the work in a transaction of its own, all of it or nothing. */
enum outcome job_turn(struct turning *turning, const char *where, const char *job,
                      enum outcome (*work)(struct turning *turning));
bool job_turning_is(const struct turning *turning, const char *state);
/* What the answer tells of every job that turns. */
void job_turned_tell(struct turning *turning);

/*
 * The tools that ran for the job, by kind and then tag, with what they had run before; `press` 0:
 * not known. Those scanned out for it, or standing at the press since they were put there for it;
 * those booked for it that stand at the press; and where of a kind more were booked than that,
 * others booked for it, unless these are out for another job or at another press.
 */
enum outcome tools_ran(struct turning *turning, int64_t press, struct tool_ran **out,
                       size_t *count);
/* Once the web has reached it: what it has run by then, and whether its life is over. */
void tool_ran_grow(struct arena *arena, struct tool_ran *ran, struct length length,
                   enum units units);

#endif
