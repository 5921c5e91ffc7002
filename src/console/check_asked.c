/* Reading what `check` and `choices` are asked. */
#include <string.h>

#include "check_answer.h"

/* `press=P1,P2` */
static void presses_read(const struct call *call, struct check_request *out)
{
	char *list = arena_copy(call->arena, call_value(call, "press"));
	if (list == NULL) {
		return;
	}
	const char **presses = arena_take(call->arena, strlen(list), sizeof *presses);
	char *state = NULL;
	for (char *code = strtok_r(list, ",; ", &state); code != NULL;
	     code = strtok_r(NULL, ",; ", &state)) {
		presses[out->press_count++] = code;
	}
	out->presses = presses;
}

static enum outcome moment_read(struct call *call, const char *key, struct known_moment *out)
{
	const char *text = call_value(call, key);
	if (text == NULL) {
		return OUTCOME_DONE;
	}
	out->known = true;
	return moment_parse(text, &out->value, call->fault);
}

enum outcome check_asked(struct call *call, struct check_request *out)
{
	*out = (struct check_request){.job = call_bare(call, 0),
	                              .now = call->now,
	                              .limits = &call->limits};
	presses_read(call, out);
	enum outcome outcome = moment_read(call, "from", &out->from);
	if (outcome == OUTCOME_DONE) {
		outcome = moment_read(call, "until", &out->until);
	}
	return outcome;
}
