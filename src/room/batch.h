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
	BATCH_ABOUT_TOOL,
	BATCH_ABOUT_BADGE,
	BATCH_ABOUT_WHERE, /* a place, a job, COUNT, or what may have been one */
	BATCH_ABOUT_HOME,  /* where tools go, and about those scanned last */
	BATCH_ABOUT_LAST,  /* HOLD, DIRTY, CLEANED: about those scanned last */
	BATCH_ABOUT_UNDO,
	BATCH_ABOUT_DONE,
	BATCH_ABOUT_OTHER, /* SHOW, YES, a reason */
};
/*
 * Of a misread by the letters in front, of a code by what is on record; what cannot be told may
 * have been a place.
 */
enum batch_about batch_about(struct store *store, const struct scan *scan);

/* ---- a batch under way ---- */

/* A code of this second, and how often it came. */
struct batch_like {
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
	struct batch_like *likes;
	size_t like_count, like_room;

	struct batch_key key; /* of the scan under way */
	bool applied;         /* it recorded something */
	int64_t last_line;    /* that was scanned */
	char last_code[100];
	int64_t gap;        /* the line from which on it is not known what stands; 0: none */
	int64_t lost;       /* the last line that was refused and may have been a tool; 0: none */
	int64_t since_lost; /* scans since that which UNDO could take back */
};

/* One line while it is looked at. */
struct batch_line {
	int64_t number;
	const char *code; /* as it stands there */
	struct moment moment;
	bool applied, known, wrong;
};

/* ---- batch_scan.c: one scan ---- */

/* The moment by the bench's clock. */
int64_t batch_clock(struct moment moment);
/*
 * One scan of a line whose moment is right; `bytes` as they go to the bench. OUTCOME_STORE where
 * the store cannot serve.
 */
enum outcome batch_scan(struct batching *batching, struct batch_line *line, const struct scan *scan,
                        const char *bytes);
/* What the bench calls in the transaction of a line. */
enum outcome batch_keep_applied(struct store *store, int64_t entry, void *context,
                                struct fault *fault);
/* What was refused of itself, between lines: it belongs to the line before. */
void batch_take_ending(struct batching *batching, const struct bench_answer *answer);
void batch_refuse(struct batching *batching, struct batch_line *line, const struct fault *fault);
/* A line was refused: what may hang on it, by what it may have been. */
void batch_lose(struct batching *batching, const struct batch_line *line, enum batch_about about);

/* ---- batch_report.c: what is said of lines ---- */

/* `hint` may be NULL. */
void batch_problem_add(struct batch_report *report, struct arena *arena, int64_t line,
                       const char *code, const char *sentence, const char *hint);
void batch_caution_add(struct batch_report *report, struct arena *arena, int64_t line,
                       const char *code, const char *text);

#endif
