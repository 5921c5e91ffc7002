/* Importing a CSV text of one kind: all or nothing, every bad row named. */
#include <string.h>

#include "import.h"

#define PROGRESS_ROWS 256 /* told every so many rows */

/* ---------------------------------------------------------------- a row */

static void take_cells(struct import *import, const struct csv_row *row, struct entry_form *form)
{
	const struct heading *heading = &import->heading;
	bool complained = false;
	for (size_t i = 0; i < row->count; i++) {
		const char *cell = row->cells[i];
		if (i < heading->count && heading->columns[i].attribute != SIZE_MAX) {
			size_t attribute = heading->columns[i].attribute;
			if (import->kind->id == KIND_READING) {
				cell = reading_decimals(import, form, attribute, cell);
			}
			entry_take(form, attribute, heading->columns[i].unit, cell);
		} else if (!complained && cell[strspn(cell, " \t")] != '\0') {
			complain(&form->complaints, NULL, "A cell that holds the separator stands in quotes.",
			         "cell stands under no heading: %s", cell);
			complained = true;
		}
	}
	/* A short row ends in blanks. */
	for (size_t i = row->count; i < heading->count; i++) {
		if (heading->columns[i].attribute != SIZE_MAX) {
			entry_take(form, heading->columns[i].attribute, heading->columns[i].unit, "");
		}
	}
}

/*
 * The line on which this record stood before in the file, 0 for none; from now on it is known to
 * stand in this one.
 */
static int64_t line_before(struct import *import, const struct entry_form *form, int64_t line)
{
	const char *names[ENTRY_NAMES_MOST];
	size_t count = entry_names(form, names);
	int64_t before = form->known != 0 ? seen_line(&import->records, (uint64_t)form->known) : 0;
	for (size_t i = 0; i < count; i++) {
		uint64_t key = seen_key(names[i]);
		int64_t stood = seen_line(&import->names, key);
		if (stood == 0) {
			seen_add(&import->names, key, line);
		} else if (stood != line) {
			before = stood;
		}
	}
	return before;
}

/*
 * Which record on file it is, if any; with `update` the record becomes that one, the row's columns
 * in it.
 */
static enum outcome identify(struct import *import, struct entry_form *form, int64_t line)
{
	if (import->kind->id == KIND_READING) {
		return reading_identify(import, form);
	}
	enum outcome outcome = entry_identify(form, import->fault);
	int64_t before = line_before(import, form, line);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (before != 0) {
		complain(&form->complaints, NULL, "", "%s stands in line %lld already", entry_name(form),
		         (long long)before);
	} else if (form->known != 0 && !import->update) {
		complain(&form->complaints, NULL, "Give update=yes to correct what is on record.",
		         "%s is on record already", entry_name(form));
	} else if (form->known != 0) {
		outcome = entry_merge(form, import->heading.given, import->fault);
	}
	return outcome;
}

static enum outcome write_record(struct import *import, struct entry_form *form, bool *changed,
                                 struct fault *fault)
{
	*changed = !form->stands;
	if (form->stands) {
		return OUTCOME_DONE;
	}
	return form->known != 0 ? store_record_update(import->store, form->arena, form->record,
	                                              import->actor, changed, fault)
	                        : store_record_insert(import->store, form->arena, form->record,
	                                              import->actor, fault);
}

static enum outcome write_row(struct import *import, struct entry_form *form, int64_t line)
{
	struct fault refused;
	bool changed;
	fault_clear(&refused);
	enum outcome outcome = write_record(import, form, &changed, &refused);
	if (outcome == OUTCOME_STORE) {
		fault_set(import->fault, outcome, "%s", refused.sentence);
		fault_hint(import->fault, "%s", refused.hint);
		return outcome;
	}
	if (outcome != OUTCOME_DONE) {
		/* Such as a press whose station would be a place of another sort. */
		complain_fault(&form->complaints, NULL, &refused);
		return OUTCOME_DONE;
	}
	seen_add(&import->records, (uint64_t)(form->stands ? form->known : form->record->id), line);
	if (form->known == 0) {
		import->report->added++;
	} else if (changed) {
		import->report->changed++;
	} else {
		import->report->same++;
	}
	return OUTCOME_DONE;
}

/* What is wrong with it may come right by a row further down. */
static bool may_wait(const struct import *import, const struct entry_form *form)
{
	return import->kind->id == KIND_PLACE && !import->last_try &&
	       complaint_at(&form->complaints, "within") != NULL;
}

static enum outcome take_row(struct import *import, const struct csv_row *row, bool *waits)
{
	struct entry_form form = entry_form_new(import->store, import->row_arena, import->actor,
	                                        &import->limits, import->kind);
	form.file = true;
	/* A place may be within one further down; and of many problems only the first are shown. */
	form.plain =
		import->kind->id == KIND_PLACE || import->report->problem_count >= IMPORT_PROBLEMS_SHOWN;
	take_cells(import, row, &form);
	const char *within =
		import->kind->id == KIND_PLACE ? record_words(form.record, "within") : NULL;
	const char *code = within != NULL ? record_words(form.record, "code") : NULL;
	enum outcome outcome = entry_resolve(&form, import->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = identify(import, &form, row->line);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_check(&form, import->fault);
	}
	*waits = outcome == OUTCOME_DONE && may_wait(import, &form);
	if (*waits && import->retried == NULL) {
		waiting_add(&import->waiting, row, code, within);
	}
	if (*waits) {
		return OUTCOME_DONE;
	}
	if (outcome == OUTCOME_DONE && form.complaints.total == 0) {
		outcome = write_row(import, &form, row->line);
	}
	problems_add(import, row->line, &form.complaints);
	return outcome;
}

