/* What the commands of care answer with: a reading, what was gauged, cleaned, fitted or ground. */
#ifndef TOOTHRACK_CONSOLE_CARED_ANSWER_H
#define TOOTHRACK_CONSOLE_CARED_ANSWER_H

#include "toothrack/care.h"
#include "toothrack/console.h"

/*
 * One tool cared for, as an object (`key` NULL: within an array or at the top), and in text: its
 * tag and what was `said` of it (`volume 6.7cm3/m2, after cleaning`), then what runs from now on,
 * its trend, what looks like a slip, and a caution, each on a line below.
 */
void cared_write(struct call *call, const struct cared *cared);
void cared_say(struct call *call, const struct cared *cared, const char *said);
/* Both; OUTCOME_DONE. */
enum outcome cared_answer(struct call *call, const struct cared *cared, const char *said);
/* A list of what looks like a slip: the member `questions`, and in text a line each. */
void questions_write(struct answer *answer, const char *const *questions, size_t count);
void questions_say(struct answer *answer, const char *const *questions, size_t count);

#endif
