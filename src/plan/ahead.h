/*
 * All jobs together: what the files of ahead share. The horizon is what is read once (jobs,
 * presses, the whole shelf); from it a model of jobs is built (joint.h), solved, and told.
 */
#ifndef TOOTHRACK_PLAN_AHEAD_H
#define TOOTHRACK_PLAN_AHEAD_H

#include "internal.h"
#include "joint.h"

/* Since ever, and without end: far enough from what a number holds that both can be reckoned with.
 */
#define TIME_EVER (INT64_MIN / 4)
#define TIME_NEVER (INT64_MAX / 4)

/* ---------------------------------------------------------------- the shelf */

enum tool_kind {
	TOOL_CYLINDER,
	TOOL_GEAR,
	TOOL_ROLL,
	TOOL_BLADE,
	TOOL_DIE,
	TOOL_MAGNETIC_CYLINDER,
};
#define TOOL_KINDS 6

/* Tools in the order of one figure: length around, line screen, length, label across. */
struct shelf_index {
	int64_t *keys;   /* in order */
	uint32_t *items; /* the tool of each, by its place in the shelf */
	size_t count;
	uint32_t *unknown; /* those of which that figure is not known */
	size_t unknown_count;
};

/*
 * Every tool of the shop. Resources of the model are the presses, then the tools kind by kind, in
 * the order of the shelf. Behind the last of each kind is room for one more, that is imagined.
 */
struct whole_shelf {
	struct shelf tools;
	uint32_t first[TOOL_KINDS + 1]; /* resource of the first of each kind; the last: all */
	struct shelf_index index[TOOL_KINDS];
	/*
	 * By resource: at a supplier until a day that is known, its place then being a store: as it
	 * would be if it were back already. Else NULL.
	 */
	const struct joint_resource **away;
	struct tool_number {
		int64_t id;
		uint32_t resource;
	} * numbers;    /* by id */
	int64_t *lives; /* lengths of web that blades have left, each once, in order */
	size_t life_count;
	/*
	 * Before each place in the index of rolls, and behind the last: so many whose trend forecasts.
	 * How these suit hangs on the length of the run itself.
	 */
	size_t *forecasts;
	bool unknown_forecasts; /* some of those whose line screen is not known */
};

/* ---------------------------------------------------------------- presses and jobs */

struct horizon_press {
	struct press_state state;
	bool in_use; /* else only looked up because a job asks it or a tool stands there */
	/* What runs or is promised there, of jobs that the model leaves where they are. */
	const struct promise *outside;
	size_t outside_count;
	uint32_t traits; /* presses of the same take the same tools */
	uint32_t fit;    /* the same of the word `fit` alone */
};

enum standing_of_job {
	JOB_WITHOUT_TIME,
	JOB_PASSED, /* its time is over, and it was not started */
	JOB_RUNNING,
	JOB_KEPT,    /* its promise holds whole: it is served as that says */
	JOB_TO_PLAN, /* in the model */
};

/* One way to run a job: a press and a repeat. */
struct run_option {
	size_t press; /* of the horizon */
	struct candidate candidate;
	struct ways **ways; /* by need, as in the model */
	/* Where it stands among the options of its job. */
	size_t unmet, doubts;
	bool waste_known;
	int64_t waste_whole;
	double plate_area;
};

struct horizon_job {
	struct job job;
	enum standing_of_job standing;
	struct span span;
	bool until_reckoned;      /* from its run and the speed of its presses */
	struct station *printing; /* stations that take a cylinder and a roll */
	size_t printing_count;
	struct cut *cuts;
	size_t cut_count;
	struct kept_promise *promise;  /* that holds on record, or NULL */
	const char *broken;            /* why the promise does not hold, or NULL */
	const struct job_running *run; /* of one that runs */
	struct run_option *options;
	size_t option_count;
	struct finding *findings; /* why it has no option */
	size_t finding_count;
	const char *finding_press; /* the press that they are about */
	bool takes;                /* tools are out for it already */
	uint32_t modelled;         /* its number in the model, or JOINT_NONE */
};

/* ---------------------------------------------------------------- what would do for a need */

