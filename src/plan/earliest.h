/*
 * What the files of the earliest time share: one question over a time that is sought. What is there
 * changes only at certain moments (a promise ends or begins, a tool comes back), so that only those
 * are tried, and of these only such as let every need have a tool by itself.
 */
#ifndef TOOTHRACK_PLAN_EARLIEST_H
#define TOOTHRACK_PLAN_EARLIEST_H

#include "internal.h"

#define TIMED_GROUPS 3

/* The moments at which starting may become possible: later ones, and going back from the end. */
struct moments {
	struct moment *later, *earlier;
	size_t later_count, earlier_count;
};
struct timed_group {
	const struct group_rules *rules;
	size_t rows, items, companions;
	uint8_t *suits; /* rows x items: there or not */
	struct moments *item_moments, *companion_moments;
};
/* A question at one repeat, its shelf narrowed, and how long it takes. */
struct timing {
	struct question question;
	struct duration duration;
	struct moment from; /* the first start that is looked at */
	struct moment end;  /* the last */
	struct timed_group groups[TIMED_GROUPS];
	struct moments press;
};

/* Readies a question. `from` is a whole minute. Everything is in the question's arena. */
void timing_open(const struct question *question, struct duration duration, struct moment from,
                 struct timing *out);
/* The time from a start on. */
struct span timing_span(const struct timing *timing, struct moment start);
/*
 * The first start, not behind `timing.end`. `before`: the last one looked at that was short, where
 * there was one.
 */
bool timing_first(const struct timing *timing, struct earliest_start *out,
                  struct known_moment *before);
/* The latest start in open hours after which so long a question ends by `due`, whatever is there.
 */
struct moment timing_last_start(const struct timing *timing, struct moment due);
/* The latest start from which it ends by `due`, not before `timing.from`. */
bool timing_latest(const struct timing *timing, struct moment due, struct earliest_start *out);
/*
 * The question with all there that ever will be: tools back, promises over. What is short then is
 * so for good.
 */
struct question timing_at_best(const struct timing *timing);

/* What the question is short of when it starts then; `until` is when it can start, if it can. */
void timing_waits(const struct timing *timing, struct moment start, struct moment until,
                  struct earliest_press *out);
/* Why it never starts, in words. */
const char *timing_never(const struct timing *timing);
/* What of the job or the press has to be on record for its duration. */
const char *words_of_unknown_duration(struct arena *arena, const struct question *question);

#endif
