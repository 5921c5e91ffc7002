/*
 * The trend of each roll's volume: worked out anew before the commit of whatever touched its
 * readings or its run, and kept, so that lists and checks need not.
 */
#include <math.h>
#include <string.h>

#include "wear.h"

STATEMENT(stale) = {"rolls whose trend is to be worked out", "SELECT tool FROM wear_stale", true};
STATEMENT(any_stale) = {"is a trend to be worked out", "SELECT EXISTS (SELECT 1 FROM wear_stale)",
                        true};
STATEMENT(forget_stale) = {"no trend to be worked out", "DELETE FROM wear_stale", true};
STATEMENT(forget_wear) = {"trend forgotten", "DELETE FROM wear WHERE tool = :tool", false};
STATEMENT(keep_forecast) = {"what a trend tells kept",
                            "UPDATE anilox SET forecast = :forecast, forecast_slope = :slope"
                            " WHERE tool = :tool AND (forecast IS NOT :forecast"
                            " OR forecast_slope IS NOT :slope)",
                            false};
STATEMENT(shop_scatter) = {"scatter of the shop's rolls",
                           "SELECT own_share, own_freedom FROM wear WHERE method IS :method"
                           " AND own_freedom >= 1 AND tool <> :tool"
                           " ORDER BY worked_out DESC LIMIT :most",
                           false};
STATEMENT(keep_wear) = {
	"trend kept",
	"INSERT OR REPLACE INTO wear (tool, life, method, says, readings, run_not_known, other_method,"
	" slope, slope_least, slope_most, at_zero, mean_run, squares, own_share, own_freedom,"
	" used_share, used_freedom, kendall_s, tau, p, fits, run_read, clean_moment, clean_volume, uneven, gave_back,"
	" gave_back_moment, worked_out) VALUES (:tool, :life, :method, :says, :readings,"
	" :run_not_known, :other_method, :slope, :slope_least, :slope_most, :at_zero, :mean_run,"
	" :squares, :own_share, :own_freedom, :used_share, :used_freedom,   :kendall_s, :tau, :p, :fits, :run_read,"
	" :clean_moment, :clean_volume, :uneven, :gave_back, :gave_back_moment,"
	" (SELECT coalesce(max(number), 0) FROM ledger))",
	false};
STATEMENT(wear_of_roll) = {"trend of a roll",
                           "SELECT " WEAR_COLUMNS " FROM wear w WHERE w.tool = :tool", false};
STATEMENT(latest_across) =
	{"latest reading across the face",
     "SELECT left_volume, centre_volume, right_volume FROM reading INDEXED BY reading_across"
     " WHERE tool = :tool"
     " AND life = :life AND after = 'clean' AND moment >= :since AND left_volume IS NOT NULL"
     " AND centre_volume IS NOT NULL AND right_volume IS NOT NULL"
     " ORDER BY moment DESC, id DESC LIMIT 1",
     false};

static const char *const says_words[] = {
	[TREND_TOO_FEW] = "too_few",
	[TREND_NONE] = "none",
	[TREND_FALLS] = "falls",
	[TREND_RISES] = "rises",
};

#define SHOP_ROLLS_MOST 200

/* ---------------------------------------------------------------- which readings are in it */

#define METHODS 3
static const char *const methods[METHODS] = {NULL, "surface", "drawdown"};

static size_t method_index(const char *method)
{
	for (size_t i = 1; i < METHODS; i++) {
		if (method != NULL && strcmp(method, methods[i]) == 0) {
			return i;
		}
	}
	return 0;
}

/*
 * Two methods read the same roll differently, so that a step from one to the other would pass for
 * wear: those by the method that most were read by, and of as many by the one of the latest. What
 * has no method on record is taken to be by that one: most shops have one device.
 */
static const char *choose_method(const struct roll *roll)
{
	size_t counts[METHODS] = {0}, best = 0;
	for (size_t i = 0; i < roll->reading_count; i++) {
		const struct wear_reading *reading = &roll->readings[i];
		if (reading->clean && reading->run.known && reading->method != NULL) {
			size_t method = method_index(reading->method);
			counts[method]++;
			best = counts[method] >= counts[best] ? method : best;
		}
	}
	return methods[best];
}

static bool methods_agree(const char *a, const char *b)
{
	return a == NULL || b == NULL || method_index(a) == method_index(b);
}

static size_t count_in(struct roll *roll, struct trend_point *points, struct wear_kept *kept)
{
	size_t count = 0;
	kept->method = choose_method(roll);
	for (size_t i = 0; i < roll->reading_count; i++) {
		struct wear_reading *reading = &roll->readings[i];
		if (!reading->clean) {
			continue;
		}
		kept->clean_moment = (struct known_moment){true, reading->moment};
		kept->clean_volume = (struct known_volume){true, reading->volume};
		if (!reading->run.known) {
			kept->run_not_known++;
		} else if (!methods_agree(reading->method, kept->method)) {
			kept->other_method++;
		} else {
			reading->counted = true;
			points[count++] = (struct trend_point){reading->run.value, reading->volume};
		}
	}
	return count;
}

