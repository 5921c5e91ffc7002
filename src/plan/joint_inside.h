/* What the files of the joint choice share among themselves. */
#ifndef TOOTHRACK_PLAN_JOINT_INSIDE_H
#define TOOTHRACK_PLAN_JOINT_INSIDE_H

#include "joint.h"

/* ---------------------------------------------------------------- who holds what */

/* A resource held over a time: by a need (its number among all), a press by a job. */
struct joint_hold {
	struct joint_time time;
	uint32_t who;
};
struct joint_holds {
	struct joint_hold *items;
	uint32_t count, room;
};

/* What stood before a change, to come back to. */
struct joint_change {
	bool of_job; /* its option; else of a need */
	uint32_t who;
	uint32_t option;
	struct joint_given given;
};

/* A plan in the making. */
struct joint_board {
	struct arena *arena;
	const struct joint_model *model;
	uint32_t *first_need;      /* by job: the number of its first need; one more at the end */
	uint32_t *job_of;          /* by need */
	uint32_t *option;          /* by job */
	struct joint_given *given; /* by need */
	bool *locked;              /* by need: it is being placed, and gives way to nobody */
	struct joint_holds *holds; /* by resource */
	uint32_t only_job;         /* needs of other jobs give way to nobody; JOINT_NONE: all may */
	struct joint_change *changes;
	size_t change_count, change_room;
	uint64_t steps, steps_most; /* of the placing that goes on */
};
void board_open(struct arena *arena, const struct joint_model *model, struct joint_board *out);
/* Back to where so many changes had been made. */
void board_back(struct joint_board *board, size_t changes);
/* Forgets how to come back. */
void board_settle(struct joint_board *board);
/* The time over which a need of that job holds its tools. */
struct joint_time joint_tool_time(const struct joint_job *job);
bool joint_meet(struct joint_time a, struct joint_time b);
/* Has somebody outside the model the resource at any time of these? */
bool joint_busy(const struct joint_resource *resource, struct joint_time time);
const struct joint_need *board_need(const struct joint_board *board, uint32_t need);
/* Gives a need a way and a companion (JOINT_NONE: nothing); looks at no conflict. */
void board_give(struct joint_board *board, uint32_t need, struct joint_given given);
/* Puts a job on an option, or (JOINT_NONE) takes it off with all its needs. */
void board_put(struct joint_board *board, uint32_t job, uint32_t option);
/* Who else holds a resource at any time of these: a need, of a press a job; or JOINT_NONE. */
uint32_t board_holder(const struct joint_board *board, uint32_t resource, struct joint_time time,
                      uint32_t who);
/* Is it neither busy nor held by another then? */
bool board_is_free(const struct joint_board *board, uint32_t resource, struct joint_time time,
                   uint32_t who);
/* Another job that holds the press of an option at its time, or JOINT_NONE. */
uint32_t board_on_press(const struct joint_board *board, uint32_t job, uint32_t option);
/*
 * Serves a job by that option, moving other needs out of the way, as deep as `depth`: true where
 * all its needs are met; else nothing has changed.
 */
bool board_serve_by(struct joint_board *board, uint32_t job, uint32_t option, unsigned depth);
/* By the first of its options that can be. */
bool board_serve(struct joint_board *board, uint32_t job, unsigned depth);
/* The board's plan, in the arena. */
void board_plan(struct arena *arena, const struct joint_board *board, struct joint_plan *out);
/* Puts what of a plan can stand on an empty board. */
void board_take(struct joint_board *board, const struct joint_plan *plan);
/* Can that option be at all: is its press free, has every need a way that is? */
bool joint_option_may(const struct joint_model *model, uint32_t job, uint32_t option);
/* Is a way open over that time, and one of its companions, where it needs one? */
bool joint_way_may(const struct joint_model *model, const struct joint_way *way,
                   struct joint_time time);
/* The one that stands for all of a part, by who is joined to whom; paths grow shorter by it. */
uint32_t joint_part(uint32_t *parts, uint32_t of);
/* Numbers of the jobs by start, then number. */
uint32_t *joint_by_start(struct arena *arena, const struct joint_model *model);

/* ---------------------------------------------------------------- one moment */

