/* `put`, `send`, `receive`: where a tool is. */
#include <string.h>

#include "move.h"

static enum outcome find_place(struct errand *errand, const char *name, struct fault *fault)
{
	struct found found;
	enum outcome outcome = store_find(errand->store, name, REFER_PLACE, &found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_place_state(errand->store, errand->arena, found.id, &errand->place, fault);
	}
	if (outcome == OUTCOME_DONE && errand->place.retired) {
		fault_set(fault, OUTCOME_NO, "place is retired: %s", errand->place.code);
		fault_hint(fault, "Name a place that is in use.");
		return OUTCOME_NO;
	}
	return outcome;
}

enum outcome move_refuse_scrapped(const struct tool_state *tool, struct fault *fault)
{
	if (strcmp(tool->condition, "scrapped") != 0) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_NO, "tool is scrapped: %s%s%s", tool->tag,
	          tool->condition_reason != NULL ? ": " : "",
	          tool->condition_reason != NULL ? tool->condition_reason : "");
	fault_hint(fault, "Type edit %s condition=ready where it was not.", tool->tag);
	return OUTCOME_NO;
}

static bool is_lost(const char *sort)
{
	return sort != NULL && strcmp(sort, "lost") == 0;
}

/* Where a place of a press does not take it, the tool is there all the same: then why not. */
static enum outcome ask_press(const struct errand *errand, int64_t tool, const char **against,
                              const char **doubt, struct fault *fault)
{
	struct bench_verdict verdict = {.yes = true};
	if (errand->asks == NULL || errand->place.press == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		errand->asks->takes(errand->store, errand->arena, errand->place.id, tool, &verdict, fault);
	*against = verdict.yes ? NULL : verdict.text;
	*doubt = verdict.yes ? verdict.caution : NULL;
	return outcome;
}

/* `against`: why the press does not take it, its own hold first; `doubt`: what else is to be known.
 */
static const char *caution_of(struct arena *arena, const struct tool_state *tool,
                              const struct tool_state *before, const char *against,
                              const char *doubt)
{
	struct text text = text_start(arena);
	if (before->place == tool->place) {
		text_add_format(&text, "was at %s already", tool->place_code);
	} else if (is_lost(tool->place_sort)) {
		text_add(&text, "counts as lost from now on");
	} else if (is_lost(before->place_sort)) {
		text_add(&text, "was lost: look it over before it runs");
	}
	if (against != NULL) {
		text_join(&text, "; ", against);
	} else if (strcmp(tool->condition, "hold") == 0) {
		text_join(&text, "; ", "still on hold");
		if (tool->condition_reason != NULL) {
			text_add_format(&text, ": %s", tool->condition_reason);
		}
	}
	if (doubt != NULL) {
		text_join(&text, "; ", doubt);
	}
	return text.length > 0 ? text.bytes : NULL;
}

enum outcome move_refuse_clock(const char *tag, struct fault *fault)
{
	fault_set(fault, OUTCOME_NO, "clock stands before the tool's last movement: %s", tag);
	fault_hint(fault,
	           "Set this computer's clock, then type it again; history %s tells when it moved.",
	           tag);
	return OUTCOME_NO;
}

/* As it is now, without being read again: a shift at the bench is made of these. */
static void tell_moved(const struct errand *errand, const struct tool_state *before,
                       struct tool_state *out)
{
	*out = *before;
	out->place = errand->place.id;
	out->place_code = errand->place.code;
	out->place_sort = errand->place.sort;
	out->taken_for = NULL;
	out->back =
		errand->back != NULL ? arena_copy(errand->arena, moment_text(*errand->back).bytes) : NULL;
}

/* What comes late does not move a tool that has moved since; anything else has a wrong clock. */
static enum outcome tell_stays(const struct errand *errand, const struct tool_state *before,
                               struct moved *out, struct fault *fault)
{
	if (!errand->actor->happened.known) {
		return move_refuse_clock(before->tag, fault);
	}
	out->tool = *before;
	out->caution = arena_format(errand->arena, "has moved since: it stays %s%s",
	                            before->place_code != NULL ? "at " : "where it is",
	                            before->place_code != NULL ? before->place_code : "");
	return OUTCOME_DONE;
}

enum outcome move_tool(const struct errand *errand, const struct tool_state *before,
                       struct moved *out, struct fault *fault)
{
	bool stays = false;
	struct movement movement = {
		.tool = before->id,
		.to = errand->place.id,
		.back = errand->back,
		.word = errand->word,
		.reason = errand->reason,
		.happened = actor_moment(errand->actor),
		.stays = &stays,
	};
	enum outcome outcome = store_tool_move(errand->store, &movement, errand->actor, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->from = before->place_code;
	if (stays) {
		return tell_stays(errand, before, out, fault);
	}
	tell_moved(errand, before, &out->tool);
	const char *against = NULL, *doubt = NULL;
	outcome = ask_press(errand, before->id, &against, &doubt, fault);
	out->caution = caution_of(errand->arena, &out->tool, before, against, doubt);
	return outcome;
}

static enum outcome find_tool(const struct errand *errand, const char *tag, struct tool_state *out,
                              struct fault *fault)
{
	struct found found;
	enum outcome outcome = store_find(errand->store, tag, REFER_TOOL, &found, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_tool_state(errand->store, errand->arena, found.id, out, fault);
	}
	return outcome == OUTCOME_DONE ? move_refuse_scrapped(out, fault) : outcome;
}

static enum outcome finish(struct store *store, enum outcome outcome, struct fault *fault)
{
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}

/* ---------------------------------------------------------------- put */

enum outcome move_refuse_supplier(const struct place_state *place, const char *tag,
                                  struct fault *fault)
{
	if (strcmp(place->sort, "supplier") != 0) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_NO, "place is a supplier: %s", place->code);
	fault_hint(fault, "Type send %s at=%s back=DATE reason=...", tag, place->code);
	return OUTCOME_NO;
}

/* A place holds more than it takes: somebody has to clear it, or mistyped the place. */
#define TOOLS_COUNTED 10000
enum outcome move_caution_of_capacity(const struct errand *errand, struct moved *last,
                                      struct fault *fault)
{
	int64_t counts[KIND_COUNT], all = 0;
	if (!errand->place.capacity.known) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_place_counts(errand->store, errand->place.id, TOOLS_COUNTED, counts, fault);
	for (size_t i = 0; i < KIND_COUNT; i++) {
		all += counts[i];
	}
	if (outcome == OUTCOME_DONE && all > errand->place.capacity.value) {
		struct text text = text_start(errand->arena);
		if (last->caution != NULL) {
			text_add(&text, last->caution);
		}
		text_join(&text, "; ", errand->place.code);
		text_add_format(&text, " holds %lld tools now, it takes %lld", (long long)all,
		                (long long)errand->place.capacity.value);
		last->caution = text.bytes;
	}
	return outcome;
}

static enum outcome put_all(struct errand *errand, const char *const *tags, size_t count,
                            const char *place, struct moved *out, struct fault *fault)
{
	enum outcome outcome = find_place(errand, place, fault);
	if (outcome == OUTCOME_DONE && count > 0) {
		outcome = move_refuse_supplier(&errand->place, tags[0], fault);
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		struct tool_state tool;
		outcome = find_tool(errand, tags[i], &tool, fault);
		for (size_t j = 0; j < i && outcome == OUTCOME_DONE; j++) {
			if (out[j].tool.id == tool.id) {
				fault_set(fault, OUTCOME_BAD, "tag given twice: %s", tool.tag);
				fault_hint(fault, "Name each tool once.");
				outcome = OUTCOME_BAD;
			}
		}
		if (outcome == OUTCOME_DONE) {
			outcome = move_tool(errand, &tool, &out[i], fault);
		}
	}
	return outcome == OUTCOME_DONE && count > 0
	           ? move_caution_of_capacity(errand, &out[count - 1], fault)
	           : outcome;
}

enum outcome room_put(struct store *store, struct arena *arena, const char *const *tags,
                      size_t count, const char *place, const struct bench_asks *asks,
                      const struct actor *actor, struct moved *out, struct fault *fault)
{
	struct errand errand = {.store = store,
	                        .arena = arena,
	                        .actor = actor,
	                        .word = "put",
	                        .asks = asks};
	enum outcome outcome = store_begin(store, "room_put", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return finish(store, put_all(&errand, tags, count, place, out, fault), fault);
}

/* ---------------------------------------------------------------- send */

static enum outcome refuse_sending(const struct errand *errand, const struct tool_state *tool,
                                   struct fault *fault)
{
	if (strcmp(errand->place.sort, "supplier") != 0) {
		fault_set(fault, OUTCOME_NO, "place is not a supplier: %s", errand->place.code);
		fault_hint(fault, "Type put %s at=%s.", tool->tag, errand->place.code);
		return OUTCOME_NO;
	}
	if (errand->back != NULL &&
	    moment_compare(moment_of_day_end(*errand->back), errand->actor->now) < 0) {
		fault_set(fault, OUTCOME_BAD, "back lies in the past: %s",
		          moment_text(*errand->back).bytes);
		fault_hint(fault, "Type when it is due, or leave back out where no date is promised.");
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* As it is kept: without blanks around it, and harmless. */
static enum outcome read_reason(struct errand *errand, const char *tag, const char *place,
                                struct fault *fault)
{
	struct value value = {.known = false};
	enum outcome outcome = OUTCOME_DONE;
	if (errand->reason != NULL) {
		outcome = value_parse(errand->arena, "reason", VALUE_TEXT, NULL, NULL, errand->reason,
		                      &value, fault);
	}
	if (outcome == OUTCOME_DONE && !value.known) {
		fault_set(fault, OUTCOME_BAD, "reason is not given");
		fault_hint(fault, "Type send %s at=%s reason=\"to be ground\".", tag, place);
		return OUTCOME_BAD;
	}
	errand->reason = value.text;
	return outcome;
}

static enum outcome send_one(struct errand *errand, const char *tag, const char *place,
                             struct moved *out, struct fault *fault)
{
	struct tool_state tool;
	enum outcome outcome = read_reason(errand, tag, place, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = find_place(errand, place, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = find_tool(errand, tag, &tool, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_sending(errand, &tool, fault);
	}
	return outcome == OUTCOME_DONE ? move_tool(errand, &tool, out, fault) : outcome;
}

enum outcome room_send(struct store *store, struct arena *arena, const char *tag, const char *place,
                       const struct moment *back, const char *reason, const struct actor *actor,
                       struct moved *out, struct fault *fault)
{
	struct errand errand = {.store = store,
	                        .arena = arena,
	                        .actor = actor,
	                        .word = "send",
	                        .back = back,
	                        .reason = reason};
	enum outcome outcome = store_begin(store, "room_send", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return finish(store, send_one(&errand, tag, place, out, fault), fault);
}

/* ---------------------------------------------------------------- receive */

/* Where a tool comes back to: the place named, else its home. */
static enum outcome find_destination(struct errand *errand, const struct tool_state *tool,
                                     const char *place, struct fault *fault)
{
	if (place == NULL && tool->home_code == NULL) {
		fault_set(fault, OUTCOME_NO, "home of the tool not known: %s", tool->tag);
		fault_hint(fault, "Type receive %s at=PLACE.", tool->tag);
		return OUTCOME_NO;
	}
	enum outcome outcome = find_place(errand, place != NULL ? place : tool->home_code, fault);
	if (outcome == OUTCOME_DONE && strcmp(errand->place.sort, "supplier") == 0) {
		fault_set(fault, OUTCOME_NO, "place is a supplier, nothing is received there: %s",
		          errand->place.code);
		fault_hint(fault, "Type receive %s at=PLACE with a place of the shop.", tool->tag);
		return OUTCOME_NO;
	}
	if (outcome == OUTCOME_DONE && is_lost(errand->place.sort)) {
		fault_set(fault, OUTCOME_NO, "place is for what is lost, nothing is received there: %s",
		          errand->place.code);
		fault_hint(fault, "Type receive %s at=PLACE with the place where it is now.", tool->tag);
		return OUTCOME_NO;
	}
	return outcome;
}

static enum outcome receive_one(struct errand *errand, const char *tag, const char *place,
                                struct moved *out, struct fault *fault)
{
	struct tool_state tool;
	enum outcome outcome = find_tool(errand, tag, &tool, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = find_destination(errand, &tool, place, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = move_tool(errand, &tool, out, fault);
	}
	return outcome == OUTCOME_DONE ? move_caution_of_capacity(errand, out, fault) : outcome;
}

enum outcome room_receive(struct store *store, struct arena *arena, const char *tag,
                          const char *place, const struct bench_asks *asks,
                          const struct actor *actor, struct moved *out, struct fault *fault)
{
	struct errand errand = {.store = store,
	                        .arena = arena,
	                        .actor = actor,
	                        .word = "receive",
	                        .asks = asks};
	enum outcome outcome = store_begin(store, "room_receive", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	return finish(store, receive_one(&errand, tag, place, out, fault), fault);
}
