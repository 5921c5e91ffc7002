/* What every use case of care begins and ends with: the tool, its record, what is said of it. */
#ifndef TOOTHRACK_CARE_TOOL_H
#define TOOTHRACK_CARE_TOOL_H

#include "words.h"

/* A tool that is cared for. */
struct care_tool {
	struct found found;
	struct tool_state state;
	struct record *before; /* as it stands */
	struct record *after;  /* as it will stand: the same until something of it is changed */
	int64_t life;
};
/* Finds the tool. Refused: what is no tool, one that is scrapped (OUTCOME_NO). */
enum outcome care_tool_find(struct store *store, struct arena *arena, const char *tag,
                            struct care_tool *out, struct fault *fault);
/* Commits where all went well, else rolls back; what came of it. */
enum outcome care_tool_end(struct store *store, enum outcome outcome, struct fault *fault);
/* The tool as it is now, with what changed since it was found, into the answer. */
enum outcome care_tool_tell(struct store *store, struct arena *arena, const struct care_tool *tool,
                            enum units units, struct cared *out, struct fault *fault);

/* `a` or `an`, before the kind's title. */
const char *care_article(const struct kind *kind);
/* Is it of the kind, and known of it? Then its value, else one that is not known. */
struct known_length care_length(const struct record *record, const char *attribute);
void care_length_set(struct record *record, const char *attribute, bool known,
                     struct length length);
const char *care_tooling(struct arena *arena, struct length length, enum units units);
/* `100mm..120mm` */
const char *care_band(struct arena *arena, const struct damage_band *band, enum units units);

/* `usable face 120mm to 330mm, 210mm of 330mm` */
const char *care_usable(struct arena *arena, const struct damage_band *usable, struct length face,
                        enum units units);

/* A sentence of what looks like a slip; how it is taken back comes behind it. */
void care_question(struct arena *arena, struct cared *out, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
#define CARE_QUESTIONS_MOST 8

#endif
