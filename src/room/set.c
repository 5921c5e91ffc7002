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

/* What is typed to go back; no setting has that word as a value of its own. */
static bool means_default(const char *value)
{
	return text_equal_fold(value, "default");
}

/* Numbers of one type, in its own order. */
static bool is_less(const struct value *a, const struct value *b)
{
	return a->type == VALUE_NUMBER ? !(a->number >= b->number)
	                               : value_to_stored(a) < value_to_stored(b);
}

static enum outcome refuse_range(const struct setting *setting, const char *sentence,
                                 const char *text, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s is %s: %s", setting->name, sentence, text);
	fault_hint(fault, "Type a value from %s to %s, or set %s default for the default, %s.",
	           setting->least, setting->most, setting->name, setting->fallback);
	return OUTCOME_BAD;
}

/* A slip that would turn a caution of the check off, or put it everywhere, is no limit. */
static enum outcome check_range(struct arena *arena, const struct setting *setting,
                                const struct value *value, const char *text, struct fault *fault)
{
	struct value least, most;
	if (setting->least == NULL ||
	    value_parse(arena, setting->name, setting->type, NULL, NULL, setting->least, &least,
	                fault) != OUTCOME_DONE ||
	    value_parse(arena, setting->name, setting->type, NULL, NULL, setting->most, &most, fault) !=
	        OUTCOME_DONE) {
		return OUTCOME_DONE;
	}
	if (value->type == VALUE_NUMBER ? !(value->number >= 0) : value_to_stored(value) < 0) {
		return refuse_range(setting, "less than nothing", text, fault);
	}
	if (is_less(value, &least)) {
		return refuse_range(setting, arena_format(arena, "at least %s", setting->least), text,
		                    fault);
	}
	if (is_less(&most, value)) {
		return refuse_range(setting, arena_format(arena, "at most %s", setting->most), text, fault);
	}
	return OUTCOME_DONE;
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
		fault_hint(fault, "Type set %s default for the default, %s.", setting->name,
		           setting->fallback);
		return OUTCOME_BAD;
	}
	outcome = check_range(arena, setting, &value, text, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	/* As it re-enters: a limit is kept as it is shown. */
	*out = value_text(arena, &value, UNITS_METRIC);
	const char *takes;
	if (!setting_fits(setting, *out, &takes, fault)) {
		fault_set(fault, OUTCOME_BAD, "%s cannot be that: %s", setting->name, text);
		fault_hint(fault, "Type %s.", takes);
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* Is it so already? A default that stands because nobody set it is as good as one set. */
static bool stands_already(const struct setting_state *state, const char *text)
{
	return text != NULL ? strcmp(state->value, text) == 0 : state->set_by == NULL;
}

static enum outcome write_changed(struct store *store, struct arena *arena,
                                  const struct setting *setting, const char *text,
                                  const struct actor *actor, struct setting_state *out,
                                  struct fault *fault)
{
	enum outcome outcome = store_setting_read(store, arena, setting, out, fault);
	if (outcome == OUTCOME_DONE && stands_already(out, text)) {
		out->same = true;
		return OUTCOME_DONE;
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_setting_write(store, setting, text, actor, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_setting_read(store, arena, setting, out, fault);
	}
	return outcome;
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
	enum outcome outcome =
		means_default(value) ? OUTCOME_DONE : read_value(arena, setting, value, &text, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_begin(store, "room_set", fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = write_changed(store, arena, setting, text, actor, out, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}
