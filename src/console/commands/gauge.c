/* `gauge TAG`: what was gauged of a tool, and damage of its face. */
#include <string.h>

#include "../cared_answer.h"
#include "commands.h"

static enum outcome read_length(struct call *call, const char *key, const char *text,
                                struct value *out)
{
	*out = (struct value){.type = VALUE_TOOLING};
	return text != NULL
	           ? value_parse(call->arena, key, VALUE_TOOLING, NULL, NULL, text, out, call->fault)
	           : OUTCOME_DONE;
}

/* A band as `find` writes a range; one of its edges may be open. */
static enum outcome read_damage(struct call *call, struct gauge_asked *asked)
{
	const char *text = call_value(call, "damage");
	const char *dots = text != NULL ? strstr(text, "..") : NULL;
	if (text == NULL) {
		return OUTCOME_DONE;
	}
	if (dots == NULL) {
		fault_set(call->fault, OUTCOME_BAD, "damage is a band across the face: %s", text);
		fault_hint(call->fault, "Type damage=FROM..TO, such as damage=100mm..120mm.");
		return OUTCOME_BAD;
	}
	enum outcome outcome =
		read_length(call, "damage", arena_copy_bytes(call->arena, text, (size_t)(dots - text)),
	                &asked->damage_from);
	if (outcome == OUTCOME_DONE) {
		outcome = read_length(call, "damage", dots + 2, &asked->damage_to);
	}
	if (outcome == OUTCOME_DONE && !asked->damage_from.known && !asked->damage_to.known) {
		fault_set(call->fault, OUTCOME_BAD, "damage has neither edge: %s", text);
		fault_hint(call->fault, "Type damage=FROM.., damage=..TO or damage=FROM..TO.");
		return OUTCOME_BAD;
	}
	return outcome;
}

static enum outcome read_asked(struct call *call, struct gauge_asked *asked)
{
	struct value note = {.type = VALUE_TEXT};
	const char *text = call_value(call, "note");
	enum outcome outcome =
		read_length(call, "diameter", call_value(call, "diameter"), &asked->diameter);
	if (outcome == OUTCOME_DONE) {
		outcome = read_length(call, "runout", call_value(call, "runout"), &asked->runout);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_damage(call, asked);
	}
	if (outcome == OUTCOME_DONE && text != NULL) {
		outcome =
			value_parse(call->arena, "note", VALUE_TEXT, NULL, NULL, text, &note, call->fault);
	}
	asked->note = note.known ? note.text : NULL;
	return outcome;
}

/* "diameter 92.85mm, damage 100mm..120mm", as it was typed. */
static const char *said_of(struct call *call)
{
	static const char *const keys[] = {"diameter", "runout", "damage"};
	struct text text = text_start(call->arena);
	for (size_t i = 0; i < COUNT_OF(keys); i++) {
		const char *value = call_value(call, keys[i]);
		if (value != NULL && value[strspn(value, " \t")] != '\0') {
			text_join(&text, ", ", keys[i]);
			text_add_format(&text, " %s", value);
		}
	}
	return text.bytes;
}

static enum outcome run(struct call *call)
{
	struct gauge_asked asked = {.note = NULL};
	struct cared cared;
	enum outcome outcome = read_asked(call, &asked);
	if (outcome == OUTCOME_DONE) {
		outcome = care_gauge(call->store, call->arena, call_bare(call, 0), &asked, call->units,
		                     &call->actor, &cared, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return cared_answer(call, &cared, said_of(call));
}

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the tool"},
	{.name = "diameter",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .usage = "LENGTH",
     .meaning = "of a plate cylinder (bare) or an anilox roll"},
	{.name = "runout",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .usage = "LENGTH",
     .meaning = "of a plate cylinder, total indicated"},
	{.name = "damage",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .usage = "FROM..TO",
     .meaning = "band of the face that is damaged, from the edge that face_from counts from"},
	{.name = "note", .type = ARGUMENT_TEXT, .keyed = true, .meaning = "how, or by what"},
};

static const char *const examples[] = {
	"gauge PC000025-1 diameter=93.97mm runout=0.008mm",
	"gauge AN000025-B damage=100mm..120mm note=\"scored by a blade\"",
	"gauge AN000025-B damage=..20mm",
	NULL,
};

const struct command command_gauge = {
	.name = "gauge",
	.summary = "record diameter, runout, or damage of the face",
	.more = "What was gauged is the record's from now on. After damage the widest band that none "
			"has touched is the usable one: the check counts by it. What looks like a slip is "
			"recorded all the same; undo takes it back.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
