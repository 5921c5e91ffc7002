/* What help says of the commands. Kinds and topics are in help_values.c. */
#include <string.h>

#include "arguments.h"
#include "help.h"
#include "options.h"

static void table_open(struct call *call)
{
	static const char *const columns[] = {"", ""};
	answer_table_open(call->answer, columns, COUNT_OF(columns));
}

static void table_row(struct call *call, const char *name, const char *meaning)
{
	const char *cells[] = {arena_format(call->arena, "  %s", name), meaning};
	answer_table_row(call->answer, MARK_PLAIN, cells);
}

/* ---------------------------------------------------------------- all commands */

static void options_say(struct call *call)
{
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "options, before the command or behind it");
	table_open(call);
	for (size_t i = 0; i < option_row_count; i++) {
		const struct option_row *row = &option_rows[i];
		const char *name = row->value == NULL
		                       ? row->name
		                       : arena_format(call->arena, "%s %s", row->name, row->value);
		table_row(call, name, row->meaning);
	}
	answer_table_close(call->answer);
}

void help_all(struct call *call)
{
	answer_line(call->answer, MARK_STRONG, "toothrack [options] [COMMAND [WORD | key=value]...]");
	answer_blank(call->answer);
	answer_array_open(call->answer, NULL);
	table_open(call);
	for (size_t i = 0; i < command_count; i++) {
		answer_object_open(call->answer, NULL);
		answer_word(call->answer, "name", commands[i]->name);
		answer_word(call->answer, "usage", command_usage(call->arena, commands[i]));
		answer_word(call->answer, "summary", commands[i]->summary);
		answer_object_close(call->answer);
		table_row(call, commands[i]->name, commands[i]->summary);
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
	options_say(call);
	answer_blank(call->answer);
	answer_line(
		call->answer, MARK_PLAIN,
		"help COMMAND says more of one, help KIND what is known of a kind of record. A tag, "
		"code or number alone shows what it names.");
}

/* ---------------------------------------------------------------- one command */

static void arguments_say(struct call *call, const struct command *command)
{
	answer_array_open(call->answer, "arguments");
	table_open(call);
	for (size_t i = 0; i < command->argument_count; i++) {
		const struct argument *argument = &command->arguments[i];
		const char *usage = argument_usage(call->arena, argument);
		answer_object_open(call->answer, NULL);
		answer_word(call->answer, "name", argument->name);
		answer_word(call->answer, "usage", usage);
		answer_yes_no(call->answer, "required", argument->required);
		answer_word(call->answer, "meaning", argument->meaning);
		answer_object_close(call->answer);
		table_row(call, usage, argument->meaning);
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
}

static void topics_say(struct call *call)
{
	answer_line(call->answer, MARK_STRONG, "topics; help TOPIC says more of one");
	answer_array_open(call->answer, "topics");
	table_open(call);
	for (size_t i = 0; i < calc_topic_count; i++) {
		answer_word(call->answer, NULL, calc_topics[i]->name);
		table_row(call, calc_topics[i]->name, calc_topics[i]->summary);
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
}

static void settings_say(struct call *call)
{
	answer_line(call->answer, MARK_STRONG, "keys, with their defaults");
	static const char *const columns[] = {"", "", ""};
	answer_array_open(call->answer, "keys");
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < setting_count; i++) {
		answer_word(call->answer, NULL, settings[i].name);
		const char *name = arena_format(call->arena, "  %s", settings[i].name);
		const char *cells[] = {name, settings[i].fallback, settings[i].meaning};
		answer_table_row(call->answer, MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
}

static void kinds_say(struct call *call)
{
	struct text names = text_start(call->arena);
	answer_array_open(call->answer, "kinds");
	for (size_t i = 0; i < KIND_COUNT; i++) {
		answer_word(call->answer, NULL, kinds[i].name);
		text_join(&names, ", ", kinds[i].name);
	}
	answer_array_close(call->answer);
	answer_line(call->answer, MARK_STRONG, "kinds; help KIND says what is known of one");
	answer_line(call->answer, MARK_PLAIN, "  %s", names.bytes);
}

/* The words that an argument can be, where they stand in a table of their own. */
static void lists_say(struct call *call, const struct command *command)
{
	for (size_t i = 0; i < command->argument_count; i++) {
		enum argument_type type = command->arguments[i].type;
		if (type != ARGUMENT_TOPIC && type != ARGUMENT_SETTING && type != ARGUMENT_KIND &&
		    type != ARGUMENT_KIND_OR_WORD) {
			continue;
		}
		answer_blank(call->answer);
		if (type == ARGUMENT_TOPIC) {
			topics_say(call);
		} else if (type == ARGUMENT_SETTING) {
			settings_say(call);
		} else {
			kinds_say(call);
		}
	}
}

static void examples_say(struct call *call, const struct command *command)
{
	answer_array_open(call->answer, "examples");
	if (command->examples != NULL && command->examples[0] != NULL) {
		answer_blank(call->answer);
		answer_line(call->answer, MARK_STRONG, "for example");
		for (size_t i = 0; command->examples[i] != NULL; i++) {
			answer_word(call->answer, NULL, command->examples[i]);
			answer_line(call->answer, MARK_PLAIN, "  %s", command->examples[i]);
		}
	}
	answer_array_close(call->answer);
}

void help_command(struct call *call, const struct command *command)
{
	const char *usage = command_usage(call->arena, command);
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "name", command->name);
	answer_word(call->answer, "usage", usage);
	answer_word(call->answer, "summary", command->summary);
	answer_word(call->answer, "more", command->more);
	answer_line(call->answer, MARK_STRONG, "%s", usage);
	answer_line(call->answer, MARK_PLAIN, "  %s", command->summary);
	if (command->argument_count > 0) {
		answer_blank(call->answer);
	}
	arguments_say(call, command);
	if (command->more != NULL) {
		answer_blank(call->answer);
		answer_line(call->answer, MARK_PLAIN, "%s", command->more);
	}
	lists_say(call, command);
	examples_say(call, command);
	/* `reading` is both: what is typed, and what CSV files hold. */
	const struct kind *kind = kind_find(command->name);
	if (kind != NULL) {
		answer_blank(call->answer);
		help_attributes(call, kind);
	}
	answer_object_close(call->answer);
}
