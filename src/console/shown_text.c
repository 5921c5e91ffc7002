/* What `show` answers, for people. */
#include <string.h>

#include "records.h"
#include "shown.h"

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

/* That a thing is not retired goes without saying, and what it is called stands above. */
static bool is_said(const struct record *record, const struct attribute *attribute,
                    const char *value)
{
	bool usual = attribute->type == VALUE_YES_NO && attribute->fallback != NULL &&
	             strcmp(attribute->fallback, value) == 0;
	return !usual && !list_has(record->kind->tool ? "tag" : "tag code number badge name title",
	                           attribute->name);
}

size_t shown_pairs(struct call *call, const struct shown *shown, struct shown_pair **out)
{
	const struct record *record = shown->record;
	size_t attributes = kind_attribute_count(record->kind), count = 0;
	struct shown_pair *pairs =
		arena_take(call->arena, shown->figure_count + attributes, sizeof *pairs);
	for (size_t i = 0; i < shown->figure_count; i++) {
		if (shown->figures[i].said != NULL) {
			pairs[count++] = (struct shown_pair){shown->figures[i].name, shown->figures[i].said};
		}
	}
	for (size_t i = 0; i < attributes; i++) {
		const struct attribute *attribute = kind_attribute(record->kind, i);
		const char *value = value_text(call->arena, &record->values[i], call->units);
		if (record->values[i].known && is_said(record, attribute, value) &&
		    !is_covered(shown, attribute->name)) {
			pairs[count++] = (struct shown_pair){attribute->name, value};
		}
	}
	*out = pairs;
	return count;
}

static void attributes_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"", ""};
	struct shown_pair *pairs;
	size_t count = shown_pairs(call, shown, &pairs);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		const char *cells[] = {pairs[i].name, pairs[i].value};
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
		answer_line(call->answer, shown->place_obstacle != NULL ? MARK_BAD : MARK_PLAIN, "%s",
		            shown->whereabouts);
	}
	if (shown->within != NULL) {
		answer_line(call->answer, MARK_PLAIN, "%s", shown->within);
	}
	if (shown->home != NULL) {
		answer_line(call->answer, MARK_PLAIN, "%s", shown->home);
	}
	for (size_t i = 0; i < shown->obstacle_count; i++) {
		if (shown->obstacles[i] != shown->place_obstacle) {
			answer_line(call->answer, MARK_BAD, "%s", shown->obstacles[i]);
		}
	}
	if (shown->record->kind->tool && shown->obstacle_count == 0) {
		answer_line(call->answer, shown->caution_count > 0 ? MARK_CAUTION : MARK_GOOD, "ready");
	}
	for (size_t i = 0; i < shown->caution_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "caution: %s", shown->cautions[i]);
	}
}

/* `anilox roll at station 3` of a booking, a tool a line. */
static void booking_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"", "", ""};
	const struct kept_promise *promise = &shown->promises[0];
	answer_line(call->answer, shown->at_risk ? MARK_BAD : MARK_GOOD,
	            "booked on %s from %s until %s: %s%s", promise->press_code,
	            moment_text(promise->from).bytes, moment_text(promise->until).bytes,
	            promise->verdict, shown->at_risk ? ", at risk by now" : "");
	answer_line(call->answer, MARK_DIM, "asked by %s on %s", promise->by,
	            moment_text(promise->asked).bytes);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	const char *before = "";
	for (size_t i = 0; i < promise->tool_count; i++) {
		const struct promised_tool *tool = &promise->tools[i];
		const char *where = arena_format(call->arena, "%s %lld", tool->cut != 0 ? "cut" : "station",
		                                 (long long)(tool->cut != 0 ? tool->cut : tool->station));
		const char *cells[] = {strcmp(where, before) != 0 ? where : NULL, tool->kind->title,
		                       arena_copy(call->arena, tag_shown(tool->tag).bytes)};
		answer_table_row(call->answer, MARK_PLAIN, cells);
		before = where;
	}
	answer_table_close(call->answer);
}

static void bookings_say(struct call *call, const struct shown *shown)
{
	for (size_t i = 0; i < shown->promise_count; i++) {
		const struct kept_promise *promise = &shown->promises[i];
		answer_line(call->answer, MARK_PLAIN, "booked for job %s on %s from %s until %s",
		            promise->job_number, promise->press_code, moment_text(promise->from).bytes,
		            moment_text(promise->until).bytes);
	}
}

void shown_say(struct call *call, const struct shown *shown)
{
	head_say(call, shown);
	answer_blank(call->answer);
	attributes_say(call, shown);
	if (shown->promise_count > 0) {
		answer_blank(call->answer);
		if (shown->record->kind->tool) {
			bookings_say(call, shown);
		} else {
			booking_say(call, shown);
		}
	}
	shown_rows_say(call, shown);
	entries_say(call, "what was done last", shown->done, shown->done_to, shown->done_count);
	entries_say(call, "what happened last", shown->entries, shown->entries_of, shown->entry_count);
}
