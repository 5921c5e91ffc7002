/* `reading TAG volume=...`: the volume of an anilox roll as it was read. */
#include "../cared_answer.h"
#include "commands.h"

static enum outcome read_key(struct call *call, const char *key, enum value_type type,
                             struct value *out)
{
	const char *text = call_value(call, key);
	*out = (struct value){.type = type};
	return text == NULL ? OUTCOME_DONE
	                    : value_parse(call->arena, key, type, NULL, NULL, text, out, call->fault);
}

static enum outcome read_keys(struct call *call, struct reading_asked *asked)
{
	const struct {
		const char *key;
		enum value_type type;
		struct value *out;
	} keys[] = {
		{"volume", VALUE_VOLUME, &asked->volume}, {"across", VALUE_ACROSS, &asked->across},
		{"liquid", VALUE_LIQUID, &asked->liquid}, {"area", VALUE_AREA, &asked->area},
		{"run", VALUE_WEB, &asked->run},          {"moment", VALUE_MOMENT, &asked->moment},
	};
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < COUNT_OF(keys) && outcome == OUTCOME_DONE; i++) {
		outcome = read_key(call, keys[i].key, keys[i].type, keys[i].out);
	}
	asked->method = call_value(call, "method");
	asked->after = call_value(call, "after");
	return outcome;
}

/* `volume 6.7cm3/m2, across 6.6/6.8/6.7cm3/m2, by surface, after cleaning, 2026-12-01T08:00` */
static const char *reading_said(struct call *call, const struct record *reading)
{
	struct text said = text_start(call->arena);
	const struct value *across = record_known(reading, "across"),
					   *run = record_known(reading, "run");
	const char *method = record_words(reading, "method"), *after = record_words(reading, "after");
	text_add_format(&said, "volume %s",
	                value_text(call->arena, record_known(reading, "volume"), call->units));
	if (across != NULL) {
		text_add_format(&said, ", across %s", value_text(call->arena, across, call->units));
	}
	if (method != NULL) {
		text_add_format(&said, ", by %s", method);
	}
	text_add_format(&said, ", after %s", after != NULL && *after == 'c' ? "cleaning" : "a run");
	if (run != NULL) {
		text_add_format(&said, ", at %s run", value_text(call->arena, run, call->units));
	}
	text_add_format(&said, ", %s", moment_text(record_known(reading, "moment")->moment).bytes);
	return said.bytes;
}

static enum outcome run(struct call *call)
{
	struct reading_asked asked = {.method = NULL};
	struct cared cared;
	enum outcome outcome = read_keys(call, &asked);
	if (outcome == OUTCOME_DONE) {
		outcome = care_reading(call->store, call->arena, call_bare(call, 0), &asked, call->units,
		                       &call->actor, &cared, call->fault);
	}
	return outcome == OUTCOME_DONE ? cared_answer(call, &cared, reading_said(call, cared.reading))
	                               : outcome;
}

static const char *const methods[] = {"surface", "drawdown", NULL};
static const char *const afters[] = {"clean", "run", NULL};

static const struct argument arguments[] = {
	{.name = "tag", .type = ARGUMENT_TOOL, .required = true, .meaning = "the roll"},
	{.name = "volume",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "as read, such as 4.3bcm",
     .usage = "VOLUME"},
	{.name = "across",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "left/centre/right; its mean is the volume",
     .usage = "LEFT/CENTRE/RIGHT"},
	{.name = "liquid",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "of a drawdown: what the cells took up, such as 12ul",
     .usage = "LIQUID"},
	{.name = "area",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "of a drawdown: what it filled, such as 25cm2",
     .usage = "AREA"},
	{.name = "method",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = methods,
     .meaning = "how it was read; of liquid and area it is drawdown"},
	{.name = "after",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = afters,
     .meaning = "cleaning, or a run; only those after cleaning tell of wear"},
	{.name = "run",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "web that it had run since the engraving; as the runs of jobs tell where not given",
     .usage = "LENGTH"},
	{.name = "moment",
     .type = ARGUMENT_MOMENT,
     .keyed = true,
     .meaning = "when it was read; now where not given"},
};

static const char *const examples[] = {
	"reading AN000009-B volume=4.9cm3/m2 method=surface after=clean",
	"reading AN000009-B across=4.8/4.9/4.9cm3/m2 after=clean moment=2026-10-30T14:00",
	"reading AN000009-B liquid=12ul area=25cm2 after=run",
	NULL,
};

const struct command command_reading = {
	.name = "reading",
	.summary = "put on record what volume was read of an anilox roll",
	.more =
		"What looks like a slip is recorded, and questioned: a volume that is not usual for the "
		"roll's screen, one that rose with no cleaning or engraving between, one far above its "
		"volume when new, a run that goes back. undo takes it back. A list of many comes by import "
		"reading FILE.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
