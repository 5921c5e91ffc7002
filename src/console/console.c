/* The program: one command, the lines of standard input, or the console on a terminal. */
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <unistd.h>

#include "line_reader.h"
#include "options.h"
#include "toothrack/version.h"
#include "words.h"

static enum outcome print_version(struct console *console)
{
	struct fault fault;
	fault_clear(&fault);
	const char *line = arena_format(console->arena, "toothrack %s\n", toothrack_version);
	enum outcome outcome = console_print(console, line, &fault);
	console_refuse(console, &fault);
	return outcome;
}

static enum outcome run(struct console *console, struct word *words, size_t count)
{
	const struct options *options = &console->options;
	if (options->version) {
		return print_version(console);
	}
	if (count > 0 || options->help) {
		return console_run(console, options, words, count);
	}
	if (isatty(STDIN_FILENO) == 1) {
		return lines_from_terminal(console);
	}
	return lines_from_input(console);
}

int console_main(int argument_count, char **arguments)
{
	struct console console = {0};
	struct options options = {0};
	struct fault fault;
	heap_prepare();
	struct arena *arena = arena_new();
	size_t count = argument_count > 1 ? (size_t)argument_count - 1 : 0;
	struct word *words = arena_take(arena, count, sizeof *words);

	/* Characters as the terminal has them; numbers stay as they are written in JSON. */
	setlocale(LC_CTYPE, "");
	signal(SIGPIPE, SIG_IGN);
	/* A limit on the size of files is then told like a full disk. */
	signal(SIGXFSZ, SIG_IGN);
	fault_clear(&fault);
	for (size_t i = 0; i < count; i++) {
		words[i] = word_of(arena, arguments[i + 1]);
	}
	enum outcome outcome = options_take(words, &count, false, &options, &fault);
	if (outcome == OUTCOME_DONE) {
		outcome = console_open(&console, &options, &fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = run(&console, words, count);
	} else {
		console_refuse(&console, &fault);
	}
	console_close(&console);
	arena_free(arena);
	return (int)outcome;
}
