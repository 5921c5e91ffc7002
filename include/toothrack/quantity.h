/*
 * Quantities: what a length, a screen, a volume, a pitch or a moment is, how it is written and
 * read, and the exact number that is stored. Only this room touches the numbers inside; others
 * ask it.
 *
 * Parsers: the text is the whole value, blanks around it and before its unit are allowed, unit
 * letters in either case. A number is a decimal with a point, a fraction (`1/8`) or a mixed
 * number (`12 1/2`); it is read exactly, and rounded once, half away from zero, where the stored
 * number is not whole. They return OUTCOME_DONE and fill `out`, or OUTCOME_BAD and fill the fault
 * with what is wrong and what would be right; `out` is then as it was. A bare number is refused
 * with the spellings it could be, an overflow with the largest that fits. `fault` may be NULL.
 *
 * Writers: `*_text` return a small struct by value whose `bytes` is the text, in the units asked:
 * the shortest that, typed in again, is the same value.
 */
#ifndef TOOTHRACK_QUANTITY_H
#define TOOTHRACK_QUANTITY_H

#include "toothrack/base.h"

enum units { UNITS_METRIC, UNITS_INCH };

/* A quantity as text; lives as long as the expression or variable that holds it. */
struct quantity_text {
	char bytes[64];
};

/* ---- length: whole nanometres ---- */
struct length {
	int64_t nm;
};

/*
 * How a length is customarily shown: tooling in mm or in, web in m or ft, cells in um (um in
 * both).
 */
enum length_use { LENGTH_TOOLING, LENGTH_WEB, LENGTH_CELL };

/*
 * `330mm` `13in` `1/8in` `0.067in` `480um` `12.5m` `40ft` `12 1/2in`, also in cm and nm; `"` is
 * refused with `in`. A sign is read: whether a negative length is right is for the attribute to
 * say.
 */
enum outcome length_parse(const char *text, struct length *out, struct fault *fault);
/*
 * As length_parse, but less than nothing is refused: `face is less than nothing: -3mm`; `what`
 * names the attribute.
 */
enum outcome length_parse_positive(const char *what, const char *text, struct length *out,
                                   struct fault *fault);
struct quantity_text length_text(struct length length, enum length_use use, enum units units);

/* Web to whole metres or feet, half away from zero: nobody counts what tools run finer. */
struct quantity_text web_text(struct length length, enum units units);

struct length length_from_mm(double mm);  /* rounded to whole nm */
struct length length_from_nm(int64_t nm); /* for the store, which keeps the number */
int64_t length_to_nm(struct length length);
double length_to_mm(struct length length);
double length_to_in(struct length length);
double length_to_m(struct length length);
/* These three stay at the ends of int64 where it does not hold the outcome. */
struct length length_add(struct length a, struct length b);
struct length length_subtract(struct length a, struct length b);
struct length length_times(struct length a, int64_t count);
int length_compare(struct length a, struct length b); /* -1, 0, 1 */
/* abs(a - b) <= limit */
bool length_near(struct length a, struct length b, struct length limit);

/*
 * A length that is the outcome of arithmetic with pi, or a quotient: nanometres, not rounded.
 * Comparison against a limit allows 0.001 nm for the arithmetic itself, so that a value exactly at
 * an inclusive limit is within it.
 */
struct real_length {
	long double nm;
};
struct real_length real_from_length(struct length length);
struct length real_round(struct real_length real);
double real_to_mm(struct real_length real);
struct real_length real_add(struct real_length a, struct real_length b);
struct real_length real_subtract(struct real_length a, struct real_length b);
struct real_length real_times(struct real_length a, long double factor);
/* abs(difference) <= limit, with the 0.001 nm */
bool real_within(struct real_length difference, struct length limit);
/* a <= b, with the 0.001 nm */
bool real_at_most(struct real_length a, struct real_length b);

/* ---- pitch of gear teeth: exact ---- */
enum pitch_system { PITCH_CP_INCH, PITCH_CP_MM, PITCH_DIAMETRAL, PITCH_MODULE };

/*
 * `numerator/denominator`, reduced, both positive and at most 1e12: inches a tooth, mm a tooth,
 * teeth an inch of diameter, mm of module.
 */
struct pitch {
	enum pitch_system system;
	int64_t numerator;
	int64_t denominator;
};

/*
 * `1/8cp` `0.125cp` `5mmcp` `10dp` `m1` `m1.5`. `5mm` is refused as ambiguous, naming `5mmcp` and
 * `m5`.
 */
