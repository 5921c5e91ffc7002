/* How a command is typed, made from its table. */
#include <string.h>

#include "arguments.h"

/* What stands for the value in `key=VALUE`. */
static const char *value_in_usage(struct arena *arena, const struct argument *argument)
{
	struct text choices = text_start(arena);
	switch (argument->type) {
	case ARGUMENT_TAG:
	case ARGUMENT_TAG_OR_CHOICE:
	case ARGUMENT_TOOL:
		return "TAG";
	case ARGUMENT_PLACE:
	case ARGUMENT_SUPPLIER:
	case ARGUMENT_OWN_PLACE:
		return "PLACE";
	case ARGUMENT_PRESS:
		return "PRESS";
	case ARGUMENT_JOB:
		return "JOB";
	case ARGUMENT_KIND:
	case ARGUMENT_KIND_OR_WORD:
		return "KIND";
	case ARGUMENT_FILE:
		return "FILE";
	case ARGUMENT_STOCK:
		return "NAME";
	case ARGUMENT_MOMENT:
		return "MOMENT";
	case ARGUMENT_SETTING:
		return "KEY";
	case ARGUMENT_SETTING_VALUE:
		return "VALUE";
	case ARGUMENT_TOPIC:
		return "TOPIC";
	case ARGUMENT_COMMAND:
		return "COMMAND";
	case ARGUMENT_CHOICE:
		for (size_t i = 0; argument->choices != NULL && argument->choices[i] != NULL; i++) {
			text_join(&choices, "|", argument->choices[i]);
		}
		return choices.bytes;
	case ARGUMENT_TEXT:
	case ARGUMENT_ATTRIBUTES:
		break;
	}
	return "WORDS";
}

static const char *upper(struct arena *arena, const char *name)
{
	char *copy = arena_copy(arena, name);
	for (char *c = copy; *c != '\0'; c++) {
		*c = *c >= 'a' && *c <= 'z' ? (char)(*c - 'a' + 'A') : *c;
	}
	return copy;
}

const char *argument_usage(struct arena *arena, const struct argument *argument)
{
	if (argument->type == ARGUMENT_ATTRIBUTES) {
		return "key=value...";
	}
	if (!argument->keyed) {
		return arena_format(arena, "%s%s", upper(arena, argument->name),
		                    argument->repeated ? "..." : "");
	}
	const char *value = argument->usage != NULL ? argument->usage : value_in_usage(arena, argument);
	return arena_format(arena, "%s=%s%s", argument->name, value, argument->repeated ? ",..." : "");
}

/*
 * Adds an argument that may be left out, and within the same brackets those bare words that need
 * it before them.
 */
static size_t optional_add(struct arena *arena, const struct command *command, size_t index,
                           struct text *usage)
{
	const struct argument *argument = &command->arguments[index];
	text_add_format(usage, " [%s", argument_usage(arena, argument));
	size_t next = index + 1;
	if (!argument->keyed && next < command->argument_count && !command->arguments[next].keyed &&
	    command->arguments[next].type != ARGUMENT_ATTRIBUTES) {
		next = optional_add(arena, command, next, usage);
	}
	text_add(usage, "]");
	return next;
}

const char *command_usage(struct arena *arena, const struct command *command)
{
	struct text usage = text_start(arena);
	text_add(&usage, command->name);
	for (size_t i = 0; i < command->argument_count;) {
		const struct argument *argument = &command->arguments[i];
		bool of_find = command->arguments[0].type == ARGUMENT_KIND_OR_WORD;
		if (argument->type == ARGUMENT_ATTRIBUTES && (of_find || argument->choices != NULL)) {
			text_add_format(&usage, " [%s]", argument_usage(arena, argument));
			i++;
			continue;
		}
		/* Else keys are always asked for: the kind or the topic says which. */
		if (argument->required || argument->type == ARGUMENT_ATTRIBUTES) {
			text_add_format(&usage, " %s", argument_usage(arena, argument));
			i++;
		} else {
			i = optional_add(arena, command, i, &usage);
		}
	}
	return usage.bytes;
}
