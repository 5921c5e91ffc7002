/* Signals that come only while input is waited for. */
#include <assert.h>

#include "signals.h"

/* By number: real-time signals are not among them. */
#define NUMBERS 32

static volatile sig_atomic_t came[NUMBERS];
static volatile sig_atomic_t ended;

static void on_signal(int number)
{
	came[number] = 1;
	if (number == SIGTERM || number == SIGHUP) {
		ended = 1;
	}
}

void signals_hold(struct signals *signals, const int *numbers, size_t count)
{
	struct sigaction action = {.sa_handler = on_signal};
	sigset_t held;
	assert(count <= SIGNALS_MOST);
	signals->numbers = numbers;
	signals->count = count;
	sigemptyset(&action.sa_mask);
	sigemptyset(&held);
	for (size_t i = 0; i < count; i++) {
		assert(numbers[i] > 0 && numbers[i] < NUMBERS);
		sigaddset(&held, numbers[i]);
	}
	/* First held back: none comes before its handler stands. */
	sigprocmask(SIG_BLOCK, &held, &signals->before);
	signals->waiting = signals->before;
	for (size_t i = 0; i < count; i++) {
		sigdelset(&signals->waiting, numbers[i]);
		sigaction(numbers[i], &action, &signals->actions[i]);
	}
}

void signals_release(const struct signals *signals)
{
	for (size_t i = 0; i < signals->count; i++) {
		sigaction(signals->numbers[i], &signals->actions[i], NULL);
	}
	sigprocmask(SIG_SETMASK, &signals->before, NULL);
}

bool signals_took(int number)
{
	bool took = came[number] != 0;
	came[number] = 0;
	return took;
}

bool signals_end(void)
{
	return ended != 0;
}
