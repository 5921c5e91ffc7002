/*
 * The shop's own limits and habits: every practice value of the program, once, with its unit and
 * default.
 */
#include <assert.h>
#include <stddef.h>
#include <string.h>

#include "record.h"

static const char *const life_over_words[] = {"caution", "short", NULL};
static const char *const units_words[] = {"metric", "inch", NULL};
static const char *const content_words[] = {"plain", "giai", "91", "92", "93", "94",
                                            "95",    "96",   "97", "98", "99", NULL};

static const char practice[] = "common practice, no source";
/* PrintWiki, "Total Indicated Runout": +-0.0005 in for a new roller. */
static const char runout_source[] =
	"common practice; PrintWiki, \"Total Indicated Runout\", for a new roller";

static const char regrinds_source[] = "Packaging Impressions, for solid dies";

/*
 * The ranges are generous, common practice too: they catch what no shop can mean, such as a unit
 * mistyped, by which a caution of the check would be silently off.
 */
const struct setting settings[] = {
	{"buildup", VALUE_TOOLING, NULL, "0.025mm", "0mm", "1mm",
     "how far plate and tape may differ from a cylinder's undercut, on the radius", practice},
	{"spread", VALUE_TOOLING, NULL, "0.05mm", "0mm", "1mm",
     "how far the printed diameters of one job may lie apart", practice},
	{"runout", VALUE_TOOLING, NULL, "0.0127mm", "0mm", "0.5mm", "most runout of a plate cylinder",
     runout_source},
	{"repeat_match", VALUE_TOOLING, NULL, "0.01mm", "0mm", "1mm",
     "how far two repeats may differ where teeth cannot be compared", practice},
	{"blade_length_match", VALUE_TOOLING, NULL, "10mm", "0mm", "100mm",
     "how far a blade's length may differ from its roll's face", practice},
	{"die_match", VALUE_TOOLING, NULL, "0.05mm", "0mm", "5mm",
     "how far a die's label may differ from the job's", practice},
	{"liner_match", VALUE_TOOLING, NULL, "0.002mm", "0mm", "0.1mm",
     "how far a die's liner caliper may differ from the job's", practice},
	{"volume_tolerance", VALUE_PERCENT, NULL, "10%", "0%", "50%",
     "how far a roll's volume may differ from the volume asked", practice},
	{"volume_loss", VALUE_PERCENT, NULL, "20%", "0%", "90%",
     "loss of volume since new above which a roll is at caution", practice},
	{"trend_match", VALUE_PERCENT, NULL, "5%", "0%", "50%",
     "how far a roll's latest reading may lie from its trend; further, the reading counts",
     practice},
	{"volume_rise", VALUE_PERCENT, NULL, "5%", "0%", "50%",
     "rise of a roll's volume, with no cleaning between, above which a reading is questioned",
     practice},
	{"screen_ratio", VALUE_NUMBER, NULL, "4", "1", "20", "least anilox lines to one plate line",
     practice},
	{"overs", VALUE_PERCENT, NULL, "5%", "0%", "100%", "printed beyond the quantity asked",
     practice},
	{"turnaround", VALUE_DURATION, NULL, "1h", "0h", "4w", "time between two jobs on one tool",
     practice},
	{"make_ready", VALUE_DURATION, NULL, "45min", "0min", "24h",
     "from the end of one job on a press to good labels of the next", practice},
	{"shifts", VALUE_TEXT, NULL, "always", NULL, NULL,
     "hours in which the shop works: in them jobs run and tools are made ready", NULL},
	{"closed", VALUE_TEXT, NULL, "none", NULL, NULL, "days on which no shift begins", NULL},
	{"life_over", VALUE_CHOICE, life_over_words, "caution", NULL, NULL,
     "what a blade or die is whose life ends within the run", practice},
	{"regrinds", VALUE_COUNT, NULL, "4", "0", "50", "how often a solid die is usually ground anew",
     regrinds_source},
	{"recent", VALUE_DURATION, NULL, "90d", "1w", "104w",
     "time over which a tool's recent use is counted, to tell days of web left", practice},
	{"due_days", VALUE_DURATION, NULL, "30d", "1d", "366d", "how far ahead due looks", practice},
	{"due_left", VALUE_PERCENT, NULL, "10%", "0%", "50%",
     "share of a life left at which a tool without recent use is due", practice},
	{"clean_every", VALUE_WEB, NULL, "150000m", "0m", "10000000m",
     "web that a roll runs from one cleaning to the next; 0m: not asked", practice},
	{"read_every", VALUE_DURATION, NULL, "90d", "0d", "520w",
     "from one reading of a roll that runs to the next; 0d: not asked", practice},
	{"uneven", VALUE_PERCENT, NULL, "10%", "0%", "100%",
     "how far a roll's left, centre and right may differ, of their mean", practice},
	{"life_steel", VALUE_WEB, NULL, "0m", "0m", "100000000m",
     "life of a steel blade that has none of its own; 0m: not known", practice},
	{"life_coated", VALUE_WEB, NULL, "0m", "0m", "100000000m",
     "life of a coated blade that has none of its own; 0m: not known", practice},
	{"life_polymer", VALUE_WEB, NULL, "0m", "0m", "100000000m",
     "life of a polymer blade that has none of its own; 0m: not known", practice},
	{"idle", VALUE_DURATION, NULL, "10min", "1min", "24h",
     "quiet at the scanning bench after which who scanned is signed off", practice},
	{"x_least", VALUE_TOOLING, NULL, "0.19mm", "0.05mm", "5mm",
     "least X-dimension of a printed symbol: the narrowest bar, the smallest module", practice},
	{"tag_content", VALUE_CHOICE, content_words, "plain", NULL, NULL,
     "what a tag's symbol carries: the plain tag, a GIAI, or the tag behind an internal AI", NULL},
	{"company_prefix", VALUE_TEXT, NULL, "none", NULL, NULL,
     "company prefix that GS1 has licensed to the shop, for the GIAI", NULL},
	{"stock_tool", VALUE_TEXT, NULL, "roll-50x25", NULL, NULL, "stock that tags of tools go on",
     NULL},
	{"stock_place", VALUE_TEXT, NULL, "a4-places", NULL, NULL, "stock that tags of places go on",
     NULL},
	{"stock_press", VALUE_TEXT, NULL, "a4-places", NULL, NULL, "stock that tags of presses go on",
     NULL},
	{"stock_job", VALUE_TEXT, NULL, "roll-50x25", NULL, NULL, "stock that tags of jobs go on",
     NULL},
	{"stock_badge", VALUE_TEXT, NULL, "a4-badges", NULL, NULL, "stock that operators' badges go on",
     NULL},
	{"stock_action", VALUE_TEXT, NULL, "a4-cards", NULL, NULL,
     "stock that action and reason cards go on", NULL},
	{"units", VALUE_CHOICE, units_words, "metric", NULL, NULL, "how quantities are shown", NULL},
	{"currency", VALUE_TEXT, NULL, "EUR", NULL, NULL, "of every cost on record", NULL},
};
const size_t setting_count = COUNT_OF(settings);

