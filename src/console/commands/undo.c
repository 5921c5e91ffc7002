/* `undo`: this operator's last entry at this terminal taken back. */
#include <string.h>

#include "../records.h"
#include "commands.h"

static void undone_write(struct answer *answer, const struct undone *undone)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "undone", undone->word);
	answer_count(answer, "number", undone->number);
	answer_moment(answer, "happened", undone->happened);
	answer_word(answer, "record", undone->called);
	answer_word(answer, "result", undone->result);
	answer_word(answer, "from", undone->moved ? undone->movement.from : NULL);
	answer_word(answer, "to", undone->moved ? undone->movement.tool.place_code : NULL);
	answer_object_close(answer);
}

static enum outcome run(struct call *call)
{
	struct undone undone;
	enum outcome outcome = room_undo(call->store, call->arena, &call->actor, &undone, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	undone_write(call->answer, &undone);
	answer_line(call->answer, MARK_PLAIN, "%s  %s taken back: %s%s%s%s", undone.called, undone.said,
	            undone.result, undone.what != NULL ? "  (" : "",
	            undone.what != NULL ? undone.what : "", undone.what != NULL ? ")" : "");
	const char *sort = undone.moved ? undone.movement.tool.place_sort : NULL;
	if (sort != NULL && (strcmp(sort, "press") == 0 || strcmp(sort, "wash") == 0)) {
		handling_say(call, &undone.movement, 1);
	}
	return OUTCOME_DONE;
}

static const char *const examples[] = {"undo", NULL};

const struct command command_undo = {
	.name = "undo",
	.summary = "take back what you entered last at this terminal, as a new entry",
	.more =
		"Typed again it goes one entry further back; of several tools put at once each is an "
		"entry. It is refused where something has happened to the record since. What was put on "
		"record new is not taken back, readings excepted: scrap a tool, retire a place, cancel a "
		"job, remove a station.",
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
};
