/* Records and movements as the commands answer with them. */
#include <string.h>

#include "records.h"

void record_write(struct answer *answer, const struct record *record)
{
	const struct kind *kind = record->kind;
	size_t count = kind_attribute_count(kind);
	if (kind_attribute_find(kind, "kind") == SIZE_MAX) {
		answer_word(answer, "kind", kind->name);
	}
	for (size_t i = 0; i < count; i++) {
		answer_value(answer, kind_attribute(kind, i)->name, &record->values[i]);
	}
}

const char *record_called(struct arena *arena, const struct record *record)
{
	static const char *const names[] = {"tag", "code", "number", "badge"};
	struct text text = text_start(arena);
	for (size_t i = 0; i < COUNT_OF(names) && record->kind->tagged; i++) {
		const char *words = record_words(record, names[i]);
		if (words != NULL) {
			text_add_format(&text, "%s  ", words);
		}
	}
	return text.bytes;
}

/* As shown, so it reads again. */
static void back_write(struct call *call, const char *back)
{
	struct moment moment;
	if (back != NULL && moment_parse(back, &moment, NULL) == OUTCOME_DONE) {
		answer_moment(call->answer, "back", moment);
	} else {
		answer_null(call->answer, "back");
	}
}

void moved_write(struct call *call, const struct moved *moved)
{
	struct answer *answer = call->answer;
	const struct tool_state *tool = &moved->tool;
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", tool->tag);
	answer_word(answer, "kind", tool->kind->name);
	answer_word(answer, "from", moved->from);
	answer_word(answer, "to", tool->place_code);
	back_write(call, tool->back);
	answer_word(answer, "condition", tool->condition);
	answer_word(answer, "caution", moved->caution);
	answer_object_close(answer);
}

const char *tool_summary(struct call *call, const struct tool_state *tool)
{
	struct record *record = NULL;
	struct fault unread = {0};
	if (store_record_read(call->store, call->arena, tool->kind, tool->id, &record, &unread) !=
	    OUTCOME_DONE) {
		return tool->kind->title;
	}
	return room_summary(call->arena, record, call->units);
}

void moved_say(struct call *call, const struct moved *moved)
{
	const struct tool_state *tool = &moved->tool;
	if (answer_form(call->answer) != FORM_TEXT) {
		return;
	}
	struct text line = text_start(call->arena);
	bool stays = moved->from != NULL && strcmp(moved->from, tool->place_code) == 0;
	text_add_format(&line, "%s  ", tool->tag);
	if (moved->from != NULL && !stays) {
		text_add_format(&line, "from %s ", moved->from);
	}
	text_add_format(&line, "%s %s", stays ? "at" : "to", tool->place_code);
	if (tool->back != NULL) {
		text_add_format(&line, ", due back %s", tool->back);
	} else if (strcmp(tool->place_sort, "supplier") == 0) {
		text_add(&line, ", no date back");
	}
	text_add_format(&line, "  %s", tool_summary(call, tool));
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	if (moved->caution != NULL) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", moved->caution);
	}
}

/* `kinds_handled`: a bit each; `sort` of the place they go to, or NULL. */
static void handling_say_of(struct call *call, unsigned kinds_handled, const char *sort)
{
	const char *handling = room_handling(call->arena, sort, kinds_handled);
	if (handling != NULL) {
		answer_line(call->answer, MARK_DIM, "handling: %s", handling);
	}
}

void handling_say(struct call *call, const struct moved *moved, size_t count)
{
	unsigned kinds_handled = 0;
	for (size_t i = 0; i < count; i++) {
		kinds_handled |= 1U << moved[i].tool.kind->id;
	}
	handling_say_of(call, kinds_handled, moved[0].tool.place_sort);
}

void handling_say_kinds(struct call *call, unsigned kinds_handled, bool at_press)
{
	handling_say_of(call, kinds_handled, at_press ? "press" : NULL);
}

enum outcome call_moment(struct call *call, const char *key, struct known_moment *out)
{
	const char *text = call_value(call, key);
	struct value value = {.type = VALUE_MOMENT};
	enum outcome outcome = OUTCOME_DONE;
	if (text != NULL) {
		outcome =
			value_parse(call->arena, key, VALUE_MOMENT, NULL, NULL, text, &value, call->fault);
	}
	*out = (struct known_moment){.known = value.known, .value = value.moment};
	return outcome;
}
