/* What looks like a slip in a reading: told, and recorded all the same. */
#ifndef TOOTHRACK_CARE_QUESTION_H
#define TOOTHRACK_CARE_QUESTION_H

#include "words.h"

#define QUESTIONS_MOST 12 /* that one reading can raise, and more */

/* Sentences: all counted, the first kept. */
struct questions {
	struct arena *arena; /* they live in it */
	const char **texts;
	size_t most;       /* kept */
	size_t count;      /* all */
	const char *about; /* in front of each, or "" */
	const char *back;  /* behind each: how it is taken back */
};

/* A roll in one of its lives, with what a reading of it is held against. */
struct held {
	struct store *store;
	struct arena *arena;
	const struct limits *limits;
	enum units units;
	int64_t tool;
	bool life_runs; /* else what is on record of the roll is of another engraving */
	struct record *roll;
	struct wear_reading *readings; /* oldest first */
	size_t count;
	struct moment *cleanings; /* oldest first */
	size_t cleaning_count;
	struct wear_kept wear; /* its trend, as it is kept; not known of a life that has ended */
};
/* Reads all of it; `limits` must outlive it. */
enum outcome held_read(struct store *store, struct arena *arena, int64_t tool, int64_t life,
                       bool life_runs, const struct limits *limits, enum units units,
                       struct held *out, struct fault *fault);
/* Index of a reading by its id; `count` where it is not among them. */
size_t held_find(const struct held *held, int64_t id);
/* That rolls of such a screen do not have this volume; NULL where they do, or nobody says. */
const char *question_of_band(struct arena *arena, struct screen screen, struct volume read,
                             enum units units);
/* Adds what looks like a slip in the reading at `index`, by those before it and by the trend. */
enum outcome held_question(const struct held *held, size_t index, struct questions *questions,
                           struct fault *fault);
/* Is it of the engraving that is on record? Else nothing that is tells of it. */
bool held_is_of_now(const struct held *held, const struct wear_reading *reading);

/* One of them, for the files of this room. */
void question_add(struct questions *questions, const char *text);
/* Is it far from where the trend of its roll lies? */
enum outcome question_trend(const struct held *held, const struct wear_reading *reading,
                            struct questions *questions, struct fault *fault);

#endif
