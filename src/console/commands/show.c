/* `show TAG`: everything known of one record. */
#include <string.h>

#include "../records.h"
#include "commands.h"

static void entry_write(struct answer *answer, const struct ledger_entry *entry)
{
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
}

static void lines_write(struct answer *answer, const char *key, const char *const *lines,
                        size_t count)
{
	answer_array_open(answer, key);
	for (size_t i = 0; i < count; i++) {
		answer_word(answer, NULL, lines[i]);
	}
	answer_array_close(answer);
}

static void figures_write(struct answer *answer, const struct shown *shown)
{
	answer_object_open(answer, "figures");
	for (size_t i = 0; i < shown->figure_count; i++) {
		if (shown->figures[i].is_data) {
			answer_value(answer, shown->figures[i].name, &shown->figures[i].value);
		}
	}
	answer_object_close(answer);
}

static void tools_write(struct answer *answer, const struct shown *shown)
{
	answer_array_open(answer, "tools");
	for (size_t i = 0; i < shown->tool_count; i++) {
		answer_object_open(answer, NULL);
		answer_word(answer, "tag", shown->tools[i].tag);
		answer_word(answer, "what", shown->tools[i].summary);
		answer_word(answer, "place", shown->tools[i].place);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void entries_write(struct answer *answer, const char *key,
                          const struct ledger_entry *entries, const char *const *subjects,
                          size_t count)
{
	answer_array_open(answer, key);
	for (size_t i = 0; i < count; i++) {
		answer_object_open(answer, NULL);
		entry_write(answer, &entries[i]);
		if (subjects != NULL) {
			answer_word(answer, "subject", subjects[i]);
		}
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void shown_write(struct answer *answer, const struct shown *shown)
{
	enum kind_id kind = shown->record->kind->id;
	answer_object_open(answer, NULL);
	record_write(answer, shown->record);
	answer_word(answer, "whereabouts", shown->whereabouts);
	answer_word(answer, "obstacle", shown->obstacle_count > 0 ? shown->obstacles[0] : NULL);
	if (answer_form(answer) != FORM_CSV) {
		lines_write(answer, "places", shown->places, shown->place_count);
		lines_write(answer, "obstacles", shown->obstacles, shown->obstacle_count);
		lines_write(answer, "cautions", shown->cautions, shown->caution_count);
		figures_write(answer, shown);
		answer_array_open(answer, "rows");
		for (size_t i = 0; i < shown->row_count; i++) {
			answer_object_open(answer, NULL);
			record_write(answer, shown->rows[i]);
			answer_object_close(answer);
		}
		answer_array_close(answer);
		if (kind == KIND_PLACE || kind == KIND_PRESS) {
			tools_write(answer, shown);
		}
		if (kind == KIND_OPERATOR) {
			entries_write(answer, "done", shown->done, shown->done_to, shown->done_count);
		}
		entries_write(answer, "history", shown->entries, NULL, shown->entry_count);
	}
	answer_object_close(answer);
}

/* Is a word among those of a list with blanks between? */
static bool list_has(const char *list, const char *word)
{
	size_t length = strlen(word);
	for (const char *at = list; at != NULL; at = strchr(at, ' ')) {
		at += *at == ' ' ? 1 : 0;
		if (strncmp(at, word, length) == 0 && (at[length] == ' ' || at[length] == '\0')) {
			return true;
		}
	}
	return false;
}

static bool is_covered(const struct shown *shown, const char *attribute)
{
	for (size_t i = 0; i < shown->figure_count; i++) {
		if (list_has(shown->figures[i].covers, attribute)) {
			return true;
		}
	}
	return false;
}

/* The figures that matter, then what else is on record. */
static void attributes_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"", ""};
	const struct record *record = shown->record;
	size_t count = kind_attribute_count(record->kind);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < shown->figure_count; i++) {
		const char *cells[] = {shown->figures[i].name, shown->figures[i].said};
		if (cells[1] != NULL) {
			answer_table_row(call->answer, MARK_PLAIN, cells);
		}
	}
	for (size_t i = 0; i < count; i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		const char *value = value_text(call->arena, &record->values[i], call->units);
		/* That a thing is not retired goes without saying, and what it is called stands above. */
		bool said = attribute->type != VALUE_YES_NO || attribute->fallback == NULL ||
		            strcmp(attribute->fallback, value) != 0;
		said = said && !list_has(record->kind->tool ? "tag" : "tag code number badge name title",
		                         attribute->name);
		if (record->values[i].known && said && !is_covered(shown, attribute->name)) {
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

/* One line of a station; its code stands in the first alone. */
static void station_say(struct call *call, const char **code, enum answer_mark mark,
                        const char *text)
{
	const char *cells[] = {*code, text};
	answer_table_row(call->answer, mark, cells);
	*code = NULL;
}

/* A station of the press: what it does where not all, why it is on hold, the tools that sit there.
 */
static void stations_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"station", "what is there"};
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < shown->row_count; i++) {
		const char *name = record_words(shown->rows[i], "code");
		const char *processes = record_words(shown->rows[i], "processes");
		const char *code = name;
		if (processes != NULL) {
			station_say(call, &code, MARK_PLAIN, arena_format(call->arena, "%s only", processes));
		}
		if (shown->row_held[i] != NULL) {
			station_say(call, &code, MARK_BAD, shown->row_held[i]);
		}
		for (size_t j = 0; j < shown->tool_count; j++) {
			if (strcmp(shown->tools[j].place, name) == 0) {
				station_say(call, &code, MARK_PLAIN,
				            arena_format(call->arena, "%s  %s", shown->tools[j].tag,
				                         shown->tools[j].summary));
			}
		}
		if (code != NULL) {
			station_say(call, &code, MARK_PLAIN, NULL);
		}
	}
	answer_table_close(call->answer);
}

/* The first tools of a place. */
static void tools_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"tag", "place", "what"};
	if (shown->tool_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < shown->tool_count; i++) {
		const char *cells[] = {shown->tools[i].tag, shown->tools[i].place, shown->tools[i].summary};
		answer_table_row(call->answer, MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
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

#define HISTORY_COLUMNS 8

static const char *history_cell(struct arena *arena, const struct ledger_entry *entry,
                                const char *subject, size_t column)
{
	const char *const cells[HISTORY_COLUMNS] = {
		arena_copy(arena, moment_text(entry->happened).bytes),
		entry->word,
		subject,
		entry->from_code,
		entry->to_code,
		entry->job,
		entry->operator_name != NULL ? entry->operator_name : entry->login,
		entry->detail,
	};
	return cells[column];
}

/* Entries without the columns that hold nothing; `subjects` NULL: all of the record shown. */
static void entries_say(struct call *call, const char *title, const struct ledger_entry *entries,
                        const char *const *subjects, size_t entry_count)
{
	static const char *const names[HISTORY_COLUMNS] = {"when", "what", "to what", "from",
	                                                   "to",   "job",  "who",     "detail"};
	const char *columns[HISTORY_COLUMNS];
	const char **cells = arena_take(call->arena, entry_count * HISTORY_COLUMNS, sizeof *cells);
	size_t count = 0;
	if (entry_count == 0) {
		return;
	}
	for (size_t column = 0; column < HISTORY_COLUMNS; column++) {
		bool known = false;
		for (size_t i = 0; i < entry_count; i++) {
			const char *cell = history_cell(call->arena, &entries[i],
			                                subjects != NULL ? subjects[i] : NULL, column);
			cells[i * HISTORY_COLUMNS + count] = cell;
			known = known || (cell != NULL && *cell != '\0');
		}
		columns[count] = names[column];
		count += known ? 1 : 0;
	}
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "%s", title);
	answer_table_open(call->answer, columns, count);
	for (size_t i = 0; i < entry_count; i++) {
		answer_table_row(call->answer, MARK_PLAIN, &cells[i * HISTORY_COLUMNS]);
	}
	answer_table_close(call->answer);
}

/* What it is, where, and what is to be known before it is used. */
static void head_say(struct call *call, const struct shown *shown)
{
	answer_line(call->answer, MARK_STRONG, "%s%s", record_called(call->arena, shown->record),
	            shown->summary);
	if (shown->whereabouts != NULL) {
		answer_line(call->answer, MARK_PLAIN, "%s", shown->whereabouts);
	}
	if (shown->within != NULL) {
		answer_line(call->answer, MARK_PLAIN, "%s", shown->within);
	}
	if (shown->home != NULL) {
		answer_line(call->answer, MARK_PLAIN, "%s", shown->home);
	}
	for (size_t i = 0; i < shown->obstacle_count; i++) {
		answer_line(call->answer, MARK_BAD, "%s", shown->obstacles[i]);
	}
	for (size_t i = 0; i < shown->caution_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "caution: %s", shown->cautions[i]);
	}
	if (shown->record->kind->tool && shown->obstacle_count == 0) {
		answer_line(call->answer, MARK_GOOD, "ready");
	}
}

static enum outcome run(struct call *call)
{
	struct shown shown = {0};
	enum outcome outcome = room_show(call->store, call->arena, call_bare(call, 0), call->units,
	                                 call->now, &shown, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	shown_write(call->answer, &shown);
	if (answer_form(call->answer) != FORM_TEXT) {
		return OUTCOME_DONE;
	}
	head_say(call, &shown);
	answer_blank(call->answer);
	attributes_say(call, &shown);
	if (shown.record->kind->id == KIND_PRESS) {
		stations_say(call, &shown);
	} else {
		rows_say(call, &shown);
		tools_say(call, &shown);
	}
	entries_say(call, "what was done last", shown.done, shown.done_to, shown.done_count);
	entries_say(call, "what happened last", shown.entries, NULL, shown.entry_count);
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
