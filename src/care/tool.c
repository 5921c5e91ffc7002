/* The tool that is cared for: found, told, written down or left as it was. */
#include "tool.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static enum outcome refuse_scrapped(const struct tool_state *tool, struct fault *fault)
{
	if (strcmp(tool->condition, "scrapped") != 0) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_NO, "tool is scrapped: %s%s%s", tool->tag,
	          tool->condition_reason != NULL ? ": " : "",
	          tool->condition_reason != NULL ? tool->condition_reason : "");
	fault_hint(fault, "Type edit %s condition=ready where it was not.", tool->tag);
	return OUTCOME_NO;
}

enum outcome care_tool_find(struct store *store, struct arena *arena, const char *tag,
                            struct care_tool *out, struct fault *fault)
{
	*out = (struct care_tool){.life = 1};
	enum outcome outcome = store_find(store, tag, REFER_TOOL, &out->found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(store, arena, out->found.id, &out->state, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_scrapped(&out->state, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_life(store, out->found.id, &out->life, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_record_read(store, arena, out->found.kind, out->found.id, &out->before, fault);
	}
	return outcome == OUTCOME_DONE
	           ? store_record_read(store, arena, out->found.kind, out->found.id, &out->after, fault)
	           : outcome;
}

enum outcome care_tool_end(struct store *store, enum outcome outcome, struct fault *fault)
{
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}

/* As they are spelled: a figure that is kept more exactly than it is shown has not changed. */
static void tell_changes(struct arena *arena, const struct record *before, enum units units,
                         struct cared *out)
{
	size_t count = kind_attribute_count(before->kind);
	out->changes = arena_take(arena, count, sizeof *out->changes);
	for (size_t i = 0; i < count; i++) {
		const struct value *old = &before->values[i], *new = &out->record->values[i];
		if (!value_equal(old, new)) {
			out->changes[out->change_count++] = (struct cared_change){
				.attribute = kind_attribute(before->kind, i)->name,
				.before = old->known ? value_text(arena, old, units) : NULL,
				.after = new->known ? value_text(arena, new, units) : NULL,
			};
		}
	}
}

enum outcome care_tool_tell(struct store *store, struct arena *arena, const struct care_tool *tool,
                            enum units units, struct cared *out, struct fault *fault)
{
	enum outcome outcome =
		store_record_read(store, arena, tool->found.kind, tool->found.id, &out->record, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_life(store, tool->found.id, &out->life, fault);
	}
	if (outcome == OUTCOME_DONE) {
		out->kind = tool->found.kind;
		out->tag = tool->state.tag;
		out->what = care_what(arena, out->record, units);
		tell_changes(arena, tool->before, units, out);
	}
	return outcome;
}

const char *care_article(const struct kind *kind)
{
	return strchr("aeiou", kind->title[0]) != NULL ? "an" : "a";
}

struct known_length care_length(const struct record *record, const char *attribute)
{
	const struct value *value = kind_attribute_find(record->kind, attribute) != SIZE_MAX
	                                ? record_known(record, attribute)
	                                : NULL;
	return value != NULL ? (struct known_length){true, value->length}
	                     : (struct known_length){.known = false};
}

void care_length_set(struct record *record, const char *attribute, bool known, struct length length)
{
	struct value *value = record_value(record, attribute);
	*value = (struct value){.type = value->type, .known = known, .length = length};
}

const char *care_tooling(struct arena *arena, struct length length, enum units units)
{
	return arena_copy(arena, length_text(length, LENGTH_TOOLING, units).bytes);
}

const char *care_band(struct arena *arena, const struct damage_band *band, enum units units)
{
	return arena_format(arena, "%s..%s", care_tooling(arena, band->from, units),
	                    care_tooling(arena, band->to, units));
}

const char *care_usable(struct arena *arena, const struct damage_band *usable, struct length face,
                        enum units units)
{
	return arena_format(arena, "usable face %s to %s, %s of %s",
	                    care_tooling(arena, usable->from, units),
	                    care_tooling(arena, usable->to, units),
	                    care_tooling(arena, length_subtract(usable->to, usable->from), units),
	                    care_tooling(arena, face, units));
}

void care_question(struct arena *arena, struct cared *out, const char *format, ...)
{
	char sentence[400];
	va_list arguments;
	va_start(arguments, format);
	vsnprintf(sentence, sizeof sentence, format, arguments);
	va_end(arguments);
	if (out->questions == NULL) {
		out->questions = arena_take(arena, CARE_QUESTIONS_MOST, sizeof *out->questions);
	}
	assert(out->question_count < CARE_QUESTIONS_MOST);
	out->questions[out->question_count++] =
		arena_format(arena, "%s; if it is a slip, type undo", sentence);
}
