/* The scanning bench at the console: a line in, its answer out, whatever they come from. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "bench_desk.h"
#include "charset.h"
#include "terminal.h"
#include "typed.h"

static int64_t clock_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_BOOTTIME, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

int64_t desk_clock(const struct desk *desk)
{
	return clock_ms() - desk->opened;
}

/* ---------------------------------------------------------------- what is said */

/* Never through a pager: whoever scans is still at work. */
static bool sink_take(void *context, const char *bytes)
{
	struct desk *desk = context;
	const char *shown = charset_write(desk->held, desk->answer->charset, bytes);
	struct console *console = desk->call->console;
	desk->printed = console_print(console, shown, &desk->unwritten);
	return desk->printed == OUTCOME_DONE && !console->reader_gone;
}

static const char *tone_word(enum bench_tone tone)
{
	switch (tone) {
	case BENCH_DONE:
		return "done";
	case BENCH_SHOWN:
		return "shown";
	case BENCH_REFUSED:
		break;
	}
	return "refused";
}

static void line_write(struct answer *answer, const struct bench_line *line)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "answer", tone_word(line->tone));
	answer_word(answer, "text", line->text);
	answer_word(answer, "hint", line->hint);
	answer_word(answer, "caution", line->caution);
	answer_word(answer, "handling", line->handling);
	answer_count(answer, "tools", (int64_t)line->tools);
	if (line->entry > 0) {
		answer_count(answer, "entry", line->entry);
	} else {
		answer_null(answer, "entry");
	}
	answer_object_close(answer);
}

static void line_say(struct desk *desk, const struct bench_line *line)
{
	bool refused = line->tone == BENCH_REFUSED;
	enum answer_mark mark = refused ? MARK_BAD : line->tone == BENCH_DONE ? MARK_GOOD : MARK_PLAIN;
	answer_line(desk->answer, mark, "%s%s", refused ? "refused: " : "", line->text);
	if (line->caution != NULL) {
		answer_line(desk->answer, MARK_CAUTION, "  caution: %s", line->caution);
	}
	if (line->hint != NULL) {
		answer_line(desk->answer, MARK_PLAIN, "  %s", line->hint);
	}
	if (line->handling != NULL) {
		answer_line(desk->answer, MARK_DIM, "  handling: %s", line->handling);
	}
}

/* Where answers are not what a person at the terminal reads, as every command refuses. */
static void line_refuse(struct desk *desk, const struct bench_line *line)
{
	struct fault fault;
	fault_clear(&fault);
	fault_set(&fault, line->outcome, "%s", line->text);
	if (line->hint != NULL) {
		fault_hint(&fault, "%s", line->hint);
	}
	console_refuse(desk->call->console, &fault);
}

static void answer_say(struct desk *desk, const struct bench_answer *answer)
{
	bool bell = false;
	for (size_t i = 0; i < answer->count; i++) {
		const struct bench_line *line = &answer->lines[i];
		bool refused = line->tone == BENCH_REFUSED;
		bell = bell || refused;
		desk->highest = line->outcome > desk->highest ? line->outcome : desk->highest;
		line_write(desk->answer, line);
		if (!refused || desk->in_order) {
			line_say(desk, line);
		}
	}
	if (bell && desk->screen != NULL) {
		fputs("\a", desk->screen);
		fflush(desk->screen);
	}
	answer_flush(desk->answer);
	for (size_t i = 0; i < answer->count && !desk->in_order; i++) {
		if (answer->lines[i].tone == BENCH_REFUSED) {
			line_refuse(desk, &answer->lines[i]);
		}
	}
	if (desk->screen == NULL && desk->highest == OUTCOME_STORE) {
		desk->leaving = true;
	}
	desk->leaving = desk->leaving || answer->leave || desk->call->console->reader_gone;
}

/* ---------------------------------------------------------------- lines */

void desk_quiet(struct desk *desk, const char *before)
{
	struct bench_answer answer = {0};
	int64_t clock = desk_clock(desk);
	if (clock < bench_wakes(desk->bench)) {
		return;
	}
	bench_quiet(desk->bench, clock, console_now(desk->call->console), &answer);
	if (answer.count > 0 && desk->screen != NULL) {
		fputs(before, desk->screen);
		fflush(desk->screen);
	}
	answer_say(desk, &answer);
}

void desk_scan(struct desk *desk, const char *bytes, size_t length)
{
	struct bench_answer answer = {0};
	desk_quiet(desk, "");
	bench_scan(desk->bench, bytes, length, desk_clock(desk), console_now(desk->call->console),
	           &answer);
	answer_say(desk, &answer);
}

void desk_refuse_length(struct desk *desk)
{
	struct bench_line line = {
		.tone = BENCH_REFUSED,
		.outcome = OUTCOME_BAD,
		.text =
			arena_format(desk->arena, "line is longer than %d bytes, it is no scan", TYPED_MOST),
		.hint = "Scan one code after another, each with CR or TAB behind it.",
	};
	answer_say(desk, &(struct bench_answer){.lines = &line, .count = 1});
}

/* Leaving: what still waits, said. */
static void desk_finish(struct desk *desk)
{
	struct bench_answer answer = {0};
	bench_finish(desk->bench, console_now(desk->call->console), &answer);
	answer_say(desk, &answer);
}

/* ---------------------------------------------------------------- lines of standard input */