#define KEY_PARTS 14
struct ways_key {
	int64_t part[KEY_PARTS];
};
/* A tool as judged for a need, whatever the job and its time. */
struct judged {
	uint32_t item;  /* its place in the shelf */
	bool preferred; /* promised to this job already */
	uint8_t suits, level;
	int64_t deviation, run;
	struct tag tag;
};
/* Tools that go with one. */
struct companions {
	bool by_job;    /* whether one of them is there hangs on the press and the time */
	uint32_t *list; /* resources, best first */
	uint32_t count;
};
/* What would do for needs that ask the same. */
struct ways {
	struct ways_key key;
	struct ways *next; /* of the same hash */
	enum joint_group group;
	struct joint_way *list; /* best first */
	uint32_t count;
	bool by_job;                 /* some of it hangs on the job, its press or its time */
	struct judged *judged;       /* of each of the list, where it may be looked at anew */
	int64_t least, most;         /* what would do lies between, by the index of its kind */
	const struct more_way *more; /* of a trial: one tool more that would do too, or NULL */
	/* The first that asked, by which one tool more is judged. */
	size_t job, row;
	struct candidate candidate;
	size_t press;
};
struct companion_set {
	struct ways_key key;
	struct companion_set *next;
	struct companions set;
	/* The first that asked, by which one more is judged. */
	enum joint_group group;
	size_t item, press;
	struct known_length run;
};
#define WAYS_BUCKETS 16384
struct ways_table {
	struct ways *buckets[WAYS_BUCKETS];
	struct companion_set
		*sets[WAYS_BUCKETS]; /* blades by face, gears and magnetic cylinders by tool */
};

/* ---------------------------------------------------------------- the horizon */

struct horizon {
	struct store *store;
	struct arena *arena;   /* of the answer */
	struct arena *scratch; /* reset job by job */
	struct fault *fault;
	const struct ahead_request *request;
	struct horizon_press *presses;
	size_t press_count;
	int64_t *presses_in_use; /* ids */
	size_t in_use_count;
	struct whole_shelf shelf;
	struct horizon_job *jobs; /* as they are told */
	size_t job_count;
	size_t *by_number; /* jobs by their number */
	struct ways_table *ways;
	struct joint_model model;
	size_t *job_of; /* by job of the model: its place in `jobs` */
	struct joint_answer answer;
	bool promised;               /* some job to plan has tools promised to it */
	size_t enough[JOINT_GROUPS]; /* so many tools of a group never run short */
	uint32_t **spare; /* by job of the model and need: what of them goes with its tool, or
	                     JOINT_NONE */
};

/* ---- ahead_shelf.c */

/* Loads every tool, and the dies that the jobs name. */
enum outcome whole_shelf_load(struct horizon *horizon);
struct tool *shelf_tool(const struct whole_shelf *shelf, enum tool_kind kind, size_t item);
/* Of a resource that is a tool: its kind, and its place in the shelf. */
enum tool_kind resource_kind(const struct horizon *horizon, uint32_t resource, size_t *item);
struct tool *resource_tool(const struct horizon *horizon, uint32_t resource);
/* JOINT_NONE: not loaded. */
uint32_t resource_of_tool(const struct horizon *horizon, int64_t id);
/* The figure of a tool in the index of its kind; false where it is not known. */
bool index_key(const struct shelf *tools, enum tool_kind kind, size_t item, int64_t *key);
/* Does a trend forecast the volume of some roll that a station could be asked about? */
bool some_roll_forecasts(const struct whole_shelf *shelf, const struct station *station);
/* Where in the index of rolls those lie whose screens a station takes: rather too many. */
void roll_keys_of(const struct station *station, int64_t *least, int64_t *most);
/* Where in an index the keys from `least` to `most` stand. */
void index_range(const struct shelf_index *index, int64_t least, int64_t most, size_t *begin,
                 size_t *end);

/* ---- ahead_jobs.c */

/* Reads jobs, presses, promises and runs, and loads the shelf. */
enum outcome horizon_read(struct horizon *horizon);
/* The press of that id, read where it was not yet. */
enum outcome horizon_press_of(struct horizon *horizon, int64_t id, size_t *out);
/* Job on press at a repeat, its shelf the whole one. In the arena. */
struct question horizon_question(const struct horizon *horizon, const struct horizon_job *job,
                                 size_t press, struct candidate candidate, struct arena *arena);

