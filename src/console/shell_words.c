/*
 * What bash is told of the tables, made while building: functions that answer with words, a line
 * each. src/completion.bash asks them.
 */
#include <ctype.h>
#include <string.h>

#include "arguments.h"
#include "calc.h"
#include "options.h"

static const char *const yes_no[] = {"yes", "no", NULL};

/* ---------------------------------------------------------------- a function, a case a line */

static void function_open(struct text *script, const char *name, const char *asked)
{
	text_add_format(script, "%s()\n{\n\tcase %s in\n", name, asked);
}

static void function_close(struct text *script)
{
	text_add(script, "\tesac\n}\n\n");
}

/* A case that answers with words, which hold nothing that a shell would take apart. */
static void case_add(struct text *script, const char *pattern, const char *const *words)
{
	if (words == NULL || words[0] == NULL) {
		return;
	}
	text_add_format(script, "\t%s) echo", pattern);
	for (size_t i = 0; words[i] != NULL; i++) {
		text_add_format(script, " %s", words[i]);
	}
	text_add(script, " ;;\n");
}

static void case_files(struct text *script, const char *pattern)
{
	text_add_format(script, "\t%s) echo @files ;;\n", pattern);
}

/* A case by what an argument is: its list, or files. */
static void case_argument(struct arena *arena, struct text *script, const char *pattern,
                          const struct argument *argument)
{
	if (argument->type == ARGUMENT_FILE) {
		case_files(script, pattern);
	} else {
		case_add(script, pattern, argument_words(arena, argument));
	}
}

/* ---------------------------------------------------------------- the tables */

static void options_add(struct text *script)
{
	static const char *const units[] = {"metric", "inch", NULL};
	text_add(script, "_toothrack_options='");
	for (size_t i = 0; i < option_row_count; i++) {
		text_add_format(script, "%s%s", i == 0 ? "" : " ", option_rows[i].name);
	}
	text_add(script, "'\n_toothrack_options_with_value='");
	for (size_t i = 0; i < option_row_count; i++) {
		if (option_rows[i].value != NULL) {
			text_add_format(script, " %s ", option_rows[i].name);
		}
	}
	text_add(script, "'\n\n# OPTION: what its value can be\n");
	function_open(script, "_toothrack_option_values", "$1");
	for (size_t i = 0; i < option_row_count; i++) {
		const char *value = option_rows[i].value;
		if (value != NULL && strcmp(value, "FILE") == 0) {
			case_files(script, option_rows[i].name);
		} else if (value != NULL && strcmp(value, "UNITS") == 0) {
			case_add(script, option_rows[i].name, units);
		}
	}
	function_close(script);
}

static void commands_add(struct arena *arena, struct text *script)
{
	const struct argument any = {.type = ARGUMENT_COMMAND};
	text_add(script, "# what can stand first\n_toothrack_commands='");
	for (const char *const *name = argument_words(arena, &any); *name != NULL; name++) {
		text_add_format(script, " %s ", *name);
	}
	text_add(script, "'\n\n");
}

/* COMMAND/INDEX: what the bare word there can be. */
static void bare_add(struct arena *arena, struct text *script)
{
	text_add(script, "# COMMAND/INDEX: what the word there can be\n");
	function_open(script, "_toothrack_words", "$1");
	for (size_t i = 0; i < command_count; i++) {
		size_t index = 0;
		for (size_t j = 0; j < commands[i]->argument_count; j++) {
			const struct argument *argument = &commands[i]->arguments[j];
			if (argument->keyed || argument->type == ARGUMENT_ATTRIBUTES) {
				continue;
			}
			const char *pattern = argument->repeated
			                          ? arena_format(arena, "%s/*", commands[i]->name)
			                          : arena_format(arena, "%s/%zu", commands[i]->name, index);
			case_argument(arena, script, pattern, argument);
			index++;
		}
	}
	function_close(script);
}

