/* The ground floor: memory of one command, growing text, and faults. Every room may call it. */
#ifndef TOOTHRACK_BASE_H
#define TOOTHRACK_BASE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#define COUNT_OF(array) (sizeof(array) / sizeof((array)[0]))

/* What became of a request; the numbers are the program's exit codes. */
enum outcome {
	OUTCOME_DONE = 0,  /* done, or the answer is yes */
	OUTCOME_NO = 1,    /* the answer is no: short, none found, refused by the tool's state */
	OUTCOME_BAD = 2,   /* the request is wrong: unknown word, bad value, missing file */
	OUTCOME_STORE = 3, /* the store cannot serve: locked, full, damaged, no permission */
};

/*
 * Why a request failed. The caller owns it; the layers below fill it and never print it.
 * `sentence` is lower case, noun first, the offending value after a colon, no full stop.
 * `hint` is empty or one sentence that names what to type.
 */
struct fault {
	enum outcome outcome;
	char sentence[1024];
	char hint[512];
};

/* Empties the fault. */
void fault_clear(struct fault *fault);

/*
 * Fills the fault unless it already holds one (the first fault is kept), and returns the outcome,
 * so that a function can end with `return fault_set(...)`. Control characters in the text are shown
 * as `\xNN`, so that a value typed by anybody can be quoted harmlessly; what is too long ends in
 * "...". `fault` may be NULL.
 */
enum outcome fault_set(struct fault *fault, enum outcome outcome, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* Adds the hint, unless there is one already. `fault` may be NULL. */
void fault_hint(struct fault *fault, const char *format, ...) __attribute__((format(printf, 2, 3)));

/*
 * Asks for the heap in pages of 2 MB, so that a process which runs for some milliseconds does not
 * spend them on being given its memory 4 KB at a time: in a virtual machine a page may cost 10 us
 * and more. Called once, at the start; where the system knows no large pages it does nothing.
 */
void heap_prepare(void);

/*
 * Memory of one command. Everything taken lives until the arena is reset or freed; nothing is freed
 * by hand. Where the system has no memory left the program says so and stops: the store loses
 * nothing by that.
 */
struct arena;

struct arena *arena_new(void);
void arena_free(struct arena *arena); /* takes NULL */

/* Gives back all that was taken, keeping one block for the next use. */
void arena_reset(struct arena *arena);

/* Bytes that the arena holds of the system's memory. */
size_t arena_bytes(const struct arena *arena);

/* `count` zeroed things of `size` bytes, aligned for any type. */
void *arena_take(struct arena *arena, size_t count, size_t size);

/*
 * A copy of `old` (old_count things) with room for new_count, for arrays that grow. The old one
 * stays until the arena is reset: double the room each time.
 */
void *arena_grow(struct arena *arena, const void *old, size_t old_count, size_t new_count,
                 size_t size);

char *arena_copy(struct arena *arena, const char *text);                      /* NULL gives NULL */
char *arena_copy_bytes(struct arena *arena, const char *bytes, size_t count); /* adds a NUL */
char *arena_format(struct arena *arena, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* A text that grows in an arena. `bytes` always ends in NUL and is never NULL. */
struct text {
	struct arena *arena;
	char *bytes;
	size_t length;
	size_t room;
};

struct text text_start(struct arena *arena);
void text_add(struct text *text, const char *more);
void text_add_bytes(struct text *text, const char *bytes, size_t count);
void text_add_blanks(struct text *text, size_t count);
void text_add_format(struct text *text, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* Adds `separator` first where the text is not empty: "a, b, c". */
void text_join(struct text *text, const char *separator, const char *more);

/* ASCII only, whatever the locale: words of ours are ASCII. */
bool text_equal_fold(const char *a, const char *b);

/* Does the text contain the part? Letters of any language that the locale knows, in either case. */
bool text_holds_fold(const char *text, const char *part);
/*
 * Does it begin with a control that turns the direction of writing, U+202A to U+202E and U+2066 to
 * U+2069, or ends a line, U+2028 and U+2029? With them a text reads otherwise than it is.
 */
bool text_turns(const char *text);
/* Has it a letter or a digit, of any language that the locale knows? */
bool text_has_letter(const char *text);

/*
 * The candidate nearest to `word` by edits (insert, remove, change, swap of neighbours), if it is
 * near enough to be meant: at most a third of its length, at least one. NULL where none is.
 * `candidates` ends with NULL.
 */
const char *text_nearest(const char *word, const char *const *candidates);

/*
 * A file that is there whole or as it was before: what is written to `file` lies beside it until it
 * is closed, is then made lasting, and gets its name. A link is followed to what it names.
 */
struct whole_file {
	const char *path; /* as typed, for messages */
	const char *real; /* where it lies */
	char *part;       /* what is written meanwhile */
	FILE *file;
};
/*
 * OUTCOME_BAD where no such file can be written, OUTCOME_STORE where the disk is full; nothing is
 * open then. Of what is no plain file the caller says in a hint of its own what to do.
 */
enum outcome whole_file_open(struct arena *arena, const char *path, struct whole_file *out,
                             struct fault *fault);
/* `error`: what went wrong while writing, as errno tells it, 0 for nothing. Else as it is opened.
 */
enum outcome whole_file_close(struct arena *arena, struct whole_file *file, int error,
                              struct fault *fault);
/* Nothing of it is left; what was there before stays. */
void whole_file_drop(struct whole_file *file);

#endif
