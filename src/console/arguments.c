/* The words of a command held against its table. */
#include <string.h>

#include "arguments.h"
#include "calc.h"
#include "commands/commands.h"
#include "toothrack/print.h"

const struct argument *argument_of_bare(const struct command *command, size_t index)
{
	for (size_t i = 0; i < command->argument_count; i++) {
		const struct argument *argument = &command->arguments[i];
		if (argument->keyed || argument->type == ARGUMENT_ATTRIBUTES) {
			continue;
		}
		if (index == 0 || argument->repeated) {
			return argument;
		}
		index--;
	}
	return NULL;
}

const struct argument *argument_of_key(const struct command *command, const char *key)
{
	for (size_t i = 0; i < command->argument_count; i++) {
		if (command->arguments[i].keyed && strcmp(command->arguments[i].name, key) == 0) {
			return &command->arguments[i];
		}
	}
	return NULL;
}

bool takes_attributes(const struct command *command)
{
	for (size_t i = 0; i < command->argument_count; i++) {
		if (command->arguments[i].type == ARGUMENT_ATTRIBUTES) {
			return true;
		}
	}
	return false;
}

bool asks_as_find(const struct command *command, const struct word *words, size_t count)
{
	for (size_t i = 0; i < count && command->asks_as_find != NULL; i++) {
		if (words[i].key == NULL) {
			return text_equal_fold(words[i].text, command->asks_as_find);
		}
	}
	return false;
}

/* ---------------------------------------------------------------- lists of words */

static const char *name_of_kind(size_t index)
{
	return index < KIND_COUNT ? kinds[index].name : NULL;
}

static const char *name_of_setting(size_t index)
{
	return index < setting_count ? settings[index].name : NULL;
}

static const char *name_of_topic(size_t index)
{
	return index < calc_topic_count ? calc_topics[index]->name : NULL;
}

static const char *name_of_command(size_t index)
{
	return index < command_count ? commands[index]->name : NULL;
}

static const char *name_of_stock(size_t index)
{
	return stock_files[index].name;
}

static const char *const *names_of(struct arena *arena, const char *(*name_of)(size_t index))
{
	size_t count = 0;
	while (name_of(count) != NULL) {
		count++;
	}
	const char **names = arena_take(arena, count + 1, sizeof *names);
	for (size_t i = 0; i < count; i++) {
		names[i] = name_of(i);
	}
	return names;
}

const char *const *argument_words(struct arena *arena, const struct argument *argument)
{
	if (argument->choices != NULL) {
		return argument->choices;
	}
	switch (argument->type) {
	case ARGUMENT_KIND:
	case ARGUMENT_KIND_OR_WORD:
		return names_of(arena, name_of_kind);
	case ARGUMENT_SETTING:
		return names_of(arena, name_of_setting);
	case ARGUMENT_TOPIC:
		return names_of(arena, name_of_topic);
	case ARGUMENT_COMMAND:
		return names_of(arena, name_of_command);
	case ARGUMENT_STOCK:
		return names_of(arena, name_of_stock);
	case ARGUMENT_TEXT:
	case ARGUMENT_TAG:
	case ARGUMENT_TAG_OR_CHOICE:
	case ARGUMENT_TOOL:
	case ARGUMENT_PLACE:
	case ARGUMENT_SUPPLIER:
	case ARGUMENT_OWN_PLACE:
	case ARGUMENT_PRESS:
	case ARGUMENT_JOB:
	case ARGUMENT_FILE:
	case ARGUMENT_MOMENT:
	case ARGUMENT_CHOICE:
	case ARGUMENT_SETTING_VALUE:
	case ARGUMENT_ATTRIBUTES:
		break;
	}
	return NULL;
}

enum outcome refuse_word(struct arena *arena, const char *what, const char *word,
                         const char *const *words, struct fault *fault)
{
	const char *nearest = text_nearest(word, words);
	fault_set(fault, OUTCOME_BAD, "%s not known: %s", what, word);
	if (nearest != NULL) {
		fault_hint(fault, "Type %s.", nearest);
		return OUTCOME_BAD;
	}
	struct text list = text_start(arena);
	for (size_t i = 0; words[i] != NULL; i++) {
		text_join(&list, words[i + 1] == NULL ? " or " : ", ", words[i]);
	}
	fault_hint(fault, "Type %s.", list.bytes);
	return OUTCOME_BAD;
}

/* ---------------------------------------------------------------- the check */

static enum outcome hint_usage(struct arena *arena, const struct command *command,
                               struct fault *fault)
{
	fault_hint(fault, "Type: %s", command_usage(arena, command));
	return OUTCOME_BAD;
}

/* `set buildup=0.02mm`: a word of a list, written as if it were a key. */
static bool refuse_sign(struct arena *arena, const struct command *command, const struct word *word,
                        struct fault *fault)
{
	const struct argument *argument = argument_of_bare(command, 0);
	const char *const *words = argument != NULL ? argument_words(arena, argument) : NULL;
	const char *meant = words != NULL ? text_nearest(word->key, words) : NULL;
	if (meant != NULL) {
		fault_set(fault, OUTCOME_BAD, "word not expected: %s", word->text);
		fault_hint(fault, "Type %s %s %s", command->name, meant, word->value);
	}
	return meant != NULL;
}

