/*
 * Jobs planned together, as a model of its own: which job runs, and with which tools, so that no
 * tool and no press serves two at a time. Knows no store and no rule of the check: numbers in,
 * numbers out. Built by ahead_model.c, solved by joint_*.c.
 */
#ifndef TOOTHRACK_PLAN_JOINT_H
#define TOOTHRACK_PLAN_JOINT_H

#include <stdio.h>

#include "internal.h"

#define JOINT_NONE UINT32_MAX

/* A time in seconds, half open. Two that share no second do not meet. */
struct joint_time {
	int64_t from, until;
};

/* What serves one job at a time: a tool or a press, by its number in the model. */
struct joint_resource {
	/* When others have it: promises kept, jobs running. In order, none touching. */
	struct joint_time *busy;
	uint32_t busy_count;
	bool is_press;
};

/* A tool that would do for a need. */
struct joint_way {
	uint32_t item; /* resource */
	/* Resources, one of which it needs beside it: a gear, a blade, a magnetic cylinder. */
	const uint32_t *companions;
	uint32_t companion_count;
	bool needs_companion; /* with none that would do, the way leads nowhere */
	bool doubtful;        /* at caution */
};

enum joint_group { JOINT_CYLINDERS, JOINT_ROLLS, JOINT_DIES, JOINT_PRESS };
#define JOINT_GROUPS 4

/* A station or a cut of a job. Of every option of a job the same, in the same order. */
struct joint_need {
	enum joint_group group;       /* never JOINT_PRESS */
	int64_t number;               /* of the station or cut */
	const struct joint_way *ways; /* best first */
	uint32_t way_count;
};

/* One way to run a job: a press and a repeat. */
struct joint_option {
	uint32_t press; /* resource; JOINT_NONE: none is asked */
	struct joint_need *needs;
};

struct joint_job {
	struct joint_time time;       /* when it holds its press; never empty: at least a second */
	int64_t free;                 /* its tools are free again: time.until, then the turnaround */
	struct joint_option *options; /* best first; none: it cannot run */
	uint32_t option_count;
	uint32_t need_count; /* of each option */
};

struct joint_model {
	struct joint_resource *resources;
	uint32_t resource_count;
	struct joint_job *jobs;
	uint32_t job_count;
};

/* What a need got. */
struct joint_given {
	uint32_t way;       /* of the need; JOINT_NONE: nothing */
	uint32_t companion; /* resource, or JOINT_NONE */
};
struct joint_plan {
	uint32_t *option;           /* by job; JOINT_NONE: not served */
	struct joint_given **given; /* by job, its needs of that option; NULL where not served */
	uint32_t served;
};

struct joint_settings {
	double seconds;  /* no longer than about that by joint_clock, but for one round at least */
	bool no_program; /* greedy and improved alone: the bound is then that of each job by itself */
};
struct joint_answer {
	struct joint_plan greedy; /* the first, job by job */
	struct joint_plan plan;   /* the best found */
	uint32_t bound;           /* no plan serves more */
	bool proven;              /* plan.served == bound */
	uint32_t parts;           /* independent ones */
	uint32_t moved;    /* jobs unserved, or that have another option or tool than in greedy */
	const char *proof; /* "matching" (the first plan or its improvement meets the bound of the
	                      matchings), "integer program", or "gap" */
};
/*
 * Serves as many jobs as it finds: greedy first (by start, best options and ways first), then
 * improved by moving tools, then by integer program over the parts that the bound leaves open.
 * Everything of `out` is in the arena.
 */
void joint_solve(struct arena *arena, const struct joint_model *model,
                 const struct joint_settings *how, struct joint_answer *out);
/* Is it a plan: nothing used twice at a time, every need of a job served met by a way of its own?
 */
bool joint_plan_holds(const struct joint_model *model, const struct joint_plan *plan);
/*
 * The same for a model that differs a little: `warm` is a plan of the former one, whose jobs,
 * options and needs are those of this one though their ways, their times and the resources may be
 * more or other. What of it no longer holds is dropped; then the jobs of `tries` (NULL: all) that
 * are not served are tried once more. Never serves fewer than what of `warm` still holds.
 */
void joint_improve(struct arena *arena, const struct joint_model *model,
                   const struct joint_plan *warm, const uint32_t *tries, uint32_t try_count,
                   struct joint_plan *out);

/* A need of a job, whichever option it takes. */
struct joint_row {
	uint32_t job;
	uint32_t need; /* its place among the needs; JOINT_NONE: the press */
};
/*
 * What no plan can avoid: over that time these rows, all open at once, can only be met through
 * these resources (every way of each leads through one of them, or nowhere), and they are fewer.
 * Found by a greatest matching (over tools and what goes with them, each used once), as its set of
 * Hall: of all such sets the one that alternating paths from the rows left out reach, in its
 * connected parts, so that it does not hang on the matching. Of a job with several options the ways
 * of all count.
 */
struct joint_shortage {
	enum joint_group group;
	bool companions_only; /* all of its resources are gears, blades, magnetic cylinders, or what
	                         lacks is these: rows have tools but none that goes with them */
	struct joint_time time;
	struct joint_row *rows;
	uint32_t row_count;
	uint32_t *resources;
	uint32_t resource_count;
};
/*
 * All of them, by start, then group; those alike that follow one another at once are one. A way
 * through what is busy at any time of its row is none. What goes with an item is taken together
 * over all rows open: where they differ in that, it says no more than what is certain.
 */
void joint_shortages(struct arena *arena, const struct joint_model *model,
                     struct joint_shortage **out, size_t *count);

/*
 * The whole model, unsolved, in CPLEX-LP: one 0/1 variable a job and option (x_JOB_OPTION), a need
 * and way (y_JOB_OPTION_NEED_WAY), a companion of a need (z_JOB_OPTION_NEED_RESOURCE); maximize the
 * jobs served. Numbers as in the model. False where writing fails (errno).
 */
bool joint_write_lp(const struct joint_model *model, FILE *file);

/*
 * Seconds that the process has worked: what is done in a given time is then the same on a busy
 * machine, which only takes longer for it.
 */
double joint_clock(void);

#endif