/* ---- ahead_busy.c, ahead_kept.c */

/*
 * Once it is settled which jobs the model moves: when others have each tool and each press. From
 * then on a tool's own promises are those of nobody, and one that is due back is in a store.
 */
void whole_shelf_settle(struct horizon *horizon);
/* The job of that number among the jobs, or NULL. */
struct horizon_job *horizon_job_find(const struct horizon *horizon, const char *number);
/* Which promises hold whole, and why the others do not. */
enum outcome horizon_keep(struct horizon *horizon);
/* Resources that a promise gives a row of a group; JOINT_NONE where it gives none. */
struct promised_pair {
	uint32_t item, companion;
};
struct promised_pair promised_row(const struct horizon *horizon, const struct question *question,
                                  const struct kept_promise *promise, enum joint_group group,
                                  size_t row);

/* ---- ahead_key.c, ahead_companions.c */

struct ways_key ways_key_of(const struct horizon *horizon, const struct question *question,
                            const struct horizon_job *job, size_t press, enum joint_group group,
                            size_t row);
struct ways_key companion_key(const struct horizon *horizon, const struct question *question,
                              const struct horizon_press *press, enum joint_group group,
                              size_t item);
uint64_t key_hash(const struct ways_key *key); /* a bucket of the table */

/* ---- ahead_ways.c */

/* Is a tool there, as far as that hangs on nothing but itself? */
enum suits there_of_itself(const struct question *question, const struct tool *tool, bool carries);
/* Does it hang on the job, its press or its time whether the tool is there? */
bool there_by_job(const struct tool *tool, bool carries);
int64_t run_of_tool(const struct tool *tool); /* nm of web; not known counts as none */
uint8_t worse_of(enum suits a, enum suits b);
/* A tool judged, as a way of the model; `by_job` becomes true where that hangs on the job. */
void way_fill(struct horizon *horizon, const struct question *question, size_t press,
              enum joint_group group, const struct judged *judged, struct joint_way *way,
              bool *by_job);

/* What would do for a row of the group; shared with all that ask the same. */
struct ways *shared_ways_find(struct horizon *horizon, const struct question *question,
                              const struct horizon_job *job, size_t press, enum joint_group group,
                              size_t row);
/*
 * Of these what is there for this job at its time; tools promised to it first. The list of all
 * where that says it.
 */
const struct joint_way *ways_of_job(struct horizon *horizon, const struct ways *ways,
                                    const struct question *question, const struct horizon_job *job,
                                    struct arena *arena, uint32_t *count);
/* Judges a tool for a row, whatever the job and its time; false where it does not do. */
bool ways_judge(const struct question *question, enum joint_group group, size_t row, size_t item,
                struct judged *out);
/* The order of choice: what is promised first, doubts last, then by parts 4 to 6. */
int judged_compare(const void *a, const void *b);
/* What goes with a tool on that press; not shared, in the arena. */
void companions_of(struct horizon *horizon, const struct question *question, enum joint_group group,
                   size_t item, struct arena *arena, struct companions *out);
/* What goes with a tool on that press; shared. */
const struct companions *companions_find(struct horizon *horizon, const struct question *question,
                                         size_t press, enum joint_group group, size_t item);
const struct group_rules *rules_of_group(enum joint_group group);
/* Of a group, the tool itself or what goes with it: its kind, the need that it fills. */
enum tool_kind kind_of_group(enum joint_group group, bool companion);
const char *need_of_group(enum joint_group group, bool companion);

/* The companions that are there for the job, those promised to it first. */
void companions_of_job(const struct horizon *horizon, const struct question *question,
                       const struct horizon_job *job, struct arena *arena, struct joint_way *way);
/* The way as it is for the job alone; false where its tool is not there. */
bool way_of_job(const struct horizon *horizon, const struct question *question,
                const struct horizon_job *job, bool carries, struct arena *arena,
                struct joint_way *way);
/* Is a tool there for the job, on its press and at its time? What it is taken out for counts. */
enum suits there_now(const struct question *question, const struct tool *tool, bool carries,
                     struct remarks *remarks);

/* ---- ahead_model.c */

