/* The trends that are kept, within the store. */
#ifndef TOOTHRACK_STORE_WEAR_H
#define TOOTHRACK_STORE_WEAR_H

#include "internal.h"

/*
 * Works out anew the trends of all rolls whose readings or run the open transaction has touched, as
 * the triggers have listed them. Called before every commit.
 */
enum outcome wear_settle(struct store *store, struct fault *fault);

/* A row of wear, called `w`, as columns; the first is NULL where an outer join found none. */
#define WEAR_COLUMNS \
	"w.says, w.readings, w.slope, w.slope_least, w.slope_most, w.at_zero, w.mean_run, w.squares," \
	" w.own_share, w.own_freedom, w.used_share, w.used_freedom, w.kendall_s, w.tau, w.p, w.fits, w.run_read, w.method," \
	" w.run_not_known, w.other_method, w.clean_moment, w.clean_volume, w.uneven, w.gave_back," \
	" w.gave_back_moment"
struct wear_kept wear_columns(sqlite3_stmt *stmt, int column);

#endif
