/* The list of what is due while it is made: the rules add to it. */
#ifndef TOOTHRACK_CARE_DUE_H
#define TOOTHRACK_CARE_DUE_H

#include "use.h"

/* A row, with what else its place in the list is by. */
struct due_item {
	struct due_row row;
	double left_share; /* of its life, or of what it may run; 0 where it is not told by web */
};

/* Blades of one material: how long they ran here, read when first asked. */
#define MATERIALS 3
struct material_run {
	bool read;
	struct lives_run lives;
	int64_t without_life; /* used or booked, and neither has a life nor does the shop set one */
};

struct due_list {
	struct store *store;
	struct arena *arena; /* of the rows */
	struct limits limits;
	struct moment now, until;
	struct material_run materials[MATERIALS + 1]; /* the last: not known of what */
	int64_t dies_without_life, rolls_to_read;     /* used or booked */
	struct due_item *items;
	size_t count, room;
	struct fault *fault;
};

/* A reason why something is to be done to a tool, and when. */
struct due_reason {
	enum due_what what;
	const char *by; /* date, metres, forecast */
	bool overdue;
	struct known_moment least, most;
	struct known_length left, left_most;
	double left_share;
	bool at_next; /* it comes in the next job, and `least` is the start of that */
	const char *text;
};

/* The tool while its rules are asked: what several of them need. */
struct due_asked {
	const struct due_tool *tool;
	bool used; /* lately, or booked */
	struct length per_day;
	struct known_length next_run; /* web of the next job */
	size_t first;                 /* of its rows in the list */
};

/*
 * Puts a reason on the list; one for the same `what` of the tool joins that: its text stands
 * behind, the earlier date and the worse word count.
 */
void due_add(struct due_list *list, const struct due_asked *asked, const struct due_reason *reason);

/*
 * When so much web (below 0: too much) is left of `whole`: fills when, what is left and whether it
 * is overdue. True where it belongs on the list: overdue, by its date, or by the next job.
 */
bool due_by_web(const struct due_list *list, const struct due_asked *asked, struct length left,
                struct length whole, struct due_reason *out);

/*
 * The same of what is left of a life, or of the way to a limit: where no date can be told it
 * belongs on the list by its share of the whole (set due_left).
 */
bool due_by_life(const struct due_list *list, const struct due_asked *asked, struct length left,
                 struct length whole, struct due_reason *out);

/* Each asks its rules of the tool. */
void due_dirty(struct due_list *list, const struct due_asked *asked);
enum outcome due_roll(struct due_list *list, const struct due_asked *asked);
enum outcome due_blade(struct due_list *list, const struct due_asked *asked);
void due_die(struct due_list *list, const struct due_asked *asked);
void due_cylinder(struct due_list *list, const struct due_asked *asked);

/* What cannot be told, into sentences. */
enum outcome due_says(struct due_list *list, struct due *out);

/* `12600m`: whole metres or feet; rough: of a forecast, whole hundreds. */
const char *words_of_web(const struct due_list *list, struct length length);
const char *words_of_web_rough(const struct due_list *list, struct length length);
/* `2026-12-24`: the local day of a moment */
const char *words_of_day(const struct due_list *list, struct moment moment);

#endif
