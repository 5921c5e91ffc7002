/* What the files of `show` share: one record being told of. */
#ifndef TOOTHRACK_ROOM_SHOW_H
#define TOOTHRACK_ROOM_SHOW_H

#include "toothrack/room.h"

struct telling {
	struct store *store;
	struct arena *arena;
	enum units units;
	struct limits limits; /* in the units asked */
	struct moment now;
	struct shown *out;
};

/* ---- lines of it */
void tell_obstacle(struct telling *telling, const char *text);
void tell_caution(struct telling *telling, const char *text);
/* Remarks of a predicate: obstacles where the tool does not do, cautions where it does at doubt. */
void tell_remarks(struct telling *telling, const struct remarks *remarks);

/* ---- figures */
/* An attribute as it is on record, in its place among the figures; nothing where not known. */
void tell_attribute(struct telling *telling, const char *name);
/* A figure for people alone. `said` NULL: nothing is told. */
void tell_words(struct telling *telling, const char *name, const char *covers, const char *said);
/* A figure for people and programs; `said` NULL: as its value is written. */
void tell_figure(struct telling *telling, const char *name, const char *covers, struct value value,
                 const char *said);
/* A figure for programs alone. */
void tell_data(struct telling *telling, const char *name, struct value value);
/* Attributes that are told elsewhere. */
void tell_covered(struct telling *telling, const char *covers);

#define NM_OF_MM 1000000
#define NM_OF_INCH 25400000
/* To the nearest whole number of steps, in nanometres. */
struct length length_stepped(struct length length, int64_t step);
/* A length of tooling in the units asked; in the arena. */
const char *tooling_words(const struct telling *telling, struct length length);
/* A length of web in whole metres or feet; in the arena. */
const char *web_words(const struct telling *telling, struct length length);
struct value value_of_length(enum value_type type, bool known, struct length length);
struct value value_of_count(bool known, int64_t count);
/* An attribute in words; NULL where not known. */
const char *attribute_words(const struct telling *telling, const char *name);
/* `304.8mm (12in), 96 teeth 1/8cp`; NULL where not known. Tells `repeat` to programs too. */
void tell_repeat(struct telling *telling, struct repeat own);
/* `88mm across, 98.6mm around, corner 3mm, rectangle` */
void tell_label(struct telling *telling);
/* `on hold since 2026-12-01T08:00: scored` of a place */
const char *held_words(struct arena *arena, const struct place_around *place);
/* The places that a record is in, innermost first: their codes, and those around it in words. */
void tell_places(struct telling *telling, const struct place_around *places, size_t count);
/* `rack 1, bottom shelf (R1-3)`, or the code alone */
const char *place_words(struct arena *arena, const struct place_around *place);

/* Damage of a tool's face, and which life it is in where that is not its first. */
enum outcome tell_care(struct telling *telling, struct fault *fault);
/* What is promised to a job, and what has broken that. */
enum outcome tell_promise(struct telling *telling, int64_t job, struct fault *fault);
/* The jobs that have a tool booked. */
enum outcome tell_bookings(struct telling *telling, const struct tool *tool, struct fault *fault);

/* ---- by kind; each fills what it knows */
enum outcome show_tool(struct telling *telling, struct fault *fault);
enum outcome show_place(struct telling *telling, struct fault *fault);
enum outcome show_press(struct telling *telling, struct fault *fault);
enum outcome show_job(struct telling *telling, struct fault *fault);
enum outcome show_operator(struct telling *telling, struct fault *fault);
/* Adds a row of `kind`; nothing where `id` is 0. The rows have room. */
enum outcome show_row(struct telling *telling, enum kind_id kind, int64_t id, struct fault *fault);

#endif