enum outcome pitch_parse(const char *text, struct pitch *out, struct fault *fault);
/*
 * The canonical spelling: `1/8cp`, `1cp`; the other systems as a decimal where that is exact with
 * at most six digits behind the point (`5mmcp`, `10dp`, `m1.5`), else as a fraction (`m10/3`).
 */
struct quantity_text pitch_text(struct pitch pitch);

/*
 * The same pitch for meshing: circular in inches and in mm compare by value; diametral and module
 * pitches never equal one another nor a circular one, however close the numbers
 * (Flexography: Principles & Practices, 5th ed., FTA/FFTA 1999).
 */
bool pitch_equal(struct pitch a, struct pitch b);
/*
 * Rational lengths (circular) are one class; rational multiples of pi (diametral, module) are the
 * other.
 */
bool pitch_same_class(struct pitch a, struct pitch b);
/* count_a x a = count_b x b exactly; false across classes. Counts up to 1e9. */
bool pitch_multiples_equal(int64_t count_a, struct pitch a, int64_t count_b, struct pitch b);
/* Which is longer, count_a x a or count_b x b: exact within a class, by value across. -1, 0, 1 */
int pitch_multiples_compare(int64_t count_a, struct pitch a, int64_t count_b, struct pitch b);
struct real_length pitch_times(struct pitch pitch, int64_t teeth);    /* length at the pitch line */
struct real_length pitch_diameter(struct pitch pitch, int64_t teeth); /* teeth x pitch / pi */
struct real_length pitch_length(struct pitch pitch);                  /* one tooth */

/* ---- screen: lines per cm ---- */
struct screen {
	double per_cm;
};
/* `360lpi` `140/cm`; from 0.001 to 100000 lines/cm */
enum outcome screen_parse(const char *text, struct screen *out, struct fault *fault);
struct quantity_text screen_text(struct screen screen, enum units units);
struct screen screen_from_per_cm(double per_cm);
double screen_to_per_cm(struct screen screen);
double screen_to_lpi(struct screen screen);
int screen_compare(struct screen a, struct screen b); /* after rounding to 0.001 lines/cm */

/* ---- volume: whole 1e-6 cm3/m2; 1 BCM/in2 = 1.5500031 cm3/m2 ---- */
struct volume {
	int64_t micro;
};
/* `4.3bcm` `6.7cm3/m2`; at most 1e6 cm3/m2 */
enum outcome volume_parse(const char *text, struct volume *out, struct fault *fault);
struct quantity_text volume_text(struct volume volume, enum units units);
struct volume volume_from_micro(int64_t micro);
int64_t volume_to_micro(struct volume volume);
double volume_to_cm3_m2(struct volume volume);
double volume_to_bcm(struct volume volume);

/* Left, centre, right across the face: `6.2/6.4/6.1cm3/m2` or with a unit each. */
struct across {
	struct volume left, centre, right;
};
enum outcome across_parse(const char *text, struct across *out, struct fault *fault);
/* (left + centre + right)/3, rounded. */
struct volume across_mean(struct across across);
struct quantity_text across_text(struct across across, enum units units);

/* ---- the smaller ones, each exact in its own whole number ---- */
struct weight {
	int64_t ug; /* `18kg` `40lb` `500g` */
};
struct area {
	int64_t um2; /* `25cm2` `4in2` */
};
struct liquid {
	int64_t pl; /* `12ul` */
};
struct angle {
	int64_t udeg; /* `60deg` */
};
struct speed {
	int64_t nm_min; /* `100m/min` `330ft/min` */
};
struct duration {
	int64_t s; /* `10s` `90min` `4h` `3d` `2w` */
};
struct percent {
	int64_t ppm; /* `10%` is 100000 */
};
struct money {
	int64_t cents;
};
/* Less than nothing is refused, but of angles and percents. */
enum outcome weight_parse(const char *text, struct weight *out, struct fault *fault);
enum outcome area_parse(const char *text, struct area *out, struct fault *fault);
enum outcome liquid_parse(const char *text, struct liquid *out, struct fault *fault);
enum outcome angle_parse(const char *text, struct angle *out, struct fault *fault);
enum outcome speed_parse(const char *text, struct speed *out, struct fault *fault);
/* At most 52000w, so that a moment and a duration always add. */
enum outcome duration_parse(const char *text, struct duration *out, struct fault *fault);
enum outcome percent_parse(const char *text, struct percent *out, struct fault *fault);
/* `1250.00` `1250`; a third digit behind the point is refused: to some it makes thousands. */
enum outcome money_parse(const char *text, struct money *out, struct fault *fault);
struct quantity_text weight_text(struct weight weight, enum units units);
struct quantity_text area_text(struct area area, enum units units);
struct quantity_text liquid_text(struct liquid liquid);
struct quantity_text angle_text(struct angle angle);
struct quantity_text speed_text(struct speed speed, enum units units);
struct quantity_text duration_text(struct duration duration); /* the largest unit that is whole */
struct quantity_text percent_text(struct percent percent);
struct quantity_text money_text(struct money money);

