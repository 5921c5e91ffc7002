/* The topics of `calc`: the arithmetic alone. */
#ifndef TOOTHRACK_CONSOLE_CALC_H
#define TOOTHRACK_CONSOLE_CALC_H

#include "toothrack/console.h"

/* What a topic is given. A count is at least 1, any other quantity not less than nothing. */
struct calc_key {
	const char *name;
	enum value_type type;
	bool optional; /* the topic itself says when it is needed */
	bool positive; /* nothing at all is refused too */
	const char *meaning;
	const char *const *choices; /* words it may be, ends with NULL; or NULL */
};

struct calc_topic {
	const char *name;
	const char *summary;
	const struct calc_key *keys;
	size_t key_count;
	const char *example; /* a whole line */
	/* `given` holds a value for every key, in their order. */
	enum outcome (*run)(struct call *call, const struct value *given);
};
extern const struct calc_topic *const calc_topics[];
extern const size_t calc_topic_count;
const struct calc_topic *calc_topic_find(const char *name); /* NULL where there is none */

extern const struct calc_topic calc_repeat, calc_teeth, calc_distortion, calc_undercut,
	calc_buildup, calc_around, calc_web, calc_volume, calc_screen, calc_cell, calc_drawdown,
	calc_check_character, calc_lift;

/*
 * Reads what the call gives for a topic; `given` has room for all its keys. OUTCOME_BAD: a key
 * unknown, missing or with a value that is none.
 */
enum outcome calc_read(struct call *call, const struct calc_topic *topic, struct value *given);
/* Refuses for want of a key, with how it is typed. */
enum outcome calc_refuse_missing(struct call *call, const struct calc_topic *topic,
                                 const struct calc_key *key);

/* ---- the answer: an object, and a table of figures for people ---- */

/* One figure in one unit. `key` NULL: there is none. */
struct figure {
	const char *key;
	double number;
	const char *unit;   /* as people read it: `mm` */
	int shown_decimals; /* for people; JSON and CSV have six */
};
void figures_open(struct call *call);
void figures_close(struct call *call);
/* The same quantity in both worlds; the one that `units` asks for stands first. */
void figure_pair(struct call *call, const char *title, struct figure metric, struct figure inch);
void figure_length(struct call *call, const char *name,
                   struct real_length length);                            /* `name_mm`, `name_in` */
void figure_percent(struct call *call, const char *name, double percent); /* `name_percent` */
void figure_count(struct call *call, const char *name, int64_t count);

#endif
