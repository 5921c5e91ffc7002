/*
 * One line, from its words to what is printed: the command found, checked, given what it needs,
 * run.
 */
#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "answer.h"
#include "arguments.h"
#include "charset.h"
#include "commands/commands.h"
#include "options.h"
#include "output.h"
#include "session.h"
#include "terminal.h"
#include "words.h"

/* ---------------------------------------------------------------- which command */

static bool is_blank(const char *text)
{
	return text[strspn(text, " \t")] == '\0';
}

/* The command that may have been meant; NULL where none is near. */
static const char *nearest_command(struct arena *arena, const char *word)
{
	const char **names = arena_take(arena, command_count + 1, sizeof *names);
	for (size_t i = 0; i < command_count; i++) {
		names[i] = commands[i]->name;
	}
	return text_nearest(word, names);
}

/*
 * Does a word that is no command name something to show: a tag, well read or not, a code on
 * record, or what is nearer to one than to any command? `show` tells what is wrong with it.
 */
static bool names_a_record(struct call *call, const char *word)
{
	struct tag tag;
	struct store *store = NULL;
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	if (tag_read(word, &tag) != TAG_NOT_OURS) {
		return true;
	}
	if (console_store(call->console, NEEDS_READ, &store, NULL) != OUTCOME_DONE) {
		return false;
	}
	if (nearest_command(call->arena, word) != NULL) {
		return store_find_plain(store, word, REFER_NONE, &found, NULL) == OUTCOME_DONE;
	}
	return store_find(store, word, REFER_NONE, &found, &unknown) == OUTCOME_DONE || found.near;
}

static enum outcome refuse_command(struct arena *arena, const char *word, struct fault *fault)
{
	const char *nearest = nearest_command(arena, word);
	fault_set(fault, OUTCOME_BAD, "command not known: %s", word);
	if (nearest != NULL) {
		fault_hint(fault, "Type %s, or help for all commands.", nearest);
	} else {
		fault_hint(fault, "Type help for all commands.");
	}
	return OUTCOME_BAD;
}

/*
 * Finds the command; the words of the call are what stands behind its name. A record alone is
 * shown.
 */
static enum outcome command_choose(struct call *call, const struct options *options,
                                   const struct word *words, size_t count)
{
	call->words = words;
	call->word_count = count;
	if (options->help) {
		/* `toothrack put --help` is `help put`, and more words say no more. */
		call->command = &command_help;
		call->word_count = count > 1 ? 1 : count;
		return OUTCOME_DONE;
	}
	if (count == 0 || is_blank(words[0].text)) {
		fault_set(call->fault, OUTCOME_BAD, "command not given");
		fault_hint(call->fault, "Type help for all commands.");
		return OUTCOME_BAD;
	}
	const char *name = words[0].text;
	call->command = command_find(name);
	if (call->command != NULL) {
		call->words++;
		call->word_count--;
		return OUTCOME_DONE;
	}
	if (count == 1 && words[0].key == NULL && names_a_record(call, name)) {
		call->command = &command_show;
		return OUTCOME_DONE;
	}
	return refuse_command(call->arena, name, call->fault);
}

/* ---------------------------------------------------------------- what it gets */

/* Is the argument of that name given? */
static bool is_given(const struct call *call, const char *name)
{
	size_t bare = 0;
	for (size_t i = 0; i < call->command->argument_count; i++) {
		const struct argument *argument = &call->command->arguments[i];
		if (strcmp(argument->name, name) == 0) {
			return argument->keyed ? call_value(call, name) != NULL : call_bare(call, bare) != NULL;
		}
		bare += argument->keyed ? 0 : 1;
	}
	return false;
}

/* Does this call write, where its command only may? */
static bool writes(const struct call *call)
{
	const char *const *names = call->command->writes_with;
	bool given = names == NULL;
	for (; names != NULL && *names != NULL; names++) {
		given = given || is_given(call, *names);
	}
	return given;
}

