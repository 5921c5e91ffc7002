/* What `due` looks at: every tool in use, its care, its use, its next job. */
#include <assert.h>

#include "wear.h"

/*
 * What stands in front of the kind's own columns. The last cleaning and the last mark of dirt of
 * this life are of the care; the first booking that has not ended is that of the next job.
 */
#define DUE_COLUMNS \
	"SELECT t.id, t.tag, t.name, t.maker_serial, p.code, t.life, t.run, t.face," \
	" d.id, d.moment, c.id, c.moment, j.number, r.code, b.starts, b.ends, j.quantity," \
	" j.number_across, m.number_around, m.teeth, m.pitch, m.repeat," \
	" (SELECT o.number FROM job o WHERE o.id = t.taken_for)"
#define KIND_COLUMN 23 /* the first of the kind's own */
#define DUE_SOURCES \
	" JOIN tool t ON t.id = k.tool LEFT JOIN place p ON p.id = t.place" \
	" LEFT JOIN care d ON d.id = (SELECT x.id FROM care x WHERE x.tool = t.id AND x.what = 'dirty'" \
	" ORDER BY x.moment DESC, x.id DESC LIMIT 1) AND d.life = t.life" \
	" LEFT JOIN care c ON c.id = (SELECT x.id FROM care x WHERE x.tool = t.id" \
	" AND x.what = 'cleaned' ORDER BY x.moment DESC, x.id DESC LIMIT 1)" \
	" LEFT JOIN booking b ON b.id = (SELECT y.id FROM booking y WHERE y.tool = t.id" \
	" AND y.ends > :now ORDER BY y.starts LIMIT 1)" \
	" LEFT JOIN job j ON j.id = b.job" \
	" LEFT JOIN promise m ON m.job = b.job AND m.ended IS NULL" \
	" LEFT JOIN press r ON r.id = m.press"
#define IN_USE " WHERE t.condition <> 'scrapped'"
#define ONE " WHERE t.id = :id"

/* What is looked at of each kind. */
#define ROLLS \
	DUE_COLUMNS ", k.line_screen, k.volume, k.engraved, " WEAR_COLUMNS \
				" FROM anilox k" DUE_SOURCES \
				" LEFT JOIN wear w ON w.tool = t.id AND w.life = t.life"
#define BLADES \
	DUE_COLUMNS ", k.material, k.life, k.length, k.thickness, k.edge FROM blade k" DUE_SOURCES
#define DIES \
	DUE_COLUMNS ", k.around, k.build, k.life, k.teeth, k.pitch, k.number_across," \
				" k.number_around FROM die k" DUE_SOURCES
#define CYLINDERS \
	DUE_COLUMNS ", k.around, k.runout, (SELECT max(g.moment) FROM gauge g" \
				" WHERE g.tool = t.id AND g.life = t.life AND g.runout IS NOT NULL)" \
				" FROM cylinder k" DUE_SOURCES
#define GEARS DUE_COLUMNS " FROM gear k" DUE_SOURCES
#define MAGNETIC_CYLINDERS DUE_COLUMNS " FROM magnetic_cylinder k" DUE_SOURCES

STATEMENT(due_rolls) = {"rolls for what is due", ROLLS IN_USE, true};
STATEMENT(due_blades) = {"blades for what is due", BLADES IN_USE, true};
STATEMENT(due_dies) = {"dies for what is due", DIES IN_USE, true};
STATEMENT(due_cylinders) = {"cylinders for what is due", CYLINDERS IN_USE, true};
/* Of these only what is marked dirty can be due. */
STATEMENT(due_gears) = {"gears for what is due", GEARS IN_USE, true};
STATEMENT(due_magnetic_cylinders) = {"magnetic cylinders for what is due",
                                     MAGNETIC_CYLINDERS IN_USE, true};
