/* The system's print spooler, by its command `lp` (POSIX). */
#include "spooler.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "directories.h"

/* What is kept of what it said; the rest is read and left. */
#define SAID_MOST 4096

/* ---------------------------------------------------------------- is there one */

static bool is_program(const char *path)
{
	struct stat about;
	return stat(path, &about) == 0 && S_ISREG(about.st_mode) && access(path, X_OK) == 0;
}

/* Along PATH, as the system does it; an empty part is where we stand. */
static bool has_lp(void)
{
	struct arena *arena = arena_new();
	const char *path = environment_of("PATH");
	bool found = false;
	while (path != NULL && !found) {
		size_t length = strcspn(path, ":");
		found = is_program(
			arena_format(arena, "%.*s%s", (int)length, path, length > 0 ? "/lp" : "./lp"));
		path = path[length] == ':' ? path + length + 1 : NULL;
	}
	arena_free(arena);
	return found;
}

enum outcome spooler_check(const char *queue, struct fault *fault)
{
	bool blank = queue[strspn(queue, " \t")] == '\0';
	bool odd = queue[0] == '-' || text_turns(queue);
	for (const char *at = queue; *at != '\0'; at++) {
		odd = odd || (unsigned char)*at < ' ' || *at == '\x7f';
	}
	if (blank || odd) {
		fault_set(fault, OUTCOME_BAD, blank ? "printer not given" : "no printer is called so: %s",
		          queue);
		fault_hint(fault, "Type printer= with a queue of this system; the command lpstat -e lists "
		                  "them.");
		return OUTCOME_BAD;
	}
	if (!has_lp()) {
		fault_set(fault, OUTCOME_BAD, "no lp on this system, the command that prints: printer=%s",
		          queue);
		fault_hint(fault, "Install the client of a print spooler (on Debian apt-get install "
		                  "cups-client), or type file=tags.pdf.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- what is handed over */

enum outcome spooled_make(struct arena *arena, struct spooled *out, struct fault *fault)
{
	const char *scratch = environment_of("TMPDIR");
	char *folder = arena_format(arena, "%s/toothrack-XXXXXX",
	                            scratch != NULL && scratch[0] == '/' ? scratch : "/tmp");
	if (mkdtemp(folder) == NULL) {
		fault_set(fault, OUTCOME_STORE, "folder for what is printed cannot be made, %s: %s",
		          strerror(errno), folder);
		fault_hint(fault, "Make room there, or set TMPDIR to a folder that can be written.");
		return OUTCOME_STORE;
	}
	*out = (struct spooled){.folder = folder, .file = arena_format(arena, "%s/tags.pdf", folder)};
	return OUTCOME_DONE;
}

void spooled_remove(const struct spooled *spooled)
{
	unlink(spooled->file);
	rmdir(spooled->folder);
}

/* ---------------------------------------------------------------- running it */

/* Reads all there is; keeps its beginning. */
static const char *read_all(struct arena *arena, int pipe)
{
	struct text text = text_start(arena);
	char bytes[512];
	for (;;) {
		ssize_t length = read(pipe, bytes, sizeof bytes);
		if (length == 0 || (length < 0 && errno != EINTR)) {
			break;
		}
		if (length > 0 && text.length < SAID_MOST) {
			text_add_bytes(&text, bytes, (size_t)length);
		}
	}
	return text.bytes;
}

/* The first line that says something. */
static const char *first_line(struct arena *arena, const char *said)
{
	said += strspn(said, " \t\r\n");
	return arena_copy_bytes(arena, said, strcspn(said, "\r\n"));
}

/* Both its outputs go into the pipe, its input is nothing; signals as any program expects them. */
static int start(struct arena *arena, const char *queue, const char *file, const int pipe[2],
                 pid_t *child)
{
	char *words[] = {arena_copy(arena, "lp"), arena_copy(arena, "-d"), arena_copy(arena, queue),
	                 arena_copy(arena, file), NULL};
	posix_spawn_file_actions_t actions;
	posix_spawnattr_t attributes;
	sigset_t usual;
	sigemptyset(&usual);
	sigaddset(&usual, SIGPIPE);
	posix_spawn_file_actions_init(&actions);
	posix_spawnattr_init(&attributes);
	posix_spawnattr_setsigdefault(&attributes, &usual);
	posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGDEF);
	posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
	posix_spawn_file_actions_adddup2(&actions, pipe[1], STDOUT_FILENO);
	posix_spawn_file_actions_adddup2(&actions, pipe[1], STDERR_FILENO);
	posix_spawn_file_actions_addclose(&actions, pipe[0]);
	posix_spawn_file_actions_addclose(&actions, pipe[1]);
	int error = posix_spawnp(child, "lp", &actions, &attributes, words, environ);
	posix_spawnattr_destroy(&attributes);
	posix_spawn_file_actions_destroy(&actions);
	return error;
}

static enum outcome refuse(struct arena *arena, int status, const char *said, struct fault *fault)
{
	const char *how = WIFEXITED(status) ? arena_format(arena, "exit %d", WEXITSTATUS(status))
	                                    : arena_format(arena, "signal %d", WTERMSIG(status));
	fault_set(fault, OUTCOME_BAD, "lp failed, %s: %s", how,
	          said[0] != '\0' ? said : "it did not say why");
	fault_hint(fault, "Nothing counts as printed; the command lpstat -e lists the printers there "
	                  "are.");
	return OUTCOME_BAD;
}

enum outcome spooler_print(struct arena *arena, const char *queue, const char *file,
                           const char **said, struct fault *fault)
{
	int ends[2];
	pid_t child = 0;
	int status = 0;
	*said = "";
	if (pipe(ends) != 0) {
		return fault_set(fault, OUTCOME_STORE, "lp cannot be run: %s", strerror(errno));
	}
	int error = start(arena, queue, file, ends, &child);
	close(ends[1]);
	if (error == 0) {
		*said = first_line(arena, read_all(arena, ends[0]));
		while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
		}
	}
	close(ends[0]);
	if (error != 0) {
		return fault_set(fault, OUTCOME_BAD, "lp cannot be run: %s", strerror(error));
	}
	return status == 0 ? OUTCOME_DONE : refuse(arena, status, *said, fault);
}
