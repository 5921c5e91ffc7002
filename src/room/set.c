/* `set KEY VALUE`: one limit or habit of the shop. */
#include <string.h>

#include "toothrack/room.h"

static const char *nearest_setting(struct arena *arena, const char *key)
{
	const char **names = arena_take(arena, setting_count + 1, sizeof *names);
	for (size_t i = 0; i < setting_count; i++) {
		names[i] = settings[i].name;
	}
	return text_nearest(key, names);
}

static enum outcome read_value(struct arena *arena, const struct setting *setting, const char *text,
                               const char **out, struct fault *fault)
{
	struct value value;
	enum outcome outcome = value_parse(arena, setting->name, setting->type, setting->choices, NULL,
	                                   text, &value, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (!value.known) {
		fault_set(fault, OUTCOME_BAD, "value of %s is blank", setting->name);
		fault_hint(fault, "Type set %s %s for the default.", setting->name, setting->fallback);
		return OUTCOME_BAD;
	}
	if ((value.type == VALUE_PERCENT && value_to_stored(&value) < 0) ||
	    (value.type == VALUE_NUMBER && !(value.number >= 0))) {
		fault_set(fault, OUTCOME_BAD, "%s is less than nothing: %s", setting->name, text);
		fault_hint(fault, "Type set %s %s for the default.", setting->name, setting->fallback);
		return OUTCOME_BAD;
	}
	/* As it re-enters: a limit is kept as it is shown. */
	*out = value_text(arena, &value, UNITS_METRIC);
	return OUTCOME_DONE;
}

enum outcome room_set(struct store *store, struct arena *arena, const char *key, const char *value,
                      const struct actor *actor, struct setting_state *out, struct fault *fault)
{
	const struct setting *setting = setting_find(key);
	const char *text = NULL;
	if (setting == NULL) {
		const char *nearest = nearest_setting(arena, key);
		fault_set(fault, OUTCOME_BAD, "setting not known: %s", key);
		fault_hint(fault,
		           nearest != NULL ? "Is %s meant? Type set for all of them."
		                           : "Type set for all of them.",
		           nearest);
		return OUTCOME_BAD;
	}
	enum outcome outcome = read_value(arena, setting, value, &text, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_begin(store, "room_set", fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = store_setting_write(store, setting, text, actor, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_setting_read(store, arena, setting, out, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}
