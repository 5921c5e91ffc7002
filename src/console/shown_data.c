/* What `show` answers, for programs. */
#include "records.h"
#include "shown.h"

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
		answer_word(answer, "remark", shown->tools[i].remark);
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

void shown_write(struct answer *answer, const struct shown *shown)
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
		entries_write(answer, "history", shown->entries, shown->entries_of, shown->entry_count);
	}
	answer_object_close(answer);
}
