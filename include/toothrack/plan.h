/* The planner's work: the check of a job against the shelf, and the repeats a label could run on.
 */
#ifndef TOOTHRACK_PLAN_H
#define TOOTHRACK_PLAN_H

#include <stdio.h>

#include "toothrack/store.h"

enum verdict { VERDICT_READY, VERDICT_CAUTION, VERDICT_SHORT };
enum finding_level { FINDING_NOTE, FINDING_CAUTION, FINDING_SHORT };

/* One unmet or doubtful need. */
struct finding {
	const char *need; /* press, web, repeat, cylinder, gear, anilox, blade, die, magnetic_cylinder,
	                     plates */
	int64_t station;  /* 0: null */
	int64_t cut;      /* 0: null */
	enum finding_level level;
	int64_t wanted, have;
	struct tag *tools; /* the tools shared, or the near misses */
	size_t tool_count;
	int64_t *stations; /* those that compete */
	size_t station_count;
	struct known_moment until; /* when the lack ends of itself, where that is known */
	const char *text;
};

/* A tool chosen, or none. */
struct chosen {
	bool known;
	struct tag tag;
	const char *place; /* code of where it is, or NULL */
	const char *what;  /* the few figures that matter: "96 teeth 1/8cp, face 330mm" */
};
struct station_answer {
	int64_t station;
	const char *ink, *process, *plates; /* ink, plates may be NULL */
	struct chosen cylinder, gear, anilox, blade;
	struct known_volume volume; /* of the chosen roll at the end of the run */
	bool factor_known;
	double factor_percent;
	struct real_length flat_length;
	bool buildup_known;
	struct real_length buildup_error;
};
struct cut_answer {
	int64_t cut;
	struct chosen die, magnetic_cylinder;
};
struct cure {
	const char *kind;     /* repeat, press, time, die, return, clear */
	const char *press;    /* or NULL */
	struct repeat repeat; /* not known where it is not the point */
	struct known_count number_around;
	struct tag *tools;
	size_t tool_count;
	struct known_moment from;
	const char *text;
};

/* The answer of a check on one press. */
struct check {
	const char *job, *title;
	const char *state; /* of the job */
	const char *press; /* NULL where the job has no press to be checked on */
	struct moment from, until;
	enum verdict verdict;
	struct repeat repeat;
	struct known_count number_around, number_across;
	bool gap_known;
	struct real_length gap_around;
	struct known_length web_needed, printed_width, run;
	bool waste_known;
	double waste; /* fraction of 1 */
	struct station_answer *stations;
	size_t station_count;
	struct cut_answer *cuts;
	size_t cut_count;
	struct finding *findings;
	size_t finding_count;
	struct cure *cures;
	size_t cure_count;
	struct check *others; /* the other presses, best first */
	size_t other_count;
	/* Where it is short, of the best press alone: at most three, best first. */
	struct combination *combinations;
	size_t combination_count;
};

/* What is asked. */
struct check_request {
	const char *job;            /* number or tag */
	const char *const *presses; /* codes; none: the job's own, else every press not retired */
	size_t press_count;
	struct known_moment from, until; /* not known: the job's own, else now / from */
	struct moment now;
	const struct limits *limits; /* in force; their units are those of the texts */
};
/*
 * The check; writes nothing. OUTCOME_DONE whatever the verdict; OUTCOME_BAD for an unknown job or
 * press, until before from.
 */
enum outcome plan_check(struct store *store, struct arena *arena,
                        const struct check_request *request, struct check *out,
                        struct fault *fault);

/* One repeat the shelf could run a label on. */
struct choice {
	const char *press;
	struct repeat repeat;
	int64_t number_around;
	struct real_length gap;
	enum verdict verdict;
	bool die_suits;
	bool waste_known;
	double waste; /* fraction of 1 */
	double plate_area_cm2;
	struct known_length tool_run;
	size_t unmet;
	const char *lacks; /* "cylinder at stations 2, 3; die", or "" */
};
/* `choices JOB`: every repeat of the shelf's cylinders that suits, ranked, on each press asked. */
enum outcome plan_choices(struct store *store, struct arena *arena,
                          const struct check_request *request, struct choice **out, size_t *count,
                          struct fault *fault);