/* Where each limit lies in struct limits; a habit that is no limit stands not here. */
static const struct limit_field {
	const char *name;
	size_t offset;
} limit_fields[] = {
	{"buildup", offsetof(struct limits, buildup)},
	{"spread", offsetof(struct limits, spread)},
	{"runout", offsetof(struct limits, runout)},
	{"repeat_match", offsetof(struct limits, repeat_match)},
	{"blade_length_match", offsetof(struct limits, blade_length_match)},
	{"die_match", offsetof(struct limits, die_match)},
	{"liner_match", offsetof(struct limits, liner_match)},
	{"volume_tolerance", offsetof(struct limits, volume_tolerance)},
	{"volume_loss", offsetof(struct limits, volume_loss)},
	{"volume_rise", offsetof(struct limits, volume_rise)},
	{"trend_match", offsetof(struct limits, trend_match)},
	{"screen_ratio", offsetof(struct limits, screen_ratio)},
	{"overs", offsetof(struct limits, overs)},
	{"turnaround", offsetof(struct limits, turnaround)},
	{"make_ready", offsetof(struct limits, make_ready)},
	{"life_over", offsetof(struct limits, life_over)},
	{"regrinds", offsetof(struct limits, regrinds)},
	{"recent", offsetof(struct limits, recent)},
	{"due_days", offsetof(struct limits, due_days)},
	{"due_left", offsetof(struct limits, due_left)},
	{"clean_every", offsetof(struct limits, clean_every)},
	{"read_every", offsetof(struct limits, read_every)},
	{"uneven", offsetof(struct limits, uneven)},
	{"life_steel", offsetof(struct limits, life_steel)},
	{"life_coated", offsetof(struct limits, life_coated)},
	{"life_polymer", offsetof(struct limits, life_polymer)},
	{"units", offsetof(struct limits, units)},
};

