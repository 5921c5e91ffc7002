/*
 * What the files of promises share: a promise as the check sees it, how good a choice of tools is,
 * and what it takes to book a job.
 */
#ifndef TOOTHRACK_PLAN_PROMISED_H
#define TOOTHRACK_PLAN_PROMISED_H

#include "serves.h"

/* ---------------------------------------------------------------- a promise, looked at anew */

/*
 * The question of a promise, on its press, over its time, at its repeat, and where each of its
 * tools stands in it. Not to be moved: the question names the press within.
 */
struct promised {
	const struct kept_promise *promise;
	struct repeat own_repeat; /* the job's own, as on record by now */
	struct known_count own_around;
	struct attempt attempt;         /* its shelf holds the promised tools alone */
	struct assigned chosen[GROUPS]; /* as serving_rules */
};
/*
 * Reads the job of a promise into `asking`, which holds the store, the arena and the limits, and
 * lays out the question. Tools promised for what the job no longer has are left out.
 */
enum outcome promised_open(struct asking *asking, const struct kept_promise *promise,
                           struct moment now, struct promised *out);

/* ---------------------------------------------------------------- how good a choice is */

/* Items 1 to 4 of the order of choice. Two that are equal in all are equally good. */
struct merit {
	int64_t unmet, cautions;
	int64_t spread_um; /* whole micrometres */
	int64_t deviation; /* of volumes, summed, in tenths of a percent */
};
/* Of tools on the question's shelf, chosen as serving_rules. */
struct merit merit_of(const struct question *question, const struct assigned *const *chosen);
/* < 0 where `a` is better. */
int merit_compare(const struct merit *a, const struct merit *b);

/* ---------------------------------------------------------------- booking */

/* A tool that another job would give. */
struct freed_tool {
	int64_t tool;
	const char *job; /* whose */
};
/* What an answer may take beside what is there, and what it may not. */
struct freeing {
	struct freed_tool *tools;
	size_t count;
	struct tool_list last_choice; /* those, where they are to be taken only for want of others */
	/* Of these needs only the tools of that promise; the needs end with NULL. */
	const char *const *settled;
	const struct kept_promise *stay;
};
/* A job that is to have tools: the one asked, or another that gives way. */
struct claim {
	int64_t job;
	const int64_t *presses;
	size_t press_count;
	struct moment from;
	struct known_moment until; /* not known: on each press by how long the job holds it */
	/* Of a promise that gives way: its repeat stays, and what it gets is no worse than this. */
	struct repeat repeat;
	struct known_count number_around;
	const struct merit *bar;
	const struct kept_promise *before;
	const struct freeing *freeing; /* or NULL */
};
/* What a claim could have: the best press first. */
struct placed {
	struct asking *asking;
	struct attempts attempts;
};
struct booking_step {
	struct claim claim;
	struct placed placed;
};
struct booking {
	struct store *store;
	struct arena *arena;
	struct fault *fault;
	const struct book_request *request;
	struct claim claim;
	struct job job; /* as on record */
	struct booked *out;
	/* Of moving. */
	size_t trials;
	size_t depth;     /* jobs that give way one for another */
	int64_t *placing; /* jobs that are being placed: none of them gives way again */
	size_t placing_count;
	struct booking_step *steps; /* who got what, the one asked first */
	size_t step_count;
};
/* Answers a claim as things stand, within the transaction. */
enum outcome claim_solve(struct booking *booking, const struct claim *claim, struct placed *out);
/* Are its tools all there, and no worse than the bar? */
bool claim_is_met(const struct claim *claim, const struct placed *placed);
/* Promises what was found, by an entry `word`; `out` becomes the check kept with it. */
enum outcome claim_keep(struct booking *booking, const struct claim *claim,
                        const struct placed *placed, const char *word, const char *detail,
                        struct check *out);
/* `P1 from 2026-12-01T08:00 until 2026-12-01T16:00, 24 tools`: what the ledger tells of it. */
const char *booking_detail(const struct booking *booking, const struct placed *placed);
/* The tools that an answer chose, each with what it is for. */
struct promised_tool *tools_chosen(struct arena *arena, const struct attempt *attempt,
                                   size_t *count);
/* For asking.adjust: takes the promises of who gives a tool off it, and what is settled. */
void freeing_adjust(const struct asking *asking, struct shelf *shelf);
struct merit merit_of_attempt(const struct attempt *attempt);
/* A job that might give way: its promise, and how good its tools are now. */
struct candidate_job {
	struct kept_promise promise;
	struct merit merit;
};
struct candidate_jobs {
	struct candidate_job *items;
	size_t count;
};
/*
 * Does what was tried want for the tool? It suits some need by itself, and a need of its table is
 * short, or nothing is and the answer is only worse than it must be.
 */
bool tool_is_wanted(const struct placed *placed, const struct promised_tool *tool);
/* The tools of some jobs: those that are wanted, or all where `wanting` is NULL. */
struct freeing freeing_of(struct booking *booking, const struct candidate_jobs *among,
                          const bool *which, const struct placed *wanting);
/* All of them only where nothing else would do. */
void freeing_make_last(struct booking *booking, struct freeing *freeing);
/* Of what was given, what an answer takes; `which` becomes the jobs that give it. */
struct freeing freeing_taken(struct booking *booking, const struct freeing *given,
                             const struct placed *placed, const struct candidate_jobs *among,
                             bool *which);
/* Books what was found for the while of trying, without what the ledger and the promise tell. */
enum outcome claim_keep_for_now(struct booking *booking, const struct claim *claim,
                                const struct placed *placed);
/*
 * Tries to free what the job asked for lacks by giving other planned jobs tools that are equally
 * good. `*kept`: it is promised, and so are they anew; else all is as it was.
 */
enum outcome book_by_moving(struct booking *booking, const struct placed *placed, bool *kept);

#endif
