/* What is said where Tab finds nothing to offer: what comes next, and how it is written. */
#include <string.h>

#include "arguments.h"
#include "completion.h"
#include "help.h"
#include "options.h"
#include "words.h"

/* `what  meaning: written`, as far as they are known. */
static const char *hint_of(struct arena *arena, const char *what, const char *meaning,
                           const char *written)
{
	bool both = meaning != NULL && written != NULL;
	return arena_format(arena, "%s  %s%s%s", what, meaning == NULL ? "" : meaning, both ? ": " : "",
	                    written == NULL ? "" : written);
}

/* What an argument's value is by its type; what goes without saying is left out. */
static const char *argument_written(struct arena *arena, const struct argument *argument,
                                    const struct call *call)
{
	static const enum reference references[] = {
		[ARGUMENT_TOOL] = REFER_TOOL,      [ARGUMENT_PLACE] = REFER_PLACE,
		[ARGUMENT_SUPPLIER] = REFER_PLACE, [ARGUMENT_OWN_PLACE] = REFER_PLACE,
		[ARGUMENT_PRESS] = REFER_PRESSES,  [ARGUMENT_JOB] = REFER_JOB,
	};
	const struct setting *setting =
		argument->type == ARGUMENT_SETTING_VALUE ? setting_find(call_bare(call, 0)) : NULL;
	if (setting != NULL) {
		return value_written(arena, setting->type, setting->choices, REFER_NONE);
	}
	if (argument->type == ARGUMENT_MOMENT) {
		return value_spelling(VALUE_MOMENT);
	}
	if (argument->type == ARGUMENT_TEXT) {
		return "words, in quotes where they are several";
	}
	if (argument_words(arena, argument) != NULL) {
		return value_written(arena, VALUE_TEXT, argument_words(arena, argument), REFER_NONE);
	}
	bool refers =
		(size_t)argument->type < COUNT_OF(references) && references[argument->type] != REFER_NONE;
	return refers ? value_written(arena, VALUE_TEXT, NULL, references[argument->type]) : NULL;
}

static const char *hint_of_argument(struct arena *arena, const struct argument *argument,
                                    const struct call *call)
{
	return hint_of(arena, argument_usage(arena, argument), argument->meaning,
	               argument_written(arena, argument, call));
}

/* Of `key=`: an argument of the command, an attribute of the kind, or a key of the topic. */
static const char *hint_of_key(struct console *console, struct arena *arena,
                               const struct call *call, const char *key)
{
	const struct argument *argument = argument_of_key(call->command, key);
	const struct kind *kind = NULL;
	const struct calc_topic *topic = NULL;
	const char *what = arena_format(arena, "%s=", key);
	completion_attributes(console, call, &kind, &topic);
	if (argument != NULL) {
		return hint_of_argument(arena, argument, call);
	}
	if (kind != NULL && kind_attribute_find(kind, key) != SIZE_MAX) {
		const struct attribute *one = kind_attribute(kind, kind_attribute_find(kind, key));
		return hint_of(arena, what, one->meaning,
		               value_written(arena, one->type, one->choices, one->reference));
	}
	for (size_t i = 0; topic != NULL && i < topic->key_count; i++) {
		const struct calc_key *one = &topic->keys[i];
		if (strcmp(one->name, key) == 0) {
			return hint_of(arena, what, one->meaning,
			               value_written(arena, one->type, one->choices, REFER_NONE));
		}
	}
	return arena_format(arena, "%s", command_usage(arena, call->command));
}

const char *completion_hint(struct console *console, struct arena *arena, const char *before,
                            const char *partial)
{
	struct word *words = NULL;
	size_t count = 0;
	struct options options = {0};
	if (words_split(arena, before, &words, &count, NULL) != OUTCOME_DONE ||
	    options_take(words, &count, true, &options, NULL) != OUTCOME_DONE) {
		return "";
	}
	if (count == 0) {
		return "help  all commands; a tag, code or number alone shows what it names";
	}
	struct call call = {.command = command_find(words[0].text),
	                    .words = words + 1,
	                    .word_count = count - 1};
	if (call.command == NULL) {
		return "";
	}
	struct word word = word_of(arena, partial);
	bool own = word.key != NULL && argument_of_key(call.command, word.key) != NULL;
	call = own ? call : completion_inner(arena, &call);
	if (word.key != NULL) {
		return hint_of_key(console, arena, &call, word.key);
	}
	const struct argument *argument = argument_of_bare(call.command, call_bare_count(&call));
	if (argument != NULL) {
		return hint_of_argument(arena, argument, &call);
	}
	return command_usage(arena, call.command);
}
