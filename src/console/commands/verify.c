/* `verify`: is the store whole, and do records and ledger agree? */
#include <inttypes.h>

#include "../progress.h"
#include "commands.h"
#include "toothrack/room.h"

static void write(struct answer *answer, const struct proof *proof)
{
	answer_object_open(answer, NULL);
	answer_yes_no(answer, "whole", proof->damage_count == 0);
	answer_count(answer, "pages", proof->pages);
	answer_count(answer, "entries", proof->entries);
	answer_count(answer, "records", proof->records);
	answer_count(answer, "tools", proof->tools);
	answer_count(answer, "damage_count", proof->damage_count);
	answer_array_open(answer, "damages");
	for (size_t i = 0; i < proof->damages_kept; i++) {
		const struct damage *damage = &proof->damages[i];
		answer_object_open(answer, NULL);
		if (damage->entry > 0) {
			answer_count(answer, "entry", damage->entry);
		} else {
			answer_null(answer, "entry");
		}
		answer_word(answer, "tag", damage->tag);
		answer_word(answer, "text", damage->text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	answer_object_close(answer);
}

static void say(struct answer *answer, const struct proof *proof)
{
	answer_line(answer, MARK_PLAIN, "file: %" PRId64 " pages, and every reference", proof->pages);
	answer_line(answer, MARK_PLAIN,
	            "ledger: %" PRId64 " entries, each with the hash of the one before",
	            proof->entries);
	answer_line(answer, MARK_PLAIN,
	            "records: %" PRId64 ", of them %" PRId64 " tools with place and condition",
	            proof->records, proof->tools);
	for (size_t i = 0; i < proof->damages_kept; i++) {
		answer_line(answer, MARK_BAD, "%s", proof->damages[i].text);
	}
	int64_t more = proof->damage_count - (int64_t)proof->damages_kept;
	if (more > 0) {
		answer_line(answer, MARK_BAD, "and %" PRId64 " more", more);
	}
	if (proof->damage_count == 0) {
		answer_line(answer, MARK_GOOD, "whole");
	} else {
		answer_line(answer, MARK_BAD,
		            "damage found: %" PRId64 "; keep the file as it is, and "
		            "restore a copy from before",
		            proof->damage_count);
	}
}

static enum outcome run(struct call *call)
{
	struct proof *proof = arena_take(call->arena, 1, sizeof *proof);
	struct progress progress;
	struct watch watch = progress_watch(&progress, call);
	enum outcome outcome = room_verify(call->store, call->arena, &watch, proof, call->fault);
	progress_clear(&progress);
	if (outcome == OUTCOME_DONE || outcome == OUTCOME_NO) {
		write(call->answer, proof);
		say(call->answer, proof);
	}
	return outcome;
}

static const char *const examples[] = {"verify", NULL};

const struct command command_verify = {
	.name = "verify",
	.summary = "proof that the shop file, its ledger and its records are whole",
	.more = "It changes nothing. Damage is named one line each, the exit is then 1. A copy is "
			"looked at with toothrack --db FILE verify.",
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
