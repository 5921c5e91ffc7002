/* How the shop's limits and habits are shown. */
#include <string.h>

#include "settings.h"

/* A value as typed, in the units asked. */
static const char *shown(const struct call *call, const struct setting *setting, const char *typed)
{
	struct value value;
	if (value_parse(call->arena, setting->name, setting->type, setting->choices, NULL, typed,
	                &value, NULL) != OUTCOME_DONE) {
		return typed;
	}
	return value_text(call->arena, &value, call->units);
}

/* The unit that a value is shown with: what stands behind its number. NULL where it has none. */
static const char *unit_of(const struct setting *setting, const char *value)
{
	if (setting->type != VALUE_TOOLING && setting->type != VALUE_PERCENT &&
	    setting->type != VALUE_DURATION) {
		return NULL;
	}
	return value + strspn(value, "0123456789.-");
}

static void setting_write(struct call *call, const struct setting_state *state)
{
	answer_object_open(call->answer, NULL);
	const char *value = shown(call, state->setting, state->value);
	answer_word(call->answer, "key", state->setting->name);
	answer_word(call->answer, "value", value);
	answer_word(call->answer, "unit", unit_of(state->setting, value));
	answer_word(call->answer, "default", shown(call, state->setting, state->setting->fallback));
	answer_word(call->answer, "meaning", state->setting->meaning);
	answer_word(call->answer, "source", state->setting->source);
	answer_word(call->answer, "set_by", state->set_by);
	if (state->set_by != NULL) {
		answer_moment(call->answer, "set_at", state->set_at);
	} else {
		answer_null(call->answer, "set_at");
	}
	answer_object_close(call->answer);
}

/* Who set it and when; NULL where the default stands. */
static const char *origin_of(const struct call *call, const struct setting_state *state)
{
	return state->set_by == NULL ? NULL
	                             : arena_format(call->arena, "%s, %s", state->set_by,
	                                            moment_text(state->set_at).bytes);
}

/* What may be typed for it. */
static const char *spelling_of(const struct call *call, const struct setting *setting)
{
	struct text text = text_start(call->arena);
	for (size_t i = 0; setting->choices != NULL && setting->choices[i] != NULL; i++) {
		text_join(&text, ", ", setting->choices[i]);
	}
	const char *takes;
	setting_fits(setting, setting->fallback, &takes, NULL);
	if (text.length == 0) {
		text_add(&text, takes != NULL ? takes : value_spelling(setting->type));
	}
	text_add(&text, "; or default");
	return text.bytes;
}

void setting_say(struct call *call, const struct setting_state *state)
{
	const struct setting *setting = state->setting;
	setting_write(call, state);
	answer_line(call->answer, MARK_STRONG, "%s  %s%s", setting->name,
	            shown(call, setting, state->value), state->same ? " already, nothing changed" : "");
	answer_line(call->answer, MARK_PLAIN, "  %s", setting->meaning);
	answer_line(call->answer, MARK_PLAIN, "  default: %s", shown(call, setting, setting->fallback));
	if (setting->source != NULL) {
		answer_line(call->answer, MARK_PLAIN, "  source of the default: %s", setting->source);
	}
	if (state->set_by != NULL) {
		answer_line(call->answer, MARK_PLAIN, "  set by: %s", origin_of(call, state));
	}
	answer_line(call->answer, MARK_PLAIN, "  takes: %s", spelling_of(call, setting));
}

/* Each source once, with the keys that have it. */
static void sources_say(struct call *call)
{
	answer_blank(call->answer);
	for (size_t i = 0; i < setting_count; i++) {
		const char *source = settings[i].source;
		struct text keys = text_start(call->arena);
		bool said = false;
		for (size_t j = 0; source != NULL && j < setting_count; j++) {
			if (settings[j].source != NULL && strcmp(settings[j].source, source) == 0) {
				said = said || j < i;
				text_join(&keys, ", ", settings[j].name);
			}
		}
		if (source != NULL && !said) {
			answer_line(call->answer, MARK_PLAIN, "%s: %s", source, keys.bytes);
		}
	}
}

static void row_say(struct call *call, const struct setting_state *state)
{
	const struct setting *setting = state->setting;
	const char *cells[] = {setting->name, shown(call, setting, state->value),
	                       shown(call, setting, setting->fallback), origin_of(call, state),
	                       setting->meaning};
	answer_table_row(call->answer, state->set_by != NULL ? MARK_STRONG : MARK_PLAIN, cells);
}

void settings_say(struct call *call, const struct setting_state *states)
{
	static const char *const columns[] = {"key", "value", "default", "set by", "meaning"};
	answer_array_open(call->answer, NULL);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < setting_count; i++) {
		setting_write(call, &states[i]);
		row_say(call, &states[i]);
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
	sources_say(call);
}
