/* `demo`: the built-in demo shop in a new shop file. */
#include <inttypes.h>

#include "toothrack/room.h"

#include "commands.h"

static void added_say(struct call *call, const int64_t *added)
{
	struct text line = text_start(call->arena);
	answer_object_open(call->answer, NULL);
	for (size_t i = 0; i < KIND_COUNT; i++) {
		answer_count(call->answer, kinds[i].name, added[i]);
		if (added[i] > 0) {
			text_join(&line, ", ", "");
			text_add_format(&line, "%s %" PRId64, kinds[i].name, added[i]);
		}
	}
	answer_object_close(call->answer);
	answer_line(call->answer, MARK_PLAIN, "the demo shop is on record: %s", line.bytes);
	answer_blank(call->answer);
	answer_line(call->answer, MARK_PLAIN, "type next, with the same --db:");
	answer_line(call->answer, MARK_PLAIN, "  toothrack check J2601      a job that is ready");
	answer_line(call->answer, MARK_PLAIN,
	            "  toothrack check J2608      a short one, and what helps");
	answer_line(call->answer, MARK_PLAIN, "  toothrack choices J2603    repeats for a new label");
	answer_line(call->answer, MARK_PLAIN,
	            "  toothrack wear AN000005-J  a roll that nears its limit");
	answer_line(call->answer, MARK_PLAIN, "  toothrack show PC000025-1  a plate cylinder");
}

static enum outcome run(struct call *call)
{
	int64_t added[KIND_COUNT] = {0};
	enum outcome outcome = room_demo(call->store, call->arena, &call->actor, added, call->fault);
	if (outcome == OUTCOME_DONE) {
		added_say(call, added);
	}
	return outcome;
}

static const char *const examples[] = {"--db demo.db demo", NULL};

const struct command command_demo = {
	.name = "demo",
	.summary = "make the demo shop in a new shop file, to try the commands on",
	.needs = NEEDS_MAKE,
	.examples = examples,
	.run = run,
};