/* ------------------------------------------------------------------ what the bench asks */

/* Would a tool that is scanned out for a job serve it? */
struct served {
	bool serves;
	const char *need;     /* `cylinder`, `anilox`, ...: NULL where it serves none */
	int64_t station, cut; /* of the need; 0: none, or any of several */
	const char *text;     /* "cylinder at station 3, Cyan"; or why not: "is out for J7 already" */
	const char *expected; /* "PC000012-3, 96 teeth, in R2; ...", at most three; where one of its
	                         kind is wanted, or for the station or cut that the text names, and
	                         there is none, that first; NULL: nothing */
	const char *caution;  /* to be known though it serves: "plates of job J3 still mounted" */
};
/*
 * A need is open where neither a tool out for the job nor one that stands at the press for it
 * covers it: the tool serves where with it one need more is covered than without it (each tool
 * covers one need, by the predicates of the check). Otherwise `text` says why, and `expected` what
 * the check would choose for the needs of its kind that are open and where that is. Writes nothing.
 */
enum outcome plan_serves(struct store *store, struct arena *arena, int64_t job, int64_t tool,
                         struct moment now, const struct limits *limits, struct served *out,
                         struct fault *fault);

/* Does a station of a press take a tool? */
struct station_takes {
	bool takes;
	const char *text; /* why not: "P1-D1 is a die station, it takes no plate cylinder"; else NULL */
	const char *caution; /* to be known though it takes it: "fit not known, P1 takes journal35" */
};
/*
 * `place` is a station of a press, or a press as a place. Neither held; the kind and the process by
 * which the station works; fit, face and web, lengths and pitches by the predicates of the check
 * without a job. What is not known is a caution, never a refusal. Writes nothing.
 */
enum outcome plan_station_takes(struct store *store, struct arena *arena, int64_t place,
                                int64_t tool, const struct limits *limits,
                                struct station_takes *out, struct fault *fault);

/* ------------------------------------------------------------------ all jobs together */

/* A tool that the joint choice gives a need of a job. */
struct ahead_tool {
	struct tag tag;
	const char *need;
	int64_t station, cut; /* one of the two; the other 0 */
};
/* A job of the horizon. */
struct ahead_job {
	const char *job, *title, *state; /* title may be NULL */
	const char *press;               /* where it is to run; NULL: not known, or not served */
	struct known_moment from, until; /* as planned; not known: it cannot be planned */
	bool verdict_known;              /* false: it has no time, or its time has passed */
	enum verdict verdict;            /* together with all others */
	bool booked;                     /* its tools are promised already */
	bool broken;                     /* and that promise does not hold any more */
	bool running;
	bool moved; /* other tools than the first, greedy plan gave it, or served in only one of them */
	const char
		*text; /* what is said of it in a few words: "ready on P1", "short: anilox at station 3" */
	struct ahead_tool *tools; /* what it would run with; none where it is not served */
	size_t tool_count;
};
/* A figure of a tool that is not there yet, under the name of its attribute: `face`, `330mm`. */
struct ahead_figure {
	const char *name, *value;
};
struct ahead_cure {
	const char *kind;  /* tool (one more), shift, return, clear */
	const char *need;  /* of a tool */
	const char *job;   /* of a shift, or NULL */
	const char *press; /* a shift to another press, or NULL */
	struct tag *tools; /* of return, clear */
	size_t tool_count;
	struct known_moment from; /* shift: the new start; return: by when */
	struct known_duration by; /* shift: how far it moves, later or earlier */
	bool earlier;
	size_t cured; /* how many more jobs are served with it, found by solving again */
	const char
		*text; /* "one more anilox roll, 140/cm, 4.2cm3/m2, face 330mm or wider: then J3 too" */
	const struct ahead_figure *figures; /* of a tool more, as it would be put on record */
	size_t figure_count;
};
struct ahead_shortage {
	const char
		*need;    /* press, web, repeat, cylinder, gear, anilox, blade, die, magnetic_cylinder */
	bool certain; /* no plan can avoid it; else the best plan found leaves it */
	struct moment from, until;
	int64_t wanted, have;
	const char **jobs; /* numbers, each once */
	size_t job_count;
	struct ahead_tool *needs; /* the needs that compete, `tag` not filled; by job as in need_jobs */
	const char **need_jobs;   /* the job of each */
	size_t need_count;
	struct tag *tools; /* all that they share */
	size_t tool_count;
	struct ahead_cure *cures; /* smallest first */
	size_t cure_count;
	const char *text; /* "7 stations on 2026-12-01T10:00 share 6 anilox rolls: ..." */
};
struct ahead {
	struct moment from, until;
	struct ahead_job *jobs; /* by from, those without last, then number */
	size_t job_count;
	struct ahead_shortage *shortages; /* by from, then need */
	size_t shortage_count;
	size_t planned, served, bound; /* jobs that have a time; those served; no plan serves more */
	double gap;                    /* (bound - served)/bound */
	bool proven;
	const char *proof; /* how it is known: "matching", "integer program", "gap" */
	size_t moved;
	size_t parts; /* independent ones */
	const struct ahead_cure
		*purchase; /* the one tool more that serves most of the horizon, or NULL */
};
struct ahead_request {
	struct moment from, until; /* the horizon */
	struct moment now;
	bool rebook;    /* tools promised already may be given anew, in this plan alone */
	bool cures;     /* look for cures */
	double seconds; /* for the joint choice, at most about that */
	FILE *lp;       /* the whole model is written there too, or NULL */
	const struct limits *limits;
};
/* `ahead`: all planned jobs together. Writes nothing on record. OUTCOME_DONE whatever is short. */
enum outcome plan_ahead(struct store *store, struct arena *arena,
                        const struct ahead_request *request, struct ahead *out,
                        struct fault *fault);