STATEMENT(due_roll) = {"one roll for what is due", ROLLS ONE, false};
STATEMENT(due_blade) = {"one blade for what is due", BLADES ONE, false};
STATEMENT(due_die) = {"one die for what is due", DIES ONE, false};
STATEMENT(due_cylinder) = {"one cylinder for what is due", CYLINDERS ONE, false};
STATEMENT(due_gear) = {"one gear for what is due", GEARS ONE, false};
STATEMENT(due_magnetic_cylinder) = {"one magnetic cylinder for what is due", MAGNETIC_CYLINDERS ONE,
                                    false};

/* Runs from the earliest of three moments on, added up from each of the three. */
STATEMENT(web_of_tool) =
	{"web that a tool has run since some moments",
     "SELECT total(length) FILTER (WHERE moment >= :recent),"
     " total(length) FILTER (WHERE moment > :cleaned), total(length) FILTER (WHERE moment > :read),"
     " (SELECT min(moment) FROM web_run WHERE tool = :tool AND life = :life)"
     " FROM web_run WHERE tool = :tool AND life = :life AND moment >= :least",
     false};

/* From the end of the index: only so far as they are looked at. */
STATEMENT(latest_first) = {"readings of a roll after cleaning, latest first",
                           "SELECT moment, volume FROM reading WHERE tool = :tool"
                           " AND life = :life AND after = 'clean' AND moment >= :since"
                           " ORDER BY moment DESC, id DESC",
                           false};
STATEMENT(blades_count) = {"blades of a material taken off",
                           "SELECT count(run) FROM care WHERE material = :material"
                           " AND run IS NOT NULL",
                           false};
STATEMENT(blades_middle) = {"middle ones of the blades of a material",
                            "SELECT run FROM care WHERE material = :material AND run IS NOT NULL"
                            " ORDER BY run LIMIT :most OFFSET :before",
                            false};

/* ---------------------------------------------------------------- one row */

/* The mark of dirt stands where no cleaning came after it; of one second the later on record. */
static void fill_care(sqlite3_stmt *stmt, struct due_tool *tool)
{
	int64_t dirty_id = sqlite3_column_int64(stmt, 8), cleaned_id = sqlite3_column_int64(stmt, 10);
	tool->dirty = column_seconds(stmt, 9);
	tool->cleaned = column_seconds(stmt, 11);
	if (tool->dirty.known && tool->cleaned.known) {
		int order = moment_compare(tool->dirty.value, tool->cleaned.value);
		tool->dirty.known = order > 0 || (order == 0 && dirty_id > cleaned_id);
	}
}

static void fill_common(struct arena *arena, sqlite3_stmt *stmt, struct due_tool *tool)
{
	tool->id = sqlite3_column_int64(stmt, 0);
	tool->tag = arena_copy(arena, tag_shown(column_tag(stmt, 1)).bytes);
	tool->name = column_words(arena, stmt, 2);
	tool->maker_serial = column_words(arena, stmt, 3);
	tool->place = column_words(arena, stmt, 4);
	tool->life = sqlite3_column_int64(stmt, 5);
	tool->run = column_length(stmt, 6);
	tool->face = column_length(stmt, 7);
	fill_care(stmt, tool);
	tool->next_job = column_words(arena, stmt, 12);
	tool->next_press = column_words(arena, stmt, 13);
	tool->next_from = column_seconds(stmt, 14);
	tool->next_until = column_seconds(stmt, 15);
	tool->taken_for = column_words(arena, stmt, 22);
	if (tool->next_job != NULL) {
		tool->next_quantity = column_count(stmt, 16);
		tool->next_across = column_count(stmt, 17);
		tool->next_around = column_count(stmt, 18);
		tool->next_repeat = column_repeat(stmt, 19, 20, 21);
	}
}