static bool given_back(const struct wear_reading *before, const struct wear_reading *after,
                       const struct trend *trend, int64_t *micro)
{
	if (!methods_agree(before->method, after->method) || !before->run.known || !after->run.known) {
		return false;
	}
	double between = length_to_m(length_subtract(after->run.value, before->run.value));
	bool worn = between > 0 || between < 0;
	if (worn && !trend_forecasts(trend)) {
		return false;
	}
	/* cm3/m2 a million metres are 1e-6 cm3/m2 a metre. */
	double wear = worn ? trend->slope * between : 0;
	*micro =
		volume_to_micro(after->volume) - volume_to_micro(before->volume) - (int64_t)llround(wear);
	return *micro >= 0;
}

/*
 * What the latest cleaning that was read before and after, by one method, gave back. Web that ran
 * between the two has worn it: only what a trend tells of that can be set off. Less after it than
 * before is no answer.
 */
static void find_given_back(const struct roll *roll, struct wear_kept *kept)
{
	const struct wear_reading *before = NULL;
	for (size_t i = 0; i < roll->reading_count; i++) {
		const struct wear_reading *reading = &roll->readings[i];
		if (!reading->clean) {
			before = reading;
			continue;
		}
		int64_t back;
		if (before != NULL && given_back(before, reading, &kept->trend, &back)) {
			kept->gave_back = (struct known_volume){true, volume_from_micro(back)};
			kept->gave_back_moment = (struct known_moment){true, reading->moment};
		}
		before = NULL;
	}
}

