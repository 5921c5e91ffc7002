/* The scanning bench from the inside. */
#ifndef TOOTHRACK_ROOM_BENCH_H
#define TOOTHRACK_ROOM_BENCH_H

#include "move.h"

#define BENCH_QUIET_MS 60000 /* vocabulary.md: a place stands until 60 s of quiet */
#define BENCH_DOUBLE_MS 2000 /* vocabulary.md: the same code within two seconds is one scan */
#define BENCH_TOOLS_MOST 100 /* more than any cart holds */
#define BENCH_RANGES_MOST 64 /* of entries that may be taken back in a batch */

/* A tool that waits, or was scanned last. What is told of it is read anew. */
struct bench_tool {
	int64_t id;
	const struct kind *kind;
	char tag[24];
	int64_t from; /* the place on record when it was scanned; 0: none */
	bool away; /* it came back from a press or a job: home, unless a card or a place says otherwise
	            */
};

enum bench_standing { STANDS_NOTHING, STANDS_PLACE, STANDS_JOB };

/* What was set last and not recorded, so that UNDO can take it away again; a refused scan is none.
 */
enum bench_set { SET_NOTHING, SET_STANDING, SET_WAITING };

struct bench_counting {
	int64_t id; /* 0: nothing is counted */
	int64_t place, at;
	char place_code[64], at_code[64];
	int64_t seen, expected;
	size_t told[3]; /* missing, elsewhere, not known: as they were told */
	bool asked;     /* the differences were told: YES puts them right */
};

struct bench {
	struct store *store;
	const struct bench_asks *asks;
	struct actor base;  /* as the terminal is */
	char base_who[128]; /* the operator of it, "" where there is none */
	struct actor actor;
	struct limits limits;
	const struct bench_batch *batch; /* NULL: live */
	struct arena *scratch;           /* of one line */
	struct arena *telling;           /* of the prompt */
	char who[128];                   /* "" where no badge was scanned */
	bool told_press, told_wash;      /* the cautions there were told to this one */
	int64_t idle_ms;
	int64_t last_ms; /* when something was scanned last */

	enum bench_standing standing;
	int64_t stands; /* id of the place or job */
	char stands_code[64];
	enum action card; /* HOLD, SHOW, COUNT, which wait for the next scan; 0: none */
	struct bench_tool waiting[BENCH_TOOLS_MOST];
	size_t waiting_count;
	struct bench_tool
		last[BENCH_TOOLS_MOST]; /* moved or taken by the last scan of a tool or place */
	size_t last_count;
	enum bench_set set;
	struct bench_counting counting;

	char code[100]; /* the last scan */
	int64_t code_ms;
	bool code_known, code_refused;
	bool where_refused; /* the scan under way was a place or a job, and refused */
	bool unread;        /* a tool was scanned last that was refused: no card is about another */

	struct {
		int64_t first, last;
	} ranges[BENCH_RANGES_MOST]; /* entries made here, the latest last */
	size_t range_count;

	struct bench_line *lines; /* of the answer under way, in scratch */
	size_t line_count, line_room;
	bool leaving;
};

/* ---- bench_route.c: what a scan is for ---- */
enum outcome bench_badge_scanned(struct bench *bench, const struct found *found);
enum outcome bench_place_scanned(struct bench *bench, int64_t id);
enum outcome bench_job_scanned(struct bench *bench, const struct found *found);
enum outcome bench_tool_scanned(struct bench *bench, const struct found *found, const char *code);
/* Is it out for a job, or at a press? */
bool bench_is_away(const struct tool_state *state);
/* Is the place on hold, or was it when what comes late happened? */
bool bench_is_held(const struct bench *bench, const struct place_state *place);
/* Nobody's badge counts any more. */
void bench_sign_off(struct bench *bench);

/* ---- bench_scan.c ---- */
/* One scan of a line; OUTCOME_STORE where the store cannot serve, and it was not applied. */
enum outcome bench_scan_apply(struct bench *bench, const struct scan *scan, int64_t clock_ms);

/* ---- bench_say.c: what is answered ---- */
struct bench_line *bench_say(struct bench *bench, enum bench_tone tone, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
/* Refused by the tool's state or what stands: OUTCOME_NO. `hint` may be NULL. */
enum outcome bench_refuse(struct bench *bench, const char *hint, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
enum outcome bench_refuse_fault(struct bench *bench, const struct fault *fault);
/* The tool in words: "plate cylinder, 96 teeth 1/8cp, face 330mm". In scratch. */
const char *bench_words(struct bench *bench, const struct kind *kind, int64_t id);
/* "PC000025-1, PC000026-0" */
const char *bench_tags(struct arena *arena, const struct bench_tool *tools, size_t count);

/* ---- bench_write.c: what is recorded; each in a transaction of its own, none in a replay ---- */
bool bench_replays(const struct bench *bench);
/*
 * A tool of a batch, known: it never waited, for then it would have recorded nothing. Where its
 * place or job stood on a line that is not in this file, its entry tells that, and who scanned.
 */
void bench_replay_stands(struct bench *bench);
/* A place or job, known: it took what waited and did not stand, for that would record nothing. */
enum outcome bench_replay_taking(struct bench *bench, const char *what);
enum outcome bench_commit(struct bench *bench, enum outcome outcome, struct fault *fault);
/* A line of a batch that was applied before: said, and what it did may be taken back. */
enum outcome bench_replayed(struct bench *bench, const struct bench_tool *tools, size_t count,
                            const char *what);
/* What the line recorded of so many tools: an entry each, the last one given. */
void bench_recorded(struct bench *bench, struct bench_line *line, int64_t entry, size_t tools);
/* ---- bench_condition.c ---- */
/* To a place, or (0) each to its home; all or none. Answers, and the tools become the last ones. */
enum outcome bench_put(struct bench *bench, const struct bench_tool *tools, size_t count,
                       int64_t place);
/* Out for the job; all or none. */
enum outcome bench_take(struct bench *bench, const struct bench_tool *tools, size_t count,
                        int64_t job);
enum outcome bench_hold(struct bench *bench, const struct bench_tool *tools, size_t count,
                        const char *reason);
/* `cleaned` or `dirty` */
enum outcome bench_care(struct bench *bench, const struct bench_tool *tools, size_t count,
                        const char *what);
enum outcome bench_undo(struct bench *bench);

/* ---- bench_card.c: action and reason cards ---- */
enum outcome bench_card_scanned(struct bench *bench, const struct action_card *card);
/*
 * What came back goes home where `home`; what does not go waits on where `stay` and it could have
 * gone, else it is said not to have moved.
 */
enum outcome bench_end_waiting(struct bench *bench, bool home, bool stay);
/* The tools that a card is about: those that wait, else those scanned last. */
const struct bench_tool *bench_meant(const struct bench *bench, size_t *count);
enum outcome bench_show(struct bench *bench, const struct found *found);

/* ---- bench_count.c: counting ---- */
enum outcome bench_count_begin(struct bench *bench, int64_t place);
enum outcome bench_count_tool(struct bench *bench, const struct bench_tool *tool);
enum outcome bench_count_unknown(struct bench *bench, const char *code);
enum outcome bench_count_place(struct bench *bench, int64_t place);
enum outcome bench_count_done(struct bench *bench);
enum outcome bench_count_yes(struct bench *bench);

#endif