/* A line of the input may hold several of a scanner's, each ended by TAB or CR. */
static void parts_scan(struct desk *desk, struct typed *typed, const char *line, size_t length)
{
	struct text echo = text_start(desk->arena);
	for (size_t i = 0; i < length && !desk->leaving; i++) {
		if (typed_take(typed, line[i], &echo) != TYPED_LINE) {
			continue;
		}
		if (typed->too_long) {
			desk_refuse_length(desk);
		} else {
			desk_scan(desk, typed->bytes, typed->length);
		}
	}
}

static void refuse_input(struct desk *desk)
{
	struct bench_line line = {
		.tone = BENCH_REFUSED,
		.outcome = OUTCOME_BAD,
		.text = "standard input cannot be read",
		.hint = "Give a file or a pipe of scans, one a line.",
	};
	answer_say(desk, &(struct bench_answer){.lines = &line, .count = 1});
}

/* Bytes of the mark that some programs set before a text in UTF-8. */
static size_t mark_length(const char *line, size_t length)
{
	return length >= 3 && memcmp(line, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

static void desk_at_input(struct desk *desk)
{
	struct console *console = desk->call->console;
	struct typed *typed = arena_take(desk->lasting, 1, sizeof *typed);
	bool all = console->line == 0; /* of the input is ours: no command stands before it or behind */
	char *line = NULL;
	size_t room = 0;
	while (!desk->leaving) {
		ssize_t length = getline(&line, &room, stdin);
		if (length < 0) {
			break;
		}
		console->line++;
		size_t mark = all && console->line == 1 ? mark_length(line, (size_t)length) : 0;
		parts_scan(desk, typed, line + mark, (size_t)length - mark);
		if (!desk->leaving && line[length - 1] != '\n') {
			parts_scan(desk, typed, "\n", 1);
		}
		arena_reset(desk->arena);
	}
	console->line = all ? 0 : console->line;
	if (ferror(stdin) != 0) {
		refuse_input(desk);
	}
	free(line);
}

/* ---------------------------------------------------------------- from beginning to end */

static void desk_open(struct desk *desk, struct call *call)
{
	bool seated = isatty(STDIN_FILENO) == 1;
	bool shows = terminal_shows();
	*desk = (struct desk){.call = call, .sink = {.take = sink_take, .context = desk}};
	desk->lasting = arena_new();
	desk->held = arena_new();
	desk->arena = arena_new();
	desk->in_order = seated && shows && answer_form(call->answer) == FORM_TEXT;
	if (seated && (shows || isatty(STDERR_FILENO) == 1)) {
		desk->screen = shows ? stdout : stderr;
	}
	if (desk->screen != NULL) {
		desk_sit(desk);
	}
	fault_clear(&desk->unwritten);
	desk->answer = answer_new(desk->lasting, answer_form(call->answer), call->units);
	desk->answer->width = terminal_width();
	desk->answer->colour = terminal_colour();
	desk->answer->charset = shows ? charset_local() : NULL;
	answer_stream(desk->answer, desk->held, &desk->sink);
	answer_array_open(desk->answer, NULL);
	desk->opened = clock_ms();
	desk->bench = bench_open(call->store, &bench_asks, &call->actor, &call->limits);
}

/* What is left of the answer, then all of it is given up. */
static enum outcome desk_close(struct desk *desk)
{
	enum outcome outcome = desk->highest;
	if (desk->screen != NULL && outcome != OUTCOME_STORE) {
		/* Whoever scanned was told, and has put it right. */
		outcome = OUTCOME_DONE;
	}
	answer_array_close(desk->answer);
	if (!desk->answer->unwanted) {
		sink_take(desk, answer_finish(desk->answer));
	}
	if (desk->printed != OUTCOME_DONE) {
		*desk->call->fault = desk->unwritten;
		outcome = desk->printed;
	}
	bench_close(desk->bench);
	if (desk->screen != NULL) {
		desk_rise(desk);
	}
	arena_free(desk->arena);
	arena_free(desk->held);
	arena_free(desk->lasting);
	return outcome;
}

/* Begins with a count; refused, nothing else begins. */
static enum outcome count_begin(struct desk *desk, const char *place)
{
	struct bench_answer answer = {0};
	enum outcome outcome = bench_count(desk->bench, place, desk_clock(desk),
	                                   console_now(desk->call->console), &answer);
	for (size_t i = 0; outcome != OUTCOME_DONE && i < answer.count; i++) {
		fault_set(desk->call->fault, outcome, "%s", answer.lines[i].text);
		if (answer.lines[i].hint != NULL) {
			fault_hint(desk->call->fault, "%s", answer.lines[i].hint);
		}
	}
	if (outcome == OUTCOME_DONE) {
		answer_say(desk, &answer);
	}
	return outcome;
}

static void welcome(struct desk *desk)
{
	answer_line(desk->answer, MARK_PLAIN,
	            "scanning bench: scan your badge, then places, jobs, tools and cards; quit or "
	            "Ctrl-D leaves");
	answer_flush(desk->answer);
}

enum outcome bench_run(struct call *call, const char *count_place)
{
	struct desk desk;
	desk_open(&desk, call);
	if (desk.in_order) {
		welcome(&desk);
	}
	enum outcome begun = count_place != NULL ? count_begin(&desk, count_place) : OUTCOME_DONE;
	if (begun == OUTCOME_DONE) {
		if (desk.screen != NULL) {
			desk_at_terminal(&desk);
		} else {
			desk_at_input(&desk);
		}
		desk_finish(&desk);
	}
	enum outcome outcome = desk_close(&desk);
	return begun != OUTCOME_DONE ? begun : outcome;
}
