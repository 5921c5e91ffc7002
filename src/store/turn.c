/*
 * Whose turn it is to write. Consoles that would write stand in a queue, which the system keeps for
 * who waits for a lock (flock) on the shop's file: it wakes the first of them as soon as the one
 * before is done, and what a killed process holds it takes back. SQLite's own locks alone are
 * looked at again and again, and he who looks at the right moment has them, however late he came.
 * They are still what keeps writers apart: where there is no queue, or another program writes, they
 * are waited for.
 */
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <signal.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "internal.h"

#define LOOK_AGAIN_NS 50000000 /* a wait that began just as its time was up ends so much later */
#define FILES_MOST 16

static void wake(int signal)
{
	(void)signal; /* only so that the wait for the lock ends */
}

/*
 * The file, open for its queue. It is never closed: with any of its files a process that closes one
 * loses SQLite's own locks on it (fcntl(2), "record locks"). So each is opened once, whatever
 * opens it again; below 0 where there is no queue to be had.
 */
static int queue_of(const char *path)
{
	static struct queue {
		dev_t device;
		ino_t number;
		int file;
	} queues[FILES_MOST];
	static size_t count;
	static pid_t owner;
	struct stat status;
	if (owner != getpid()) {
		/* What a child has of its parent is one lock for both. */
		owner = getpid();
		count = 0;
	}
	if (stat(path, &status) != 0) {
		return -1;
	}
	for (size_t i = 0; i < count; i++) {
		if (queues[i].device == status.st_dev && queues[i].number == status.st_ino) {
			return queues[i].file;
		}
	}
	int file = count < FILES_MOST ? open(path, O_RDONLY | O_CLOEXEC) : -1;
	if (file >= 0) {
		queues[count++] =
			(struct queue){.device = status.st_dev, .number = status.st_ino, .file = file};
	}
	return file;
}

static bool is_over(const struct timespec *until)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return now.tv_sec > until->tv_sec ||
	       (now.tv_sec == until->tv_sec && now.tv_nsec >= until->tv_nsec);
}

/* A timer wakes the wait from when its time is up, again and again; other signals do not end it. */
static bool lock_until(int file, const struct timespec *until)
{
	const struct itimerspec time = {{0, LOOK_AGAIN_NS}, *until};
	struct sigevent event = {.sigev_notify = SIGEV_SIGNAL, .sigev_signo = SIGRTMIN};
	timer_t timer;
	bool locked = false;
	if (timer_create(CLOCK_MONOTONIC, &event, &timer) != 0) {
		return false;
	}
	if (timer_settime(timer, TIMER_ABSTIME, &time, NULL) == 0) {
		do {
			locked = flock(file, LOCK_EX) == 0;
		} while (!locked && errno == EINTR && !is_over(until));
	}
	timer_delete(timer);
	return locked;
}

/* Waits in the queue, but no longer than the seconds say. */
static bool wait_in_queue(int file, int seconds)
{
	struct sigaction awake = {.sa_handler = wake}, before;
	struct timespec until;
	sigset_t woken, masked;
	clock_gettime(CLOCK_MONOTONIC, &until);
	until.tv_sec += seconds;
	sigemptyset(&awake.sa_mask);
	sigemptyset(&woken);
	sigaddset(&woken, SIGRTMIN);
	if (sigaction(SIGRTMIN, &awake, &before) != 0) {
		return false;
	}
	pthread_sigmask(SIG_UNBLOCK, &woken, &masked);
	bool locked = lock_until(file, &until);
	pthread_sigmask(SIG_SETMASK, &masked, NULL);
	sigaction(SIGRTMIN, &before, NULL);
	return locked;
}

bool turn_take(struct store *store, int seconds)
{
	int file = queue_of(store->path);
	if (file < 0 || store->queue > 0) {
		return true;
	}
	bool locked = flock(file, LOCK_EX | LOCK_NB) == 0;
	if (!locked && errno == EWOULDBLOCK) {
		locked = wait_in_queue(file, seconds);
		if (!locked) {
			return false;
		}
	}
	store->queue = locked ? file : 0;
	return true;
}

void turn_give(struct store *store)
{
	if (store->queue > 0) {
		flock(store->queue, LOCK_UN);
		store->queue = 0;
	}
}