/* A reading after cleaning tells that it was clean by then. */
static void fill_roll(struct arena *arena, sqlite3_stmt *stmt, struct due_tool *tool)
{
	(void)arena;
	tool->line_screen = column_screen(stmt, KIND_COLUMN);
	tool->volume = column_volume(stmt, KIND_COLUMN + 1);
	tool->engraved = column_when(stmt, KIND_COLUMN + 2);
	tool->wear = wear_columns(stmt, KIND_COLUMN + 3);
	tool->read = tool->wear.clean_moment;
	if (!tool->read.known) {
		return;
	}
	if (!tool->cleaned.known || moment_compare(tool->cleaned.value, tool->read.value) < 0) {
		tool->cleaned = tool->read;
	}
	if (tool->dirty.known && moment_compare(tool->dirty.value, tool->read.value) < 0) {
		tool->dirty.known = false;
	}
}

static void fill_blade(struct arena *arena, sqlite3_stmt *stmt, struct due_tool *tool)
{
	tool->material = column_words(arena, stmt, KIND_COLUMN);
	tool->blade_life = column_length(stmt, KIND_COLUMN + 1);
	tool->length = column_length(stmt, KIND_COLUMN + 2);
	tool->thickness = column_length(stmt, KIND_COLUMN + 3);
	tool->edge = column_words(arena, stmt, KIND_COLUMN + 4);
}

static void fill_die(struct arena *arena, sqlite3_stmt *stmt, struct due_tool *tool)
{
	tool->around = column_length(stmt, KIND_COLUMN);
	tool->die_build = column_words(arena, stmt, KIND_COLUMN + 1);
	tool->die_life = column_count(stmt, KIND_COLUMN + 2);
	tool->die_teeth = column_count(stmt, KIND_COLUMN + 3);
	tool->die_pitch = column_words(arena, stmt, KIND_COLUMN + 4);
	tool->die_across = column_count(stmt, KIND_COLUMN + 5);
	tool->die_around = column_count(stmt, KIND_COLUMN + 6);
}

static void fill_cylinder(struct arena *arena, sqlite3_stmt *stmt, struct due_tool *tool)
{
	(void)arena;
	tool->around = column_length(stmt, KIND_COLUMN);
	tool->runout = column_length(stmt, KIND_COLUMN + 1);
	tool->gauged = column_seconds(stmt, KIND_COLUMN + 2);
}

/* ---------------------------------------------------------------- its use */

static struct moment moment_or_never(struct known_moment moment)
{
	return moment.known ? moment.value : (struct moment){.s = INT64_MIN};
}

static enum outcome fill_use(struct store *store, struct moment recent_since, struct due_tool *tool,
                             struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &web_of_tool, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	struct moment cleaned = moment_or_never(tool->cleaned), read = moment_or_never(tool->read);
	struct moment least = moment_compare(cleaned, recent_since) < 0 ? cleaned : recent_since;
	/* Of a life without a reading the run on record tells all. */
	bool run_tells = !tool->read.known && tool->run.known;
	if (!run_tells && moment_compare(read, least) < 0) {
		least = read;
	}
	bind_number(stmt, ":tool", tool->id);
	bind_number(stmt, ":life", tool->life);
	bind_moment(stmt, ":recent", recent_since);
	bind_moment(stmt, ":cleaned", cleaned);
	bind_moment(stmt, ":read", read);
	bind_moment(stmt, ":least", least);
	if (statement_row(store, stmt, &outcome, fault)) {
		tool->recent = length_from_nm(sqlite3_column_int64(stmt, 0));
		tool->since_cleaned = length_from_nm(sqlite3_column_int64(stmt, 1));
		tool->since_read =
			run_tells ? tool->run.value : length_from_nm(sqlite3_column_int64(stmt, 2));
		tool->first_run = column_seconds(stmt, 3);
	}
	statement_done(stmt);
	return outcome;
}

/* ---------------------------------------------------------------- all of them */

