/* Reading what `check` and `choices` are asked. */
#include <string.h>

#include "check_answer.h"
#include "records.h"

/* `press=P1,P2`; named blank is no way to ask for all. */
static enum outcome presses_read(struct call *call, struct check_request *out)
{
	const char *text = call_value(call, "press");
	if (text == NULL) {
		return OUTCOME_DONE;
	}
	char *list = arena_copy(call->arena, text);
	const char **presses = arena_take(call->arena, strlen(list) + 1, sizeof *presses);
	char *state = NULL;
	for (char *code = strtok_r(list, ",; ", &state); code != NULL;
	     code = strtok_r(NULL, ",; ", &state)) {
		presses[out->press_count++] = code;
	}
	out->presses = presses;
	if (out->press_count == 0) {
		fault_set(call->fault, OUTCOME_BAD, "press is blank: press=%s", text);
		fault_hint(call->fault, "Type press=P1, or leave press= away for all that may run it.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

enum outcome check_asked(struct call *call, struct check_request *out)
{
	*out = (struct check_request){.job = call_bare(call, 0),
	                              .now = call->now,
	                              .limits = &call->limits};
	enum outcome outcome = presses_read(call, out);
	if (outcome == OUTCOME_DONE) {
		outcome = call_moment(call, "from", &out->from);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = call_moment(call, "until", &out->until);
	}
	return outcome;
}