/* ------------------------------------------------------------------ a week on a page */

/* What is to be seen first of a job: its verdict, and of one that nothing is wrong with, that it
   runs. */
enum board_sign { BOARD_READY, BOARD_CAUTION, BOARD_SHORT, BOARD_NOT_KNOWN, BOARD_RUNS };
/* A job on one day. */
struct board_entry {
	const struct ahead_job *job;
	const char *time; /* `06:00-11:40`, `from 06:00`, `all day`, `until 11:40`; `closed`: all of a
	                     closed day, on which it stands still; `no time` */
	const char *verdict; /* in words: `ready with caution`, `booked`, `runs`, `short` */
	enum board_sign sign;
	bool before, after; /* it goes on from the day before; on the day after */
};
struct board_field {
	struct board_entry *entries; /* by when they begin, then number */
	size_t count, room;
};
#define BOARD_DAYS 7
struct board_day {
	struct moment from, until; /* until: where the next begins; 23 to 25 hours later, as a rule */
	const char *name;          /* `Mon 30 Nov` */
	bool closed;               /* no open hour by the shop's calendar */
};
struct board_row {
	const char *press; /* code; NULL: of what is not placed */
	const char *name;  /* of the press, or NULL */
	struct board_field days[BOARD_DAYS];
	struct board_field undated; /* what has no time: not placed, wherever it may run */
	size_t count;               /* entries in all its fields */
};
struct board {
	const char *week; /* `2026-W49` */
	struct board_day days[BOARD_DAYS];
	struct board_row *rows; /* every press in use by code, then what is not placed, if anything */
	size_t row_count;
	size_t jobs, can_run, lacking, not_known; /* `jobs` is the sum of the other three */
};
/*
 * The week, Monday to Sunday by the local clocks, in which `ahead->from` lies. On it are the jobs
 * that stand in it, and those that have no time. One that is not served stands on the press that it
 * was asked for, where that is one alone. All in the arena; `ahead` must last as long.
 */
enum outcome plan_board(struct store *store, struct arena *arena, const struct ahead *ahead,
                        const struct limits *limits, struct board *out, struct fault *fault);

/* ------------------------------------------------------------------ promises */

