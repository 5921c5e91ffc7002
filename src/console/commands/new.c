/* `new KIND key=value...`: puts one record on record. */
#include "../records.h"
#include "commands.h"

/* That a roll has lost too much, or a unit was mistyped, is seen when that is measured, not when it
 * is next asked for. */
static void cautions_say(struct call *call, const struct record *reading)
{
	struct shown roll;
	struct fault unread = {.sentence = ""};
	if (answer_form(call->answer) != FORM_TEXT ||
	    room_show(call->store, call->arena, record_words(reading, "tool"), call->units, call->now,
	              &roll, &unread) != OUTCOME_DONE) {
		return;
	}
	for (size_t i = 0; i < roll.caution_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "  caution: %s", roll.cautions[i]);
	}
}

static enum outcome run(struct call *call)
{
	const struct kind *kind = kind_find(call_bare(call, 0));
	struct pair *pairs = arena_take(call->arena, call->word_count, sizeof *pairs);
	size_t count = 0;
	struct record *record = NULL;
	if (kind == NULL) {
		return fault_set(call->fault, OUTCOME_BAD, "kind not known: %s", call_bare(call, 0));
	}
	for (size_t i = 0; i < call->word_count; i++) {
		if (call->words[i].key != NULL) {
			pairs[count++] = (struct pair){call->words[i].key, call->words[i].value};
		}
	}
	enum outcome outcome =
		room_new(call->store, call->arena, kind, pairs, count, &call->actor, &record, call->fault);
	if (outcome == OUTCOME_DONE) {
		/* As it is on record: what was left blank may stand for something. */
		outcome =
			store_record_read(call->store, call->arena, kind, record->id, &record, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(call->answer, NULL);
	record_write(call->answer, record);
	answer_object_close(call->answer);
	answer_line(call->answer, MARK_PLAIN, "%s%s", record_called(call->arena, record),
	            room_summary(call->arena, record, call->units));
	if (kind->id == KIND_READING) {
		cautions_say(call, record);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "kind", .type = ARGUMENT_KIND, .required = true, .meaning = "what it is"},
	{.name = "attributes",
     .type = ARGUMENT_ATTRIBUTES,
     .repeated = true,
     .meaning = "what is known of it"},
};

static const char *const examples[] = {
	"new place code=R9 sort=store name=\"rack by the door\"",
	"new cylinder teeth=96 pitch=1/8cp drive=geared face=330mm undercut=2.083mm place=R1-1",
	NULL,
};

const struct command command_new = {
	.name = "new",
	.summary = "put a tool, place, press, job or other record on record; prints its tag",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_MAKE,
	.examples = examples,
	.run = run,
};
