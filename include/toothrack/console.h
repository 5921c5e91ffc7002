/* The top floor: reading what is typed, the command table, and writing answers. */
#ifndef TOOTHRACK_CONSOLE_H
#define TOOTHRACK_CONSOLE_H

#include <stdio.h>

#include "toothrack/store.h"

/* ------------------------------------------------------------------ commands */

/* What a word of a command is: what Tab offers, help says and the dispatcher checks. */
enum argument_type {
	ARGUMENT_TEXT,
	ARGUMENT_TAG,           /* any record */
	ARGUMENT_TAG_OR_CHOICE, /* any record, or first a word of its choices */
	ARGUMENT_TOOL,
	ARGUMENT_PLACE,
	ARGUMENT_SUPPLIER,  /* a place that is one */
	ARGUMENT_OWN_PLACE, /* a place that is none */
	ARGUMENT_PRESS,
	ARGUMENT_JOB,
	ARGUMENT_KIND,
	ARGUMENT_KIND_OR_WORD, /* a kind, or already the first of the words that follow */
	ARGUMENT_FILE,
	ARGUMENT_STOCK, /* a stock of tags that the program carries, or another of the shop's */
	ARGUMENT_MOMENT,
	ARGUMENT_CHOICE,
	ARGUMENT_SETTING,
	ARGUMENT_SETTING_VALUE,
	ARGUMENT_TOPIC, /* of calc */
	ARGUMENT_COMMAND,
	ARGUMENT_ATTRIBUTES, /* key=value of the kind named before, or of the calc topic; `choices`: of
	                        these attributes alone, and all may be left out */
};
struct argument {
	const char *name;
	enum argument_type type;
	bool keyed; /* `name=value` rather than a bare word */
	bool required;
	bool repeated;              /* one or more */
	const char *const *choices; /* for ARGUMENT_CHOICE, ends with NULL */
	const char *meaning;
	const char *usage; /* what stands for its value in `key=VALUE`; NULL: by its type */
};

/* What a command needs of the store; the dispatcher provides it. */
enum command_store { NEEDS_NO_STORE, NEEDS_READ, NEEDS_WRITE, NEEDS_MAKE };
/* Who may give it, where an operator is known. */
enum role { ROLE_ANY, ROLE_SUPERVISOR };

struct call;
struct command {
	const char *name;
	const char *summary; /* one line, lower case, no full stop */
	const char *more;    /* what help adds, or NULL */
	const struct argument *arguments;
	size_t argument_count;
	enum command_store needs;
	enum role role;
	const char *const
		*examples; /* whole lines that work as they stand on the demo shop, ends with NULL */
	enum outcome (*run)(struct call *call);
	/*
	 * The arguments that make it write, ends with NULL: without any of them the command only reads,
	 * whoever asks. NULL: `needs` and `role` always hold.
	 */
	const char *const *writes_with;
	/* The first word behind which stands what `find` takes, beside its own keys; NULL: none. */
	const char *asks_as_find;
};
extern const struct command *const commands[];
extern const size_t command_count;
const struct command *command_find(const char *name);
/* `put TAG... at=PLACE`, made from the arguments. */
const char *command_usage(struct arena *arena, const struct command *command);

/* A word as it was typed: bare, or `key=value`. */
struct word {
	const char *text; /* the whole word */
	const char *key;  /* NULL for a bare one */
	const char *value;
};

/* One call of a command: what its function gets. All texts live in the arena. */
struct call {
	const struct command *command;
	const struct word *words; /* checked against the command's arguments */
	size_t word_count;
	struct arena *arena;
	struct store *store; /* NULL where the command needs none */
	struct actor actor;
	struct moment now;
	enum units units;
	struct limits limits; /* the shop's, or the defaults without a store */
	struct answer *answer;
	struct fault *fault;
	struct console *console; /* for help and quit */
};
/* The bare words given, in order; NULL past the last. */
const char *call_bare(const struct call *call, size_t index);
size_t call_bare_count(const struct call *call);
/* The value of `key=value`, or NULL. */
const char *call_value(const struct call *call, const char *key);

/* ------------------------------------------------------------------ answers */

/*
 * The answer of one command, written in the form asked. A command fills it through these functions
 * and knows neither colour nor column. JSON: one object or one array. CSV: the table, or the one
 * object as one row. Text: lines and aligned tables for people.
 */
enum answer_form { FORM_TEXT, FORM_JSON, FORM_CSV };
enum answer_mark { MARK_PLAIN, MARK_GOOD, MARK_CAUTION, MARK_BAD, MARK_STRONG, MARK_DIM };
struct answer;

enum answer_form answer_form(const struct answer *answer);
/*
 * False once nobody reads the answer any more, or it cannot be written: a command with many rows
 * may stop. What it says then goes nowhere.
 */
bool answer_is_wanted(const struct answer *answer);

/* --- the data: goes to JSON, and to CSV for a flat object or array of flat objects --- */
void answer_object_open(struct answer *answer,
                        const char *key); /* key NULL within an array or at the top */
void answer_object_close(struct answer *answer);
void answer_array_open(struct answer *answer, const char *key);
void answer_array_close(struct answer *answer);
void answer_word(struct answer *answer, const char *key,
                 const char *text); /* NULL text gives null */
void answer_count(struct answer *answer, const char *key, int64_t count);
void answer_number(struct answer *answer, const char *key, double number,
                   int decimals); /* rounded half away from zero */
void answer_yes_no(struct answer *answer, const char *key, bool yes);
void answer_null(struct answer *answer, const char *key);
void answer_moment(struct answer *answer, const char *key,
                   struct moment moment); /* UTC; a date as it is */
/*
 * An attribute under the key the vocabulary gives its type (`face_mm`, `volume_cm3_m2`,
 * `line_screen_per_cm`, ...). Unknown: null.
 */
void answer_value(struct answer *answer, const char *attribute, const struct value *value);

/* --- the text: only for people, in FORM_TEXT; ignored in the other forms --- */
/* One line (wrapped at the terminal's width with the continuation indented below its start). */
void answer_line(struct answer *answer, enum answer_mark mark, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
void answer_blank(struct answer *answer);
/*
 * A table: columns by name (`>` in front of a name aligns right), then rows of as many cells (NULL:
 * blank), then the end, which lays it out.
 */
void answer_table_open(struct answer *answer, const char *const *columns, size_t count);
void answer_table_row(struct answer *answer, enum answer_mark mark, const char *const *cells);
void answer_table_close(struct answer *answer);

/* ------------------------------------------------------------------ made while building */

/* The manual page, in man(7) macros. In the arena. */
const char *manual_page(struct arena *arena);
/* What bash is told of commands, keys and their values, for src/completion.bash. In the arena. */
const char *shell_words(struct arena *arena);

/* ------------------------------------------------------------------ the program */

/* What main was told. */
struct options {
	const char *db; /* NULL: TOOTHRACK_DB, else under XDG_DATA_HOME */
	enum answer_form form;
	bool units_given;
	enum units units;
	const char *as;     /* operator, or NULL */
	bool help, version; /* asked for in place of a command */
};

/*
 * Runs a command from arguments, the lines of standard input, or the console on a terminal. Returns
 * the exit code.
 */
int console_main(int argument_count, char **arguments);

#endif
