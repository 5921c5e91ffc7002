/*
 * `help [WORD]`: all commands, or what there is to know of a command, a kind of record or a topic
 * of calc.
 */
#include "../arguments.h"
#include "../help.h"
#include "commands.h"

/* Nothing of that name: the nearest that has a page, whatever sort of thing it is. */
static enum outcome refuse(struct call *call, const char *word)
{
	static const enum argument_type types[] = {ARGUMENT_COMMAND, ARGUMENT_KIND, ARGUMENT_TOPIC};
	const char *nearest = NULL;
	for (size_t i = 0; i < COUNT_OF(types) && nearest == NULL; i++) {
		const struct argument any = {.type = types[i]};
		nearest = text_nearest(word, argument_words(call->arena, &any));
	}
	fault_set(call->fault, OUTCOME_BAD, "command not known: %s", word);
	if (nearest != NULL) {
		fault_hint(call->fault, "Type help %s.", nearest);
	} else {
		fault_hint(call->fault, "Type help for all commands.");
	}
	return OUTCOME_BAD;
}

static enum outcome run(struct call *call)
{
	const char *word = call_bare(call, 0);
	if (word == NULL) {
		help_all(call);
		return OUTCOME_DONE;
	}
	const struct command *command = command_find(word);
	const struct kind *kind = kind_find(word);
	const struct calc_topic *topic = calc_topic_find(word);
	if (command != NULL) {
		help_command(call, command);
	} else if (kind != NULL) {
		help_kind(call, kind);
	} else if (topic != NULL) {
		help_topic(call, topic);
	} else {
		return refuse(call, word);
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "command",
     .type = ARGUMENT_COMMAND,
     .meaning = "a command, a kind of record, or a topic of calc; without it, all commands"},
};

static const char *const examples[] = {"help", "help put", "help cylinder", NULL};

const struct command command_help = {
	.name = "help",
	.summary = "all commands, or one of them in full",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_NO_STORE,
	.examples = examples,
	.run = run,
};
