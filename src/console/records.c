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

const char *record_called(const struct record *record)
{
	static const char *const names[] = {"code", "number", "badge", "tag"};
	for (size_t i = 0; i < COUNT_OF(names) && record->kind->tagged; i++) {
		const char *words = record_words(record, names[i]);
		if (words != NULL) {
			return words;
		}
	}
	return NULL;
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
	answer_word(answer, "back", tool->back);
	answer_word(answer, "condition", tool->condition);
	answer_word(answer, "caution", moved->caution);
	answer_object_close(answer);
}

/* The tool in a few words; its kind alone where it cannot be read, for it has moved anyway. */
static const char *tool_summary(struct call *call, const struct tool_state *tool)
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
	text_add_format(&line, "%s  ", tool->tag);
	if (moved->from != NULL) {
		text_add_format(&line, "from %s ", moved->from);
	}
	text_add_format(&line, "to %s", tool->place_code);
	if (tool->back != NULL) {
		text_add_format(&line, ", due back %s", tool->back);
	}
	text_add_format(&line, "  %s", tool_summary(call, tool));
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
	if (moved->caution != NULL) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", moved->caution);
	}
}

void handling_say(struct call *call, const struct moved *moved, size_t count, bool at_press)
{
	bool heavy = false;
	bool sharp = false;
	for (size_t i = 0; i < count; i++) {
		enum kind_id kind = moved[i].tool.kind->id;
		heavy =
			heavy || kind == KIND_CYLINDER || kind == KIND_ANILOX || kind == KIND_MAGNETIC_CYLINDER;
		sharp = sharp || kind == KIND_BLADE || kind == KIND_DIE;
	}
	struct text line = text_start(call->arena);
	if (heavy) {
		text_join(&line, "; ", "know the weight, lift with two people or a hoist");
	}
	if (sharp) {
		text_join(&line, "; ", "sharp edges, wear cut-resistant gloves");
	}
	if (at_press) {
		text_join(&line, "; ", "stop and lock out the press, keep clear of nip points");
	}
	if (line.length == 0) {
		return;
	}
	answer_line(
		call->answer, MARK_DIM,
		"handling: %s; follow the press maker's manual, local rules and the trained person in charge",
		line.bytes);
}
