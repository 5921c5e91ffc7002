/* What the rounds of the joint choice keep, for those who seek tools to the end of them. */
#ifndef TOOTHRACK_PLAN_JOINT_SOLVING_H
#define TOOTHRACK_PLAN_JOINT_SOLVING_H

#include "joint_inside.h"

struct solving {
	struct arena *arena;
	const struct joint_model *model;
	double deadline;
	struct joint_board board;
	uint32_t *by_start;
	int64_t longest; /* time for which any job holds a tool or its press */
	struct joint_askers askers;
	struct joint_cuts cuts;
	struct joint_look *look;
	struct joint_master master;
	uint32_t *target; /* by job: the option that the program gave it */
	uint32_t *near;   /* room for the jobs around a moment or a job */
	struct joint_answer *out;
};

/*
 * Of one group: tools for a job that is on the board without them, or the proof that there are
 * none, which is then a new cut. Left: neither.
 */
enum search_end settle_group(struct solving *solving, enum joint_group group, uint32_t job);

#endif
