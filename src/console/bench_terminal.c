/*
 * The bench at a terminal. A scanner that types sends a code within some milliseconds and does not
 * wait for the answer: what comes while a scan is committed stays with the terminal, and is shown
 * when its turn comes.
 */
#include <errno.h>
#include <poll.h>
#include <string.h>
#include <unistd.h>

#include "bench_desk.h"
#include "charset.h"
#include "columns.h"
#include "keyboard.h"
#include "line_reader.h"
#include "signals.h"
#include "terminal.h"
#include "typed.h"

#define BLOCK 4096
/* A tag as it is typed by hand, and a little more. */
#define TYPED_COLUMNS 24

struct seat {
	struct desk *desk;
	struct typed typed;
	struct text echo; /* shown with the next line, or when the block is through */
};

static void show(struct seat *seat, const char *bytes)
{
	fputs(bytes, seat->desk->screen);
	fflush(seat->desk->screen);
}

static void echo_out(struct seat *seat)
{
	show(seat, seat->echo.bytes);
	seat->echo = text_start(seat->desk->arena);
}

/* ---------------------------------------------------------------- the prompt */

/* Over as many lines as it takes, with the sign that waits on a line of its own. */
static const char *prompt_lines(struct arena *arena, const char *prompt, size_t width)
{
	struct answer *answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	answer->width = width;
	answer->charset = charset_local();
	answer_line(answer, MARK_PLAIN, "%s", prompt);
	return arena_format(arena, "%s> ", answer_finish(answer));
}

/* Who, where or for what and what waits, always, and what is typed already. */
static void prompt_show(struct seat *seat)
{
	struct arena *arena = seat->desk->arena;
	size_t width = terminal_width_of(fileno(seat->desk->screen));
	const char *prompt = text_harmless(arena, bench_prompt(seat->desk->bench));
	prompt = charset_shown(arena, charset_local(), prompt);
	size_t columns = text_columns(prompt) + strlen("> ");
	struct text out = text_start(arena);
	if (columns + TYPED_COLUMNS <= width) {
		text_add_format(&out, "%s> ", prompt);
	} else {
		text_add(&out, prompt_lines(arena, prompt, width));
		columns = strlen("> ");
	}
	seat->typed.room = width > columns ? width - columns - 1 : 0;
	show(seat, charset_write(arena, charset_local(), out.bytes));
	struct text typed = text_start(arena);
	typed_show(&seat->typed, &typed);
	show(seat, typed.bytes);
}

/* ---------------------------------------------------------------- lines */

/* As typed in the terminal's own bytes; what a scanner sends is ASCII with a few control bytes. */
static void line_scan(struct seat *seat)
{
	struct typed *typed = &seat->typed;
	const char *charset = charset_local();
	const char *bytes = typed->bytes;
	size_t length = typed->length;
	if (charset != NULL && memchr(bytes, '\0', length) == NULL) {
		char *line = arena_copy_bytes(seat->desk->arena, bytes, length);
		bytes = charset_read(seat->desk->arena, charset, line);
		length = strlen(bytes);
	}
	desk_scan(seat->desk, bytes, length);
}

static void line_take(struct seat *seat)
{
	text_add(&seat->echo, "\n");
	echo_out(seat);
	if (seat->typed.too_long) {
		desk_refuse_length(seat->desk);
	} else {
		line_scan(seat);
	}
	typed_clear(&seat->typed);
	arena_reset(seat->desk->arena);
	seat->echo = text_start(seat->desk->arena);
	if (!seat->desk->leaving) {
		prompt_show(seat);
	}
}

static void byte_take(struct seat *seat, char byte)
{
	switch (typed_take(&seat->typed, byte, &seat->echo)) {
	case TYPED_MORE:
		break;
	case TYPED_LINE:
		line_take(seat);
		break;
	case TYPED_LEAVE:
		text_add(&seat->echo, "\n");
		seat->desk->leaving = true;
		break;
	case TYPED_AGAIN:
		text_add(&seat->echo, "\n");
		echo_out(seat);
		prompt_show(seat);
		break;
	}
}

