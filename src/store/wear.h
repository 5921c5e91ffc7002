/* The trends that are kept, within the store. */
#ifndef TOOTHRACK_STORE_WEAR_H
#define TOOTHRACK_STORE_WEAR_H

#include "internal.h"

/* What a roll had run by a moment, as told with its record or with a reading. */
struct run_told {
	struct moment moment;
	struct known_length run;
	struct length ran_after; /* web of that very second that came after it */
	struct length web;       /* by the runs of jobs, up to it */
	size_t place;            /* among those of one moment */
	bool on_record;          /* else with a reading */
	bool first;              /* the roll came on record with it */
	bool doubted, believed;
};
/* A roll as its life stands. */
struct roll {
	int64_t tool, life;
	struct length run;            /* on record; 0 where not known */
	struct known_moment followed; /* since when the runs of jobs tell of it */
	struct known_moment engraved;
	struct web_mark {
		struct moment moment;
		struct length length;
	} * runs;
	size_t run_count;
	struct length web; /* of all runs */
	struct run_told *told;
	size_t told_count;
	/* On from what was told last, with the record or a reading. */
	struct length run_by_now;
	struct wear_reading *readings;
	size_t reading_count;
};
/*
 * Reads a roll with its readings, oldest first, their runs filled; `whole`: with left, centre and
 * right. `*found` false: it is no roll on record.
 */
enum outcome roll_read(struct store *store, struct arena *arena, int64_t tool, bool whole,
                       struct roll *roll, bool *found, struct fault *fault);
/*
 * Of a roll with its runs, what was told with its record and its readings, which are in order: sets
 * what it had run by each reading and by now.
 */
void roll_fill_runs(struct arena *arena, struct roll *roll);
/* The same by another moment. */
struct known_length roll_run_at(struct arena *arena, struct roll *roll, struct moment moment);
bool roll_is_followed(const struct roll *roll, struct moment moment);
/*
 * Keeps that the run of a roll was told with its record by the last entry, where it was: `before`
 * NULL, it is new on record.
 */
enum outcome run_told_keep(struct store *store, const struct record *before,
                           const struct record *after, const struct actor *actor,
                           struct fault *fault);
/* Forgets what was told by an entry that is taken back. */
enum outcome run_told_forget(struct store *store, int64_t entry, struct fault *fault);
/* Binds :tool, :life and :since, from when on readings are of the engraving that is on record. */
void roll_bind(sqlite3_stmt *stmt, const struct roll *roll);
/* `surface` or `drawdown`, as a constant; NULL: not on record. */
const char *wear_method(sqlite3_stmt *stmt, int column);
/* Three columns; false where one of them is not known. */
bool wear_across(sqlite3_stmt *stmt, int column, struct across *out);

/*
 * Works out anew the trends of all rolls whose readings or run the open transaction has touched, as
 * the triggers have listed them. Called before every commit.
 */
enum outcome wear_settle(struct store *store, struct fault *fault);

/*
 * The trend of a roll as its readings tell it now, whatever is kept; `kept->known` false: it was
 * never read in the life that runs.
 */
enum outcome wear_work_out(struct store *store, struct arena *arena, int64_t tool,
                           struct percent match, struct wear_kept *kept, struct fault *fault);
/*
 * What a check counts by: the volume by now and its slope, in 1e-6 cm3/m2 and that a metre. False:
 * no trend forecasts, or the latest reading has left it and counts itself.
 */
bool wear_forecast(const struct wear_kept *kept, double *now, double *slope);

/* A row of wear, called `w`, as columns; the first is NULL where an outer join found none. */
#define WEAR_COLUMNS \
	"w.says, w.readings, w.slope, w.slope_least, w.slope_most, w.at_zero, w.mean_run, w.squares," \
	" w.own_share, w.own_freedom, w.used_share, w.used_freedom, w.kendall_s, w.tau, w.p, w.fits, w.run_read, w.method," \
	" w.run_not_known, w.other_method, w.clean_moment, w.clean_volume, w.uneven, w.gave_back," \
	" w.gave_back_moment"
struct wear_kept wear_columns(sqlite3_stmt *stmt, int column);

#endif
