/* A batch of a handheld under way, and its parts: the lines of the file, what is reported. */
#ifndef TOOTHRACK_ROOM_BATCH_H
#define TOOTHRACK_ROOM_BATCH_H

#include "bench.h"

/* ---- batch_file.c: the lines of a file, however long that is ---- */

#define BATCH_LINE_LONGEST 1000 /* a moment and a code take no tenth of it */
#define BATCH_READ_AT_ONCE 65536

enum batch_read {
	BATCH_LINE,  /* a whole line */
	BATCH_TORN,  /* the last one, without a line end */
	BATCH_LONG,  /* longer than any line of ours: its beginning */
	BATCH_END,   /* there is no more */
	BATCH_FAILED /* `error` says why */
};
struct batch_file {
	int descriptor;
	int error;
	int64_t number; /* of the line read last, from 1 */
	char line[BATCH_LINE_LONGEST + 1];
	size_t length;
	bool has_nul;  /* the line does */
	bool after_cr; /* a LF that comes next belongs to the line before */
	size_t at, held;
	char bytes[BATCH_READ_AT_ONCE];
};
/* OUTCOME_BAD where it cannot be read or is no text. Closed by batch_file_close in any case. */
enum outcome batch_file_open(struct batch_file *file, const char *path, struct fault *fault);
enum batch_read batch_file_next(struct batch_file *file);
void batch_file_close(struct batch_file *file);

/* What stands on a line. */
struct batch_cells {
	const char *moment, *code; /* in the arena; NULL moment: nothing to apply stands there */
};
/* OUTCOME_BAD where it is not two cells; the fault says how. */
enum outcome batch_cells_read(struct arena *arena, const char *line, size_t length,
                              struct batch_cells *out, struct fault *fault);

/* ---- batch_about.c: what hangs on a scan ---- */

enum batch_about {
	BATCH_ABOUT_TOOL, /* a tool, or a card that leaves what stands and waits */
	BATCH_ABOUT_CARD, /* a card that is about the tools scanned before it, and moves none */
	BATCH_ABOUT_BADGE,
	BATCH_ABOUT_DONE,
	BATCH_ABOUT_WHERE, /* perhaps a place, a job, a card that moves tools: what stands depends on it
	                    */
};
/*
 * Of a misread by the letters in front, of a code by what is on record; what cannot be told may
 * have been a place.
 */
enum batch_about batch_about(struct store *store, const struct scan *scan);

/* ---- batch_report.c: what is said of lines ---- */

/* `hint` may be NULL. */
void batch_problem_add(struct batch_report *report, struct arena *arena, int64_t line,
                       const char *code, const char *sentence, const char *hint);
void batch_caution_add(struct batch_report *report, struct arena *arena, int64_t line,
                       const char *code, const char *text);

/* ---- batch.c: a batch under way ---- */

/* A code of this second, and how often it came. */
struct like {
	char code[100];
	int64_t count;
};

struct batching {
	struct store *store;
	struct arena *arena; /* of the report */
	struct arena *each;  /* of one line */
	const struct actor *actor;
	struct batch_report *out;
	struct fault *fault;
	struct bench *bench;
	struct bench_batch batch;
	struct batch_file file;
	struct known_moment began;  /* the shop's ledger */
	struct known_moment latest; /* of the lines that stood in order */
	struct known_moment seen;   /* of the line before, in order or not */
	bool headed;                /* the first line is past */

	struct arena *second; /* holds the likes */
	struct like *likes;
	size_t like_count, like_room;

	struct batch_key key; /* of the scan under way */
	bool applied;         /* it recorded something */
	int64_t last_line;    /* that was scanned */
	char last_code[100];
	int64_t gap;    /* the line from which on it is not known what stands; 0: none */
	int64_t unsure; /* the line from which on it is not known what a card is about; 0: none */
	bool *here;     /* by number: that tool was scanned in this file */
	size_t here_room;
};

/* One line while it is looked at. */
struct batch_line {
	int64_t number;
	const char *code; /* as it stands there */
	struct moment moment;
	bool applied, known, wrong;
};

/* ---- batch_known.c: was it applied before? ---- */

/* A tool that this file tells of, whatever became of its line. */
void batch_note_here(struct batching *batching, const struct scan *scan);
/* The entry that the scan made before, 0 where it was not applied yet; and its key. */
enum outcome batch_find_known(struct batching *batching, const struct batch_line *line,
                              const struct scan *scan, enum batch_about about, int64_t *entry);

#endif
