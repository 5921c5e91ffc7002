/* The trends that are kept, against what the readings tell. */
#include <math.h>

#include "proof.h"
#include "wear.h"

STATEMENT(kept_of_rolls) = {"trends kept",
                            "SELECT k.tool, t.tag, k.forecast, k.forecast_slope, " WEAR_COLUMNS
                            " FROM anilox k JOIN tool t ON t.id = k.tool"
                            " LEFT JOIN wear w ON w.tool = k.tool ORDER BY k.tool",
                            true};
#define KEPT_COLUMN 4
STATEMENT(left_stale) = {"trends not worked out",
                         "SELECT t.tag FROM wear_stale s JOIN tool t ON t.id = s.tool"
                         " ORDER BY s.tool",
                         true};

/* The same arithmetic gives the same to the last digits. */
static bool near(double a, double b)
{
	return fabs(a - b) <= 1e-9 * fmax(1, fabs(b));
}

static bool same_trend(const struct wear_kept *kept, const struct wear_kept *now)
{
	const struct trend *a = &kept->trend, *b = &now->trend;
	return kept->known == now->known &&
	       (!kept->known ||
	        (a->says == b->says && a->count == b->count && kept->fits == now->fits &&
	         near(a->slope, b->slope) && near(a->slope_least, b->slope_least) &&
	         near(a->slope_most, b->slope_most) && near(a->at_zero, b->at_zero) &&
	         near(a->mean_run, b->mean_run) && near(a->squares, b->squares) &&
	         near(a->own.share, b->own.share) && near(a->tau, b->tau) && near(a->p, b->p) &&
	         a->kendall_s == b->kendall_s && length_compare(kept->run_read, now->run_read) == 0));
}

/* What a check counts by, in the two columns before those of the trend. */
static bool same_forecast(sqlite3_stmt *stmt, const struct wear_kept *now)
{
	double volume, slope;
	bool forecasts = wear_forecast(now, &volume, &slope);
	bool kept = sqlite3_column_type(stmt, 2) != SQLITE_NULL;
	return kept == forecasts && (!kept || (near(sqlite3_column_double(stmt, 2), volume) &&
	                                       near(sqlite3_column_double(stmt, 3), slope)));
}

static enum outcome prove_roll(struct proving *proving, sqlite3_stmt *stmt,
                               const struct limits *limits)
{
	struct wear_kept now, kept = wear_columns(stmt, KEPT_COLUMN);
	struct tag_text tag = tag_shown(column_tag(stmt, 1));
	struct arena *scratch = arena_new();
	enum outcome outcome = wear_work_out(proving->store, scratch, sqlite3_column_int64(stmt, 0),
	                                     limits->trend_match, &now, proving->fault);
	/* How the shop's other rolls scatter may have changed what few readings tell. */
	bool by_others = kept.trend.says != now.trend.says && kept.trend.count == now.trend.count &&
	                 near(kept.trend.slope, now.trend.slope);
	if (by_others) {
		now.trend.says = kept.trend.says;
	}
	if (outcome == OUTCOME_DONE && !same_trend(&kept, &now)) {
		damage_add(proving, 0, tag.bytes, "%s: the trend kept is not what its readings tell",
		           tag.bytes);
	} else if (outcome == OUTCOME_DONE && !same_forecast(stmt, &now)) {
		damage_add(proving, 0, tag.bytes, "%s: the forecast kept is not what its trend tells",
		           tag.bytes);
	}
	arena_free(scratch);
	return outcome;
}

static void add_stale(struct proving *proving, sqlite3_stmt *stmt)
{
	struct tag_text tag = tag_shown(column_tag(stmt, 0));
	damage_add(proving, 0, tag.bytes, "%s: its trend was not worked out anew", tag.bytes);
}

enum outcome prove_wear(struct proving *proving)
{
	struct limits limits;
	enum outcome outcome = store_limits(proving->store, &limits, proving->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = prove_look(proving, &left_stale, left_stale.name, add_stale);
	}
	sqlite3_stmt *stmt = outcome == OUTCOME_DONE
	                         ? statement_ready(proving->store, &kept_of_rolls, proving->fault)
	                         : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	while (statement_row(proving->store, stmt, &outcome, proving->fault)) {
		outcome = prove_roll(proving, stmt, &limits);
		if (outcome != OUTCOME_DONE) {
			break;
		}
	}
	statement_done(stmt);
	return outcome;
}