static void keys_add(struct arena *arena, struct text *script)
{
	text_add(script, "# COMMAND: its keys; @attributes where those of a kind or topic come too\n");
	function_open(script, "_toothrack_keys", "$1");
	for (size_t i = 0; i < command_count; i++) {
		struct text keys = text_start(arena);
		for (size_t j = 0; j < commands[i]->argument_count; j++) {
			const struct argument *argument = &commands[i]->arguments[j];
			const char *const *some =
				argument->type == ARGUMENT_ATTRIBUTES ? argument->choices : NULL;
			if (argument->keyed) {
				text_add_format(&keys, " %s=", argument->name);
			} else if (argument->type == ARGUMENT_ATTRIBUTES && some == NULL) {
				text_add(&keys, " @attributes");
			}
			for (; some != NULL && *some != NULL; some++) {
				text_add_format(&keys, " %s=", *some);
			}
		}
		if (keys.length > 0) {
			text_add_format(script, "\t%s) echo%s ;;\n", commands[i]->name, keys.bytes);
		}
	}
	function_close(script);
	text_add(script, "# COMMAND/KEY: what the value can be\n");
	function_open(script, "_toothrack_key_values", "$1");
	for (size_t i = 0; i < command_count; i++) {
		for (size_t j = 0; j < commands[i]->argument_count; j++) {
			const struct argument *argument = &commands[i]->arguments[j];
			if (argument->keyed) {
				case_argument(arena, script,
				              arena_format(arena, "%s/%s", commands[i]->name, argument->name),
				              argument);
			}
		}
	}
	function_close(script);
}

/* `[Pp][Cc][0-9]*`, for tags of the class in either case. */
static const char *tag_pattern(struct arena *arena, enum tag_class class)
{
	const char *letters = tag_class_letters(class);
	return arena_format(arena, "[%c%c][%c%c][0-9]*", letters[0], tolower(letters[0]), letters[1],
	                    tolower(letters[1]));
}

static void kinds_add(struct arena *arena, struct text *script)
{
	text_add(script, "# KIND or TOPIC: its keys\n");
	function_open(script, "_toothrack_attributes", "$1");
	for (size_t i = 0; i < KIND_COUNT; i++) {
		text_add_format(script, "\t%s) echo", kinds[i].name);
		for (size_t j = 0; j < kind_attribute_count(&kinds[i]); j++) {
			text_add_format(script, " %s=", kind_attribute(&kinds[i], j)->name);
		}
		text_add(script, " ;;\n");
	}
	for (size_t i = 0; i < calc_topic_count; i++) {
		text_add_format(script, "\t%s) echo", calc_topics[i]->name);
		for (size_t j = 0; j < calc_topics[i]->key_count; j++) {
			text_add_format(script, " %s=", calc_topics[i]->keys[j].name);
		}
		text_add(script, " ;;\n");
	}
	function_close(script);
	text_add(script, "# TAG: the kind of what carries it\n");
	function_open(script, "_toothrack_kind_of", "$1");
	for (size_t i = 0; i < KIND_COUNT; i++) {
		const char *words[] = {kinds[i].name, NULL};
		if (kinds[i].tagged) {
			case_add(script, tag_pattern(arena, kinds[i].class), words);
		}
	}
	function_close(script);
}

static void values_add(struct arena *arena, struct text *script)
{
	text_add(script, "# KIND/KEY or TOPIC/KEY: what the value can be\n");
	function_open(script, "_toothrack_attribute_values", "$1");
	for (size_t i = 0; i < KIND_COUNT; i++) {
		for (size_t j = 0; j < kind_attribute_count(&kinds[i]); j++) {
			const struct attribute *attribute = kind_attribute(&kinds[i], j);
			case_add(script, arena_format(arena, "%s/%s", kinds[i].name, attribute->name),
			         attribute->type == VALUE_YES_NO ? yes_no : attribute->choices);
		}
	}
	for (size_t i = 0; i < calc_topic_count; i++) {
		for (size_t j = 0; j < calc_topics[i]->key_count; j++) {
			const struct calc_key *key = &calc_topics[i]->keys[j];
			case_add(script, arena_format(arena, "%s/%s", calc_topics[i]->name, key->name),
			         key->type == VALUE_YES_NO ? yes_no : NULL);
		}
	}
	function_close(script);
	text_add(script, "# SETTING: what its value can be\n");
	function_open(script, "_toothrack_setting_values", "$1");
	for (size_t i = 0; i < setting_count; i++) {
		case_add(script, settings[i].name,
		         settings[i].type == VALUE_YES_NO ? yes_no : settings[i].choices);
	}
	function_close(script);
}

const char *shell_words(struct arena *arena)
{
	struct text script = text_start(arena);
	text_add(&script, "# Completion of toothrack for bash. Made from the tables of commands, kinds "
	                  "and settings.\n\n");
	options_add(&script);
	commands_add(arena, &script);
	bare_add(arena, &script);
	keys_add(arena, &script);
	kinds_add(arena, &script);
	values_add(arena, &script);
	return script.bytes;
}
