/* `restore FILE`: a copy in the shop's place. */
#include <inttypes.h>

#include "../progress.h"
#include "commands.h"
#include "toothrack/room.h"

static void say(struct call *call, const char *file, const struct restored *restored)
{
	struct answer *answer = call->answer;
	answer_object_open(answer, NULL);
	answer_word(answer, "file", file);
	answer_count(answer, "records", restored->copy.records);
	answer_count(answer, "entries", restored->copy.entries);
	answer_count(answer, "entries_before", restored->entries_before);
	answer_word(answer, "kept", restored->kept);
	answer_object_close(answer);
	answer_line(answer, MARK_PLAIN,
	            "restored from %s: %" PRId64 " records, %" PRId64 " ledger entries", file,
	            restored->copy.records, restored->copy.entries);
	if (restored->kept != NULL) {
		answer_line(answer, MARK_PLAIN,
		            "  what was here before, %" PRId64 " ledger entries, is kept in %s",
		            restored->entries_before, restored->kept);
	}
}

static enum outcome run(struct call *call)
{
	const char *file = call_bare(call, 0);
	struct restored restored;
	struct progress progress;
	struct watch watch = progress_watch(&progress, call);
	enum outcome outcome =
		room_restore(call->store, call->arena, file, &call->actor, &watch, &restored, call->fault);
	progress_clear(&progress);
	if (outcome == OUTCOME_DONE) {
		say(call, file, &restored);
	}
	return outcome;
}

static const struct argument arguments[] = {
	{.name = "file", .type = ARGUMENT_FILE, .required = true, .meaning = "a copy that backup made"},
};

static const char *const examples[] = {"restore shop-monday.db", NULL};

const struct command command_restore = {
	.name = "restore",
	.summary = "bring a copy back as the shop; a supervisor's work",
	.more =
		"The copy must be whole, and stays as it is. What the shop holds is first kept in a file "
		"beside it. Consoles that have the shop open see the one or the other, and go on with "
		"the copy.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_MAKE,
	.role = ROLE_SUPERVISOR,
	.examples = examples,
	.run = run,
};