/* Kept by badge, told by name: as the ledger tells of an operator. */
STATEMENT(read_setting) = {"setting",
                           "SELECT s.value, COALESCE(o.name, s.set_by), s.set_at FROM setting s"
                           " LEFT JOIN operator o ON o.badge = s.set_by WHERE s.name = :name",
                           false};
STATEMENT(write_setting) =
	{"setting changed",
     "INSERT INTO setting (name, value, set_at, set_by) VALUES (:name, :value, :set_at, :set_by)"
     " ON CONFLICT (name) DO UPDATE SET value = :value, set_at = :set_at, set_by = :set_by",
     false};
STATEMENT(forget_setting) = {"setting back to its default",
                             "DELETE FROM setting WHERE name = :name", false};
STATEMENT(all_settings) = {"settings", "SELECT name, value FROM setting", true};
STATEMENT(badge_of) = {"badge of an operator", "SELECT badge FROM operator WHERE id = :id", false};

const struct setting *setting_find(const char *name)
{
	for (size_t i = 0; i < setting_count; i++) {
		if (strcmp(settings[i].name, name) == 0) {
			return &settings[i];
		}
	}
	return NULL;
}

/* GS1 General Specifications, on the GS1 Company Prefix: 4 to 12 digits (from memory). */
static bool is_company_prefix(const char *value, struct fault *fault)
{
	(void)fault;
	size_t digits = strspn(value, "0123456789");
	return strcmp(value, "none") == 0 || (value[digits] == '\0' && digits >= 4 && digits <= 12);
}

static bool are_shifts(const char *value, struct fault *fault)
{
	struct calendar calendar = {.limited = false};
	return calendar_shifts_parse(value, &calendar, fault) == OUTCOME_DONE;
}

static bool are_closed_days(const char *value, struct fault *fault)
{
	struct calendar calendar = {.limited = false};
	return calendar_closed_parse(value, &calendar, fault) == OUTCOME_DONE;
}

bool setting_fits(const struct setting *setting, const char *value, const char **takes,
                  struct fault *fault)
{
	static const struct {
		const char *name;
		bool (*fits)(const char *value, struct fault *fault);
		const char *takes;
	} rows[] = {
		{"company_prefix", is_company_prefix, "the 4 to 12 digits of it, or none"},
		{"shifts", are_shifts,
	     "shifts such as \"mon-fri 06:00-22:00, sat 06:00-14:00\", or always"},
		{"closed", are_closed_days, "days such as 2026-12-24..2027-01-01,2027-05-01, or none"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		if (strcmp(rows[i].name, setting->name) == 0) {
			if (takes != NULL) {
				*takes = rows[i].takes;
			}
			return rows[i].fits(value, fault);
		}
	}
	if (takes != NULL) {
		*takes = NULL;
	}
	return true;
}

enum outcome store_setting_read(struct store *store, struct arena *arena,
                                const struct setting *setting, struct setting_state *out,
                                struct fault *fault)
{
	*out = (struct setting_state){.setting = setting, .value = setting->fallback};
	sqlite3_stmt *stmt = statement_ready(store, &read_setting, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":name", setting->name);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->value = column_words(arena, stmt, 0);
		out->set_by = column_words(arena, stmt, 1);
		out->set_at = column_seconds(stmt, 2).value;
	}
	statement_done(stmt);
	return outcome;
}

