/* The console on a terminal. The only file that knows readline. */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <readline/history.h>
#include <readline/readline.h>

#include "answer.h"
#include "charset.h"
#include "completion.h"
#include "directories.h"
#include "line_reader.h"
#include "signals.h"
#include "terminal.h"
#include "toothrack/version.h"

#define HISTORY_LINES 2000
/* GS, that scanners send within a code; to readline it would be a command. */
#define GROUP_SEPARATOR 0x1d

/* readline calls back without a context: there is one console. */
static struct console *reading;
static struct completion offered;
static const char *history_path; /* NULL: lines are not kept */
static bool finished;

/* Bytes that a command had read already, of lines behind its own. */
static char *ahead;
static size_t ahead_length, ahead_taken;

/* ---------------------------------------------------------------- Tab */

/* Did the user's inputrc ask that the case of what was typed counts? */
static bool case_counts(void)
{
	const char *ignored = rl_variable_value("completion-ignore-case");
	return ignored != NULL && strcmp(ignored, "off") == 0;
}

static char *next_word(const char *text, int state)
{
	static size_t index;
	index = state == 0 ? 0 : index;
	while (index < offered.count) {
		const char *word = charset_write(reading->arena, charset_local(), offered.words[index++]);
		if (!case_counts() || strncmp(word, text, strlen(text)) == 0) {
			return strdup(word);
		}
	}
	return NULL;
}

static char *next_file(const char *text, int state)
{
	(void)text;
	char *name = rl_filename_completion_function(offered.start, state);
	if (name == NULL) {
		return NULL;
	}
	/* Of a whole word readline knows itself that it is a folder, and marks it so. */
	struct stat status;
	bool folder = offered.prefix[0] != '\0' && stat(name, &status) == 0 && S_ISDIR(status.st_mode);
	char *word = NULL;
	if (asprintf(&word, "%s%s%s", offered.prefix, name, folder ? "/" : "") < 0) {
		word = NULL;
	}
	free(name);
	return word;
}

/* Broken between words, as the lines of an answer are. */
static const char *hint_lines(struct arena *arena, const char *hint)
{
	struct answer *answer = answer_new(arena, FORM_TEXT, UNITS_METRIC);
	answer->width = terminal_width_of(fileno(rl_outstream));
	answer->charset = charset_local();
	answer_line(answer, MARK_PLAIN, "%s", hint);
	return charset_write(arena, charset_local(), answer_finish(answer));
}

/* A sentence below the line, which stands below it anew. */
static void hint_show(struct arena *arena, const char *hint)
{
	int point = rl_point;
	if (hint[0] == '\0') {
		return;
	}
	/* A long line takes several of the terminal: from its end on is what is free. */
	rl_point = rl_end;
	rl_redisplay();
	rl_point = point;
	fprintf(rl_outstream, "\n%s", hint_lines(arena, hint));
	rl_on_new_line();
}

static char **complete(const char *text, int start, int end)
{
	(void)end;
	rl_attempted_completion_over = 1;
	arena_reset(reading->arena);
	struct arena *arena = reading->arena;
	const char *charset = charset_local();
	const char *before = arena_copy_bytes(arena, rl_line_buffer, (size_t)start);
	before = charset_read(arena, charset, before);
	const char *partial = charset_read(arena, charset, arena_copy(arena, text));
	completion_find(reading, arena, before, partial, &offered);
	char **matches = rl_completion_matches(text, offered.files ? next_file : next_word);
	if (matches == NULL) {
		hint_show(arena, completion_hint(reading, arena, before, partial));
	}
	if (matches != NULL && matches[0][0] != '\0') {
		/* A key waits for its value, a folder for what is in it. */
		char last = matches[0][strlen(matches[0]) - 1];
		rl_completion_suppress_append = last == '=' || last == '/' ? 1 : 0;
	}
	return matches;
}

/* ---------------------------------------------------------------- history */

/*
 * The file is made first, so that nobody else can read it. Where that fails, lines are just not
 * kept.
 */
static void history_open(struct console *console)
{
	using_history();
	stifle_history(HISTORY_LINES);
	const char *folder = directory_of(console->lasting, "XDG_STATE_HOME", ".local/state");
	if (folder == NULL) {
		return;
	}
	folder = arena_format(console->lasting, "%s/toothrack", folder);
	const char *path = arena_format(console->lasting, "%s/history", folder);
	if (!directory_make(folder)) {
		return;
	}
	int file = open(path, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, S_IRUSR | S_IWUSR);
	if (file < 0) {
		return;
	}
	bool ours = fchmod(file, S_IRUSR | S_IWUSR) == 0;
	close(file);
	if (ours) {
		read_history(path);
		history_path = path;
	}
}

/* Scans come by the hundred, and nobody wants one again. */
static bool is_scan(const char *line)
{
	struct tag tag;
	return tag_read(line, &tag) != TAG_NOT_OURS;
}

