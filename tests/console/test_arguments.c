#include "common.h"
#include "console/arguments.h"
#include "console/options.h"
#include "console/words.h"

static const char *const colours[] = {"red", "green", NULL};

static const struct argument sample_arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .repeated = true, .meaning = "which"},
	{.name = "at", .type = ARGUMENT_PLACE, .keyed = true, .required = true, .meaning = "where"},
	{.name = "colour",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = colours,
     .meaning = "of it"},
	{.name = "press", .type = ARGUMENT_PRESS, .keyed = true, .repeated = true, .meaning = "which"},
};
static const struct command sample = {
	.name = "sample",
	.arguments = sample_arguments,
	.argument_count = COUNT_OF(sample_arguments),
};

static const struct argument open_arguments[] = {
	{.name = "kind", .type = ARGUMENT_KIND, .required = true, .meaning = "what"},
	{.name = "attributes", .type = ARGUMENT_ATTRIBUTES, .repeated = true, .meaning = "known"},
};
static const struct command open_sample = {
	.name = "record",
	.arguments = open_arguments,
	.argument_count = COUNT_OF(open_arguments),
};

static struct word *words;
static size_t word_count;

static enum outcome check(const struct command *command, const char *line)
{
	fault_clear(&fault);
	assert_int_equal(words_split(arena, line, &words, &word_count, &fault), OUTCOME_DONE);
	return arguments_check(arena, command, words, word_count, &fault);
}

static void command_usage__arguments__as_typed(void **state)
{
	(void)state;
	static const struct argument nested[] = {
		{.name = "key", .type = ARGUMENT_SETTING},
		{.name = "value", .type = ARGUMENT_SETTING_VALUE},
	};
	const struct command set_like = {.name = "set", .arguments = nested, .argument_count = 2};
	assert_string_equal(command_usage(arena, &sample),
	                    "sample TAG... at=PLACE [colour=red|green] [press=PRESS,...]");
	assert_string_equal(command_usage(arena, &open_sample), "record KIND key=value...");
	assert_string_equal(command_usage(arena, &set_like), "set [KEY [VALUE]]");
}

static void argument_usage__types__value_to_type(void **state)
{
	(void)state;
	static const struct {
		enum argument_type type;
		const char *usage;
	} cases[] = {
		{ARGUMENT_TEXT, "x=WORDS"},
		{ARGUMENT_TAG, "x=TAG"},
		{ARGUMENT_TOOL, "x=TAG"},
		{ARGUMENT_PLACE, "x=PLACE"},
		{ARGUMENT_PRESS, "x=PRESS"},
		{ARGUMENT_JOB, "x=JOB"},
		{ARGUMENT_KIND, "x=KIND"},
		{ARGUMENT_FILE, "x=FILE"},
		{ARGUMENT_MOMENT, "x=MOMENT"},
		{ARGUMENT_SETTING, "x=KEY"},
		{ARGUMENT_TOPIC, "x=TOPIC"},
		{ARGUMENT_COMMAND, "x=COMMAND"},
		{ARGUMENT_SETTING_VALUE, "x=VALUE"},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		const struct argument argument = {.name = "x", .type = cases[i].type, .keyed = true};
		assert_string_equal(argument_usage(arena, &argument), cases[i].usage);
	}
}

static void arguments_check__right__done(void **state)
{
	(void)state;
	assert_int_equal(check(&sample, "A at=R1 B COLOUR=Green"), OUTCOME_DONE);
	assert_string_equal(words[3].value, "green");
	struct call call = {.words = words, .word_count = word_count};
	assert_int_equal(call_bare_count(&call), 2);
	assert_string_equal(call_bare(&call, 0), "A");
	assert_string_equal(call_bare(&call, 1), "B");
	assert_null(call_bare(&call, 2));
	assert_string_equal(call_value(&call, "at"), "R1");
	assert_null(call_value(&call, "press"));
	assert_int_equal(check(&open_sample, "teeth=96 Cylinder any=thing"), OUTCOME_DONE);
	assert_string_equal(words[1].text, "cylinder");
}

static void arguments_check__wrong__refused(void **state)
{
	(void)state;
	static const struct {
		const struct command *command;
		const char *line;
		const char *sentence;
		const char *hint;
	} cases[] = {
		{&sample, "", "tag not given",
	     "Type: sample TAG... at=PLACE [colour=red|green] [press=PRESS,...]"},
		{&sample, "A", "at not given",
	     "Type: sample TAG... at=PLACE [colour=red|green] [press=PRESS,...]"},
		{&sample, "A at=", "at not given",
	     "Type: sample TAG... at=PLACE [colour=red|green] [press=PRESS,...]"},
		{&sample, "A at=' '", "at not given",
	     "Type: sample TAG... at=PLACE [colour=red|green] [press=PRESS,...]"},
		{&sample, "A at=R1 color=red", "key not known: color", "Type colour=red."},
		{&sample, "A at=R1 weight=red", "key not known: weight",
	     "Type: sample TAG... at=PLACE [colour=red|green] [press=PRESS,...]"},
		{&sample, "A at=R1 at=R2", "key given twice: at", "Type at once."},
		{&sample, "A at=R1 colour=rad", "colour not known: rad", "Type red."},
		{&sample, "A at=R1 colour=blue", "colour not known: blue", "Type red or green."},
		{&open_sample, "cylindr", "kind not known: cylindr", "Type cylinder."},
		{&open_sample, "cylinder gear", "word not expected: gear",
	     "Type: record KIND key=value..."},
		{&open_sample, "cylinder teeth=1 teeth=2", "key given twice: teeth", "Type teeth once."},
		{&open_sample, "teeth=1", "kind not given", "Type: record KIND key=value..."},
	};
	for (size_t i = 0; i < COUNT_OF(cases); i++) {
		assert_int_equal(check(cases[i].command, cases[i].line), OUTCOME_BAD);
		assert_string_equal(fault.sentence, cases[i].sentence);
		assert_string_equal(fault.hint, cases[i].hint);
	}
}

/*
 * Every command: a name once, a meaning for every argument, an example that begins with it and
 * suits its own table.
 */
static void commands__table__sound(void **state)
{
	(void)state;
	for (size_t i = 0; i < command_count; i++) {
		const struct command *command = commands[i];
		assert_ptr_equal(command_find(command->name), command);
		assert_non_null(command->summary);
		assert_non_null(command->run);
		for (size_t j = 0; j < command->argument_count; j++) {
			assert_non_null(command->arguments[j].name);
			assert_non_null(command->arguments[j].meaning);
		}
		for (size_t j = 0; command->examples != NULL && command->examples[j] != NULL; j++) {
			fault_clear(&fault);
			assert_int_equal(words_split(arena, command->examples[j], &words, &word_count, &fault),
			                 OUTCOME_DONE);
			struct options options = {0};
			assert_int_equal(options_take(words, &word_count, false, &options, &fault),
			                 OUTCOME_DONE);
			assert_string_equal(words[0].text, command->name);
			if (arguments_check(arena, command, words + 1, word_count - 1, &fault) !=
			    OUTCOME_DONE) {
				fail_msg("%s: %s", command->examples[j], fault.sentence);
			}
		}
	}
	assert_null(command_find("nonesuch"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(command_usage__arguments__as_typed),
		WITH_ARENA(argument_usage__types__value_to_type),
		WITH_ARENA(arguments_check__right__done),
		WITH_ARENA(arguments_check__wrong__refused),
		WITH_ARENA(commands__table__sound),
	};
	return cmocka_run_group_tests_name("arguments", tests, NULL, NULL);
}
