/*
 * The maintenance lead's work: readings, what was gauged, cleaned, fitted and ground; wear, life,
 * and what is due. One use case, one function, one transaction.
 */
#ifndef TOOTHRACK_CARE_H
#define TOOTHRACK_CARE_H

#include "toothrack/store.h"

/* ------------------------------------------------------------------ logging */

/* An attribute of the tool that changed by it, in the units asked; NULL: not known. */
struct cared_change {
	const char *attribute, *before, *after;
};
/* What a logging did, for the answer. */
struct cared {
	const struct kind *kind;
	const char *tag;        /* as shown */
	const char *what;       /* "anilox roll, 360lpi" */
	struct record *record;  /* the tool as it is now */
	struct record *reading; /* the reading just put on record, or NULL */
	struct wear_kept wear;  /* of a roll: its trend as it is now */
	struct cared_change *changes;
	size_t change_count;
	const char *const
		*told;          /* attributes of the record that are its data; ends with NULL; or NULL */
	const char *usable; /* after damage: "usable face 120mm to 330mm, 210mm of 330mm"; or NULL */
	bool new_life;
	int64_t life;              /* the one that runs now */
	struct known_length ended; /* web that the life before had run */
	const char **questions;    /* what looks like a slip: recorded all the same */
	size_t question_count;
	const char *lost;    /* that a roll has lost more than the shop's limit since new, or NULL */
	const char *uneven;  /* that it was read more uneven across than that limit, or NULL */
	const char *note;    /* what was taken for granted, a sentence; or NULL */
	const char *caution; /* for hands and eyes, or NULL; as room's own for handling */
};

/* `reading TAG volume=... | across=... | liquid=... area=...`: as typed; values parsed. */
struct reading_asked {
	struct value volume, across, liquid, area, run, moment;
	const char *method; /* surface, drawdown, or NULL */
	const char *after;  /* clean, run, or NULL */
};
/*
 * Puts a reading on record. Questioned, not refused: a volume outside the published band of its
 * screen, one that rose without a cleaning or an engraving, one far from its trend. Refused: not a
 * roll, no volume, volume beside liquid that disagree, liquid without area, a moment ahead of now.
 */
enum outcome care_reading(struct store *store, struct arena *arena, const char *tag,
                          const struct reading_asked *asked, enum units units,
                          const struct actor *actor, struct cared *out, struct fault *fault);
/*
 * What looks like a slip in the readings put on record by the entries after `entry` (an import):
 * one sentence each, at most `most`; `count` becomes how many there are.
 */
enum outcome care_question_since(struct store *store, struct arena *arena, int64_t entry,
                                 enum units units, const char **out, size_t most, size_t *count,
                                 struct fault *fault);

/* `gauge TAG [diameter=...] [runout=...] [damage=FROM..TO] [note=...]` */
struct gauge_asked {
	struct value diameter, runout, damage_from, damage_to;
	const char *note; /* or NULL */
};
/*
 * Diameter and runout are of plate cylinders (diameter of rolls too), damage of every tool with a
 * face; of the two edges of a damaged band one may be open (not known). After damage the widest
 * band that none of this life has touched becomes the usable one; a usable band on record that the
 * damages do not explain counts as damage outside of it. Refused: OUTCOME_NO where nothing is left,
 * or the face is not known. Questioned: runout above the shop's limit, a diameter that its teeth
 * and undercut do not make, one that has grown.
 */
enum outcome care_gauge(struct store *store, struct arena *arena, const char *tag,
                        const struct gauge_asked *asked, enum units units,
                        const struct actor *actor, struct cared *out, struct fault *fault);
/* `cleaned TAG...`, `dirty TAG...`: `what` is that word; all or none. */
enum outcome care_cleaning(struct store *store, struct arena *arena, const char *const *tags,
                           size_t count, const char *what, enum units units,
                           const struct actor *actor, struct cared *out, struct fault *fault);
/*
 * `reblade TAG key=value...`: a new blade is in the assembly; its attributes may be given, `fitted`
 * is today where it is not. `regrind TAG key=value...`: a die ground anew, or a roll engraved anew
 * (its volume then must be given anew, or becomes not known; damage of its face is gone). A new
 * life starts, run 0; where `fitted` or `engraved` is before today, with what was read, ran, done
 * and found since: that damage counts on, and is questioned. The old one stays in history.
 */
enum outcome care_reblade(struct store *store, struct arena *arena, const char *tag,
                          const char *const *keys, const char *const *values, size_t count,
                          enum units units, const struct actor *actor, struct cared *out,
                          struct fault *fault);
enum outcome care_regrind(struct store *store, struct arena *arena, const char *tag,
                          const char *const *keys, const char *const *values, size_t count,
                          enum units units, const struct actor *actor, struct cared *out,
                          struct fault *fault);

/* ------------------------------------------------------------------ wear */

