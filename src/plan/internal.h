/*
 * What the files of the plan share. A question is one job on one press at one repeat over one time;
 * a solution is the best choice of tools for it. The rules themselves stand in src/trade, the order
 * of choice in group.c.
 */
#ifndef TOOTHRACK_PLAN_INTERNAL_H
#define TOOTHRACK_PLAN_INTERNAL_H

#include "toothrack/plan.h"

/* The tools that could matter to a question. A cure is tried by changing one for a while. */
struct shelf {
	struct cylinder *cylinders;
	size_t cylinder_count;
	bool by_length; /* the cylinders stand by their rounded length around, all of them known */
	struct gear *gears;
	size_t gear_count;
	struct anilox *rolls;
	size_t roll_count;
	struct blade *blades;
	size_t blade_count;
	struct die *dies;
	size_t die_count;
	struct magnetic_cylinder *magnetic_cylinders;
	size_t magnetic_cylinder_count;
};

struct standing;
struct attempt;
struct tool_list {
	const int64_t *ids;
	size_t count;
};
bool tool_is_listed(const struct tool_list *list, int64_t tool);
struct question {
	struct arena *arena;
	const struct job *job;
	struct press_state *press;
	const struct limits *limits;
	struct span span;
	struct layout layout;     /* complete: web_needed, printed_width and run worked out */
	struct station *printing; /* stations that take a cylinder and a roll: flexo and cold_foil */
	size_t printing_count;
	struct cut *cuts; /* the job's, or the one kiss cut that is meant */
	size_t cut_count;
	struct shelf *shelf; /* of `whole`, what suits some need by itself, whether it is there or not;
	                        of a trial it may be the whole, narrowed when there is hope */
	struct shelf *whole; /* all that was loaded: near misses are among it */
	const struct standing *bar; /* of a trial: what it must improve on to be of use, or NULL */
	bool trial;                 /* only where it would stand is asked: no texts, no near misses */
	const struct tool_list *last_choice; /* to be used only where nothing else would do, or NULL */
};

/* ---------------------------------------------------------------- groups of needs */

/*
 * Needs that are chosen for together: items for the rows (stations or cuts), and companions for
 * items that need one. Three tables of these rules exist: cylinders and gears, rolls and blades,
 * dies and magnetic cylinders.
 */
struct group_rules {
	const char *item_need, *item_words, *items_words;
	const char *companion_need, *companion_words, *companions_words;
	bool rows_are_cuts;
	size_t (*row_count)(const struct question *question);
	size_t (*item_count)(const struct question *question);
	size_t (*companion_count)(const struct question *question);
	int64_t (*row_number)(const struct question *question, size_t row);
	struct tool *(*item_tool)(const struct question *question, size_t item);
	struct tool *(*companion_tool)(const struct question *question, size_t companion);
	/* The rules of check.md; `remarks` may be NULL. They do not look whether the tool is there. */
	enum suits (*item_suits)(const struct question *question, size_t row, size_t item,
	                         struct remarks *remarks);
	enum suits (*companion_suits)(const struct question *question, size_t item, size_t companion,
	                              struct remarks *remarks);
	bool (*needs_companion)(const struct question *question, size_t item);
	/* Do two items ask the same of a companion? NULL: nobody knows. */
	bool (*asks_the_same)(const struct question *question, size_t item, size_t other);
	/* The item that the job names for a row, or ASSIGNED_NONE; NULL: a job names none. */
	size_t (*named_item)(const struct question *question, size_t row);
	/*
	 * How far an item that suits is from what was asked, for part 4 of the order; NULL: nothing to
	 * say.
	 */
	int64_t (*deviation)(const struct question *question, size_t row, size_t item);
};
extern const struct group_rules cylinder_rules, roll_rules, die_rules;

/* A group as judged and as chosen. Levels are the worse of suits and there. */
struct group {
	const struct group_rules *rules;
	size_t rows, items, companions;
	uint8_t *item_level;        /* rows x items: enum suits */
	uint8_t *companion_level;   /* items x companions */
	uint8_t *companion_allowed; /* the same: those that would do */
	uint8_t *companion_needed;
	struct cost *item_cost, *companion_cost;
	/* What thin.c keeps; of no use where `order` is NULL. */
	uint8_t *sort_of_item; /* those of one sort ask the same of companions */
	size_t sort_count;
	const struct cost **order; /* by row, the costs of what it could take, the cheapest first */
	size_t *order_count;
	struct assigned chosen;
};
#define SORTS_MOST 64
/* The parts of a cost, in the order in which they decide. */
enum cost_part {
	COST_UNMET,   /* needs unmet */
	COST_MISSING, /* of these, items: a station keeps its roll though it has no blade */
	COST_CAUTIONS,
	COST_DEVIATION, /* of volume; for cylinders the spread stands here, sought by cylinders.c */
	COST_RUN,       /* mm of web */
	COST_TAGS,      /* ranks of the tags, summed */
	COST_TAG_ORDER, /* lower tags at the first stations */
};

