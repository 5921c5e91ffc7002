/* `show TAG`: everything known of one record. */
#include <string.h>

#include "../records.h"
#include "commands.h"

static void entry_write(struct answer *answer, const struct ledger_entry *entry)
{
	answer_object_open(answer, NULL);
	answer_count(answer, "number", entry->number);
	answer_moment(answer, "happened", entry->happened);
	answer_moment(answer, "recorded", entry->recorded);
	answer_word(answer, "what", entry->word);
	answer_word(answer, "from", entry->from_code);
	answer_word(answer, "to", entry->to_code);
	answer_word(answer, "job", entry->job);
	answer_word(answer, "operator", entry->operator_name);
	answer_word(answer, "login", entry->login);
	answer_word(answer, "terminal", entry->terminal);
	answer_word(answer, "detail", entry->detail);
	answer_object_close(answer);
}

static void shown_write(struct answer *answer, const struct shown *shown)
{
	answer_object_open(answer, NULL);
	record_write(answer, shown->record);
	answer_word(answer, "whereabouts", shown->whereabouts);
	answer_word(answer, "obstacle", shown->obstacle);
	if (answer_form(answer) != FORM_CSV) {
		answer_array_open(answer, "rows");
		for (size_t i = 0; i < shown->row_count; i++) {
			answer_object_open(answer, NULL);
			record_write(answer, shown->rows[i]);
			answer_object_close(answer);
		}
		answer_array_close(answer);
		answer_array_open(answer, "history");
		for (size_t i = 0; i < shown->entry_count; i++) {
			entry_write(answer, &shown->entries[i]);
		}
		answer_array_close(answer);
	}
	answer_object_close(answer);
}

static void attributes_say(struct call *call, const struct record *record)
{
	static const char *const columns[] = {"", ""};
	size_t count = kind_attribute_count(record->kind);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		const char *value = value_text(call->arena, &record->values[i], call->units);
		/* That a thing is not retired goes without saying; that a tool is ready does not. */
		bool said = attribute->type != VALUE_YES_NO || attribute->fallback == NULL ||
		            strcmp(attribute->fallback, value) != 0;
		if (record->values[i].known && said) {
			const char *cells[] = {attribute->name, value};
			answer_table_row(call->answer, MARK_PLAIN, cells);
		}
	}
	answer_table_close(call->answer);
}

/* The attribute that names a row: P1-3, station 3, the moment of a reading. */
static size_t row_name(const struct record *row)
{
	if (row->kind->id == KIND_READING) {
		return kind_attribute_find(row->kind, "moment");
	}
	return kind_attribute_find(row->kind, row->kind->tagged ? "code" : row->kind->name);
}

/* What is known of a row but what names it and what goes without saying. */
static const char *row_said(struct call *call, const struct record *row, size_t name)
{
	struct text text = text_start(call->arena);
	for (size_t i = 0; i < kind_attribute_count(row->kind); i++) {
		const struct attribute *attribute = kind_attribute(row->kind, i);
		const char *value = value_text(call->arena, &row->values[i], call->units);
		bool said = i != name && row->values[i].known && strcmp(attribute->name, "tag") != 0 &&
		            strcmp(attribute->name, "sort") != 0 && attribute->reference != REFER_JOB &&
		            attribute->reference != REFER_PLACE && attribute->reference != REFER_ANILOX;
		if (said && (attribute->fallback == NULL || strcmp(attribute->fallback, value) != 0)) {
			text_join(&text, ", ", attribute->name);
			text_add_format(&text, " %s", value);
		}
	}
	return text.bytes;
}

/* A line a row: `station 3  ink cyan, process flexo, ...`, or the code of a press station. */
static void rows_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"", ""};
	if (shown->row_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < shown->row_count; i++) {
		const struct record *row = shown->rows[i];
		size_t name = row_name(row);
		const char *value = value_text(call->arena, &row->values[name], call->units);
		const char *cells[] = {
			row->kind->tagged ? value : arena_format(call->arena, "%s %s", row->kind->name, value),
			row_said(call, row, name),
		};
		answer_table_row(call->answer, MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
}

#define HISTORY_COLUMNS 7

static const char *history_cell(struct arena *arena, const struct ledger_entry *entry,
                                size_t column)
{
	const char *const cells[HISTORY_COLUMNS] = {
		arena_copy(arena, moment_text(entry->happened).bytes),
		entry->word,
		entry->from_code,
		entry->to_code,
		entry->job,
		entry->operator_name != NULL ? entry->operator_name : entry->login,
		entry->detail,
	};
	return cells[column];
}

/* Without the columns that hold nothing. */
static void history_say(struct call *call, const struct shown *shown)
{
	static const char *const names[HISTORY_COLUMNS] = {"when", "what", "from",  "to",
	                                                   "job",  "who",  "detail"};
	const char *columns[HISTORY_COLUMNS];
	const char **cells =
		arena_take(call->arena, shown->entry_count * HISTORY_COLUMNS, sizeof *cells);
	size_t count = 0;
	if (shown->entry_count == 0) {
		return;
	}
	for (size_t column = 0; column < HISTORY_COLUMNS; column++) {
		bool known = false;
		for (size_t i = 0; i < shown->entry_count; i++) {
			const char *cell = history_cell(call->arena, &shown->entries[i], column);
			cells[i * HISTORY_COLUMNS + count] = cell;
			known = known || (cell != NULL && *cell != '\0');
		}
		columns[count] = names[column];
		count += known ? 1 : 0;
	}
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "what happened last");
	answer_table_open(call->answer, columns, count);
	for (size_t i = 0; i < shown->entry_count; i++) {
		answer_table_row(call->answer, MARK_PLAIN, &cells[i * HISTORY_COLUMNS]);
	}
	answer_table_close(call->answer);
}

static enum outcome run(struct call *call)
{
	struct shown shown = {0};
	enum outcome outcome =
		room_show(call->store, call->arena, call_bare(call, 0), call->units, &shown, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	shown_write(call->answer, &shown);
	answer_line(call->answer, MARK_STRONG, "%s%s", record_called(call->arena, shown.record),
	            shown.summary);
	if (shown.whereabouts != NULL) {
		answer_line(call->answer, MARK_PLAIN, "%s", shown.whereabouts);
	}
	if (shown.obstacle != NULL) {
		answer_line(call->answer, MARK_BAD, "%s", shown.obstacle);
	}
	answer_blank(call->answer);
	attributes_say(call, shown.record);
	rows_say(call, &shown);
	history_say(call, &shown);
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG,
     .required = true,
     .meaning = "a tag, place or press code, job number, badge or other_tag"},
};

static const char *const examples[] = {"show J2601", "show P1", NULL};

const struct command command_show = {
	.name = "show",
	.summary = "what it is, where, in what condition, and what happened last",
	.more = "In the console a line that is a tag alone means the same.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
