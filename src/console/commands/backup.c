/* `backup FILE`: a copy of the running shop. */
#include <inttypes.h>

#include "../progress.h"
#include "commands.h"
#include "toothrack/room.h"

static enum outcome run(struct call *call)
{
	struct answer *answer = call->answer;
	const char *file = call_bare(call, 0);
	struct copied copied;
	struct progress progress;
	struct watch watch = progress_watch(&progress, call);
	enum outcome outcome =
		room_backup(call->store, call->arena, file, &watch, &copied, call->fault);
	progress_clear(&progress);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_object_open(answer, NULL);
	answer_word(answer, "file", file);
	answer_count(answer, "records", copied.records);
	answer_count(answer, "entries", copied.entries);
	answer_count(answer, "bytes", copied.bytes);
	answer_object_close(answer);
	answer_line(answer, MARK_PLAIN,
	            "%s: %" PRId64 " records, %" PRId64 " ledger entries, %s, whole", file,
	            copied.records, copied.entries, size_said(call->arena, copied.bytes));
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "file",
     .type = ARGUMENT_FILE,
     .required = true,
     .meaning = "where the copy goes; not one that is there already"},
};

static const char *const examples[] = {"backup shop-monday.db", NULL};

const struct command command_backup = {
	.name = "backup",
	.summary = "a safe copy of the shop in one file, while others go on working",
	.more = "The copy is looked over before it gets its name: it is whole, or it is not there. "
			"Keep it on another disk.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