/* Judges every tool for every row. */
void group_judge(const struct question *question, const struct group_rules *rules,
                 struct group *out);
/* Leaves out companions that no choice of least cost takes, and readies the group for
 * group_allowed. */
void group_thin(struct arena *arena, struct group *group);
/* Of the edges `among` (all where that is NULL) those that a choice of least cost may take. */
uint8_t *group_allowed(struct arena *arena, const struct group *group, const uint8_t *among);
/* The choice of least cost, among the edges of `allowed` (rows x items) where that is not NULL. */
void group_choose(const struct question *question, struct group *group, const uint8_t *allowed,
                  struct assigned *out);
/* The level and the remarks of one item for a row, or one companion for an item: suits, then there.
 */
enum suits group_item_remarks(const struct question *question, const struct group_rules *rules,
                              size_t row, size_t item, struct remarks *remarks);
enum suits group_companion_remarks(const struct question *question, const struct group_rules *rules,
                                   size_t item, size_t companion, struct remarks *remarks);

/*
 * Cylinders and gears: least spread of printed diameters among the choices equally good in needs
 * and cautions.
 */
void cylinders_choose(const struct question *question, struct group *group);
/*
 * Largest less smallest printed diameter over the registered stations; false for fewer than one
 * known.
 */
bool cylinders_spread(const struct question *question, const struct assigned *chosen,
                      struct real_length *out);

/* ---------------------------------------------------------------- findings */

struct finding_list {
	struct arena *arena;
	struct finding *items;
	size_t count, room;
};
/*
 * The finding of a need at a station or cut: the one there is, its level raised and the text
 * joined, or a new one. `tools` and `stations` of a new one are empty.
 */
struct finding *finding_add(struct finding_list *list, const char *need, int64_t station,
                            int64_t cut, enum finding_level level, const char *text);
/*
 * Findings of a group: rows left out with their Hall set and near misses, chosen tools with their
 * doubts and notes.
 */
void findings_of_group(const struct question *question, const struct group *group,
                       struct finding_list *list);
/*
 * What keeps a job from using a station of a press: held, not there, another process; NULL: nothing
 * does. `process` NULL: a die station.
 */
const char *station_lack(struct arena *arena, const struct press_state *press, int64_t number,
                         const char *process);
/* The needs of the job itself: press, web, repeat, plates. */
void findings_of_job(const struct question *question, bool repeat_judged,
                     struct finding_list *list);

/* ---------------------------------------------------------------- one question, one answer */

/* Where a question stands among others: of presses, of repeats, before and after a cure. */
struct standing {
	enum verdict verdict;
	size_t unmet;   /* findings that are short */
	bool die_suits; /* every cut has a die that suits, there or not */
	bool waste_known;
	int64_t waste_whole; /* percent */
	double plate_area;   /* mm2 */
	int64_t run_mm;      /* of all tools chosen, summed */
};
/*
 * The order of presses and of repeats: < 0 where `a` is better. Of repeats those with a die that
 * suits come first.
 */
int standing_compare_presses(const struct standing *a, const struct standing *b);
int standing_compare_repeats(const struct standing *a, const struct standing *b);
/* Came it out better: a better verdict, or the same with fewer needs unmet? */
bool standing_improves(const struct standing *after, const struct standing *before);

struct solution {
	struct check check;
	struct standing standing;
	struct group cylinders, rolls, dies;
};
/* The best that it could come to by its figures and its dies: ready, of tools never run. */
struct standing question_outlook(const struct question *question);
/*
 * Can it not improve on its bar, whatever cylinders, gears and magnetic cylinders there are? With
 * `any_repeat` whatever its repeat: then only its press, its web, its plates and its rolls count.
 */
bool question_is_hopeless(const struct question *question, bool any_repeat);
/*
 * Answers a question, without cures and others. `repeat_judged` false: there is no repeat to judge
 * by.
 */
