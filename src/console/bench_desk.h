/* What the bench keeps while somebody scans, whether at a terminal or not. */
#ifndef TOOTHRACK_CONSOLE_BENCH_DESK_H
#define TOOTHRACK_CONSOLE_BENCH_DESK_H

#include <stdio.h>

#include "answer.h"
#include "bench.h"
#include "session.h"
#include "signals.h"

struct desk {
	struct call *call;
	struct bench *bench;
	struct arena *lasting, *held; /* of the answer: all of it, and what is not out yet */
	struct arena *arena;          /* of one line */
	struct answer *answer;        /* one for the whole time, each line's part given out at once */
	struct answer_sink sink;
	struct fault unwritten;
	enum outcome printed; /* OUTCOME_STORE: answers cannot be written */
	enum outcome highest;
	int64_t opened; /* by the system's clock, in milliseconds */
	bool leaving;
	FILE *screen;  /* of whoever sits at a terminal: prompt and echo go there; else NULL */
	bool in_order; /* answers go there too, and refusals among them */
	bool taken;    /* the terminal is ours, byte by byte */
	bool at_prompt;
	struct signals signals;
};

/* Milliseconds since the bench was opened; time during which the system sleeps counts. */
int64_t desk_clock(const struct desk *desk);
/* What happens of itself by now, said where there is anything to say, behind `before`. */
void desk_quiet(struct desk *desk, const char *before);
/* A line without its end, as it was sent, scanned and answered. */
void desk_scan(struct desk *desk, const char *bytes, size_t length);
/* The same for one that is no scan for its length alone. */
void desk_refuse_length(struct desk *desk);

/* The terminal taken over, and given back, where there is a screen. */
void desk_sit(struct desk *desk);
void desk_rise(struct desk *desk);
/* Reads the terminal until whoever scans leaves. */
void desk_at_terminal(struct desk *desk);

#endif
