/* `set [KEY [VALUE]]`: the shop's own limits and habits. */
#include "../settings.h"
#include "commands.h"
#include "toothrack/room.h"

static enum outcome list(struct call *call)
{
	struct setting_state *states = arena_take(call->arena, setting_count, sizeof *states);
	for (size_t i = 0; i < setting_count; i++) {
		enum outcome outcome =
			store_setting_read(call->store, call->arena, &settings[i], &states[i], call->fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
	}
	settings_say(call, states);
	return OUTCOME_DONE;
}

static enum outcome run(struct call *call)
{
	const char *key = call_bare(call, 0);
	const char *value = call_bare(call, 1);
	struct setting_state state;
	enum outcome outcome = OUTCOME_DONE;
	if (key == NULL) {
		return list(call);
	}
	if (value != NULL) {
		outcome = room_set(call->store, call->arena, key, value, &call->actor, &state, call->fault);
	} else {
		outcome =
			store_setting_read(call->store, call->arena, setting_find(key), &state, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		setting_say(call, &state);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "key", .type = ARGUMENT_SETTING, .meaning = "which; without it, all of them"},
	{.name = "value",
     .type = ARGUMENT_SETTING_VALUE,
     .meaning = "what it is from now on; default for the default"},
};

static const char *const examples[] = {"set", "set buildup", "set buildup 0.02mm",
                                       "set buildup default", NULL};

const struct command command_set = {
	.name = "set",
	.summary = "the shop's own limits and habits; a supervisor changes them",
	.more =
		"Without a value it only shows. Any person may look. What is changed stands in the ledger with "
		"the old value and the new.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.role = ROLE_SUPERVISOR,
	.examples = examples,
	.run = run,
	.writes_with = "value",
};
