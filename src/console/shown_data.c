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

static void number_write(struct answer *answer, const char *key, int64_t number)
{
	if (number != 0) {
		answer_count(answer, key, number);
	} else {
		answer_null(answer, key);
	}
}

static void promise_write(struct answer *answer, const struct kept_promise *promise)
{
	answer_word(answer, "job", promise->job_number);
	answer_word(answer, "press", promise->press_code);
	answer_moment(answer, "from", promise->from);
	answer_moment(answer, "until", promise->until);
	answer_word(answer, "verdict", promise->verdict);
	answer_moment(answer, "asked", promise->asked);
	answer_word(answer, "by", promise->by);
}

/* The booking of a job, with its tools; null where there is none. */
static void booking_write(struct answer *answer, const struct shown *shown)
{
	if (shown->promise_count == 0) {
		answer_null(answer, "booking");
		return;
	}
	const struct kept_promise *promise = &shown->promises[0];
	answer_object_open(answer, "booking");
	promise_write(answer, promise);
	answer_yes_no(answer, "at_risk", shown->at_risk);
	answer_array_open(answer, "tools");
	for (size_t i = 0; i < promise->tool_count; i++) {
		const struct promised_tool *tool = &promise->tools[i];
		answer_object_open(answer, NULL);
		answer_word(answer, "tag", tag_shown(tool->tag).bytes);
		answer_word(answer, "need", tool->need);
		number_write(answer, "station", tool->station);
		number_write(answer, "cut", tool->cut);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	answer_object_close(answer);
}

static void bookings_write(struct answer *answer, const struct shown *shown)
{
	answer_array_open(answer, "bookings");
	for (size_t i = 0; i < shown->promise_count; i++) {
		answer_object_open(answer, NULL);
		promise_write(answer, &shown->promises[i]);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

void shown_write(struct answer *answer, const struct shown *shown, const char *file)
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
		if (kind == KIND_JOB) {
			booking_write(answer, shown);
		}
		if (shown->record->kind->tool) {
			bookings_write(answer, shown);
		}
		if (kind == KIND_OPERATOR) {
			entries_write(answer, "done", shown->done, shown->done_to, shown->done_count);
		}
		entries_write(answer, "history", shown->entries, shown->entries_of, shown->entry_count);
	}
	if (file != NULL) {
		answer_word(answer, "file", file);
	}
	answer_object_close(answer);
}
