/*
 * What the files of plan_serves share: the tools in hand (those out for the job and the one asked
 * about), the ways in which the job could be run, and what the tools in hand cover of its needs.
 */
#ifndef TOOTHRACK_PLAN_SERVES_H
#define TOOTHRACK_PLAN_SERVES_H

#include "internal.h"

/* The three tables of rules, in the order in which needs are told. */
#define GROUPS 3
extern const struct group_rules *const serving_rules[GROUPS];

struct hand {
	enum kind_id kind;               /* of the tool asked about */
	const struct group_rules *rules; /* of its group */
	bool companion;    /* is it one that goes with an item: gear, blade, magnetic cylinder? */
	struct tool *tool; /* the one asked about */
	struct tool_out *out;
	size_t out_count;
	struct shelf own; /* the tools out, then, last of its kind, the one asked about */
	struct shelf
		all; /* the same, and behind them those that the companions in hand could go with */
};

/*
 * How far the tools in hand cover the needs of one group. Tools asked about are last of their kind,
 * so that without it is all but the last.
 */
struct cover {
	const struct group_rules *rules;
	size_t rows, items, companions; /* in hand */
	size_t all_items;               /* with those behind */
	uint8_t *item_ok;               /* all_items x rows: suits and is there */
	uint8_t *companion_ok;          /* all_items x companions */
	uint8_t *needs;                 /* all_items: does it need a companion? */
};
/* One press and repeat that the job could be run on. */
struct way {
	struct question question; /* its shelf is hand.all */
	bool repeat_found;        /* of a new job: the repeat is one that the tools in hand ask for */
	struct candidate candidate;
	size_t covered;     /* needs that the tools out cover; only of several ways */
	bool meant;         /* on no other do they cover more */
	struct cover cover; /* where it is meant, of the group of the tool asked about */
	bool serves;        /* and the tool asked about covers one more */
};

/* Loads the tools out for the job, which `hand` names, and the tool asked about, none of them. */
enum outcome hand_fill(struct asking *asking, enum kind_id kind, int64_t id, struct hand *hand);
/*
 * Loads what companions in hand could go with: `all` of them, else only the one asked about, where
 * it is one.
 */
enum outcome hand_look_behind(struct asking *asking, const struct question *question, bool all,
                              struct hand *hand);
/* Is it one of the tools out, or the one asked about? */
bool hand_holds(const struct hand *hand, int64_t id);
/* Adds those to a shelf that are not in hand. */
void hand_add_cylinders(struct arena *arena, const struct hand *hand, struct shelf *shelf,
                        const struct cylinder *cylinders, size_t count);
void hand_add_rolls(struct arena *arena, const struct hand *hand, struct shelf *shelf,
                    const struct anilox *rolls, size_t count);
void hand_add_dies(struct arena *arena, const struct hand *hand, struct shelf *shelf,
                   const struct die *dies, size_t count);
/* `blade`, `anilox roll`, and what stands before it: `a`, `an`. */
const char *words_of_kind(enum kind_id kind);
const char *article_of_kind(enum kind_id kind);

/* All ways in which the job could be run, given the tools in hand; at least one a press. */
enum outcome ways_find(struct asking *asking, struct hand *hand, const int64_t *presses,
                       size_t press_count, struct way **out, size_t *count);

struct cover cover_of(const struct question *question, const struct hand *hand,
                      const struct group_rules *rules);
/*
 * Needs covered by the first `items` items, each by one tool; `row_of` by item (ASSIGNED_NONE where
 * it covers none) may be NULL.
 */
size_t cover_items(struct arena *arena, const struct cover *cover, size_t items, size_t *row_of);
/*
 * Needs covered by the first `companions` companions, beside the first `items` items, as many of
 * which as can are in use; the other rows take what lies behind. `out` (NULL: not asked) is how.
 */
size_t cover_companions(struct arena *arena, const struct cover *cover, size_t items,
                        size_t companions, struct assigned *out);

/* Why the tool serves no need, and what would instead: `out` is filled. */
enum outcome serves_refuse(struct asking *asking, const struct hand *hand, const struct way *ways,
                           size_t count, struct served *out);
/*
 * Why it serves none on this way; `judged` is the check there, with what the shelf offers.
 * `*nearest` is the row that it names as the one it comes nearest to, else ROW_NONE.
 */
const char *why_not(const struct way *way, const struct hand *hand, const struct attempt *judged,
                    size_t *nearest);
#define ROW_NONE SIZE_MAX

#endif
