/* What help says of a kind of record and of a topic of calc: the values they take. */
#include "help.h"

const char *value_written(struct arena *arena, enum value_type type, const char *const *choices,
                          enum reference reference)
{
	static const char *const references[] = {
		[REFER_PLACE] = "code or tag of a place",
		[REFER_PRESSES] = "codes of presses, with commas between",
		[REFER_JOB] = "number or tag of a job",
		[REFER_TOOL] = "tag or other_tag of a tool",
		[REFER_ANILOX] = "tag or other_tag of an anilox roll",
		[REFER_DIE] = "tag or other_tag of a die",
	};
	struct text list = text_start(arena);
	if ((size_t)reference < COUNT_OF(references) && references[reference] != NULL) {
		return references[reference];
	}
	for (size_t i = 0; choices != NULL && choices[i] != NULL; i++) {
		text_join(&list, choices[i + 1] == NULL ? " or " : ", ", choices[i]);
	}
	return list.length > 0 ? list.bytes : value_spelling(type);
}

static void value_say(struct call *call, const char *name, const char *written, bool required,
                      const char *meaning)
{
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "name", name);
	answer_word(call->answer, "written", written);
	answer_yes_no(call->answer, "required", required);
	answer_word(call->answer, "meaning", meaning);
	answer_object_close(call->answer);
	const char *cells[] = {arena_format(call->arena, "  %s", name), required ? "required" : "",
	                       meaning, written};
	answer_table_row(call->answer, MARK_PLAIN, cells);
}

static void values_open(struct call *call, const char *key)
{
	static const char *const columns[] = {"", "", "", ""};
	answer_array_open(call->answer, key);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
}

static void values_close(struct call *call)
{
	answer_table_close(call->answer);
	answer_array_close(call->answer);
}

void help_attributes(struct call *call, const struct kind *kind)
{
	answer_word(call->answer, "kind", kind->name);
	answer_word(call->answer, "title", kind->title);
	answer_line(call->answer, MARK_STRONG, "%s: what is known of each %s", kind->name, kind->title);
	values_open(call, "attributes");
	for (size_t i = 0; i < kind_attribute_count(kind); i++) {
		const struct attribute *attribute = kind_attribute(kind, i);
		const char *written =
			value_written(call->arena, attribute->type, attribute->choices, attribute->reference);
		value_say(call, attribute->name, written, attribute->required, attribute->meaning);
	}
	values_close(call);
}

void help_kind(struct call *call, const struct kind *kind)
{
	answer_object_open(call->answer, NULL);
	help_attributes(call, kind);
	answer_object_close(call->answer);
}

void help_topic(struct call *call, const struct calc_topic *topic)
{
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "topic", topic->name);
	answer_word(call->answer, "summary", topic->summary);
	answer_line(call->answer, MARK_STRONG, "calc %s key=value...", topic->name);
	answer_line(call->answer, MARK_PLAIN, "  %s", topic->summary);
	answer_blank(call->answer);
	values_open(call, "keys");
	for (size_t i = 0; i < topic->key_count; i++) {
		const struct calc_key *key = &topic->keys[i];
		const char *written = value_written(call->arena, key->type, key->choices, REFER_NONE);
		value_say(call, key->name, written, !key->optional, key->meaning);
	}
	values_close(call);
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "for example");
	answer_line(call->answer, MARK_PLAIN, "  %s", topic->example);
	answer_word(call->answer, "example", topic->example);
	answer_object_close(call->answer);
}
