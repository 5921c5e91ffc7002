/* What the files that try cures share. */
#ifndef TOOTHRACK_PLAN_AHEAD_CURES_H
#define TOOTHRACK_PLAN_AHEAD_CURES_H

#include "ahead.h"

struct cure_work {
	struct horizon *horizon;
	struct arena *arena; /* of the trials */
	double deadline;
	struct tried_tool *tried;
	struct ahead_cure *purchase;
};

/* The shortage that is worked at, and its job that is not served. */
struct lacking {
	struct told_shortage *shortage;
	struct ahead_cure *cures;
	size_t count, room;
	uint32_t job;
	struct joint_row row; /* the first of that job */
	size_t open;          /* needs open of it */
};

bool time_is_over(const struct cure_work *work);
const struct horizon_job *planned_job(const struct horizon *horizon, uint32_t job);
bool is_served(const struct joint_plan *plan, uint32_t job);
struct ahead_cure *cure_of(struct cure_work *work, struct lacking *lacking, const char *kind,
                           size_t cured);
/*
 * Solves the trial. True where it cures: `cured` jobs more, or the shortage's one job short of
 * less. `then` says what it comes to.
 */
bool trial_cures(const struct cure_work *work, const struct lacking *lacking, struct trial *trial,
                 size_t *cured, const char **then);

/* ---- ahead_shift.c, ahead_absent.c */

void cures_by_shift(struct cure_work *work, struct lacking *lacking);
void cures_by_absent(struct cure_work *work, struct lacking *lacking);

#endif
