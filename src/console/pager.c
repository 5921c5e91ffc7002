/* A program of the user's choice that shows a long answer page by page. */
#include <errno.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "columns.h"
#include "directories.h"
#include "pager.h"
#include "terminal.h"

/* A pipe takes so much before anybody reads (pipe(7)). */
#define PIPE_ROOM ((size_t)64 * 1024)
/* What a shell says of a command that it cannot run (POSIX, Shell & Utilities 2.8.2). */
#define NOT_EXECUTABLE 126
#define NOT_FOUND 127

/* ---------------------------------------------------------------- is it wanted */

/* Bytes of a mark for colour at `text`, 0 where there is none. */
static size_t mark_length(const char *text)
{
	return text[0] == '\033' ? strcspn(text, "m") + 1 : 0;
}

/* Lines of the screen that one line takes, whose end is found too. */
static size_t lines_of(const char **at, size_t width)
{
	size_t columns = 0;
	while (**at != '\0' && **at != '\n') {
		size_t length = mark_length(*at);
		if (length == 0) {
			length = strcspn(*at, "\n\033");
			columns += text_columns_of(*at, length);
		}
		*at += length;
	}
	*at += **at == '\n' ? 1 : 0;
	return width == 0 || columns <= width ? 1 : (columns + width - 1) / width;
}

const char *pager_wanted(const char *answer)
{
	const char *command = environment_of("PAGER");
	if (command == NULL || !terminal_shows()) {
		return NULL;
	}
	size_t width = terminal_width();
	size_t height = terminal_height();
	size_t lines = 0;
	while (*answer != '\0' && lines <= height) {
		lines += lines_of(&answer, width);
	}
	/* The prompt stands below. */
	return lines + 1 > height ? command : NULL;
}

/* ---------------------------------------------------------------- starting it */

/*
 * What the shell is told: the command, and before it, where its first word is a plain one, to be
 * silent where there is no such program, for we say that ourselves.
 */
static char *script_of(struct arena *arena, const char *command)
{
	const char *plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./+-";
	size_t length = strspn(command, plain);
	if (length == 0 || (command[length] != '\0' && command[length] != ' ')) {
		return arena_copy(arena, command);
	}
	return arena_format(arena, "command -v %s >/dev/null 2>&1 || exit %d\n%s",
	                    arena_copy_bytes(arena, command, length), NOT_FOUND, command);
}

/* The environment, and LESS=R (colours as they are) where the user does not set it otherwise. */
static char **environment_for(struct arena *arena)
{
	size_t count = 0;
	while (environ[count] != NULL) {
		count++;
	}
	char **variables = arena_take(arena, count + 2, sizeof *variables);
	memcpy(variables, environ, count * sizeof *variables);
	if (getenv("LESS") == NULL) {
		variables[count] = arena_copy(arena, "LESS=R");
	}
	return variables;
}

/*
 * Does it take marks for colour for text? `more` counts them as columns and breaks lines too early;
 * `less` shows them as signs unless it has R of LESS or of its own words.
 */
static bool takes_marks_for_text(const char *command)
{
	const char *options = getenv("LESS");
	size_t length = strcspn(command, " ");
	const char *name = command + length;
	while (name > command && name[-1] != '/') {
		name--;
	}
	size_t letters = (size_t)(command + length - name);
	if (letters == strlen("more") && strncmp(name, "more", letters) == 0) {
		return true;
	}
	bool less = letters == strlen("less") && strncmp(name, "less", letters) == 0;
	return less && options != NULL && strpbrk(options, "Rr") == NULL &&
	       strpbrk(command + length, "Rr") == NULL;
}

static const char *without_marks(struct arena *arena, const char *bytes)
{
	struct text out = text_start(arena);
	while (*bytes != '\0') {
		size_t length = strcspn(bytes, "\033");
		text_add_bytes(&out, bytes, length);
		bytes += length;
		bytes += mark_length(bytes);
	}
	return out.bytes;
}

/* The child's signals are as those of any program that a shell starts. */
static bool spawn(struct pager *pager, struct arena *arena, const char *command, int input)
{
	static const int numbers[] = {SIGINT, SIGQUIT, SIGPIPE};
	char *words[] = {arena_copy(arena, "sh"), arena_copy(arena, "-c"), script_of(arena, command),
	                 NULL};
	posix_spawnattr_t attributes;
	posix_spawn_file_actions_t actions;
	sigset_t set;
	posix_spawnattr_init(&attributes);
	posix_spawn_file_actions_init(&actions);
	posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
	sigemptyset(&set);
	posix_spawnattr_setsigmask(&attributes, &set);
	for (size_t i = 0; i < COUNT_OF(numbers); i++) {
		sigaddset(&set, numbers[i]);
	}
	posix_spawnattr_setsigdefault(&attributes, &set);
	posix_spawn_file_actions_adddup2(&actions, input, STDIN_FILENO);
	int failed =
		posix_spawn(&pager->child, "/bin/sh", &actions, &attributes, words, environment_for(arena));
	posix_spawn_file_actions_destroy(&actions);
	posix_spawnattr_destroy(&attributes);
	return failed == 0;
}

bool pager_start(struct pager *pager, struct arena *arena, const char *command)
{
	int ends[2];
	struct sigaction ignore = {.sa_handler = SIG_IGN};
	*pager = (struct pager){.first = text_start(arena), .plain = takes_marks_for_text(command)};
	if (pipe2(ends, O_CLOEXEC) != 0) {
		return false;
	}
	bool started = spawn(pager, arena, command, ends[0]);
	close(ends[0]);
	if (!started) {
		close(ends[1]);
		return false;
	}
	pager->pipe = ends[1];
	sigemptyset(&ignore.sa_mask);
	sigaction(SIGINT, &ignore, &pager->interrupt);
	sigaction(SIGQUIT, &ignore, &pager->quit);
	return true;
}

/* ---------------------------------------------------------------- giving it bytes */

bool pager_give(struct pager *pager, struct arena *arena, const char *bytes)
{
	bytes = pager->plain ? without_marks(arena, bytes) : bytes;
	size_t length = strlen(bytes);
	/* What a pipe cannot hold was read by somebody. */
	pager->runs = pager->runs || pager->first.length > PIPE_ROOM;
	if (!pager->runs) {
		text_add(&pager->first, bytes);
	}
	while (length > 0 && !pager->left) {
		ssize_t written = write(pager->pipe, bytes, length);
		if (written < 0 && errno != EINTR) {
			pager->left = true;
		} else if (written > 0) {
			bytes += written;
			length -= (size_t)written;
		}
	}
	return !pager->left;
}

const char *pager_end(struct pager *pager)
{
	struct sigaction ignore = {.sa_handler = SIG_IGN};
	int status = 0;
	close(pager->pipe);
	while (waitpid(pager->child, &status, 0) < 0 && errno == EINTR) {
	}
	/* A Ctrl-C that was for the pager and waits for us is thrown away by this. */
	sigemptyset(&ignore.sa_mask);
	sigaction(SIGINT, &ignore, NULL);
	sigaction(SIGINT, &pager->interrupt, NULL);
	sigaction(SIGQUIT, &pager->quit, NULL);
	pager->child = 0;
	bool ran = !WIFEXITED(status) ||
	           (WEXITSTATUS(status) != NOT_EXECUTABLE && WEXITSTATUS(status) != NOT_FOUND);
	return ran || pager->runs ? NULL : pager->first.bytes;
}
