/*
 * Whose turn it is to write. Consoles that would write stand in a queue, which the system keeps for
 * who waits for a lock on the shop's folder: it wakes the first of them as soon as the one before
 * is done, and what a killed process holds it takes back. SQLite's own lock alone is looked at
 * again and again, and he who looks at the right moment has it, however late he came. It is still
 * what keeps writers apart: where there is no queue, or another program writes, it is waited for.
 */
#include <errno.h>
#include <fcntl.h>
#include <libgen.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <time.h>
#include <unistd.h>

#include "internal.h"

#define LOOK_AGAIN_NS 50000000 /* a wait that began just as its time was up ends so much later */

/* A shop brought back is made ready in the folder of one that is being written. */
static _Thread_local bool has_turn;

static void wake(int signal)
{
	(void)signal; /* only so that the wait for the lock ends */
}

static int folder_open(const char *path)
{
	char folder[PATH_MAX];
	snprintf(folder, sizeof folder, "%s", path);
	return open(dirname(folder), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

/* Waits in the queue, but no longer than the seconds say; false where it waited in vain. */
static bool wait_in_queue(int folder, int seconds)
{
	struct sigaction awake = {.sa_handler = wake}, before;
	struct sigevent event = {.sigev_notify = SIGEV_SIGNAL, .sigev_signo = SIGRTMIN};
	const struct itimerspec time = {{0, LOOK_AGAIN_NS}, {seconds, 0}};
	timer_t timer;
	bool locked = false, in_vain = false;
	sigemptyset(&awake.sa_mask);
	if (sigaction(SIGRTMIN, &awake, &before) != 0) {
		return true;
	}
	if (timer_create(CLOCK_MONOTONIC, &event, &timer) == 0) {
		if (timer_settime(timer, 0, &time, NULL) == 0) {
			locked = flock(folder, LOCK_EX) == 0;
			in_vain = !locked && errno == EINTR;
		}
		timer_delete(timer);
	}
	sigaction(SIGRTMIN, &before, NULL);
	has_turn = locked;
	return !in_vain;
}

bool turn_take(struct store *store, int seconds)
{
	bool patient = true;
	if (has_turn || store->folder < 0) {
		return patient;
	}
	if (store->folder == 0) {
		store->folder = folder_open(store->path);
		if (store->folder < 0) {
			return patient;
		}
	}
	has_turn = flock(store->folder, LOCK_EX | LOCK_NB) == 0;
	if (!has_turn && errno == EWOULDBLOCK) {
		patient = wait_in_queue(store->folder, seconds);
	}
	store->has_turn = has_turn;
	return patient;
}

void turn_give(struct store *store)
{
	if (store->has_turn) {
		flock(store->folder, LOCK_UN);
		store->has_turn = has_turn = false;
	}
}

void turn_close(struct store *store)
{
	turn_give(store);
	if (store->folder > 0) {
		close(store->folder);
	}
}