/* The operator's badge, or else the system's login name. */
static enum outcome name_of_actor(struct store *store, struct arena *arena,
                                  const struct actor *actor, const char **out, struct fault *fault)
{
	*out = actor->login;
	if (actor->operator_id == 0) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &badge_of, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":id", actor->operator_id);
	if (statement_row(store, stmt, &outcome, fault)) {
		*out = column_words(arena, stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}

/* `value` NULL: the default stands again, and nobody has set it. */
static enum outcome write_value(struct store *store, const struct setting *setting,
                                const char *value, const char *set_by, struct moment now,
                                struct fault *fault)
{
	sqlite3_stmt *stmt =
		statement_ready(store, value != NULL ? &write_setting : &forget_setting, fault);
	if (stmt == NULL) {
		return OUTCOME_STORE;
	}
	bind_words(stmt, ":name", setting->name);
	if (value == NULL) {
		return statement_run(store, stmt, "changing a setting", fault);
	}
	bind_words(stmt, ":value", value);
	bind_moment(stmt, ":set_at", now);
	bind_words(stmt, ":set_by", set_by);
	return statement_run(store, stmt, "changing a setting", fault);
}

enum outcome store_setting_write(struct store *store, const struct setting *setting,
                                 const char *value, const struct actor *actor, struct fault *fault)
{
	struct arena *arena = arena_new();
	struct setting_state before;
	const char *set_by;
	enum outcome outcome = store_setting_read(store, arena, setting, &before, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = name_of_actor(store, arena, actor, &set_by, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = write_value(store, setting, value, set_by, actor->now, fault);
	}
	if (outcome == OUTCOME_DONE) {
		struct entry entry = {
			.word = "set",
			.subject_kind = "setting",
			.happened = actor->now,
			.detail = arena_format(arena, "%s %s -> %s%s", setting->name, before.value,
		                           value != NULL ? value : setting->fallback,
		                           value != NULL ? "" : " (default)"),
		};
		outcome = ledger_write(store, &entry, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			before_keep(store, setting->name, before.set_by != NULL ? before.value : NULL, fault);
	}
	arena_free(arena);
	return outcome;
}

static enum outcome restore_value(struct store *store, struct arena *arena,
                                  const struct setting *setting, const char *value,
                                  const struct actor *actor, struct fault *fault)
{
	const char *set_by;
	enum outcome outcome = name_of_actor(store, arena, actor, &set_by, fault);
	return outcome == OUTCOME_DONE ? write_value(store, setting, value, set_by, actor->now, fault)
	                               : outcome;
}

enum outcome store_undo_setting(struct store *store, struct arena *arena,
                                const struct undo_entry *entry, const struct actor *actor,
                                struct fault *fault)
{
	const struct setting *setting = setting_find(entry->setting);
	struct setting_state now;
	const char *value = NULL;
	bool known;
	if (setting == NULL) {
		return fault_set(fault, OUTCOME_NO, "setting not known: %s", entry->setting);
	}
	enum outcome outcome =
		before_read(store, arena, entry->number, setting->name, &known, &value, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_setting_read(store, arena, setting, &now, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = restore_value(store, arena, setting, value, actor, fault);
	}
	struct entry taking = {.subject_kind = "setting"};
	return outcome == OUTCOME_DONE
	           ? undo_write(store, arena, entry, &taking,
	                        arena_format(arena, "%s %s -> %s", setting->name, now.value,
	                                     value != NULL ? value : setting->fallback),
	                        actor, fault)
	           : outcome;
}

STATEMENT(changes_of_setting) =
	{"changes of a setting",
     "SELECT l.happened, l.detail, COALESCE(o.name, l.login) FROM ledger l"
     " LEFT JOIN operator o ON o.id = l.operator WHERE l.subject_kind = 'setting' AND l.subject = 0"
     " AND substr(l.detail, 1, length(:name) + 1) = :name || ' '"
     " ORDER BY l.happened DESC, l.number DESC LIMIT :most",
     false};

enum outcome store_setting_changes(struct store *store, struct arena *arena,
                                   const struct setting *setting, struct setting_change *out,
                                   size_t most, size_t *count, struct fault *fault)
{
	*count = 0;
	if (store == NULL) {
		return OUTCOME_DONE;
	}
	sqlite3_stmt *stmt = statement_ready(store, &changes_of_setting, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":name", setting->name);
	bind_number(stmt, ":most", (int64_t)most);
	while (*count < most && statement_row(store, stmt, &outcome, fault)) {
		out[(*count)++] = (struct setting_change){
			.happened = column_seconds(stmt, 0).value,
			.detail = column_words(arena, stmt, 1),
			.who = column_words(arena, stmt, 2),
		};
		outcome = OUTCOME_DONE;
	}
	statement_done(stmt);
	return outcome;
}

/* Puts one value in force; what is no limit is passed over. */
static void apply(struct limits *limits, const struct setting *setting, const char *text,
                  struct arena *arena)
{
	struct value value;
	void *field = NULL;
	if (strcmp(setting->name, "shifts") == 0) {
		(void)calendar_shifts_parse(text, &limits->calendar, NULL);
	} else if (strcmp(setting->name, "closed") == 0) {
		(void)calendar_closed_parse(text, &limits->calendar, NULL);
	}
	for (size_t i = 0; i < COUNT_OF(limit_fields); i++) {
		if (strcmp(limit_fields[i].name, setting->name) == 0) {
			field = (char *)limits + limit_fields[i].offset;
		}
	}
	if (field == NULL || value_parse(arena, setting->name, setting->type, setting->choices, NULL,
	                                 text, &value, NULL) != OUTCOME_DONE) {
		return;
	}
	if (setting->type == VALUE_TOOLING || setting->type == VALUE_WEB) {
		*(struct length *)field = value.length;
	} else if (setting->type == VALUE_PERCENT) {
		*(struct percent *)field = value.percent;
	} else if (setting->type == VALUE_DURATION) {
		*(struct duration *)field = value.duration;
	} else if (setting->type == VALUE_COUNT) {
		*(int64_t *)field = value.count;
	} else if (setting->type == VALUE_NUMBER) {
		*(double *)field = value.number;
	} else if (setting->choices == life_over_words) {
		*(enum life_over *)field =
			strcmp(value.text, "short") == 0 ? LIFE_OVER_SHORT : LIFE_OVER_CAUTION;
	} else if (setting->choices == units_words) {
		*(enum units *)field = strcmp(value.text, "inch") == 0 ? UNITS_INCH : UNITS_METRIC;
	} else {
		assert(!"a limit of a type that no field has");
	}
}

enum outcome store_limits(struct store *store, struct limits *out, struct fault *fault)
{
	struct arena *arena = arena_new();
	enum outcome outcome = OUTCOME_DONE;
	memset(out, 0, sizeof *out);
	for (size_t i = 0; i < setting_count; i++) {
		apply(out, &settings[i], settings[i].fallback, arena);
	}
	sqlite3_stmt *stmt = store != NULL ? statement_ready(store, &all_settings, fault) : NULL;
	if (stmt != NULL) {
		while (statement_row(store, stmt, &outcome, fault)) {
			const struct setting *setting =
				setting_find((const char *)sqlite3_column_text(stmt, 0));
			if (setting != NULL) {
				apply(out, setting, (const char *)sqlite3_column_text(stmt, 1), arena);
			}
		}
	} else if (store != NULL) {
		outcome = OUTCOME_STORE;
	}
	arena_free(arena);
	return outcome;
}