static const struct due_kind {
	enum kind_id kind;
	const struct statement *all, *one;
	/* Fills the kind's own members; NULL: none. */
	void (*fill)(struct arena *arena, sqlite3_stmt *stmt, struct due_tool *tool);
} due_kinds[] = {
	{KIND_ANILOX, &due_rolls, &due_roll, fill_roll},
	{KIND_BLADE, &due_blades, &due_blade, fill_blade},
	{KIND_DIE, &due_dies, &due_die, fill_die},
	{KIND_CYLINDER, &due_cylinders, &due_cylinder, fill_cylinder},
	{KIND_GEAR, &due_gears, &due_gear, NULL},
	{KIND_MAGNETIC_CYLINDER, &due_magnetic_cylinders, &due_magnetic_cylinder, NULL},
};

/* All of a kind; `id` not 0: that one. */
static enum outcome give_kind(struct store *store, struct arena *arena, const struct due_kind *kind,
                              int64_t id, struct moment now, struct moment recent_since,
                              due_take take, void *context, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, id != 0 ? kind->one : kind->all, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	if (id != 0) {
		bind_number(stmt, ":id", id);
	}
	bind_moment(stmt, ":now", now);
	while (statement_row(store, stmt, &outcome, fault)) {
		struct due_tool tool = {.kind = &kinds[kind->kind]};
		fill_common(arena, stmt, &tool);
		if (kind->fill != NULL) {
			kind->fill(arena, stmt, &tool);
		}
		outcome = fill_use(store, recent_since, &tool, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = take(&tool, context);
		}
		if (outcome != OUTCOME_DONE) {
			break;
		}
		arena_reset(arena);
	}
	statement_done(stmt);
	return outcome;
}

enum outcome store_due(struct store *store, const struct kind *kind, int64_t id, struct moment now,
                       struct moment recent_since, due_take take, void *context,
                       struct fault *fault)
{
	struct arena *arena = arena_new();
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < COUNT_OF(due_kinds) && outcome == OUTCOME_DONE; i++) {
		if (kind == NULL || kind->id == due_kinds[i].kind) {
			outcome =
				give_kind(store, arena, &due_kinds[i], id, now, recent_since, take, context, fault);
		}
	}
	arena_free(arena);
	return outcome;
}

/* ---------------------------------------------------------------- lives of blades */

/* The mean of the middle one or two of so many. */
static enum outcome read_middle(struct store *store, const char *material, int64_t count,
                                struct length *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &blades_middle, fault);
	enum outcome outcome = OUTCOME_STORE;
	int64_t first = 0, last = 0, rows = 0;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":material", material);
	bind_number(stmt, ":most", count % 2 == 0 ? 2 : 1);
	bind_number(stmt, ":before", (count - 1) / 2);
	for (; statement_row(store, stmt, &outcome, fault); rows++) {
		last = sqlite3_column_int64(stmt, 0);
		first = rows == 0 ? last : first;
	}
	assert(outcome != OUTCOME_DONE || rows == (count % 2 == 0 ? 2 : 1));
	*out = length_from_nm(first + (last - first) / 2);
	return outcome;
}

enum outcome store_blades_run(struct store *store, const char *material, struct lives_run *out,
                              struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &blades_count, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct lives_run){.count = 0};
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":material", material);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->count = sqlite3_column_int64(stmt, 0);
	}
	statement_done(stmt);
	return outcome == OUTCOME_DONE && out->count > 0
	           ? read_middle(store, material, out->count, &out->middle, fault)
	           : outcome;
}

enum outcome store_below_since(struct store *store, const struct due_tool *tool,
                               struct volume volume, struct known_moment *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, &latest_first, fault);
	enum outcome outcome = OUTCOME_STORE;
	*out = (struct known_moment){.known = false};
	if (stmt == NULL) {
		return outcome;
	}
	bind_number(stmt, ":tool", tool->id);
	bind_number(stmt, ":life", tool->life);
	bind_number(stmt, ":since", INT64_MIN);
	if (tool->engraved.known) {
		bind_moment(stmt, ":since", tool->engraved.value);
	}
	while (statement_row(store, stmt, &outcome, fault) &&
	       sqlite3_column_int64(stmt, 1) < volume_to_micro(volume)) {
		*out = column_seconds(stmt, 0);
	}
	statement_done(stmt);
	return outcome;
}