/* The operator named by `--as`, with what the ledger and the role want to know. */
static enum outcome operator_find(struct call *call, const char *as, struct record **out)
{
	struct found found = {0};
	struct fault unknown;
	fault_clear(&unknown);
	enum outcome outcome = store_find_plain(call->store, as, REFER_NONE, &found, &unknown);
	if (outcome == OUTCOME_STORE) {
		return fault_set(call->fault, outcome, "%s", unknown.sentence);
	}
	if (outcome != OUTCOME_DONE || found.kind->id != KIND_OPERATOR) {
		fault_set(call->fault, OUTCOME_BAD, "operator not known: %s", as);
		fault_hint(call->fault, "Type --as with the badge or tag of an operator on record.");
		return OUTCOME_BAD;
	}
	call->actor.operator_id = found.id;
	return store_record_read(call->store, call->arena, found.kind, found.id, out, call->fault);
}

static enum outcome operator_check(struct call *call, const char *as, bool writing)
{
	struct record *operator= NULL;
	enum outcome outcome = operator_find(call, as, &operator);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const struct value *retired = record_known(operator, "retired");
	const char *name = record_words(operator, "name");
	const char *role = record_words(operator, "role");
	if (retired != NULL && retired->yes) {
		fault_set(call->fault, OUTCOME_BAD, "operator is retired: %s", as);
		fault_hint(call->fault, "Type --as with the badge of an operator who works here.");
		return OUTCOME_BAD;
	}
	call->actor.limited = role == NULL || strcmp(role, "supervisor") != 0;
	if (writing && call->command->role == ROLE_SUPERVISOR && call->actor.limited) {
		fault_set(call->fault, OUTCOME_BAD, "supervisor needed for %s: %s, %s", call->command->name,
		          name != NULL ? name : as, role != NULL ? role : "no role");
		fault_hint(call->fault, "Type --as with the badge of a supervisor.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* The store, the limits, the units and the actor. */
static enum outcome call_provide(struct call *call, const struct options *options)
{
	struct console *console = call->console;
	bool writing = writes(call);
	enum command_store needs = call->command->needs;
	enum outcome outcome = OUTCOME_DONE;
	if (!writing && needs != NEEDS_NO_STORE) {
		needs = NEEDS_READ;
	}
	if (needs == NEEDS_NO_STORE) {
		/*
		 * It keeps to the habits of the shop where that is open already, and never fails for want
		 * of it.
		 */
		if (store_limits(console->store, &call->limits, NULL) != OUTCOME_DONE) {
			outcome = store_limits(NULL, &call->limits, call->fault);
		}
	} else {
		outcome = console_store(console, needs, &call->store, call->fault);
		if (outcome == OUTCOME_DONE) {
			outcome = store_limits(call->store, &call->limits, call->fault);
		}
	}
	if (outcome == OUTCOME_DONE && options->as != NULL && call->store != NULL) {
		outcome = operator_check(call, options->as, writing);
	}
	if (options->units_given) {
		call->limits.units = options->units;
	}
	call->units = call->limits.units;
	return outcome;
}

/* ---------------------------------------------------------------- what is printed */

/* A full disk is a fault; a reader that has seen enough, as with `| head`, is none. */
enum outcome console_print(struct console *console, const char *bytes, struct fault *fault)
{
	errno = 0;
	if (fputs(bytes, stdout) != EOF && fflush(stdout) != EOF) {
		return OUTCOME_DONE;
	}
	int reason = errno;
	clearerr(stdout);
	console->reader_gone = true;
	if (reason == EPIPE) {
		return OUTCOME_DONE;
	}
	const char *words = strerror(reason);
	fault_clear(fault);
	fault_set(fault, OUTCOME_STORE, "answer not written: %s", words);
	fault_hint(fault, "Make room there, or send the answer elsewhere.");
	return OUTCOME_STORE;
}

/* Laid out as an answer is, for a terminal breaks a line within a word. */
void console_refuse(const struct console *console, const struct fault *fault)
{
	if (fault->sentence[0] == '\0') {
		return;
	}
	struct arena *arena = arena_new();
	struct answer *refusal = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	bool terminal = isatty(STDERR_FILENO) == 1;
	const char *charset = terminal ? charset_local() : NULL;
	const char *where = console->line > 0 ? arena_format(arena, "line %ld: ", console->line) : "";
	refusal->width = terminal ? terminal_width_of(STDERR_FILENO) : 0;
	answer_line(refusal, MARK_PLAIN, "%s%s%s", console->at_prompt ? "" : "toothrack: ", where,
	            fault->sentence);
	if (fault->hint[0] != '\0') {
		answer_line(refusal, MARK_PLAIN, "%s", fault->hint);
	}
	fputs(charset_write(arena, charset, answer_finish(refusal)), stderr);
	arena_free(arena);
}

static bool sink_take(void *context, const char *bytes)
{
	struct output *output = context;
	return output_take(output, bytes);
}

static struct answer *answer_for(struct call *call, const struct options *options,
                                 const struct answer_sink *sink)
{
	struct answer *answer = answer_new(call->arena, options->form, call->units);
	answer->width = terminal_width();
	answer->colour = terminal_colour();
	answer->indented = terminal_shows();
	answer->charset = terminal_shows() ? charset_local() : NULL;
	answer_stream(answer, call->console->held, sink);
	return answer;
}

/* What a command that failed halfway had begun to say is left out, unless some of it is out. */
static void answer_end(struct output *output, struct answer *answer, enum outcome outcome)
{
	bool left_out = outcome >= OUTCOME_BAD && !answer_is_whole(answer);
	if (!left_out && !answer->unwanted) {
		output_take(output, answer_finish(answer));
	} else if (left_out && answer->begun && !answer->unwanted) {
		output_take(output, "\n");
	}
	output_end(output);
}

/* The command at work, and its answer printed. */
static enum outcome call_run(struct call *call, const struct options *options)
{
	struct fault unwritten;
	struct output output = {.console = call->console, .fault = &unwritten};
	const struct answer_sink sink = {.take = sink_take, .context = &output};
	fault_clear(&unwritten);
	call->answer = answer_for(call, options, &sink);
	enum outcome outcome = call->command->run(call);
	answer_end(&output, call->answer, outcome);
	if (output.outcome != OUTCOME_DONE) {
		*call->fault = unwritten;
		return output.outcome;
	}
	return outcome;
}

enum outcome console_run(struct console *console, const struct options *options, struct word *words,
                         size_t count)
{
	struct fault fault;
	struct call call = {.arena = console->arena, .fault = &fault, .console = console};
	fault_clear(&fault);
	call.now = console_now(console);
	call.actor =
		(struct actor){.login = console->login, .terminal = console->terminal, .now = call.now};

	enum outcome outcome = command_choose(&call, options, words, count);
	if (outcome == OUTCOME_DONE) {
		struct word *checked = words + (call.words - words);
		outcome = arguments_check(call.arena, call.command, checked, call.word_count, &fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = call_provide(&call, options);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = call_run(&call, options);
	}
	console_refuse(console, &fault);
	if (outcome == OUTCOME_STORE) {
		console_store_close(console);
	}
	return outcome;
}

enum outcome console_run_line(struct console *console, const char *line)
{
	struct fault fault;
	struct word *words = NULL;
	size_t count = 0;
	struct options options = console->options;
	arena_reset(console->arena);
	fault_clear(&fault);
	enum outcome outcome = words_split(console->arena, line, &words, &count, &fault);
	if (outcome == OUTCOME_DONE && count == 0) {
		return OUTCOME_DONE;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = options_take(words, &count, true, &options, &fault);
	}
	if (outcome != OUTCOME_DONE) {
		console_refuse(console, &fault);
		return outcome;
	}
	return console_run(console, &options, words, count);
}
