/* `edit TAG key=value...`: one record corrected. */
#include "../records.h"
#include "commands.h"

static void edited_write(struct answer *answer, const struct edited *edited)
{
	const struct record *record = edited->record;
	answer_object_open(answer, NULL);
	answer_word(answer, "kind", record->kind->name);
	answer_word(answer, "record", edited->called);
	answer_word(answer, "tag", record->kind->tagged ? record_words(record, "tag") : NULL);
	answer_array_open(answer, "changes");
	for (size_t i = 0; i < edited->change_count; i++) {
		answer_object_open(answer, NULL);
		answer_word(answer, "attribute", edited->changes[i].attribute);
		answer_word(answer, "before", edited->changes[i].before);
		answer_word(answer, "after", edited->changes[i].after);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	answer_word(answer, "caution", edited->caution);
	answer_object_close(answer);
}

static void edited_say(struct call *call, const struct edited *edited)
{
	static const char *const columns[] = {"", ""};
	if (edited->change_count == 0) {
		answer_line(call->answer, MARK_PLAIN, "%s  nothing changed", edited->called);
		return;
	}
	const char *called = record_called(call->arena, edited->record);
	answer_line(call->answer, MARK_PLAIN, "%s%s", called,
	            room_summary(call->arena, edited->record, call->units));
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < edited->change_count; i++) {
		const struct edited_value *change = &edited->changes[i];
		const char *cells[] = {
			arena_format(call->arena, "  %s", change->attribute),
			arena_format(call->arena, "%s -> %s",
		                 change->before != NULL ? change->before : "not known",
		                 change->after != NULL ? change->after : "not known"),
		};
		answer_table_row(call->answer, MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
	if (edited->caution != NULL) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", edited->caution);
	}
}

static enum outcome run(struct call *call)
{
	struct pair *pairs = arena_take(call->arena, call->word_count, sizeof *pairs);
	size_t count = 0;
	struct edited edited;
	for (size_t i = 0; i < call->word_count; i++) {
		if (call->words[i].key != NULL) {
			pairs[count++] = (struct pair){call->words[i].key, call->words[i].value};
		}
	}
	enum outcome outcome = room_edit(call->store, call->arena, call_bare(call, 0), pairs, count,
	                                 call->units, &call->actor, &edited, call->fault);
	if (outcome == OUTCOME_DONE) {
		edited_write(call->answer, &edited);
		edited_say(call, &edited);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG,
     .required = true,
     .meaning = "the record, by tag, code, number, badge or other_tag"},
	{.name = "attributes",
     .type = ARGUMENT_ATTRIBUTES,
     .repeated = true,
     .meaning = "what is right; of a job station=N or cut=N names the row meant"},
};

static const char *const examples[] = {
	"edit PC000025-1 face=320mm note=\"edge dented\"",
	"edit J2601 station=3 volume=4bcm",
	NULL,
};

const struct command command_edit = {
	.name = "edit",
	.summary = "correct what is on record; a blank value makes it not known",
	.more =
		"help cylinder and the like name the attributes of a kind. The tag is never changed. The "
		"same rules hold as for import update=yes.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