/* The options of each job, and the model of them. */
enum outcome horizon_model(struct horizon *horizon);
/* One job of the model over a span of its own choice. In the arena. */
void horizon_model_job(struct horizon *horizon, const struct horizon_job *job, struct span span,
                       struct arena *arena, struct joint_job *out);
/* How long the job holds its press, in open hours. */
struct duration horizon_job_open(const struct horizon *horizon, const struct horizon_job *job);

/* Is the tool promised to the job on record? */
bool is_promised(const struct horizon_job *job, int64_t tool);

/* ---- ahead_spare.c */

/* Leaves out of what would do what can never run short. Before the jobs of the model are made. */
void horizon_thin(struct horizon *horizon);
bool companions_are_enough(const struct horizon *horizon, enum joint_group group,
                           const uint32_t *list, uint32_t count);
/* Chooses for the needs of the plan the companions that were left out, into `spare`. */
void horizon_choose_spare(struct horizon *horizon);

/* ---- ahead_open.c */

/* What a job lacks beside a plan. */
struct open_needs {
	uint32_t option;  /* the one that lacks least, or JOINT_NONE */
	bool press;       /* another has its press */
	size_t count;     /* needs open, the press too */
	uint8_t *without; /* by need: 0 met, 1 without a tool, 2 without what goes with it */
};
struct open_needs open_needs_of(const struct joint_model *model, const struct joint_plan *plan,
                                uint32_t job, struct arena *arena);

struct told_shortage;

/* ---- ahead_trial.c */

/* The model with something changed, and what of the plan it makes. Reset before each. */
struct trial {
	struct horizon *horizon;
	struct arena *arena;
	struct joint_model model;
	struct joint_plan warm, plan;
	uint8_t *touched; /* by job: of those not served these alone are tried again */
};
void trial_begin(struct horizon *horizon, struct arena *arena, struct trial *trial);
/*
 * A tool more: one of the shelf that was not there and now is, or the imagined one behind the last
 * of its kind. It joins what would do wherever it suits; false where that is nowhere.
 */
bool trial_add_tool(struct trial *trial, enum tool_kind kind, size_t item);
/* A job at another time. */
void trial_move(struct trial *trial, uint32_t job, struct span span);
/* Solves again; returns how many more are served. */
size_t trial_solve(struct trial *trial);
size_t kind_count(const struct shelf *tools, enum tool_kind kind);

/* ---- ahead_imagined.c */

/* What is imagined of a shortage: one tool more, as its needs ask for it. */
struct imagined {
	enum tool_kind kind;
	const char *need, *words; /* `anilox roll`, and its figures */
	const struct ahead_figure *figures;
	size_t figure_count;
};
/* ahead_figures.c: the figures of what lies imagined behind the last of that kind. */
struct ahead_figure *figures_of_imagined(struct horizon *horizon, enum tool_kind kind,
                                         size_t *count);
/*
 * Puts it behind the last of its kind, made for the job and need of `first` and as far as may be
 * for the other rows. `solid`: a die that needs no magnetic cylinder. False where none can be told.
 */
bool imagine_tool(struct horizon *horizon, const struct told_shortage *shortage,
                  struct joint_row first, bool solid, struct imagined *out);

/* ---- ahead_shortages.c, ahead_cures.c */

/* A shortage as it is told, and what it is in the model. */
struct told_shortage {
	struct ahead_shortage told;
	bool modelled; /* false: of a job that has no option; there is nothing to try */
	enum joint_group group;
	bool companions; /* what lacks is what goes with the tools */
	struct joint_row *rows;
	uint32_t row_count;
};
struct shortage_list {
	struct told_shortage *items;
	size_t count, room;
};
/* ahead_certain.c: those that no plan can avoid, of presses, then of tools. */
void certain_shortages(struct horizon *horizon, struct joint_shortage **out, size_t *count);
void shortages_find(struct horizon *horizon, struct shortage_list *list);
/* `J3`, `J3 and J4`, `J3, J4 and J5` */
const char *words_of_jobs(struct arena *arena, const char *const *jobs, size_t count);
/* Tries what would cure them, no longer than until `deadline` by joint_clock. */
void shortages_cure(struct horizon *horizon, struct shortage_list *list, double deadline,
                    const struct ahead_cure **purchase);

#endif
