/* What the commands that answer with records share: attributes as data, and a tool that moved. */
#ifndef TOOTHRACK_CONSOLE_RECORDS_H
#define TOOTHRACK_CONSOLE_RECORDS_H

#include "toothrack/console.h"
#include "toothrack/room.h"

/*
 * The members of a record within an open object: `kind`, then every attribute. A record that has an
 * attribute `kind` of its own (a cut) gives that one only.
 */
void record_write(struct answer *answer, const struct record *record);

/* Its tag, and its code, number or badge, each with two blanks behind; "" for what has no tag. */
const char *record_called(struct arena *arena, const struct record *record);

/* What became of a tool, as an object (`key` NULL). */
void moved_write(struct call *call, const struct moved *moved);
/* The same in text: one line, and its caution below. */
void moved_say(struct call *call, const struct moved *moved);
/* A tool in a few words; its kind alone where it cannot be read, for it has moved anyway. */
const char *tool_summary(struct call *call, const struct tool_state *tool);
/* The usual cautions for those who handle the tools, all of which went to one place. */
void handling_say(struct call *call, const struct moved *moved, size_t count);
/* The same for those who handle records of these kinds (a bit each) where they are. */
void handling_say_kinds(struct call *call, unsigned kinds_handled, bool at_press);
/* The moment given by `key=`, named so in a refusal; not known where there is none. */
enum outcome call_moment(struct call *call, const char *key, struct known_moment *out);

#endif