static enum outcome read_uneven(struct store *store, const struct roll *roll,
                                struct wear_kept *kept, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &latest_across, fault);
	enum outcome outcome = OUTCOME_STORE;
	struct across across;
	if (stmt == NULL) {
		return outcome;
	}
	roll_bind(stmt, roll);
	if (statement_row(store, stmt, &outcome, fault) && wear_across(stmt, 0, &across)) {
		kept->uneven = (struct known_percent){true, across_unevenness(across)};
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- kept */

static enum outcome read_shop_scatter(struct store *store, const struct roll *roll,
                                      const char *method, struct scatter *out, struct fault *fault)
{
	struct scatter each[SHOP_ROLLS_MOST];
	size_t count = 0;
	sqlite3_stmt *stmt = statement_ready(store, &shop_scatter, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", roll->tool);
	bind_words(stmt, ":method", method);
	bind_number(stmt, ":most", SHOP_ROLLS_MOST);
	while (statement_row(store, stmt, &outcome, fault)) {
		each[count++] =
			(struct scatter){sqlite3_column_double(stmt, 0), sqlite3_column_double(stmt, 1)};
	}
	statement_done(stmt);
	*out = scatter_of_shop(each, count);
	return outcome;
}

static void bind_trend(sqlite3_stmt *stmt, const struct trend *trend)
{
	bind_words(stmt, ":says", says_words[trend->says]);
	bind_number(stmt, ":readings", (int64_t)trend->count);
	bind_real(stmt, ":slope", trend->slope);
	bind_real(stmt, ":slope_least", trend->slope_least);
	bind_real(stmt, ":slope_most", trend->slope_most);
	bind_real(stmt, ":at_zero", trend->at_zero);
	bind_real(stmt, ":mean_run", trend->mean_run);
	bind_real(stmt, ":squares", trend->squares);
	bind_real(stmt, ":own_share", trend->own.share);
	bind_real(stmt, ":own_freedom", trend->own.freedom);
	bind_real(stmt, ":used_share", trend->used.share);
	bind_real(stmt, ":used_freedom", trend->used.freedom);
	bind_number(stmt, ":kendall_s", trend->kendall_s);
	bind_real(stmt, ":tau", trend->tau);
	bind_real(stmt, ":p", trend->p);
}

/* What is not bound is NULL: not known. */
static enum outcome write_wear(struct store *store, const struct roll *roll,
                               const struct wear_kept *kept, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &keep_wear, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", roll->tool);
	bind_number(stmt, ":life", roll->life);
	bind_words(stmt, ":method", kept->method);
	bind_number(stmt, ":fits", kept->fits);
	bind_number(stmt, ":run_read", length_to_nm(kept->run_read));
	bind_number(stmt, ":run_not_known", kept->run_not_known);
	bind_number(stmt, ":other_method", kept->other_method);
	bind_trend(stmt, &kept->trend);
	if (kept->clean_moment.known) {
		bind_moment(stmt, ":clean_moment", kept->clean_moment.value);
		bind_number(stmt, ":clean_volume", volume_to_micro(kept->clean_volume.value));
	}
	if (kept->uneven.known) {
		struct value uneven = {.type = VALUE_PERCENT, .known = true, .percent = kept->uneven.value};
		bind_number(stmt, ":uneven", value_to_stored(&uneven));
	}
	if (kept->gave_back.known) {
		bind_number(stmt, ":gave_back", volume_to_micro(kept->gave_back.value));
		bind_moment(stmt, ":gave_back_moment", kept->gave_back_moment.value);
	}
	return statement_run(store, stmt, "keeping a trend", fault);
}

/* cm3/m2 a million metres are 1e-6 cm3/m2 a metre. */
bool wear_forecast(const struct wear_kept *kept, double *now, double *slope)
{
	*now = trend_at(&kept->trend, kept->run_read) * 1e6;
	*slope = kept->trend.slope;
	return kept->known && kept->fits && trend_forecasts(&kept->trend);
}

static enum outcome write_forecast(struct store *store, const struct roll *roll,
                                   const struct wear_kept *kept, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &keep_forecast, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", roll->tool);
	/* Where the latest reading has left the trend it counts itself, as of a roll without one. */
	double now, slope;
	if (wear_forecast(kept, &now, &slope)) {
		bind_real(stmt, ":forecast", now);
		bind_real(stmt, ":slope", slope);
	}
	return statement_run(store, stmt, "keeping what a trend tells", fault);
}

static enum outcome forget(struct store *store, int64_t tool, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &forget_wear, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_number(stmt, ":tool", tool);
	return statement_run(store, stmt, "forgetting a trend", fault);
}

/* All but what hangs on no reading; `kept->known` false: none is on record of this life. */
static enum outcome fill_kept(struct store *store, struct arena *arena, struct roll *roll,
                              struct percent match, struct wear_kept *kept, struct fault *fault)
{
	struct scatter shop;
	struct trend_point *points = arena_take(arena, roll->reading_count + 1, sizeof *points);
	*kept = (struct wear_kept){.known = roll->reading_count > 0, .run_read = roll->run_by_now};
	if (!kept->known) {
		return OUTCOME_DONE;
	}
	size_t count = count_in(roll, points, kept);
	enum outcome outcome = read_shop_scatter(store, roll, kept->method, &shop, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_uneven(store, roll, kept, fault);
	}
	if (outcome == OUTCOME_DONE) {
		trend_of(arena, points, count, &shop, &kept->trend);
		find_given_back(roll, kept);
		const struct trend_point *last = &points[count > 0 ? count - 1 : 0];
		kept->fits = kept->trend.says == TREND_TOO_FEW ||
		             trend_fits(&kept->trend, last->run, last->volume, match);
	}
	return outcome;
}

enum outcome wear_work_out(struct store *store, struct arena *arena, int64_t tool,
                           struct percent match, struct wear_kept *kept, struct fault *fault)
{
	struct roll roll;
	bool found;
	*kept = (struct wear_kept){.known = false};
	enum outcome outcome = roll_read(store, arena, tool, false, &roll, &found, fault);
	return outcome == OUTCOME_DONE && found ? fill_kept(store, arena, &roll, match, kept, fault)
	                                        : outcome;
}

static enum outcome work_out(struct store *store, struct arena *arena, int64_t tool,
                             struct percent match, struct fault *fault)
{
	struct roll roll;
	struct wear_kept kept;
	bool found;
	enum outcome outcome = roll_read(store, arena, tool, false, &roll, &found, fault);
	if (outcome != OUTCOME_DONE || !found) {
		return outcome;
	}
	outcome = fill_kept(store, arena, &roll, match, &kept, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = kept.known ? write_wear(store, &roll, &kept, fault) : forget(store, tool, fault);
	}
	return outcome == OUTCOME_DONE ? write_forecast(store, &roll, &kept, fault) : outcome;
}

/* ---------------------------------------------------------------- before a commit */

static enum outcome read_stale(struct store *store, struct arena *arena, int64_t **out,
                               size_t *count, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &stale, fault);
	enum outcome outcome = OUTCOME_STORE;
	size_t room = 0;
	*out = NULL;
	*count = 0;
	if (stmt == NULL) {
		return outcome;
	}
	while (statement_row(store, stmt, &outcome, fault)) {
		if (*count == room) {
			*out = arena_grow(arena, *out, room, room * 2 + 8, sizeof **out);
			room = room * 2 + 8;
		}
		(*out)[(*count)++] = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

static enum outcome work_out_all(struct store *store, const int64_t *tools, size_t count,
                                 struct percent match, struct fault *fault)
{
	struct arena *scratch = arena_new();
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = work_out(store, scratch, tools[i], match, fault);
		arena_reset(scratch);
	}
	arena_free(scratch);
	return outcome;
}

static enum outcome settle_listed(struct store *store, struct arena *arena, struct fault *fault)
{
	int64_t *tools;
	size_t count;
	struct limits limits;
	enum outcome outcome = store_limits(store, &limits, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_stale(store, arena, &tools, &count, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = work_out_all(store, tools, count, limits.trend_match, fault);
	}
	/* Of many read at once, as by an import, the first knew nothing of how the others scatter. */
	if (outcome == OUTCOME_DONE && count > 1) {
		outcome = work_out_all(store, tools, count, limits.trend_match, fault);
	}
	sqlite3_stmt *stmt =
		outcome == OUTCOME_DONE ? statement_ready(store, &forget_stale, fault) : NULL;
	if (stmt == NULL) {
		return outcome != OUTCOME_DONE ? outcome : OUTCOME_STORE;
	}
	return statement_run(store, stmt, "working out trends", fault);
}

enum outcome wear_settle(struct store *store, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &any_stale, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bool any = statement_row(store, stmt, &outcome, fault) && sqlite3_column_int64(stmt, 0) != 0;
	statement_done(stmt);
	if (outcome != OUTCOME_DONE || !any) {
		return outcome;
	}
	struct arena *arena = arena_new();
	outcome = settle_listed(store, arena, fault);
	arena_free(arena);
	return outcome;
}

/* ---------------------------------------------------------------- read */

static enum trend_says says_of(const char *word)
{
	for (size_t i = 0; i < COUNT_OF(says_words); i++) {
		if (strcmp(word, says_words[i]) == 0) {
			return (enum trend_says)i;
		}
	}
	return TREND_TOO_FEW;
}

struct wear_kept wear_columns(sqlite3_stmt *stmt, int column)
{
	struct wear_kept kept = {.known = sqlite3_column_type(stmt, column) != SQLITE_NULL};
	if (!kept.known) {
		return kept;
	}
	kept.trend = (struct trend){
		.says = says_of((const char *)sqlite3_column_text(stmt, column)),
		.count = (size_t)sqlite3_column_int64(stmt, column + 1),
		.slope = sqlite3_column_double(stmt, column + 2),
		.slope_least = sqlite3_column_double(stmt, column + 3),
		.slope_most = sqlite3_column_double(stmt, column + 4),
		.at_zero = sqlite3_column_double(stmt, column + 5),
		.mean_run = sqlite3_column_double(stmt, column + 6),
		.squares = sqlite3_column_double(stmt, column + 7),
		.own = {sqlite3_column_double(stmt, column + 8), sqlite3_column_double(stmt, column + 9)},
		.used = {sqlite3_column_double(stmt, column + 10),
	             sqlite3_column_double(stmt, column + 11)},
		.kendall_s = sqlite3_column_int64(stmt, column + 12),
		.tau = sqlite3_column_double(stmt, column + 13),
		.p = sqlite3_column_double(stmt, column + 14),
	};
	kept.fits = sqlite3_column_int64(stmt, column + 15) != 0;
	kept.run_read = column_length(stmt, column + 16).value;
	kept.method = wear_method(stmt, column + 17);
	kept.run_not_known = sqlite3_column_int64(stmt, column + 18);
	kept.other_method = sqlite3_column_int64(stmt, column + 19);
	kept.clean_moment = column_seconds(stmt, column + 20);
	kept.clean_volume = column_volume(stmt, column + 21);
	kept.uneven.known = sqlite3_column_type(stmt, column + 22) != SQLITE_NULL;
	kept.uneven.value =
		value_from_stored(VALUE_PERCENT, sqlite3_column_int64(stmt, column + 22)).percent;
	kept.gave_back = column_volume(stmt, column + 23);
	kept.gave_back_moment = column_seconds(stmt, column + 24);
	return kept;
}

enum outcome store_wear(struct store *store, struct arena *arena, int64_t tool,
                        struct wear_kept *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &wear_of_roll, fault);
	enum outcome outcome = OUTCOME_STORE;
	(void)arena;
	*out = (struct wear_kept){.known = false};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = wear_columns(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_wear_readings(struct store *store, struct arena *arena, int64_t tool,
                                 struct wear_reading **out, size_t *count, struct fault *fault)
{
	struct roll roll;
	struct wear_kept kept = {.known = true};
	bool found;
	*out = NULL;
	*count = 0;
	enum outcome outcome = roll_read(store, arena, tool, true, &roll, &found, fault);
	if (outcome != OUTCOME_DONE || !found) {
		return outcome;
	}
	struct trend_point *points = arena_take(arena, roll.reading_count, sizeof *points);
	count_in(&roll, points, &kept);
	*out = roll.readings;
	*count = roll.reading_count;
	return OUTCOME_DONE;
}