/* ---- moment: seconds since 1970-01-01T00:00:00Z; `date` where only a day was given ---- */
struct moment {
	int64_t s;
	bool date; /* `s` is then where that local day begins; more is for the attribute to say */
};
/*
 * `2026-12-01`, `2026-12-01T14:30` or `...:15` (local by TZ), with `Z`, `+01:00` or `-0530`, a
 * blank for the `T` if need be; years 1900 to 9999. A day that the calendar lacks and a time that
 * a change of clocks skips are refused; of a time shown twice the first is meant.
 */
enum outcome moment_parse(const char *text, struct moment *out, struct fault *fault);
/*
 * Local: `2026-12-01T14:30`, seconds only where not 0, a bare date as such. Re-enters alike: the
 * second of two moments that the clocks show alike has its offset.
 */
struct quantity_text moment_text(struct moment moment);
/* `2026-12-01T08:00:00Z` always, also of a bare date: where its day begins */
struct quantity_text moment_text_utc(struct moment moment);
/* A bare date: the midnight that ends that local day; else the moment itself. */
struct moment moment_of_day_end(struct moment moment);
int moment_compare(struct moment a, struct moment b);
/* The moment a while later, and the while between two; a moment and a duration always add. */
struct moment moment_add(struct moment moment, struct duration later);
struct duration moment_between(struct moment from, struct moment until);
/* The next whole minute of the clock in UTC, or the moment itself where it is one; the last. */
struct moment moment_minute_up(struct moment moment);
struct moment moment_minute_down(struct moment moment);
struct moment moment_minute_past(struct moment moment); /* the first one behind it */

/* ---- calendar: the hours in which a shop works ---- */
#define CALENDAR_SHIFTS_MOST 4
#define CALENDAR_CLOSED_MOST 64
struct calendar {
	bool limited; /* false: always open, and the rest counts nothing */
	/* By day of the week, Monday first: minutes of the local day, in order, none touching. */
	struct calendar_shift {
		int16_t from, until; /* until 1440: to the midnight that ends the day; more: past it */
	} shifts[7][CALENDAR_SHIFTS_MOST];
	uint8_t shift_count[7];
	/* Closed days, by their number since 1970-01-01, both included, in order. */
	struct calendar_closed {
		int32_t first, last;
	} closed[CALENDAR_CLOSED_MOST];
	size_t closed_count;
};
/*
 * `always`, or days and hours: `mon-fri 06:00-22:00, sat 06:00-14:00`; several spans of one day are
 * several parts; a shift past midnight is `mon-thu 22:00-06:00`, and belongs to the day it begins
 * on: where that day is closed it does not run, where only the next is it runs to its end. Refused:
 * what is no day or hour, a shift that is empty or overlaps another, a week without an open hour.
 * Leaves the closed days of `out` be: nothing but zeros is always open.
 */
enum outcome calendar_shifts_parse(const char *text, struct calendar *out, struct fault *fault);
/*
 * `none`, or days and spans of days: `2026-12-24..2027-01-01, 2027-05-01`, local. Leaves the shifts
 * be. Refused: what is no day, an end before its beginning, more than a year in a row, more than
 * CALENDAR_CLOSED_MOST spans.
 */
enum outcome calendar_closed_parse(const char *text, struct calendar *out, struct fault *fault);
/*
 * `moment` where it lies in open hours (their end does not), else the next at which they begin. A
 * boundary that the clocks show twice is where they first do; one that they skip is where they skip
 * to. No calendar goes past the year 9999, or before 1900.
 */
struct moment calendar_open_from(const struct calendar *calendar, struct moment moment);
/* The moment by which so much open time has passed since. Nothing: the moment itself. */
struct moment calendar_add(const struct calendar *calendar, struct moment moment,
                           struct duration open);
/* The latest moment from which so much open time passes until then. */
struct moment calendar_subtract(const struct calendar *calendar, struct moment moment,
                                struct duration open);
/* The open time between two moments; less than none is none. */
struct duration calendar_between(const struct calendar *calendar, struct moment from,
                                 struct moment until);
