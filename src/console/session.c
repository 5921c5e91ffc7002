/* What lasts from one command to the next. */
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "directories.h"
#include "options.h"
#include "session.h"
#include "toothrack/plan.h"

/* `pts/3`, or `-` where no terminal is: under a scheduler, or with a pipe. */
static const char *terminal_name(struct arena *arena)
{
	char name[128];
	if (ttyname_r(STDIN_FILENO, name, sizeof name) != 0) {
		return "-";
	}
	bool device = strncmp(name, "/dev/", 5) == 0;
	return arena_copy(arena, device ? name + 5 : name);
}

enum outcome console_open(struct console *console, const struct options *options,
                          struct fault *fault)
{
	*console = (struct console){.options = *options};
	console->lasting = arena_new();
	console->arena = arena_new();
	console->held = arena_new();
	console->login = login_name(console->lasting);
	console->terminal = terminal_name(console->lasting);
	return options_clock(&console->clock, fault);
}

void console_close(struct console *console)
{
	console_store_close(console);
	arena_free(console->arena);
	arena_free(console->held);
	arena_free(console->lasting);
}

void console_store_close(struct console *console)
{
	store_give_up(console->store);
	console->store = NULL;
}

static enum store_mode mode_of(enum command_store needs)
{
	switch (needs) {
	case NEEDS_WRITE:
		return STORE_WRITE;
	case NEEDS_MAKE:
		return STORE_MAKE;
	case NEEDS_NO_STORE:
	case NEEDS_READ:
		break;
	}
	return STORE_READ;
}

enum outcome console_store(struct console *console, enum command_store needs, struct store **out,
                           struct fault *fault)
{
	enum store_mode mode = mode_of(needs);
	enum outcome outcome = OUTCOME_DONE;
	*out = NULL;
	if (console->store != NULL && console->mode == STORE_READ && mode != STORE_READ) {
		console_store_close(console);
	}
	if (console->path == NULL) {
		outcome = options_shop_file(console->lasting, &console->options, &console->path, fault);
	}
	if (outcome == OUTCOME_DONE && console->store == NULL) {
		outcome = store_open(console->path, mode, console->clock.known, &console->store, fault);
		console->mode = mode;
		if (outcome == OUTCOME_DONE && mode != STORE_READ) {
			/* What a change breaks of what is promised is on record with the change. */
			store_watch_commits(console->store, plan_promises_watch, NULL);
		}
	}
	if (outcome == OUTCOME_DONE) {
		*out = console->store;
	}
	return outcome;
}

struct moment console_now(const struct console *console)
{
	if (console->clock.known) {
		return console->clock.value;
	}
	return value_from_stored(VALUE_MOMENT, (int64_t)time(NULL)).moment;
}
