/* What commands of care share beside their answer. */
#include "cared_run.h"

#include <string.h>

#include "records.h"

/* ---------------------------------------------------------------- several tools at once */

/* Once for all of them: solvents, edges, weights. Nobody is hurt by calling a tool dirty. */
static const char *cleaning_caution(struct call *call, const struct cared *cared, size_t count,
                                    const char *what)
{
	unsigned handled = 0;
	for (size_t i = 0; i < count; i++) {
		handled |= 1U << cared[i].kind->id;
	}
	return strcmp(what, "cleaned") == 0 ? room_handling(call->arena, "wash", handled) : NULL;
}

enum outcome cleaning_run(struct call *call, const char *what, const char *said)
{
	size_t count = call_bare_count(call);
	const char **tags = arena_take(call->arena, count, sizeof *tags);
	struct cared *cared = arena_take(call->arena, count, sizeof *cared);
	for (size_t i = 0; i < count; i++) {
		tags[i] = call_bare(call, i);
	}
	enum outcome outcome = care_cleaning(call->store, call->arena, tags, count, what, call->units,
	                                     &call->actor, cared, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char *caution = cleaning_caution(call, cared, count, what);
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < count; i++) {
		cared[i].caution = caution;
		cared_write(call, &cared[i]);
		cared[i].caution = i + 1 < count ? NULL : caution;
		cared_say(call, &cared[i], said);
	}
	answer_array_close(call->answer);
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- a life that begins */

/* `third`, `11th`: which life of a tool it is. */
static const char *ordinal(struct arena *arena, int64_t number)
{
	static const char *const words[] = {"first", "second",  "third",  "fourth", "fifth",
	                                    "sixth", "seventh", "eighth", "ninth",  "tenth"};
	static const char *const endings[] = {"th", "st", "nd", "rd"};
	int64_t last = number % 10;
	bool teen = number % 100 >= 11 && number % 100 <= 13;
	return number >= 1 && number <= (int64_t)COUNT_OF(words)
	           ? words[number - 1]
	           : arena_format(arena, "%lld%s", (long long)number,
	                          endings[teen || last > 3 ? 0 : last]);
}

static const char *said_of(struct call *call, const struct cared *cared)
{
	const char *done = cared->kind->id == KIND_BLADE    ? "new blade"
	                   : cared->kind->id == KIND_ANILOX ? "engraved anew"
	                                                    : "ground anew";
	return arena_format(call->arena, "%s, its %s life", done, ordinal(call->arena, cared->life));
}

/* At a press it stands among nip points: where it is decides too. */
static enum outcome caution_read(struct call *call, struct cared *cared)
{
	struct tool_state state;
	enum outcome outcome =
		store_tool_state(call->store, call->arena, cared->record->id, &state, call->fault);
	if (outcome == OUTCOME_DONE) {
		cared->caution = room_handling(call->arena, state.place_sort, 1U << cared->kind->id);
	}
	return outcome;
}

enum outcome new_life_run(struct call *call, new_life begin)
{
	const char **keys = arena_take(call->arena, call->word_count, sizeof *keys);
	const char **values = arena_take(call->arena, call->word_count, sizeof *values);
	struct cared cared;
	size_t count = 0;
	for (size_t i = 0; i < call->word_count; i++) {
		if (call->words[i].key != NULL) {
			keys[count] = call->words[i].key;
			values[count++] = call->words[i].value;
		}
	}
	enum outcome outcome = begin(call->store, call->arena, call_bare(call, 0), keys, values, count,
	                             call->units, &call->actor, &cared, call->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = caution_read(call, &cared);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return cared_answer(call, &cared, said_of(call, &cared));
}
