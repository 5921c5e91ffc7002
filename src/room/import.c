/* `import KIND FILE`: a CSV file of one kind, all or nothing, every bad row named. */
#include <ctype.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "csv.h"
#include "entry.h"
#include "seen.h"

#define PROGRESS_ROWS 256 /* told every so many rows */

/* What a column of the file holds. */
struct column {
	size_t attribute;
	const char *unit; /* of its heading, or NULL */
};

/* A place that lies within one further down in the file: tried again at the end. */
struct waiting {
	int64_t line;
	const char **cells;
	size_t count;
};

struct import {
	struct store *store;
	struct arena *arena; /* lives as long as the import */
	struct arena *row_arena;
	const struct kind *kind;
	const struct actor *actor;
	struct limits limits;
	bool update;
	import_progress progress;
	void *progress_context;
	int64_t bytes, rows;
	struct column *columns;
	size_t column_count;
	bool *attribute_given;
	struct seen seen;
	struct waiting *waiting;
	size_t waiting_count, waiting_room;
	bool last_try; /* of those that wait: an unknown place is a problem now */
	struct import_report *report;
	struct fault *fault;
};

static void problem_add(struct import *import, int64_t line, const char *column,
                        const char *sentence, const char *hint)
{
	struct import_report *report = import->report;
	report->problem_count++;
	if (report->problems_kept == IMPORT_PROBLEMS_SHOWN) {
		return;
	}
	report->problems[report->problems_kept++] = (struct import_problem){
		.line = line,
		.column = arena_copy(import->arena, column),
		.text = hint != NULL && hint[0] != '\0'
	                ? arena_format(import->arena, "%s. %s", sentence, hint)
	                : arena_copy(import->arena, sentence),
	};
}

/* ---------------------------------------------------------------- the heading */

static const char *trimmed_lower(struct arena *arena, const char *text)
{
	while (*text == ' ' || *text == '\t') {
		text++;
	}
	char *copy = arena_copy(arena, text);
	size_t length = strlen(copy);
	while (length > 0 && (copy[length - 1] == ' ' || copy[length - 1] == '\t')) {
		copy[--length] = '\0';
	}
	for (char *c = copy; *c != '\0'; c++) {
		*c = (char)tolower((unsigned char)*c);
	}
	return copy;
}

/* `face`, or `face_mm`: an attribute and a unit that it takes. */
static bool heading_find(const struct kind *kind, const char *heading, struct column *out)
{
	out->unit = NULL;
	out->attribute = kind_attribute_find(kind, heading);
	if (out->attribute != SIZE_MAX) {
		return true;
	}
	for (size_t i = 0; i < kind_attribute_count(kind); i++) {
		const struct attribute *attribute = kind_attribute(kind, i);
		size_t length = strlen(attribute->name);
		if (strncmp(attribute->name, heading, length) != 0 || heading[length] != '_') {
			continue;
		}
		for (const char *const *unit = value_heading_units(attribute->type); *unit; unit++) {
			if (strcmp(*unit, heading + length + 1) == 0) {
				*out = (struct column){i, *unit};
				return true;
			}
		}
	}
	return false;
}

static void heading_unknown(struct import *import, int64_t line, const char *heading)
{
	size_t count = kind_attribute_count(import->kind);
	const char **names = arena_take(import->arena, count + 1, sizeof *names);
	for (size_t i = 0; i < count; i++) {
		names[i] = kind_attribute(import->kind, i)->name;
	}
	const char *nearest = text_nearest(heading, names);
	problem_add(import, line, heading,
	            arena_format(import->arena, "column of a %s not known: %s", import->kind->title,
	                         heading),
	            nearest != NULL ? arena_format(import->arena, "Is %s meant?", nearest) : "");
}

static void heading_take(struct import *import, const struct csv_row *row)
{
	import->columns = arena_take(import->arena, row->count, sizeof *import->columns);
	import->column_count = row->count;
	for (size_t i = 0; i < row->count; i++) {
		struct column *column = &import->columns[i];
		const char *heading = trimmed_lower(import->arena, row->cells[i]);
		column->attribute = SIZE_MAX;
		if (heading[0] == '\0') {
			continue; /* a column without a heading may hold nothing: see row_take_cells */
		}
		if (!heading_find(import->kind, heading, column)) {
			heading_unknown(import, row->line, heading);
		} else if (import->attribute_given[column->attribute]) {
			problem_add(import, row->line, heading, "column stands twice in the heading", "");
		} else {
			import->attribute_given[column->attribute] = true;
		}
	}
}

/* ---------------------------------------------------------------- a row */