/* ---------------------------------------------------------------- all rows */

static enum outcome take_heading(struct import *import, const struct csv_row *row)
{
	struct complaints complaints = {.arena = import->arena};
	import->heading = heading_read(import->arena, import->kind, row, &complaints);
	problems_add(import, row->line, &complaints);
	/* Under a wrong heading every row would be wrong too. */
	return complaints.total == 0 ? OUTCOME_DONE : OUTCOME_NO;
}

static enum outcome take_next(const struct csv_row *row, void *context)
{
	struct import *import = context;
	bool waits;
	if (import->heading.columns == NULL) {
		return take_heading(import, row);
	}
	enum outcome outcome = take_row(import, row, &waits);
	arena_reset(import->row_arena);
	import->rows++;
	if (import->progress != NULL && import->rows % PROGRESS_ROWS == 0) {
		import->progress(row->bytes_read, import->bytes, import->rows, import->progress_context);
	}
	return outcome;
}

/* Tries those that wait once more; how many still do. */
static enum outcome try_waiting(struct import *import, size_t *still)
{
	enum outcome outcome = OUTCOME_DONE;
	*still = 0;
	for (size_t i = 0; i < import->waiting.count && outcome == OUTCOME_DONE; i++) {
		struct waiting *item = &import->waiting.items[i];
		bool waits;
		if (item->settled) {
			continue;
		}
		import->retried = item;
		outcome = take_row(import, &item->row, &waits);
		arena_reset(import->row_arena);
		item->settled = !waits && !import->last_try;
		*still += waits ? 1 : 0;
	}
	import->retried = NULL;
	return outcome;
}

/* Again and again while some find their place; then those that are left are problems. */
static enum outcome take_waiting(struct import *import)
{
	size_t before = SIZE_MAX, still = import->waiting.count;
	enum outcome outcome = OUTCOME_DONE;
	for (int depth = 0; still > 0 && outcome == OUTCOME_DONE && !import->last_try; depth++) {
		import->last_try = still == before || depth == PLACES_DEEPEST;
		before = still;
		outcome = try_waiting(import, &still);
	}
	return outcome;
}

static const char *heading_at(const struct import *import, size_t cell)
{
	return cell < import->heading.count ? import->heading.columns[cell].heading : NULL;
}

static enum outcome read_rows(struct import *import, const char *name, const char *bytes,
                              size_t length)
{
	struct arena *each = arena_new();
	struct fault torn;
	struct csv_tear tear;
	fault_clear(&torn);
	import->separator = heading_separator(import->kind, bytes, length);
	enum outcome outcome =
		csv_read(each, bytes, length, import->separator, take_next, import, &tear, &torn);
	arena_free(each);
	if (torn.outcome == OUTCOME_BAD) {
		problem_add(import, tear.line, heading_at(import, tear.cell), torn.sentence, torn.hint);
		outcome = OUTCOME_NO;
	} else if (torn.outcome != OUTCOME_DONE) {
		return fault_set(import->fault, torn.outcome, "%s", torn.sentence);
	}
	if (outcome == OUTCOME_DONE && import->heading.columns == NULL) {
		fault_set(import->fault, OUTCOME_BAD, "file is empty, its first line names the columns: %s",
		          name);
		return OUTCOME_BAD;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = take_waiting(import);
	}
	/* OUTCOME_NO only stopped the reading: the problems say why. */
	return outcome == OUTCOME_NO ? OUTCOME_DONE : outcome;
}

static enum outcome refuse_problems(struct import *import, const char *name)
{
	struct import_report *report = import->report;
	if (report->problem_count == 0) {
		return OUTCOME_DONE;
	}
	report->added = report->changed = report->same = 0;
	fault_set(import->fault, OUTCOME_BAD, "%lld thing%s wrong, nothing was imported: %s",
	          (long long)report->problem_count, report->problem_count == 1 ? " is" : "s are", name);
	fault_hint(import->fault, "Mend the file and type it again.");
	return OUTCOME_BAD;
}

static enum outcome run_in_transaction(struct import *import, const char *name, const char *bytes,
                                       size_t length)
{
	bool inner = store_in_transaction(import->store);
	enum outcome outcome =
		inner ? OUTCOME_DONE : store_begin(import->store, "room_import", import->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_limits(import->store, &import->limits, import->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_rows(import, name, bytes, length);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_problems(import, name);
	}
	if (outcome == OUTCOME_DONE && !inner) {
		outcome = store_commit(import->store, import->fault);
	}
	if (outcome != OUTCOME_DONE && !inner) {
		store_rollback(import->store);
	}
	return outcome;
}

enum outcome import_run(struct import *import, const char *name, const char *bytes, size_t length)
{
	import->bytes = (int64_t)length;
	import->row_arena = arena_new();
	enum outcome outcome = run_in_transaction(import, name, bytes, length);
	seen_free(&import->names);
	seen_free(&import->records);
	waiting_free(&import->waiting);
	arena_free(import->row_arena);
	return outcome;
}

enum outcome room_import_text(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *name, const char *bytes, size_t length, bool update,
                              const struct actor *actor, struct import_report *report,
                              struct fault *fault)
{
	struct import import = {
		.store = store,
		.arena = arena,
		.kind = kind,
		.actor = actor,
		.update = update,
		.report = report,
		.fault = fault,
	};
	*report = (struct import_report){.added = 0};
	return import_run(&import, name, bytes, length);
}