/* The local day of a moment: where it begins, and where the next does. `week`: its Monday so. */
struct moment moment_day_start(struct moment moment);
struct moment moment_day_after(struct moment moment);
struct moment moment_week_start(struct moment moment);
/*
 * A week: `2026-W49` (ISO 8601), or a day in it as moment_parse takes it. `out` is where its Monday
 * begins.
 */
enum outcome week_parse(const char *text, struct moment *out, struct fault *fault);
struct quantity_text week_text(struct moment moment); /* `2026-W49` */

/* ---- whole counts, `least` and `most` among them ---- */
enum outcome count_parse(const char *what, const char *text, int64_t least, int64_t most,
                         int64_t *out, struct fault *fault);

/*
 * ---- a value of any type, for attributes: what a record holds, a CSV cell or key=value gives
 * ----
 */
enum value_type {
	VALUE_TEXT,    /* free words; also references by code */
	VALUE_COUNT,   /* whole number, not negative */
	VALUE_TOOLING, /* length shown in mm / in */
	VALUE_WEB,     /* length shown in m / ft */
	VALUE_CELL,    /* length shown in um */
	VALUE_VOLUME,
	VALUE_ACROSS,
	VALUE_SCREEN,
	VALUE_PITCH,
	VALUE_PITCHES, /* one or several pitches; kept as `1/8cp,1/4cp` by system and size, each once */
	VALUE_WEIGHT,
	VALUE_AREA,
	VALUE_LIQUID,
	VALUE_ANGLE,
	VALUE_SPEED,
	VALUE_DURATION,
	VALUE_PERCENT,
	VALUE_MONEY,
	VALUE_MOMENT,  /* date or moment */
	VALUE_CHOICE,  /* one word of a list; kept in `text`, lower case */
	VALUE_CHOICES, /* one or several words of a list, kept as `a,b` in its order, each once */
	VALUE_WORDS,   /* free words, kept as `a,b`, lower case, sorted, each once */
	VALUE_YES_NO,
	VALUE_NUMBER, /* a plain number, such as a ratio */
};

struct value {
	enum value_type type;
	bool known; /* false: blank, not on record */
	union {
		const char *text; /* in the arena it was parsed with */
		int64_t count;
		bool yes;
		double number;
		struct length length;
		struct volume volume;
		struct across across;
		struct screen screen;
		struct pitch pitch;
		struct weight weight;
		struct area area;
		struct liquid liquid;
		struct angle angle;
		struct speed speed;
		struct duration duration;
		struct percent percent;
		struct money money;
		struct moment moment;
	};
};

/*
 * Reads one value. `what` is the attribute's name for messages. `choices` (ends with NULL) for
 * VALUE_CHOICE and VALUE_CHOICES: an unknown word is refused with the nearest and the list. An
 * empty text gives a value that is not known. Negative lengths, volumes, weights, durations, areas,
 * liquids, speeds, counts and moneys are refused (angles and percents may be negative). Free text
 * must be valid UTF-8 without control characters but newline and TAB; blanks around it are left
 * off. In lists a comma or a semicolon stands between; a blank is part of a word.
 * `unit` is NULL or the unit that a CSV heading carries (`mm` of `face_mm`, one of
 * value_heading_units): a bare number is then read in it; a cell that carries its own unit keeps
 * that.
 */
enum outcome value_parse(struct arena *arena, const char *what, enum value_type type,
                         const char *const *choices, const char *unit, const char *text,
                         struct value *out, struct fault *fault);
/* Text that re-enters as the same value, in the units asked; "" where not known. In the arena. */
const char *value_text(struct arena *arena, const struct value *value, enum units units);
/*
 * The unit suffixes that a heading of this type may carry (`mm`, `cm3_m2`, `per_cm`, ...), ends
 * with NULL; empty for those that take none.
 */
const char *const *value_heading_units(enum value_type type);
/* How a value of this type is spelled, for hints: "a length such as 330mm, 13in or 1/8in". */
const char *value_spelling(enum value_type type);
/* Of one type, both not known or the same quantity; pitches as pitch_equal, screens as compared. */
bool value_equal(const struct value *a, const struct value *b);

/*
 * For the store, which keeps whole numbers: the number inside a known value of a numeric type
 * (length, volume, weight, area, liquid, angle, speed, duration, percent, money, count, yes/no, a
 * moment's seconds), and a known value made of one. Not for screens, pitches and words.
 */
int64_t value_to_stored(const struct value *value);
struct value value_from_stored(enum value_type type, int64_t number);

#endif