/* Kept at once: another console, or the next after a power cut, finds it. */
static void history_keep(const char *line)
{
	HIST_ENTRY *last = history_length > 0 ? history_get(history_base + history_length - 1) : NULL;
	if (line[strspn(line, " \t")] == '\0' || is_scan(line) ||
	    (last != NULL && strcmp(last->line, line) == 0)) {
		return;
	}
	add_history(line);
	if (history_path != NULL) {
		append_history(1, history_path);
	}
}

static void history_close(void)
{
	if (history_path != NULL) {
		history_truncate_file(history_path, HISTORY_LINES);
		history_path = NULL;
	}
	clear_history();
}

/* ---------------------------------------------------------------- lines */

/*
 * `toothrack> `, or with the jobs whose booking something has broken: read each time it is drawn,
 * for another console may have done it. Where the shop cannot be read a command will say so.
 */
static const char *prompt(void)
{
	static char text[48];
	struct fault unsaid;
	struct store *store;
	int64_t count = 0;
	fault_clear(&unsaid);
	if (console_store(reading, NEEDS_READ, &store, &unsaid) != OUTCOME_DONE ||
	    store_risk_count(store, console_now(reading), &count, &unsaid) != OUTCOME_DONE) {
		count = 0;
	}
	if (count > 0) {
		snprintf(text, sizeof text, "toothrack, %lld at risk> ", (long long)count);
	}
	return count > 0 ? text : "toothrack> ";
}

static void line_take(char *line)
{
	if (line == NULL) {
		fputs("\n", rl_outstream);
		finished = true;
	} else {
		struct arena *arena = arena_new();
		history_keep(line);
		console_run_line(reading, charset_read(arena, charset_local(), line));
		arena_free(arena);
		finished = reading->leaving || reading->reader_gone;
	}
	free(line);
	if (finished) {
		rl_callback_handler_remove();
	} else {
		rl_set_prompt(prompt());
	}
}

/* Ctrl-C: the line is given up, and a fresh one begun. */
static void line_give_up(void)
{
	rl_free_line_state();
	rl_callback_sigcleanup();
	rl_callback_handler_remove();
	fputs("^C\n", rl_outstream);
	rl_callback_handler_install(prompt(), line_take);
}

void lines_give_back(const char *bytes, size_t length)
{
	size_t left = ahead_length - ahead_taken;
	char *kept = length > 0 ? malloc(length + left) : NULL;
	if (kept != NULL) {
		memcpy(kept, bytes, length);
		if (left > 0) {
			memcpy(kept + length, ahead + ahead_taken, left);
		}
		free(ahead);
		ahead = kept;
		ahead_length = length + left;
		ahead_taken = 0;
	}
}

size_t lines_take_back(char *bytes, size_t room)
{
	size_t left = ahead_length - ahead_taken;
	size_t length = left < room ? left : room;
	if (length > 0) {
		memcpy(bytes, ahead + ahead_taken, length);
		ahead_taken += length;
	}
	return length;
}

/* A byte that was read ahead, as if it came from the terminal now. */
static void take_ahead(void)
{
	char byte = ahead[ahead_taken++];
	/* The terminal would have made one of the other. */
	rl_stuff_char(byte == '\n' ? '\r' : (unsigned char)byte);
	rl_callback_read_char();
}

static void wait_for_input(const sigset_t *waiting)
{
	struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
	if (ppoll(&input, 1, NULL, waiting) > 0) {
		rl_callback_read_char();
	}
	if (signals_took(SIGINT)) {
		line_give_up();
	}
	if (signals_took(SIGCONT)) {
		rl_prep_terminal(1);
		rl_forced_update_display();
	}
}

static void reader_open(struct console *console)
{
	reading = console;
	console->at_prompt = true;
	finished = false;
	rl_readline_name = "toothrack";
	rl_catch_signals = 0;
	rl_change_environment = 0;
	rl_outstream = isatty(STDOUT_FILENO) == 1 ? stdout : stderr;
	rl_completer_word_break_characters = " \t";
	rl_attempted_completion_function = complete;
	/* Before the user's own inputrc is read, which so has the last word. */
	rl_variable_bind("show-all-if-ambiguous", "on");
	rl_variable_bind("completion-ignore-case", "on");
	/* Lines pasted together are lines one after the other. */
	rl_variable_bind("enable-bracketed-paste", "off");
	rl_bind_key(GROUP_SEPARATOR, rl_insert);
	rl_initialize();
	history_open(console);
}

enum outcome lines_from_terminal(struct console *console)
{
	static const int held[] = {SIGINT, SIGTERM, SIGHUP, SIGCONT};
	struct signals signals;
	reader_open(console);
	fprintf(rl_outstream,
	        "toothrack %s, the tool room's inventory. Type help for the commands, quit to leave.\n",
	        toothrack_version);
	signals_hold(&signals, held, COUNT_OF(held));
	rl_callback_handler_install(prompt(), line_take);
	while (!finished && !signals_end()) {
		if (ahead_taken < ahead_length) {
			take_ahead();
		} else {
			wait_for_input(&signals.waiting);
		}
	}
	if (!finished) {
		rl_callback_handler_remove();
	}
	history_close();
	signals_release(&signals);
	free(ahead);
	ahead = NULL;
	ahead_length = 0;
	ahead_taken = 0;
	return OUTCOME_DONE;
}