/* When something will be reached: by web left, and by days at the tool's recent use. */
struct forecast {
	bool known; /* false: nothing can be told; `why` says what is lacking */
	const char *why;
	bool passed;               /* it is reached already by the line, or by the count */
	bool exact;                /* by count (blades, dies): one figure, no range */
	bool most_known;           /* false: the range has no end, or one past a hundred years */
	struct length least, most; /* web left, 0 where it may be reached already */
	bool days_known;           /* false: no recent use */
	double days_least, days_most;
	struct moment date_least, date_most; /* where days are known */
};
/* All that `wear TAG` tells. */
struct worn {
	const struct kind *kind;
	const char *tag, *what;
	struct record *record; /* NULL in a list */
	int64_t life;
	struct known_length
		run;          /* of a roll on from what was told last, with its record or a reading */
	bool by_readings; /* which is not what stands on record of it */
	struct known_count revolutions;
	bool used;              /* recently, though it may be for less than a week */
	struct length per_day;  /* recent use; 0: none, or not a week of it */
	struct duration recent; /* the time that it is taken over */
	/* rolls */
	struct known_screen line_screen;
	struct known_volume when_new;
	struct wear_kept wear;
	struct known_volume now;       /* latest reading after cleaning */
	struct known_percent lost;     /* since new */
	struct known_volume limit;     /* volume at the shop's limit of loss */
	bool loss_passed;              /* by the latest reading after cleaning, whatever the trend */
	struct wear_reading *readings; /* oldest first */
	size_t reading_count;
	/* cylinders */
	struct gauge_row *gauges;
	size_t gauge_count;
	/* blades, dies */
	struct known_length life_web;  /* whole life in web */
	struct known_count life_turns; /* of a die */
	struct web_run *runs;
	size_t run_count;
	struct care_row *care; /* cleanings and the like, latest first */
	size_t care_count;
	struct forecast forecast;
	bool passed; /* its limit, by the latest reading or by the forecast: nothing is left */
};
/*
 * What wear is known of a tool, and when it comes to its limit. OUTCOME_BAD for what is no tool;
 * texts in the arena.
 */
enum outcome care_wear(struct store *store, struct arena *arena, const char *tag, enum units units,
                       struct moment now, struct worn *out, struct fault *fault);
/*
 * `wear anilox`: rolls in use compared, those that come to their limit first by web left, then
 * those of which that cannot be told, by what they have lost. Without record, readings, runs, care.
 */
enum outcome care_wear_rolls(struct store *store, struct arena *arena, struct moment now,
                             struct worn **out, size_t *count, struct fault *fault);
/* Life of a blade or die in web: its own, else of a blade that of its material (set life_steel). */
struct known_length care_life(const struct due_tool *tool, const struct limits *limits);
/*
 * The time over which the recent use of a tool is told: `recent`, or since its first run of this
 * life where that was later; nothing where that is less than a week.
 */
struct duration care_use_over(const struct due_tool *tool, struct duration recent,
                              struct moment now);
/* Web a day over that time; 0: none, or not known yet. */
struct length care_per_day(const struct due_tool *tool, struct duration recent, struct moment now);
/*
 * The forecast of one tool, from what `due` reads of it; pure, shared by wear and due. A roll: when
 * its trend comes to the volume at the shop's limit of loss, as a range that holds nine times in
 * ten. A blade or die: what is left of its life, counted; a run that is not known counts as none.
 * Texts are in the arena.
 */
struct forecast care_forecast(struct arena *arena, const struct due_tool *tool,
                              const struct limits *limits, struct duration recent,
                              struct moment now);

/* ------------------------------------------------------------------ due */

enum due_what { DUE_CLEAN, DUE_READ, DUE_BLADE, DUE_REGRIND, DUE_DECIDE };
struct due_row {
	enum due_what what;
	const char *what_word; /* clean, read, new blade, regrind, decide */
	struct due_tool tool;
	const char *by; /* date, metres, forecast */
	bool overdue;
	struct known_moment least, most; /* when; not known: no date can be told */
	struct known_length left;        /* web left; below 0: over */
	struct known_length left_most;   /* of a forecast; not known: no end. Of a count the same */
	const char *text;                /* why, in one sentence */
	bool before_next_job;            /* it will be due by the end of the next job that needs it */
};
struct due {
	struct due_row *rows;
	size_t count;
	const char **says; /* what cannot be told, and what would help: of tools used or booked */
	size_t say_count;
};
/*
 * What is overdue, what comes due within `days`, what the next booked job would bring to its end by
 * then, and of what has no date what is nearly at the end of its life, or at its limit by the
 * forecast (set due_left); most urgent first: overdue before what is not, by date, what has none
 * behind those by what is left of its life; then by the start of the next job, then tag. Not two
 * rows of one tool and one `what`. All is read at one moment.
 */
enum outcome care_due(struct store *store, struct arena *arena, int64_t days, enum units units,
                      struct moment now, struct due *out, struct fault *fault);

#endif
