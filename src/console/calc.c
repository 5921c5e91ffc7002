/* The topics of `calc`: their table, and how what is typed becomes what they are given. */
#include <string.h>

#include "arguments.h"
#include "calc.h"
#include "help.h"

/* No gear and no layout counts further; what is larger was typed wrongly. */
#define COUNT_MOST 1000000

const struct calc_topic *const calc_topics[] = {
	&calc_repeat,  &calc_teeth,  &calc_distortion, &calc_undercut,
	&calc_buildup, &calc_around, &calc_web,        &calc_volume,
	&calc_screen,  &calc_cell,   &calc_drawdown,   &calc_check_character,
	&calc_lift,
};
const size_t calc_topic_count = COUNT_OF(calc_topics);

const struct calc_topic *calc_topic_find(const char *name)
{
	for (size_t i = 0; i < calc_topic_count; i++) {
		if (strcmp(calc_topics[i]->name, name) == 0) {
			return calc_topics[i];
		}
	}
	return NULL;
}

static enum outcome refuse_key(struct call *call, const struct calc_topic *topic, const char *key)
{
	const char **names = arena_take(call->arena, topic->key_count + 1, sizeof *names);
	for (size_t i = 0; i < topic->key_count; i++) {
		names[i] = topic->keys[i].name;
	}
	const char *nearest = text_nearest(key, names);
	fault_set(call->fault, OUTCOME_BAD, "key not known in calc %s: %s", topic->name, key);
	if (nearest != NULL) {
		fault_hint(call->fault, "Type %s, as in: %s", nearest, topic->example);
	} else {
		fault_hint(call->fault, "Type: %s", topic->example);
	}
	return OUTCOME_BAD;
}

enum outcome calc_refuse_missing(struct call *call, const struct calc_topic *topic,
                                 const struct calc_key *key)
{
	fault_set(call->fault, OUTCOME_BAD, "%s not given", key->name);
	fault_hint(call->fault, "Type %s= and %s, as in: %s", key->name,
	           value_written(call->arena, key->type, key->choices, REFER_NONE), topic->example);
	return OUTCOME_BAD;
}

static enum outcome value_read(struct call *call, const struct calc_key *key, const char *text,
                               struct value *out)
{
	if (key->type == VALUE_COUNT && text[0] != '\0') {
		out->known = true;
		return count_parse(key->name, text, 1, COUNT_MOST, &out->count, call->fault);
	}
	enum outcome outcome =
		value_parse(call->arena, key->name, key->type, key->choices, NULL, text, out, call->fault);
	if (outcome == OUTCOME_DONE && out->known && key->positive && value_to_stored(out) == 0) {
		fault_set(call->fault, OUTCOME_BAD, "%s is nothing: %s", key->name, text);
		fault_hint(call->fault, "Type %s.", value_spelling(key->type));
		return OUTCOME_BAD;
	}
	return outcome;
}

enum outcome calc_read(struct call *call, const struct calc_topic *topic, struct value *given)
{
	for (size_t i = 0; i < topic->key_count; i++) {
		given[i] = (struct value){.type = topic->keys[i].type};
	}
	for (size_t i = 0; i < call->word_count; i++) {
		size_t key = 0;
		if (call->words[i].key == NULL) {
			continue;
		}
		while (key < topic->key_count && strcmp(topic->keys[key].name, call->words[i].key) != 0) {
			key++;
		}
		if (key == topic->key_count) {
			return refuse_key(call, topic, call->words[i].key);
		}
		if (value_read(call, &topic->keys[key], call->words[i].value, &given[key]) !=
		    OUTCOME_DONE) {
			return OUTCOME_BAD;
		}
	}
	for (size_t i = 0; i < topic->key_count; i++) {
		if (!topic->keys[i].optional && !given[i].known) {
			return calc_refuse_missing(call, topic, &topic->keys[i]);
		}
	}
	return OUTCOME_DONE;
}
