/* Lines of standard input, where that is no terminal: a file, a pipe, a scheduler. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "line_reader.h"

#define BYTE_ORDER_MARK "\xef\xbb\xbf"

/* No command is so long; a file of another sort may be one line. */
#define LINE_LONGEST 100000

static enum outcome refuse(const struct console *console, const char *sentence, const char *hint)
{
	struct fault fault;
	fault_clear(&fault);
	fault_set(&fault, OUTCOME_BAD, "%s", sentence);
	fault_hint(&fault, "%s", hint);
	console_refuse(console, &fault);
	return OUTCOME_BAD;
}

static enum outcome line_run(struct console *console, char *line, size_t length, bool first)
{
	if (length > LINE_LONGEST) {
		return refuse(console,
		              arena_format(console->arena, "text is longer than %d bytes, it begins: %.40s",
		                           LINE_LONGEST, line),
		              "Give one command a line.");
	}
	if (strlen(line) != length) {
		return refuse(console, "text holds a NUL byte", "Give lines of text in UTF-8.");
	}
	while (length > 0 && (line[length - 1] == '\n' || line[length - 1] == '\r')) {
		line[--length] = '\0';
	}
	if (first && strncmp(line, BYTE_ORDER_MARK, strlen(BYTE_ORDER_MARK)) == 0) {
		line += strlen(BYTE_ORDER_MARK);
	}
	return console_run_line(console, line);
}

enum outcome lines_from_input(struct console *console)
{
	char *line = NULL;
	size_t room = 0;
	enum outcome highest = OUTCOME_DONE;
	bool first = true;
	while (highest < OUTCOME_BAD && !console->leaving && !console->reader_gone) {
		errno = 0;
		console->line++;
		ssize_t length = getline(&line, &room, stdin);
		if (length < 0) {
			if (ferror(stdin) != 0) {
				console->line = 0;
				highest = refuse(console, "standard input cannot be read",
				                 "Give a file or a pipe of commands, one a line.");
			}
			break;
		}
		enum outcome outcome = line_run(console, line, (size_t)length, first);
		highest = outcome > highest ? outcome : highest;
		first = false;
	}
	free(line);
	return highest;
}