static enum outcome refuse_key(struct arena *arena, const struct command *command,
                               const struct word *word, struct fault *fault)
{
	const char **keys = arena_take(arena, command->argument_count + 1, sizeof *keys);
	size_t count = 0;
	for (size_t i = 0; i < command->argument_count; i++) {
		if (command->arguments[i].keyed) {
			keys[count++] = command->arguments[i].name;
		}
	}
	const char *nearest = text_nearest(word->key, keys);
	if (nearest == NULL && refuse_sign(arena, command, word, fault)) {
		return OUTCOME_BAD;
	}
	fault_set(fault, OUTCOME_BAD, "key not known: %s", word->key);
	if (nearest != NULL) {
		fault_hint(fault, "Type %s=%s.", nearest, word->value);
		return OUTCOME_BAD;
	}
	return hint_usage(arena, command, fault);
}

/* Can it be another word than those of its list? */
static bool takes_others(const struct argument *argument)
{
	return argument->type == ARGUMENT_KIND_OR_WORD || argument->type == ARGUMENT_TAG_OR_CHOICE ||
	       argument->type == ARGUMENT_STOCK;
}

/* A word that must be of a list: takes the list's own spelling. */
static enum outcome word_settle(struct arena *arena, const struct argument *argument,
                                struct word *word, struct fault *fault)
{
	const char *const *words = argument_words(arena, argument);
	const char *typed = word->key != NULL ? word->value : word->text;
	if (words == NULL || argument->type == ARGUMENT_COMMAND) {
		return OUTCOME_DONE;
	}
	for (size_t i = 0; words[i] != NULL; i++) {
		if (text_equal_fold(words[i], typed)) {
			if (word->key != NULL) {
				word->value = words[i];
			} else {
				word->text = words[i];
			}
			return OUTCOME_DONE;
		}
	}
	return takes_others(argument) ? OUTCOME_DONE
	                              : refuse_word(arena, argument->name, typed, words, fault);
}

static enum outcome refuse_twice(const struct word *words, size_t index, struct fault *fault)
{
	for (size_t i = 0; i < index; i++) {
		if (words[i].key != NULL && strcmp(words[i].key, words[index].key) == 0) {
			fault_set(fault, OUTCOME_BAD, "key given twice: %s", words[index].key);
			fault_hint(fault, "Type %s once.", words[index].key);
			return OUTCOME_BAD;
		}
	}
	return OUTCOME_DONE;
}

static enum outcome keyed_check(struct arena *arena, const struct command *command,
                                struct word *words, size_t index, bool as_find, struct fault *fault)
{
	const struct argument *argument = argument_of_key(command, words[index].key);
	if (argument == NULL && !as_find && !takes_attributes(command)) {
		return refuse_key(arena, command, &words[index], fault);
	}
	if (refuse_twice(words, index, fault) != OUTCOME_DONE) {
		return OUTCOME_BAD;
	}
	return argument == NULL ? OUTCOME_DONE : word_settle(arena, argument, &words[index], fault);
}

static enum outcome bare_check(struct arena *arena, const struct command *command,
                               struct word *word, size_t bare, bool as_find, struct fault *fault)
{
	const struct argument *argument = as_find && bare > 0
	                                      ? argument_of_bare(&command_find_records, bare - 1)
	                                      : argument_of_bare(command, bare);
	if (argument == NULL) {
		fault_set(fault, OUTCOME_BAD, "word not expected: %s", word->text);
		return hint_usage(arena, command, fault);
	}
	return word_settle(arena, argument, word, fault);
}

static bool is_blank(const char *text)
{
	return text[strspn(text, " \t")] == '\0';
}

/* Is the argument given? `bare` counts the arguments without a key before this one. */
static bool is_given(const struct argument *argument, const struct word *words, size_t count,
                     size_t bare)
{
	size_t met = 0;
	for (size_t i = 0; i < count; i++) {
		if (argument->keyed && words[i].key != NULL && strcmp(words[i].key, argument->name) == 0) {
			return !is_blank(words[i].value);
		}
		if (words[i].key == NULL && met++ == bare && !argument->keyed) {
			return !is_blank(words[i].text);
		}
	}
	return false;
}

static enum outcome required_check(struct arena *arena, const struct command *command,
                                   const struct word *words, size_t count, struct fault *fault)
{
	size_t bare = 0;
	for (size_t i = 0; i < command->argument_count; i++) {
		const struct argument *argument = &command->arguments[i];
		if (argument->type == ARGUMENT_ATTRIBUTES) {
			continue;
		}
		if (argument->required && !is_given(argument, words, count, bare)) {
			fault_set(fault, OUTCOME_BAD, "%s not given", argument->name);
			return hint_usage(arena, command, fault);
		}
		bare += argument->keyed ? 0 : 1;
	}
	return OUTCOME_DONE;
}

enum outcome arguments_check(struct arena *arena, const struct command *command, struct word *words,
                             size_t count, struct fault *fault)
{
	size_t bare = 0;
	bool as_find = asks_as_find(command, words, count);
	for (size_t i = 0; i < count; i++) {
		enum outcome outcome = words[i].key != NULL
		                           ? keyed_check(arena, command, words, i, as_find, fault)
		                           : bare_check(arena, command, &words[i], bare++, as_find, fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
	}
	return required_check(arena, command, words, count, fault);
}

/* ---------------------------------------------------------------- what a call holds */

const char *call_bare(const struct call *call, size_t index)
{
	for (size_t i = 0; i < call->word_count; i++) {
		if (call->words[i].key == NULL && index-- == 0) {
			return call->words[i].text;
		}
	}
	return NULL;
}

size_t call_bare_count(const struct call *call)
{
	size_t count = 0;
	for (size_t i = 0; i < call->word_count; i++) {
		count += call->words[i].key == NULL ? 1 : 0;
	}
	return count;
}

const char *call_value(const struct call *call, const char *key)
{
	for (size_t i = 0; i < call->word_count; i++) {
		if (call->words[i].key != NULL && strcmp(call->words[i].key, key) == 0) {
			return call->words[i].value;
		}
	}
	return NULL;
}