/* What stands behind the line that left is the next command's. */
static void block_take(struct seat *seat, const char *block, size_t length)
{
	size_t taken = 0;
	while (taken < length && !seat->desk->leaving) {
		byte_take(seat, block[taken++]);
	}
	if (taken > 0 && taken < length && block[taken - 1] == '\r' && block[taken] == '\n') {
		taken++;
	}
	echo_out(seat);
	lines_give_back(block + taken, length - taken);
}

static void block_read(struct seat *seat)
{
	char block[BLOCK];
	ssize_t count = read(STDIN_FILENO, block, sizeof block);
	if (count > 0) {
		block_take(seat, block, (size_t)count);
	} else {
		seat->desk->leaving = count == 0 || (errno != EINTR && errno != EAGAIN);
	}
}

/* What was typed behind the line that began the bench, where that was read already. */
static void ahead_take(struct seat *seat)
{
	char block[BLOCK];
	size_t length = 0;
	while (!seat->desk->leaving && (length = lines_take_back(block, sizeof block)) > 0) {
		block_take(seat, block, length);
	}
}

/* ---------------------------------------------------------------- waiting */

/* Ctrl-C: the line is given up, and a fresh one begun. */
static void line_give_up(struct seat *seat)
{
	typed_clear(&seat->typed);
	show(seat, "^C\n");
	prompt_show(seat);
}

static void signals_look(struct seat *seat)
{
	if (signals_took(SIGINT)) {
		line_give_up(seat);
	}
	if (signals_took(SIGTSTP)) {
		show(seat, "\n");
		keyboard_stop();
		signals_took(SIGCONT);
		prompt_show(seat);
	}
	if (signals_took(SIGCONT)) {
		keyboard_again();
		show(seat, "\n");
		prompt_show(seat);
	}
}

/* Until when nothing happens of itself. */
static const struct timespec *time_left(const struct desk *desk, struct timespec *out)
{
	int64_t wakes = bench_wakes(desk->bench);
	if (wakes == INT64_MAX) {
		return NULL;
	}
	int64_t clock = desk_clock(desk);
	int64_t left = wakes > clock ? wakes - clock : 0;
	*out = (struct timespec){.tv_sec = left / 1000, .tv_nsec = left % 1000 * 1000000};
	return out;
}

/* The prompt comes anew where something was said, or where it would say something else. */
static void quiet_pass(struct seat *seat)
{
	const char *before = arena_copy(seat->desk->arena, bench_prompt(seat->desk->bench));
	desk_quiet(seat->desk, "\n");
	if (strcmp(before, bench_prompt(seat->desk->bench)) != 0) {
		show(seat, "\r");
		prompt_show(seat);
	}
}

/* What was scanned before a signal came is taken first. */
static void wait_for_input(struct seat *seat)
{
	struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
	struct timespec left;
	int ready = ppoll(&input, 1, time_left(seat->desk, &left), &seat->desk->signals.waiting);
	if (ready < 0) {
		ready = poll(&input, 1, 0);
	}
	if (ready > 0) {
		block_read(seat);
	} else if (bench_wakes(seat->desk->bench) <= desk_clock(seat->desk)) {
		quiet_pass(seat);
	}
	if (!seat->desk->leaving) {
		signals_look(seat);
	}
	arena_reset(seat->desk->arena);
	seat->echo = text_start(seat->desk->arena);
}

/* ---------------------------------------------------------------- from beginning to end */

void desk_sit(struct desk *desk)
{
	static const int held[] = {SIGINT, SIGTERM, SIGHUP, SIGCONT, SIGTSTP};
	struct console *console = desk->call->console;
	signals_hold(&desk->signals, held, COUNT_OF(held));
	desk->taken = keyboard_open();
	desk->at_prompt = console->at_prompt;
	console->at_prompt = true;
}

void desk_rise(struct desk *desk)
{
	if (desk->taken) {
		keyboard_close();
	}
	signals_release(&desk->signals);
	desk->call->console->at_prompt = desk->at_prompt;
}

void desk_at_terminal(struct desk *desk)
{
	struct seat *seat = arena_take(desk->lasting, 1, sizeof *seat);
	seat->desk = desk;
	seat->echo = text_start(desk->arena);
	prompt_show(seat);
	ahead_take(seat);
	while (!desk->leaving && !signals_end()) {
		wait_for_input(seat);
	}
	if (signals_end()) {
		show(seat, "\n");
		desk->call->console->leaving = true;
	}
}
