/* `set [KEY [VALUE]]`: the shop's own limits and habits. */
#include <string.h>

#include "../settings.h"
#include "../stocks.h"
#include "commands.h"
#include "toothrack/room.h"

#define CHANGES_SHOWN 5

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

/* Who changed it before, though the default may stand again. */
static enum outcome tell_changes(struct call *call, const struct setting *setting)
{
	static const char *const columns[] = {"when", "what", "who"};
	struct setting_change changes[CHANGES_SHOWN];
	size_t count = 0;
	enum outcome outcome = store_setting_changes(call->store, call->arena, setting, changes,
	                                             COUNT_OF(changes), &count, call->fault);
	if (outcome != OUTCOME_DONE || count == 0) {
		return outcome;
	}
	answer_blank(call->answer);
	answer_line(call->answer, MARK_PLAIN, "what happened last");
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		const char *cells[] = {
			arena_copy(call->arena, moment_text(changes[i].happened).bytes),
			changes[i].detail,
			changes[i].who,
		};
		answer_table_row(call->answer, MARK_PLAIN, cells);
	}
	answer_table_close(call->answer);
	return OUTCOME_DONE;
}

/* A stock is looked for before it becomes a habit. */
static enum outcome check_stock(struct call *call, const char *key, const char *value)
{
	const struct tag_habits none = {.content = NULL};
	struct stocks stocks = {.call = call, .habits = &none, .forced = value};
	const struct tag_stock *stock;
	for (size_t use = 0; use < TAG_USE_COUNT; use++) {
		if (strcmp(room_tag_setting((enum tag_use)use), key) == 0 &&
		    !text_equal_fold(value, "default")) {
			return stocks_find((enum tag_use)use, NULL, &stock, &stocks, call->fault);
		}
	}
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
		outcome = check_stock(call, key, value);
	}
	if (value != NULL && outcome == OUTCOME_DONE) {
		outcome = room_set(call->store, call->arena, key, value, &call->actor, &state, call->fault);
	} else if (outcome == OUTCOME_DONE) {
		outcome =
			store_setting_read(call->store, call->arena, setting_find(key), &state, call->fault);
	}
	if (outcome == OUTCOME_DONE) {
		setting_say(call, &state);
	}
	return outcome == OUTCOME_DONE && value == NULL ? tell_changes(call, state.setting) : outcome;
}

static const struct argument arguments[] = {
	{.name = "key", .type = ARGUMENT_SETTING, .meaning = "which; without it, all of them"},
	{.name = "value",
     .type = ARGUMENT_SETTING_VALUE,
     .meaning = "what it is from now on; default for the default"},
};

static const char *const examples[] = {"set", "set buildup", "set buildup 0.02mm",
                                       "set buildup default", NULL};

static const char *const writes_with[] = {"value", NULL};

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
	.writes_with = writes_with,
};
