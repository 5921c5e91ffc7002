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

/* A roll with what a reading of it is held against. */
struct held {
	struct store *store;
	struct arena *arena;
	const struct limits *limits;
	enum units units;
	struct reading_named named; /* the reading, its roll and life */
	struct record *roll;
	struct wear_kept wear; /* its trend, as it is kept; not known of a life that has ended */
};
/* Reads what is held against readings of that roll and life; `limits` must outlive it. */
enum outcome held_read(struct store *store, struct arena *arena, const struct reading_named *named,
                       const struct limits *limits, enum units units, struct held *out,
                       struct fault *fault);
/* That rolls of such a screen do not have this volume; NULL where they do, or nobody says. */
const char *question_of_band(struct arena *arena, struct screen screen, struct volume read,
                             enum units units);
/* Adds what looks like a slip in a reading of that roll, by those before it and by the trend. */
enum outcome held_question(const struct held *held, const struct wear_reading *reading,
                           struct questions *questions, struct fault *fault);
/* Is it of the engraving that is on record? Else nothing that is tells of it. */
bool held_is_of_now(const struct held *held, const struct wear_reading *reading);

/* One of them, for the files of this room. */
void question_add(struct questions *questions, const char *text);
/* Is it far from where the trend of its roll lies? */
enum outcome question_trend(const struct held *held, const struct wear_reading *reading,
                            struct questions *questions, struct fault *fault);

#endif
