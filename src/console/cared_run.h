/* What commands of care share beside their answer: many tools at once, a life that begins. */
#ifndef TOOTHRACK_CONSOLE_CARED_RUN_H
#define TOOTHRACK_CONSOLE_CARED_RUN_H

#include "cared_answer.h"

/* `cleaned`, `dirty`: the tools named by the bare words; `said` of each. */
enum outcome cleaning_run(struct call *call, const char *what, const char *said);

typedef enum outcome (*new_life)(struct store *store, struct arena *arena, const char *tag,
                                 const char *const *keys, const char *const *values, size_t count,
                                 enum units units, const struct actor *actor, struct cared *out,
                                 struct fault *fault);
/* `reblade`, `regrind`: care_reblade or care_regrind of the tool named first. */
enum outcome new_life_run(struct call *call, new_life begin);

#endif