/* The jobs and options that are looked at: of each job its bits say which options count. */
struct joint_chosen {
	const uint32_t *option; /* by job; JOINT_NONE: the job is not looked at */
	bool all;               /* all options of every job count instead */
};
/* A set of needs open at a moment that resources cannot serve all: those of Hall. */
struct joint_violator {
	enum joint_group group;
	bool companions_only;
	int64_t moment;
	struct joint_row *rows;
	uint32_t row_count;
	uint32_t *resources;
	uint32_t resource_count;
};
struct joint_violators {
	struct joint_violator *items;
	size_t count, room;
};
/* What the looking keeps from moment to moment. */
struct joint_look;
struct joint_look *look_open(struct arena *arena, const struct joint_model *model);
void look_close(struct joint_look *look);
/*
 * Those of a group at a moment, among the jobs given (`jobs` are those that hold anything then).
 * They are added to the list, in the arena given.
 */
void look_at(struct joint_look *look, struct arena *arena, enum joint_group group, int64_t moment,
             const uint32_t *jobs, uint32_t job_count, struct joint_chosen chosen,
             struct joint_violators *list);

/* ---------------------------------------------------------------- cuts */

/* Of these jobs' options, each counted so often, at most so many can be served. */
struct joint_term {
	uint32_t job, option;
	uint32_t times;
};
struct joint_cut {
	struct joint_term *terms; /* by job, then option */
	uint32_t term_count;
	uint32_t most;
};
struct joint_cuts {
	struct arena *arena;
	struct joint_cut *items;
	size_t count, room;
};
/* Adds a copy of a cut unless it is there already, or can break no plan; true where it was added.
 */
bool cuts_add(struct joint_cuts *cuts, const struct joint_cut *cut);
/*
 * The cut that a violator makes: every option open at its moment, counted by its needs that can
 * only be met through the violator's resources.
 */
struct joint_cut cut_of_violator(struct arena *arena, const struct joint_model *model,
                                 const struct joint_violator *violator, const uint32_t *jobs,
                                 uint32_t job_count);

/* ---------------------------------------------------------------- the integer program */

/* A part as it was solved last; parts only grow, so that one with as many cuts is the same. */
struct joint_seen {
	uint32_t cuts; /* 0: never solved */
	uint32_t bound;
	bool whole;
};
struct joint_master {
	const struct joint_model *model;
	const struct joint_cuts *cuts;
	const uint32_t *first_option; /* by job: number of its first option; one more at the end */
	const uint8_t *may;           /* by option: 0 where it cannot be */
	const uint32_t *wished;       /* by job: the option it has now: taken again where as good */
	struct joint_seen *seen;      /* by job that names a part: the smallest in it */
	double deadline;              /* by joint_clock */
};
/*
 * The jobs that are served at most as far as the cuts tell, part by part: those that no cut joins
 * are of different parts. Fills `option` by job (which holds the last answer still), the bound, how
 * many parts. False where time ran out or the library failed: the bound still holds.
 */
bool master_solve(struct arena *arena, struct joint_master *master, uint32_t *option,
                  uint32_t *bound, uint32_t *parts);

/* One integer program with terms of 0 and 1; GLPK stands behind this. */
struct program_row {
	uint32_t *columns; /* from 0 */
	double *factors;
	uint32_t count;
	double most;
	bool exactly; /* not at most, but exactly that */
};
struct program {
	uint32_t column_count;
	const double *gain; /* by column */
	const struct program_row *rows;
	uint32_t row_count;
	double seconds;
};
enum program_end {
	PROGRAM_FOUND, /* the best, or with `bound` above it one that is good */
	PROGRAM_NONE,  /* nothing holds all rows */
	PROGRAM_LEFT,  /* time ran out, or the library failed */
};
/*
 * Maximizes the gain; `taken` (by column) is what was found, `bound` what none exceeds: the sum of
 * all gains where nothing better is known.
 */
enum program_end program_solve(const struct program *program, uint8_t *taken, double *bound);

/* ---------------------------------------------------------------- tools over time */

enum search_end { SEARCH_FOUND, SEARCH_NONE, SEARCH_LEFT };
/*
 * Tools for these needs (of one group, of jobs that are on the board), by integer program.
 * `beside`: what other needs hold stays theirs; else they are not looked at. Found: the board has
 * them, where it was sought beside others. None: there is no such choice. Left: neither was found
 * in so many seconds.
 */
enum search_end search_needs(struct joint_board *board, const uint32_t *needs, uint32_t count,
                             bool beside, double seconds);
/* Who could ask for a resource: needs of any option. */
struct joint_askers {
	uint32_t *first; /* by resource, one more at the end */
	struct joint_asker {
		uint32_t need, option;
	} * items;
};
void askers_list(struct arena *arena, const struct joint_board *board, struct joint_askers *out);

#endif
