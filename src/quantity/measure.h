/*
 * Measures: quantities that are a number and a unit. One table a measure; the reading, the
 * refusing and the writing are the same for all.
 */
#ifndef TOOTHRACK_QUANTITY_MEASURE_H
#define TOOTHRACK_QUANTITY_MEASURE_H

#include "number.h"
#include "toothrack/quantity.h"

struct unit {
	const char *name;    /* as shown; typed in either case */
	const char *heading; /* as the heading of a CSV column carries it; NULL: none does */
	int64_t stored;      /* numbers of the store ... */
	int64_t per;         /* ... in so many of the unit, exactly */
};

struct measure {
	const char *what;         /* `length` */
	const char *spelling;     /* `a length such as 330mm, 13in or 1/8in` */
	const char *unit_names;   /* `mm, cm, m, um, nm, in or ft` */
	const char *suggested[2]; /* what a bare number may have meant; the second may be NULL */
	const struct unit *units; /* ends with a NULL name */
	int64_t most;             /* the greatest number stored */
	bool negative;            /* may be less than nothing */
};

extern const struct measure length_measure; /* tooling; the sign is for the attribute to judge */
extern const struct measure tooling_measure;
extern const struct measure web_measure;
extern const struct measure cell_measure;
extern const struct measure volume_measure;
extern const struct measure screen_measure; /* its units are ratios of lines/cm */
extern const struct measure weight_measure;
extern const struct measure area_measure;
extern const struct measure liquid_measure;
extern const struct measure angle_measure;
extern const struct measure speed_measure;
extern const struct measure duration_measure;
extern const struct measure percent_measure;

/*
 * Reads a value in the measure's units. `what` names it in messages. `assumed` is the unit of a
 * bare number, NULL where a bare number is refused.
 */
enum outcome measure_parse(const struct measure *measure, const char *what,
                           const struct unit *assumed, const char *text, int64_t *out,
                           struct fault *fault);
/* The same, before it is rounded to a whole number, and with the unit it was typed in. */
enum outcome measure_read(const struct measure *measure, const char *what,
                          const struct unit *assumed, const char *text, struct ratio *out,
                          const struct unit **unit, struct fault *fault);
/*
 * The two halves of the above, for values with several numbers: a number in a unit; and the whole
 * number of it. `typed` is all that was typed, for messages.
 */
enum outcome measure_scale(const struct measure *measure, const char *what, struct typed typed,
                           const struct number *number, const struct unit *unit, struct ratio *out,
                           struct fault *fault);
enum outcome measure_whole(const struct measure *measure, const char *what, struct typed typed,
                           struct ratio ratio, const struct unit *unit, int64_t *out,
                           struct fault *fault);
/* The refusal of a value beyond `most`, as the unit typed would write that. */
enum outcome measure_refuse_large(const struct measure *measure, const char *what,
                                  struct typed typed, const struct unit *unit, struct fault *fault);

/* The unit that a heading carries, or NULL. */
const struct unit *unit_of_heading(const struct measure *measure, const char *heading);
/* The unit of that name, which there is. */
const struct unit *unit_named(const struct measure *measure, const char *name);

/* The shortest decimal in the unit that reads back as the same number, with the unit behind it. */
struct quantity_text measure_text(const struct measure *measure, const char *unit_name,
                                  int64_t number);
/* The same, without the unit. */
struct quantity_text measure_decimal(const struct unit *unit, int64_t number);

#endif