static void row_take_cells(struct import *import, const struct csv_row *row,
                           struct entry_form *form)
{
	for (size_t i = 0; i < row->count; i++) {
		const char *cell = row->cells[i];
		if (i < import->column_count && import->columns[i].attribute != SIZE_MAX) {
			entry_take(form, import->columns[i].attribute, import->columns[i].unit, cell);
		} else if (cell[strspn(cell, " \t")] != '\0') {
			complain(&form->complaints, NULL, "A cell that holds the separator stands in quotes.",
			         "cell stands under no heading: %s", cell);
		}
	}
	/* A short row ends in blanks. */
	for (size_t i = row->count; i < import->column_count; i++) {
		if (import->columns[i].attribute != SIZE_MAX) {
			entry_take(form, import->columns[i].attribute, import->columns[i].unit, "");
		}
	}
}

static void row_problems(struct import *import, int64_t line, const struct complaints *complaints)
{
	for (size_t i = 0; i < complaints->count; i++) {
		const struct complaint *complaint = &complaints->items[i];
		problem_add(import, line, complaint->attribute, complaint->sentence, complaint->hint);
	}
}

/* A record on file with the row's columns put in their place. */
static enum outcome merge_known(struct import *import, struct entry_form *form, int64_t id)
{
	struct record *row = form->record, *known;
	enum outcome outcome =
		store_record_read(import->store, form->arena, import->kind, id, &known, import->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	for (size_t i = 0; i < kind_attribute_count(import->kind); i++) {
		bool tag = strcmp(kind_attribute(import->kind, i)->name, "tag") == 0;
		if (import->attribute_given[i] && !tag) {
			known->values[i] = row->values[i];
			known->references[i] = row->references[i];
		}
	}
	form->record = known;
	return OUTCOME_DONE;
}

static enum outcome row_identify(struct import *import, struct entry_form *form, int64_t line,
                                 int64_t *id)
{
	enum outcome outcome = entry_identify(form, id, import->fault);
	int64_t before = *id != 0 ? seen_line(&import->seen, *id) : 0;
	if (outcome != OUTCOME_DONE || *id == 0) {
		return outcome;
	}
	if (import->kind->id == KIND_READING && (before != 0 || !import->update)) {
		/* A reading has no name: what was read twice is two readings. */
		*id = 0;
		return OUTCOME_DONE;
	}
	if (before != 0) {
		complain(&form->complaints, NULL, "", "%s stands in line %lld already", entry_name(form),
		         (long long)before);
	} else if (!import->update) {
		complain(&form->complaints, NULL, "Give update=yes to correct what is on record.",
		         "%s is on record already", entry_name(form));
	} else {
		seen_add(&import->seen, *id, line);
		outcome = merge_known(import, form, *id);
	}
	return outcome;
}

static enum outcome row_write(struct import *import, struct entry_form *form, int64_t line,
                              int64_t known)
{
	bool changed = true;
	if (known != 0) {
		enum outcome outcome = store_record_update(import->store, form->arena, form->record,
		                                           import->actor, &changed, import->fault);
		import->report->changed += changed ? 1 : 0;
		import->report->same += changed ? 0 : 1;
		return outcome;
	}
	enum outcome outcome =
		store_record_insert(import->store, form->arena, form->record, import->actor, import->fault);
	if (outcome == OUTCOME_DONE) {
		seen_add(&import->seen, form->record->id, line);
		import->report->added++;
	}
	return outcome;
}

/* The only complaint is that the place around is not known: it may stand further down. */
static bool row_may_wait(const struct import *import, const struct complaints *complaints)
{
	return import->kind->id == KIND_PLACE && !import->last_try && complaints->count == 1 &&
	       complaints->items[0].attribute != NULL &&
	       strcmp(complaints->items[0].attribute, "within") == 0;
}

static void row_wait(struct import *import, const struct csv_row *row)
{
	if (import->waiting_count == import->waiting_room) {
		size_t room = import->waiting_room * 2 + 16;
		import->waiting = arena_grow(import->arena, import->waiting, import->waiting_count, room,
		                             sizeof *import->waiting);
		import->waiting_room = room;
	}
	struct waiting *waiting = &import->waiting[import->waiting_count++];
	waiting->line = row->line;
	waiting->count = row->count;
	waiting->cells = arena_take(import->arena, row->count, sizeof *waiting->cells);
	for (size_t i = 0; i < row->count; i++) {
		waiting->cells[i] = arena_copy(import->arena, row->cells[i]);
	}
}

static enum outcome row_take(struct import *import, const struct csv_row *row)
{
	int64_t known = 0;
	struct entry_form form = entry_form_new(import->store, import->row_arena, import->actor,
	                                        &import->limits, import->kind);
	row_take_cells(import, row, &form);
	enum outcome outcome = entry_resolve(&form, import->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = row_identify(import, &form, row->line, &known);
	}
	if (outcome == OUTCOME_DONE && row_may_wait(import, &form.complaints)) {
		row_wait(import, row);
		return OUTCOME_DONE;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = entry_check(&form, import->fault);
	}
	if (outcome == OUTCOME_DONE && form.complaints.count == 0) {
		outcome = row_write(import, &form, row->line, known);
	}
	row_problems(import, row->line, &form.complaints);
	return outcome;
}

static enum outcome take_row(const struct csv_row *row, void *context)
{
	struct import *import = context;
	if (import->columns == NULL) {
		heading_take(import, row);
		/* Under a wrong heading every row would be wrong too. */
		return import->report->problem_count == 0 ? OUTCOME_DONE : OUTCOME_NO;
	}
	enum outcome outcome = row_take(import, row);
	arena_reset(import->row_arena);
	import->rows++;
	if (import->progress != NULL && import->rows % PROGRESS_ROWS == 0) {
		import->progress(row->bytes_read, import->bytes, import->rows, import->progress_context);
	}
	return outcome;
}

/* Tries those that wait, again and again while some find their place. */
static enum outcome take_waiting(struct import *import)
{
	enum outcome outcome = OUTCOME_DONE;
	while (import->waiting_count > 0 && outcome == OUTCOME_DONE) {
		struct waiting *waiting = import->waiting;
		size_t count = import->waiting_count;
		import->waiting = NULL;
		import->waiting_count = import->waiting_room = 0;
		for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
			struct csv_row row = {.line = waiting[i].line,
			                      .cells = waiting[i].cells,
			                      .count = waiting[i].count};
			outcome = row_take(import, &row);
			arena_reset(import->row_arena);
		}
		import->last_try = import->waiting_count == count;
	}
	return outcome;
}

