/* The system's print spooler, by its command `lp` (POSIX). */
#include "spooler.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "directories.h"

/* What is kept of what it said; the rest is read and left. */
#define SAID_MOST 4096

/* How often it is looked whether we are asked to end; and how long lp has to end by itself. */
#define LOOK_MILLISECONDS 100
#define ENDING_MILLISECONDS 1000

static const int ending[] = {SIGTERM, SIGHUP, SIGINT};

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
	sigset_t held;
	sigemptyset(&held);
	for (size_t i = 0; i < COUNT_OF(ending); i++) {
		sigaddset(&held, ending[i]);
	}
	*out = (struct spooled){.folder = folder};
	sigprocmask(SIG_BLOCK, &held, &out->before);
	if (mkdtemp(folder) == NULL) {
		int error = errno;
		sigprocmask(SIG_SETMASK, &out->before, NULL);
		fault_set(fault, OUTCOME_STORE, "folder for what is printed cannot be made, %s: %s",
		          strerror(error), folder);
		fault_hint(fault, "Make room there, or set TMPDIR to a folder that can be written.");
		return OUTCOME_STORE;
	}
	out->file = arena_format(arena, "%s/tags.pdf", folder);
	return OUTCOME_DONE;
}

void spooled_remove(const struct spooled *spooled)
{
	unlink(spooled->file);
	rmdir(spooled->folder);
	sigprocmask(SIG_SETMASK, &spooled->before, NULL);
}

/* ---------------------------------------------------------------- running it */

/* How it went on. */
enum running { RUNNING_ENDED, RUNNING_TOO_LONG, RUNNING_ASKED_TO_END };

static bool asked_to_end(void)
{
	sigset_t waiting;
	bool asked = false;
	sigpending(&waiting);
	for (size_t i = 0; i < COUNT_OF(ending); i++) {
		asked = asked || sigismember(&waiting, ending[i]) == 1;
	}
	return asked;
}

static int64_t milliseconds_now(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Reads all there is until it is closed; keeps its beginning. */
static enum running read_all(int pipe, int64_t until, struct text *said)
{
	char bytes[512];
	struct pollfd ready = {.fd = pipe, .events = POLLIN};
	while (!asked_to_end()) {
		if (milliseconds_now() >= until) {
			return RUNNING_TOO_LONG;
		}
		if (poll(&ready, 1, LOOK_MILLISECONDS) <= 0) {
			continue;
		}
		ssize_t length = read(pipe, bytes, sizeof bytes);
		if (length == 0 || (length < 0 && errno != EINTR)) {
			return RUNNING_ENDED;
		}
		if (length > 0 && said->length < SAID_MOST) {
			text_add_bytes(said, bytes, (size_t)length);
		}
	}
	return RUNNING_ASKED_TO_END;
}

/* Until it has ended; it may do so without a word, its output closed long before. */
static enum running wait_for(pid_t child, int64_t until, int *status)
{
	const struct timespec step = {.tv_nsec = 10000000};
	enum running running = RUNNING_ENDED;
	while (waitpid(child, status, WNOHANG) == 0) {
		if (asked_to_end() || milliseconds_now() >= until) {
			running = asked_to_end() ? RUNNING_ASKED_TO_END : RUNNING_TOO_LONG;
			break;
		}
		nanosleep(&step, NULL);
	}
	return running;
}

/* Ends it, and where it does not want to, kills it. It stays in our group: it may ask for a
   password at the terminal. */
static void end(pid_t child, int *status)
{
	const struct timespec step = {.tv_nsec = 10000000};
	int64_t until = milliseconds_now() + ENDING_MILLISECONDS;
	kill(child, SIGTERM);
	while (waitpid(child, status, WNOHANG) == 0) {
		if (milliseconds_now() >= until) {
			kill(child, SIGKILL);
		}
		nanosleep(&step, NULL);
	}
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
	sigset_t usual, none;
	sigemptyset(&none);
	sigemptyset(&usual);
	sigaddset(&usual, SIGPIPE);
	posix_spawn_file_actions_init(&actions);
	posix_spawnattr_init(&attributes);
	posix_spawnattr_setsigdefault(&attributes, &usual);
	posix_spawnattr_setsigmask(&attributes, &none);
	posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETSIGMASK |
	                                          POSIX_SPAWN_SETPGROUP);
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

static enum outcome refuse_ended(enum running running, int seconds, struct fault *fault)
{
	if (running == RUNNING_TOO_LONG) {
		fault_set(fault, OUTCOME_BAD, "lp took longer than %ds and was ended", seconds);
	} else {
		fault_set(fault, OUTCOME_BAD, "lp was ended, as we were asked to end");
	}
	fault_hint(fault, "Nothing counts as printed, though it may come out; the command lpstat -o "
	                  "lists what is waiting.");
	return OUTCOME_BAD;
}

enum outcome spooler_print(struct arena *arena, const char *queue, const char *file, int seconds,
                           const char **said, struct fault *fault)
{
	int ends[2];
	pid_t child = 0;
	int status = 0;
	int64_t until = milliseconds_now() + (int64_t)seconds * 1000;
	struct text heard = text_start(arena);
	enum running running = RUNNING_ENDED;
	*said = "";
	if (pipe(ends) != 0) {
		return fault_set(fault, OUTCOME_STORE, "lp cannot be run: %s", strerror(errno));
	}
	int error = start(arena, queue, file, ends, &child);
	close(ends[1]);
	if (error == 0) {
		running = read_all(ends[0], until, &heard);
		running = running == RUNNING_ENDED ? wait_for(child, until, &status) : running;
		if (running != RUNNING_ENDED) {
			end(child, &status);
		}
		*said = first_line(arena, heard.bytes);
	}
	close(ends[0]);
	if (error != 0) {
		return fault_set(fault, OUTCOME_BAD, "lp cannot be run: %s", strerror(error));
	}
	if (running != RUNNING_ENDED) {
		return refuse_ended(running, seconds, fault);
	}
	return status == 0 ? OUTCOME_DONE : refuse(arena, status, *said, fault);
}