void question_solve(const struct question *question, bool repeat_judged, struct solution *out);

/* ---------------------------------------------------------------- candidates of a new job */

struct candidate {
	struct repeat repeat;
	int64_t number_around;
};
/*
 * The repeats that the shelf's cylinders give this job on this press, each with every number around
 * whose gap is in limits. The question's shelf holds the cylinders of the press's whole range.
 */
size_t candidates_find(const struct question *question, struct candidate **out);
/* The job as it would be printed at one candidate. */
struct layout layout_at(const struct question *question, struct candidate candidate);
/* The question as it would be at one candidate, with what of its shelf lies near that. */
struct question question_at(const struct question *question, struct candidate candidate);
/*
 * Where the question would stand at a candidate; its work leaves nothing in the question's arena
 * but `lacks`, where that is asked for. `bar`: as that of standing_of.
 */
struct standing candidate_standing(const struct question *question, struct candidate candidate,
                                   const struct standing *bar, const char **lacks);

/* Are they the very same on the question's press? */
bool candidate_repeats_same(const struct question *question, struct repeat a, struct repeat b);

/* A candidate on a press, or the job as it is on record there. */
struct tried {
	const struct attempt *attempt;
	struct candidate candidate;
	struct standing standing;
};
#define RANKED_MOST 3
/* The best of those tried, by the order of repeats; of equals the one tried first. */
struct ranking {
	size_t most;                /* at most RANKED_MOST */
	const struct standing *bar; /* each must improve on it; NULL: it need not */
	struct tried items[RANKED_MOST];
	size_t count;
};
/* The candidates of an attempt, to be tried. */
struct tried *attempt_tried(struct arena *arena, const struct attempt *attempt);
/* One whose standing is known. */
void ranking_take(struct ranking *ranking, const struct tried *tried);
/*
 * Tries all of them at the open questions of their attempts; those that can no longer come among
 * the best are not worked out.
 */
void ranking_try(struct ranking *ranking, struct tried *tried, size_t count);

/* ---------------------------------------------------------------- a job on a press */

/* Lengths that were asked of the store. */
struct bounds {
	bool any;
	struct length least, most;
};
/* What was loaded for the press before: the next asks for much of the same. */
struct loaded {
	bool rolls, dies; /* are they, with their blades and magnetic cylinders? */
	/* What nearly would do too? Only where something is lacking: of rolls and blades, of the
	 * others. */
	bool near_rolls, near_repeat;
	struct bounds cylinders, gears, magnetic_cylinders;
	struct shelf shelf;
	/* Of a wide shelf all but the rolls, the blades and the dies, which are the same. */
	bool wide_cylinders;
	struct bounds wide_gears, wide_magnetic_cylinders;
	struct shelf wide;
	/* Rolls and blades of `shelf` narrowed for the fit of a press, the one before. */
	bool narrowed;
	const struct anilox *narrowed_of;
	const char *narrowed_fit;
	struct shelf narrow;
};
/* All that one asking reads: the job, the time, and how to reach the store for more. */
struct asking {
	struct store *store;
	struct arena *arena;
	struct fault *fault;
	const struct limits *limits;
	struct job job;
	struct span span;
	struct cut whole_cut; /* the kiss cut that is meant where the job has no rows */
	struct loaded loaded;
	/* Changes what was loaded before anything is chosen of it; NULL: nothing does. */
	void (*adjust)(const struct asking *asking, struct shelf *shelf);
	const void *adjust_by;
	const struct tool_list *last_choice; /* as of the question */
};
/* A press asked about, its question and its answer. */
struct attempt {
	struct press_state press;
	struct shelf shelf;
	struct question question;
	bool repeat_judged;
	struct solution solution;
	/* What else the press could print it at; see attempt_repeats. */
	bool repeats_known;
	struct shelf wide;
	struct question open; /* at no repeat */
	struct candidate *candidates;
	size_t candidate_count;
};
/* Reads the press and makes its question, with nothing on its shelf yet; else as attempt_prepare.
 */
enum outcome attempt_open(struct asking *asking, int64_t press, bool open, struct attempt *out);
/*
 * Prepares the question of a press at the job's own repeat, or at none where `open`: its shelf then
 * holds the cylinders of the press's whole range.
 */
enum outcome attempt_prepare(struct asking *asking, int64_t press, bool open, struct attempt *out);
/*
 * Prepares and answers it: at the job's repeat, or at the best candidate of a new job. `bar` not
 * NULL: only whether it stands better than that is asked.
 */