/* What is asked of `book`. */
struct book_request {
	const char *job;            /* number or tag */
	const char *const *presses; /* as in check_request */
	size_t press_count;
	struct known_moment from, until; /* not known: the job's own; `until` else by its duration */
	const struct actor *actor;
	const struct limits *limits;
	/* The check as it is kept with the promise: its JSON, in the arena. */
	const char *(*as_json)(struct arena *arena, const struct check *check, void *context);
	void *context;
};
/* A tool of another job that gave way, so that this one could be booked. */
struct booking_move {
	const char *job; /* whose */
	const char *need;
	int64_t station, cut;
	const char *from, *to; /* tags as shown; NULL: it needed none before, or needs none now */
	bool better;           /* what the job has now is better than what it had; else equally good */
	const char *text;      /* "AN000045-3 gives way to AN000050-1 at station 3, equally good" */
};
struct booked {
	struct check check; /* what is promised; where nothing is, what the best press lacks */
	bool kept;
	size_t tool_count;
	struct booking_move *moves;
	size_t move_count;
	const char
		*settled; /* the job's own press and time before, where booking changed them; or NULL */
};
/*
 * `book`: checks the job and promises it the tools chosen, over that time on the best press. Where
 * tools that other planned jobs have booked are lacking, these get others that are equally good, if
 * there are such. A time given that differs from the job's own becomes its own, so that the two
 * always agree. OUTCOME_NO without a fault where it is short: `out->check` says of what, and
 * nothing was written. Else refusals: OUTCOME_NO for the state of job or press, OUTCOME_BAD.
 */
enum outcome plan_book(struct store *store, struct arena *arena, const struct book_request *request,
                       struct booked *out, struct fault *fault);

/* `unbook`: what was promised, now free again. OUTCOME_NO where nothing is, or the job runs. */
enum outcome plan_unbook(struct store *store, struct arena *arena, const char *job,
                         const struct actor *actor, struct kept_promise *out, struct fault *fault);

/* How it is known that a tool ran. */
enum ran_by { RAN_SCANNED, RAN_AT_PRESS, RAN_BOOKED };
/* A tool that ran for a job. */
struct tool_ran {
	union any_tool tool; /* as it was before */
	const struct kind *kind;
	enum ran_by by;    /* taken for it; booked for it and standing at the press; booked alone */
	struct length run; /* web it has run by now, in this life */
	bool revolutions_known; /* of a die, a plate cylinder or a magnetic cylinder */
	int64_t revolutions;
	const char *life_over; /* of a blade or die past its life by now: "1234m"; else NULL */
};

/* A job that was started or finished. */
struct job_turned {
	const char *job, *title;   /* title may be NULL */
	const char *press;         /* NULL: not known on which it ran */
	struct known_moment since; /* finished: when it was started */
	struct known_moment until; /* started: as on record of the job */
	size_t tool_count;         /* promised to it */
	const char **cautions; /* started: what has broken its promise; finished: what is to be asked */
	size_t caution_count;
	/* Finished. */
	struct known_length length; /* web that it took */
	const char *length_by;      /* how that is known: given, quantity; NULL: not known */
	struct tool_ran *ran;       /* the tools whose run it was added to */
	size_t ran_count;
};
/*
 * `start`: the job runs, on that press; `press` NULL: that of its promise, else the only one that
 * it names. OUTCOME_NO for the state of job or press.
 */
enum outcome plan_start(struct store *store, struct arena *arena, const char *job,
                        const char *press, const struct actor *actor, struct job_turned *out,
                        struct fault *fault);
/* What is asked of `finish`. */
struct finish_request {
	const char *job;            /* number or tag */
	struct known_length length; /* web that ran; not known: what its quantity takes */
	const struct actor *actor;
	const struct limits *limits;
};
/*
 * `finish`: it has run, its tools are no longer promised, and the web that it took is added to the
 * run of each tool that ran. Where the length is not known none is, and a caution says so. Without
 * `length` it is what the quantity takes at the repeat promised, else at the job's own. OUTCOME_NO
 * where it does not run.
 */
enum outcome plan_finish(struct store *store, struct arena *arena,
                         const struct finish_request *request, struct job_turned *out,
                         struct fault *fault);

/* What has broken a promise, and by which change. */
struct promise_risk {
	struct risk risk;
	struct ledger_entry entry; /* `number` 0: by time alone */
	const char *of;            /* what the entry is about: a tag, code or number; or NULL */
};
/* `at_risk`: all of them by `now`, by start of the job. */
enum outcome plan_at_risk(struct store *store, struct arena *arena, struct moment now,
                          struct promise_risk **out, size_t *count, struct fault *fault);