/* ---------------------------------------------------------------- a file */

static enum outcome read_rows(struct import *import, const char *name, const char *bytes,
                              size_t length)
{
	struct arena *each = arena_new();
	struct fault torn;
	int64_t line;
	fault_clear(&torn);
	enum outcome outcome = csv_read(each, bytes, length, take_row, import, &line, &torn);
	arena_free(each);
	if (outcome == OUTCOME_BAD && torn.sentence[0] != '\0') {
		problem_add(import, line, NULL, torn.sentence, torn.hint);
		outcome = OUTCOME_NO;
	}
	if (outcome == OUTCOME_DONE && import->columns == NULL) {
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

static enum outcome import_bytes(struct import *import, const char *name, const char *bytes,
                                 size_t length)
{
	bool inner = store_in_transaction(import->store);
	enum outcome outcome =
		inner ? OUTCOME_DONE : store_begin(import->store, "room_import", import->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	import->bytes = (int64_t)length;
	import->row_arena = arena_new();
	import->attribute_given =
		arena_take(import->arena, kind_attribute_count(import->kind), sizeof(bool));
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
	seen_free(&import->seen);
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
	return import_bytes(&import, name, bytes, length);
}

static enum outcome refuse_file(const char *path, int error, struct fault *fault)
{
	if (error == ENOENT || error == ENOTDIR) {
		return fault_set(fault, OUTCOME_BAD, "file not found: %s", path);
	}
	if (error == EISDIR) {
		return fault_set(fault, OUTCOME_BAD, "file is a directory: %s", path);
	}
	return fault_set(fault, OUTCOME_BAD, "file cannot be read: %s: %s", path, strerror(error));
}

/* The whole file; it lives in the arena. */
static enum outcome file_read(struct arena *arena, const char *path, char **bytes, size_t *length,
                              struct fault *fault)
{
	int file = open(path, O_RDONLY | O_CLOEXEC);
	size_t room = 1 << 16;
	ssize_t got = 1;
	if (file < 0) {
		return refuse_file(path, errno, fault);
	}
	*bytes = arena_take(arena, room, 1);
	*length = 0;
	while (got > 0) {
		if (*length == room) {
			*bytes = arena_grow(arena, *bytes, room, room * 2, 1);
			room *= 2;
		}
		got = read(file, *bytes + *length, room - *length);
		*length += got > 0 ? (size_t)got : 0;
	}
	int error = errno;
	close(file);
	return got < 0 ? refuse_file(path, error, fault) : OUTCOME_DONE;
}

enum outcome room_import_file(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *path, bool update, const struct actor *actor,
                              import_progress progress, void *context, struct import_report *report,
                              struct fault *fault)
{
	struct import import = {
		.store = store,
		.arena = arena,
		.kind = kind,
		.actor = actor,
		.update = update,
		.progress = progress,
		.progress_context = context,
		.report = report,
		.fault = fault,
	};
	char *bytes = NULL;
	size_t length = 0;
	*report = (struct import_report){.added = 0};
	enum outcome outcome = file_read(arena, path, &bytes, &length, fault);
	return outcome == OUTCOME_DONE ? import_bytes(&import, path, bytes, length) : outcome;
}