enum outcome attempt_solve(struct asking *asking, int64_t press, const struct standing *bar,
                           struct attempt *out);
bool job_is_new(const struct job *job);
/*
 * Fills, where that was not done before, the question at no repeat, with its wide shelf, and its
 * candidates: those of a new job, and the other repeats of one that has a repeat.
 */
enum outcome attempt_repeats(struct asking *asking, struct attempt *attempt);

/* Adds one tool; gives it back as it stands on the shelf until the next of its kind. */
struct tool *shelf_add(struct arena *arena, struct shelf *shelf, enum kind_id kind,
                       const union any_tool *tool);
/* Loads the tools for a question whose job, press and cuts are set. */
enum outcome shelf_load(struct asking *asking, const struct question *question, bool wide,
                        struct shelf *out);

/* The parts of it that do not hang on the press: rolls that could do for some station, dies of the
 * label. */
enum outcome shelf_load_rolls(struct asking *asking, const struct question *question,
                              struct shelf *out);
enum outcome shelf_load_dies(struct asking *asking, const struct question *question,
                             struct shelf *out);
/* Could the job's labels stand around that length with a gap in its limits? */
bool shelf_gives_gap(const struct question *question, struct length length);

/*
 * Of a wide shelf what lies near a question's repeat, as if it had been loaded for that. The
 * question's arena holds it.
 */
void shelf_near(const struct question *question, const struct shelf *whole, struct shelf *out);
/*
 * Gives the question a shelf of what of its whole suits some need by itself: whatever is chosen,
 * now or after a cure of a tool, is among it. The question's arena holds it. `repeat_judged` false:
 * only rolls and blades.
 */
void question_narrow(struct question *question, bool repeat_judged);
/*
 * The same for rolls and blades alone. Of a question whose repeat is yet to come: those that suit
 * at some length of its run.
 */
void question_narrow_rolls(struct question *question);
/* And for cylinders, gears, dies and magnetic cylinders. */
void question_narrow_by_repeat(struct question *question);

/* The asked presses first, then the others in use, which only serve as cures. */
struct attempts {
	struct attempt **items;
	size_t count, asked;
};
/* Answers the question on each press that is not among them yet. `bar`: as that of attempt_solve.
 */
enum outcome attempts_add(struct asking *asking, struct attempts *attempts, const int64_t *presses,
                          size_t count, const struct standing *bar);
/* Best first; those equally good stay in the order in which they were asked. All were asked. */
void attempts_sort(struct attempts *attempts);
/* The answer of the best, with its cures, and of the others. */
enum outcome attempts_answer(struct asking *asking, struct attempts *attempts, struct check *out);

/* Reads what is asked: the job, the time and the presses. */
enum outcome asking_open(struct store *store, struct arena *arena,
                         const struct check_request *request, struct asking *out, int64_t **presses,
                         size_t *press_count, struct fault *fault);

/*
 * The same of a job by its id, over its own time and on its own presses; `asking` holds all but the
 * job and the time.
 */
enum outcome asking_of_job(struct asking *asking, int64_t job, struct moment now, int64_t **presses,
                           size_t *press_count);

/* ---------------------------------------------------------------- cures */

struct cure_list {
	struct arena *arena;
	struct cure *items;
	size_t count, room;
};
struct cure *cure_add(struct cure_list *list, const char *kind);
/* `then ready`, `then short of 2 needs, not 3`: what a cure comes to. */
const char *words_of_outcome(struct arena *arena, const struct standing *after,
                             const struct standing *before);
/*
 * Where a question would stand; its work leaves nothing in the question's arena. `bar`: one that
 * does not improve on it is not worked out to its end, and stands no better than it; or NULL.
 */
struct standing standing_of(const struct question *question, bool repeat_judged,
                            const struct standing *bar);

/*
 * Other presses, repeats and numbers around that the job could be run on instead, where the first
 * of all attempts is short: put in its check.
 */
enum outcome combinations_find(struct asking *asking, struct attempt *const *all, size_t count);

/* Tools that come back or are cleared, stations cleared, and a later time. */
void cures_of_tools(const struct attempt *attempt, struct cure_list *list);
/*
 * Tries what would cure the lacks of an attempt; each that came out better is put in its check.
 * `all`: this press and the others.
 */
enum outcome cures_find(struct asking *asking, struct attempt *attempt, struct attempt *const *all,
                        size_t count);

#endif