/*
 * Judges the promise of a job anew and puts what has broken it on record, within the caller's
 * transaction. Each tool by the rules of the check, on the press, over the time and at the repeat
 * promised. `entry`: the last before the change that asks for it.
 */
enum outcome plan_promise_judge(struct store *store, struct arena *arena, int64_t job,
                                int64_t entry, struct moment now, const struct limits *limits,
                                struct fault *fault);
/*
 * For store_watch_commits: judges every promise that a change may have touched, so that what is at
 * risk is always as the last change left it.
 */
enum outcome plan_promises_watch(struct store *store, int64_t entry, struct moment now,
                                 void *context, struct fault *fault);

/* ------------------------------------------------------------------ the earliest time */

/* What a job waits for before it can start on a press. */
struct earliest_wait {
	const char *need;
	int64_t station, cut; /* 0: none */
	bool tool_known;
	struct tag tool;
	struct known_moment until; /* when that is over, where it is known */
	const char *text;          /* "anilox at station 3, AN000045-3 taken for job J2601 until ..." */
};
/* A time at which a job is not short on a press. */
struct earliest_start {
	bool known;
	struct moment from, until;
	enum verdict verdict; /* never VERDICT_SHORT */
	struct repeat repeat; /* that it runs at: of a new job the one that can start then */
	struct known_count number_around;
	struct duration duration; /* in open hours */
};
struct earliest_press {
	const char *press;
	/* How long it runs there; of a new job that of its first start. */
	struct known_duration duration;
	bool own_time;         /* the length of the job's own time: nothing else tells it */
	const char *not_known; /* what it would take to tell the duration; NULL: nothing */
	struct earliest_start first;
	struct earliest_wait *waits; /* before `first`: of what it is short until then */
	size_t wait_count;
	const char *never;            /* why there is no start; NULL: there is, or no duration */
	struct earliest_start latest; /* that ends by the due moment, where one is asked */
	const char **planned;         /* other jobs planned there at the first start, not booked */
	size_t planned_count;
};
struct earliest {
	const char *job, *title; /* title may be NULL */
	struct moment from;      /* nothing before it was looked at */
	struct known_moment due;
	struct earliest_press *presses; /* the earliest start first, those without one last */
	size_t press_count;
	const struct earliest_press *last; /* with the latest start that keeps `due`; NULL: none */
};
struct earliest_request {
	const char *job;            /* number or tag */
	const char *const *presses; /* codes; none: the job's own, else every press not retired */
	size_t press_count;
	struct known_moment from; /* not known, or past: now */
	struct known_moment due;  /* a bare date: the end of that day */
	struct moment now;
	const struct limits *limits;
};
/*
 * The first start on each press at which the check of the job, over its duration in open hours, is
 * not short; with `due` the latest one that ends by then, too. Starts are whole minutes in open
 * hours, at most two years ahead. Writes nothing. OUTCOME_DONE though there be no start; OUTCOME_NO
 * for a job that is not planned and a press named that is retired; OUTCOME_BAD for an unknown job
 * or press, and a due moment that has passed.
 */
enum outcome plan_earliest(struct store *store, struct arena *arena,
                           const struct earliest_request *request, struct earliest *out,
                           struct fault *fault);

/* ------------------------------------------------------------------ what else it could run on */

/* What a combination means for the plates of the job's printing stations. */
enum combination_plates {
	PLATES_KEPT, /* a repeat order at its own repeat and number around: its plates stay */
	PLATES_NEW,  /* a repeat order at another: all are made anew */
	PLATES_FIRST /* a new job needs plates whatever it runs on */
};
/*
 * Another press, repeat and number around that the job could be run on, over the time asked. Tried,
 * and better than what was asked; ranked as presses and repeats are.
 */
struct combination {
	const char *press;
	struct repeat repeat;
	int64_t number_around;
	enum verdict verdict;
	size_t unmet; /* needs */
	bool waste_known;
	double waste; /* fraction of 1 */
	double plate_area_cm2;
	enum combination_plates plates;
	size_t plate_count; /* one a printing station */
	const char *text;   /* "new plates for 4 stations", "keeps its plates" */
};

#endif
