/* The terminal while the bench reads it byte by byte. */
#include <signal.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

#include "keyboard.h"
#include "toothrack/base.h"

static struct termios ours, before;
static volatile sig_atomic_t taken;

/* ---------------------------------------------------------------- giving it back, come what may */

/* After these nothing of ours runs any more. */
static const int faults[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGQUIT};
static struct sigaction actions[COUNT_OF(faults)];

static void give_back(void)
{
	if (taken != 0) {
		taken = 0;
		tcsetattr(STDIN_FILENO, TCSADRAIN, &before);
	}
}

/* Then it is as if this had not looked: the fault comes again, to whoever waited for it before. */
static void on_fault(int number)
{
	give_back();
	for (size_t i = 0; i < COUNT_OF(faults); i++) {
		if (faults[i] == number) {
			sigaction(number, &actions[i], NULL);
		}
	}
	raise(number);
}

static void watch_faults(void)
{
	static bool at_end;
	struct sigaction action = {.sa_handler = on_fault};
	sigemptyset(&action.sa_mask);
	for (size_t i = 0; i < COUNT_OF(faults); i++) {
		sigaction(faults[i], &action, &actions[i]);
	}
	if (!at_end) {
		at_end = atexit(give_back) == 0;
	}
}

static void unwatch_faults(void)
{
	for (size_t i = 0; i < COUNT_OF(faults); i++) {
		sigaction(faults[i], &actions[i], NULL);
	}
}

/* ---------------------------------------------------------------- taking it over */

/*
 * Bytes as they are sent: CR stays CR, Ctrl-S and Ctrl-\ (FS) are data. Ctrl-C and Ctrl-Z stay
 * signals, but take nothing with them of what was scanned already. What is written is as before.
 */
static struct termios as_sent(struct termios mode)
{
	mode.c_iflag &= (tcflag_t) ~(BRKINT | ICRNL | IGNCR | INLCR | INPCK | ISTRIP | IXON | PARMRK);
	mode.c_lflag &= (tcflag_t) ~(ICANON | ECHO | ECHONL | IEXTEN);
	mode.c_lflag |= ISIG | NOFLSH;
	mode.c_cc[VMIN] = 1;
	mode.c_cc[VTIME] = 0;
	mode.c_cc[VQUIT] = _POSIX_VDISABLE;
	return mode;
}

bool keyboard_open(void)
{
	if (tcgetattr(STDIN_FILENO, &before) != 0) {
		return false;
	}
	ours = as_sent(before);
	watch_faults();
	taken = 1;
	if (tcsetattr(STDIN_FILENO, TCSADRAIN, &ours) != 0) {
		keyboard_close();
		return false;
	}
	return true;
}

void keyboard_close(void)
{
	give_back();
	unwatch_faults();
}

void keyboard_again(void)
{
	taken = 1;
	tcsetattr(STDIN_FILENO, TCSADRAIN, &ours);
}

void keyboard_stop(void)
{
	struct sigaction usual = {.sa_handler = SIG_DFL}, held;
	sigset_t stop;
	sigset_t mask;
	give_back();
	sigemptyset(&usual.sa_mask);
	sigemptyset(&stop);
	sigaddset(&stop, SIGTSTP);
	sigaction(SIGTSTP, &usual, &held);
	raise(SIGTSTP);
	/* Here it stops, until it is told to go on. */
	sigprocmask(SIG_UNBLOCK, &stop, &mask);
	sigprocmask(SIG_SETMASK, &mask, NULL);
	sigaction(SIGTSTP, &held, NULL);
	keyboard_again();
}
