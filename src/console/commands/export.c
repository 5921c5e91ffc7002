/* `export KIND [file=FILE]`: all records of a kind as CSV that `import` takes. */
#include <inttypes.h>
#include <string.h>

#include "../records.h"
#include "../session.h"
#include "commands.h"

/* What is printed, many lines at a time. */
struct printing {
	struct call *call;
	size_t length;
	char bytes[32 * 1024];
};

static enum outcome print_all(struct printing *printing)
{
	struct call *call = printing->call;
	printing->bytes[printing->length] = '\0';
	printing->length = 0;
	enum outcome outcome = console_print(call->console, printing->bytes, call->fault);
	/* Nobody reads on, as with `| head`: that is no fault, but the end. */
	return outcome == OUTCOME_DONE && call->console->reader_gone ? OUTCOME_NO : outcome;
}

static enum outcome print(const char *bytes, size_t length, void *context)
{
	struct printing *printing = context;
	enum outcome outcome = OUTCOME_DONE;
	while (length > 0 && outcome == OUTCOME_DONE) {
		size_t room = sizeof printing->bytes - 1 - printing->length;
		size_t part = length < room ? length : room;
		memcpy(printing->bytes + printing->length, bytes, part);
		printing->length += part;
		bytes += part;
		length -= part;
		if (length > 0) {
			outcome = print_all(printing);
		}
	}
	return outcome;
}

static void nothing_to_open(const struct kind *const *kinds_found, size_t count, void *context)
{
	(void)kinds_found;
	(void)count;
	(void)context;
}

static enum outcome write_record(struct arena *arena, struct record *record, void *context)
{
	struct call *call = context;
	(void)arena;
	answer_object_open(call->answer, NULL);
	record_write(call->answer, record);
	answer_object_close(call->answer);
	return OUTCOME_DONE;
}

static enum outcome export_json(struct call *call, const struct kind *kind)
{
	struct question all = {.kind = kind};
	int64_t count = 0;
	answer_array_open(call->answer, NULL);
	enum outcome outcome = room_find(call->store, call->arena, &all, nothing_to_open, write_record,
	                                 call, &count, call->fault);
	if (outcome == OUTCOME_DONE) {
		answer_array_close(call->answer);
	}
	return outcome;
}

static enum outcome export_file(struct call *call, const struct kind *kind, const char *file)
{
	int64_t count = 0;
	enum outcome outcome =
		room_export_file(call->store, call->arena, kind, file, &count, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "kind", kind->name);
	answer_word(call->answer, "file", file);
	answer_count(call->answer, "records", count);
	answer_object_close(call->answer);
	answer_line(call->answer, MARK_PLAIN, "%s to %s: %" PRId64 " record%s", kind->name, file, count,
	            count == 1 ? "" : "s");
	return OUTCOME_DONE;
}

static enum outcome export_print(struct call *call, const struct kind *kind)
{
	struct printing *printing = arena_take(call->arena, 1, sizeof *printing);
	int64_t count = 0;
	printing->call = call;
	enum outcome outcome = room_export(call->store, kind, print, printing, &count, call->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = print_all(printing);
	}
	return outcome == OUTCOME_NO ? OUTCOME_DONE : outcome;
}

static enum outcome run(struct call *call)
{
	const struct kind *kind = kind_find(call_bare(call, 0));
	const char *file = call_value(call, "file");
	if (kind == NULL) {
		return fault_set(call->fault, OUTCOME_BAD, "kind not known: %s", call_bare(call, 0));
	}
	if (file != NULL) {
		return export_file(call, kind, file);
	}
	if (answer_form(call->answer) == FORM_JSON) {
		return export_json(call, kind);
	}
	return export_print(call, kind);
}

static const struct argument arguments[] = {
	{.name = "kind", .type = ARGUMENT_KIND, .required = true, .meaning = "which records"},
	{.name = "file",
     .type = ARGUMENT_FILE,
     .keyed = true,
     .meaning = "where to; without it the CSV is the answer"},
};

static const char *const examples[] = {"export cylinder file=cylinders.csv", "export operator",
                                       NULL};

const struct command command_export = {
	.name = "export",
	.summary = "all records of one kind as CSV, which import takes again",
	.more = "Headings are the attributes' names, cells carry their units in metric, moments are in "
			"UTC. Where a tool or place is on hold or scrapped its note begins with the reason. "
			"A file is written whole or not at all, in place of one that is there.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
