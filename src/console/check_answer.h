/* What `check` and `choices` share: what is asked, and the answer of a check in its forms. */
#ifndef TOOTHRACK_CONSOLE_CHECK_ANSWER_H
#define TOOTHRACK_CONSOLE_CHECK_ANSWER_H

#include "toothrack/console.h"
#include "toothrack/plan.h"

/* The job, presses, from and until of the call. OUTCOME_BAD where a moment cannot be read. */
enum outcome check_asked(struct call *call, struct check_request *out);

/* `ready`, `caution`, `short` */
const char *verdict_word(enum verdict verdict);
enum answer_mark verdict_mark(enum verdict verdict);
const char *level_word(enum finding_level level);

/* The JSON of the specification; in CSV one row a finding, or one row where there is none. */
void check_write(struct call *call, const struct check *check);
/* The whole of it as JSON on one line, as it is kept with a promise. `context` is not used. */
const char *check_as_json(struct arena *arena, const struct check *check, void *context);
/* `findings`, as a member of the open object. */
void check_findings_write(struct answer *answer, const struct check *check);
/* Teeth, pitch and length of a repeat as members of the open object, null where not known. */
void repeat_write(struct answer *answer, struct repeat repeat);

/* For people: the verdict, the layout, the tools, what lacks and would help, other presses. */
void check_say(struct call *call, const struct check *check);
/* Parts of that: `ready`, `short of 2 needs: ...`; the tools; what was found, of one level. */
const char *verdict_said(struct call *call, const struct check *check);
void tools_say(struct call *call, const struct check *check);
void findings_say(struct call *call, const struct check *check, enum finding_level level,
                  enum answer_mark mark);
/* A length that was worked out, to 0.001 mm or 0.0001 in. In the arena. */
const char *length_said(const struct call *call, struct real_length length);

#endif
