/* Counts of shelves: what is missing, what lies elsewhere than on record, what nobody knows. */
#include <string.h>

#include "job_row.h"
#include "move.h"

/* ---------------------------------------------------------------- how it stands */

/* "plate cylinder, 96 teeth 1/8cp, face 330mm"; what is read for it is given back at once. */
static enum outcome describe(struct store *store, struct arena *arena, struct arena *scratch,
                             const struct counted *counted, const char **out, struct fault *fault)
{
	struct record *record;
	*out = NULL;
	if (counted->tool == 0) {
		return OUTCOME_DONE;
	}
	enum outcome outcome =
		store_record_read(store, scratch, counted->kind, counted->tool, &record, fault);
	if (outcome == OUTCOME_DONE) {
		*out = arena_copy(arena, room_summary(scratch, record, UNITS_METRIC));
	}
	arena_reset(scratch);
	return outcome;
}

static enum outcome read_rows(struct store *store, struct arena *arena, int64_t count,
                              enum count_difference which, struct count_row **out,
                              size_t *row_count, struct fault *fault)
{
	struct counted *counted;
	struct arena *scratch = arena_new();
	enum outcome outcome =
		store_count_differences(store, arena, count, which, &counted, row_count, fault);
	*out = arena_take(arena, *row_count, sizeof **out);
	for (size_t i = 0; i < *row_count && outcome == OUTCOME_DONE; i++) {
		struct count_row *row = &(*out)[i];
		*row = (struct count_row){.tag = counted[i].code,
		                          .on_record = counted[i].on_record,
		                          .out_for = counted[i].out_for,
		                          .seen = counted[i].seen};
		outcome = describe(store, arena, scratch, &counted[i], &row->what, fault);
	}
	arena_free(scratch);
	return outcome;
}

static enum outcome read_state(struct store *store, struct arena *arena, int64_t count,
                               struct count_state *out, struct fault *fault)
{
	struct count_head head;
	enum outcome outcome = store_count_read(store, arena, count, &head, fault);
	*out = (struct count_state){.id = count};
	if (outcome == OUTCOME_DONE) {
		out->place = head.code;
		out->name = head.name;
		out->started = head.started;
		out->by = head.by;
		out->ended = head.ended;
		outcome = store_count_figures(store, count, &out->expected, &out->seen, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_rows(store, arena, count, COUNT_MISSING, &out->missing, &out->missing_count,
		                    fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_rows(store, arena, count, COUNT_ELSEWHERE, &out->elsewhere,
		                    &out->elsewhere_count, fault);
	}
	return outcome == OUTCOME_DONE ? read_rows(store, arena, count, COUNT_UNKNOWN, &out->unknown,
	                                           &out->unknown_count, fault)
	                               : outcome;
}

enum outcome room_count_figures(struct store *store, int64_t count, int64_t *expected,
                                int64_t *seen, struct fault *fault)
{
	return store_count_figures(store, count, expected, seen, fault);
}

enum outcome room_count_state(struct store *store, struct arena *arena, int64_t count,
                              struct count_state *out, struct fault *fault)
{
	*out = (struct count_state){.id = count};
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = read_state(store, arena, count, out, fault);
		store_snapshot_end(store);
	}
	return outcome;
}

enum outcome room_count_open(struct store *store, struct arena *arena, const char *place,
                             int64_t *count, struct fault *fault)
{
	struct found found;
	struct place_state state;
	enum outcome outcome = store_find(store, place, REFER_PLACE, &found, fault);
	*count = 0;
	if (outcome == OUTCOME_DONE) {
		outcome = store_place_state(store, arena, found.id, &state, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_count_find(store, found.id, count, fault);
	}
	if (outcome == OUTCOME_DONE && *count == 0) {
		fault_set(fault, OUTCOME_BAD, "count is not open: %s", state.code);
		fault_hint(fault, "Type count %s at a terminal, and scan what lies there.", state.code);
		return OUTCOME_BAD;
	}
	return outcome;
}

/* ---------------------------------------------------------------- beginning */

static enum outcome refuse_place(const struct place_state *place, struct fault *fault)
{
	const char *hint = "Name a place of the shop.";
	if (place->retired) {
		fault_set(fault, OUTCOME_NO, "place is retired: %s", place->code);
		hint = "Name a place that is in use.";
	} else if (strcmp(place->sort, "supplier") == 0) {
		fault_set(fault, OUTCOME_NO, "place is a supplier, nothing is counted there: %s",
		          place->code);
	} else if (strcmp(place->sort, "lost") == 0) {
		fault_set(fault, OUTCOME_NO, "place is for what is lost, nothing is counted there: %s",
		          place->code);
	} else {
		return OUTCOME_DONE;
	}
	fault_hint(fault, "%s", hint);
	return OUTCOME_NO;
}

/*
 * Of two counts that share shelves each would take for missing what the other has seen: one at a
 * time.
 */
static enum outcome refuse_overlapping(struct store *store, struct arena *arena,
                                       const struct place_state *place, struct fault *fault)
{
	struct count_head other;
	int64_t id = 0;
	enum outcome outcome = store_count_overlapping(store, place->id, &id, fault);
	if (outcome != OUTCOME_DONE || id == 0) {
		return outcome;
	}
	outcome = store_count_read(store, arena, id, &other, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	fault_set(fault, OUTCOME_NO,
	          "count of %s shares shelves with one that is open: %s, by %s since %s", place->code,
	          other.code, other.by, moment_text(other.started).bytes);
	fault_hint(fault, "Type count %s to go on with that, or count %s end=no to end it.", other.code,
	           other.code);
	return OUTCOME_NO;
}

static enum outcome begin(struct store *store, struct arena *arena, int64_t place,
                          const struct actor *actor, struct count_state *out, struct fault *fault)
{
	struct place_state state;
	int64_t id = 0;
	enum outcome outcome = store_count_find(store, place, &id, fault);
	bool taken_up = id != 0;
	if (outcome == OUTCOME_DONE && !taken_up) {
		outcome = store_place_state(store, arena, place, &state, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = refuse_place(&state, fault);
		}
		if (outcome == OUTCOME_DONE) {
			outcome = refuse_overlapping(store, arena, &state, fault);
		}
		if (outcome == OUTCOME_DONE) {
			outcome = store_count_begin(store, place, actor, &id, fault);
		}
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_state(store, arena, id, out, fault);
		out->taken_up = taken_up;
	}
	return outcome;
}

enum outcome room_count_begin(struct store *store, struct arena *arena, int64_t place,
                              const struct actor *actor, struct count_state *out,
                              struct fault *fault)
{
	*out = (struct count_state){.id = 0};
	enum outcome outcome = store_begin(store, "room_count_begin", fault);
	return outcome != OUTCOME_DONE
	           ? outcome
	           : transaction_end(store, begin(store, arena, place, actor, out, fault), fault);
}

/* ---------------------------------------------------------------- seeing */

static enum outcome refuse_ended(const struct count_head *head, struct fault *fault)
{
	if (!head->ended) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_NO, "count has ended: %s", head->code != NULL ? head->code : "?");
	fault_hint(fault, "Type count %s to begin another.", head->code != NULL ? head->code : "PLACE");
	return OUTCOME_NO;
}

static enum outcome refuse_outside(struct store *store, struct arena *arena,
                                   const struct count_head *head, int64_t at, struct fault *fault)
{
	struct place_state place;
	bool within = false;
	enum outcome outcome = store_place_within(store, at, head->place, &within, fault);
	if (outcome == OUTCOME_DONE && !within) {
		outcome = store_place_state(store, arena, at, &place, fault);
	}
	if (outcome != OUTCOME_DONE || within) {
		return outcome;
	}
	fault_set(fault, OUTCOME_NO, "place is not within %s, which is counted: %s", head->code,
	          place.code);
	fault_hint(fault, "Scan %s or a place within it, or DONE to leave the count open.", head->code);
	return OUTCOME_NO;
}

/* What is seen of a tool that is not known: only what surely was read. */
static enum outcome refuse_code(const char *code, struct fault *fault)
{
	struct tag tag;
	if (tag_read(code, &tag) != TAG_MISREAD) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_BAD, "tag misread, its check character does not agree: %s", code);
	fault_hint(fault, "Scan it again.");
	return OUTCOME_BAD;
}

static enum outcome see(struct store *store, struct arena *arena, int64_t count, int64_t tool,
                        const char *code, int64_t at, const struct actor *actor,
                        struct fault *fault)
{
	struct count_head head;
	struct tool_state state;
	enum outcome outcome = store_count_read(store, arena, count, &head, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_ended(&head, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = refuse_outside(store, arena, &head, at, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (tool == 0) {
		outcome = refuse_code(code, fault);
	} else {
		outcome = store_tool_state(store, arena, tool, &state, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = move_refuse_scrapped(&state, fault);
		}
	}
	return outcome == OUTCOME_DONE
	           ? store_count_see(store, count, tool != 0 ? &state : NULL, code, at, actor, fault)
	           : outcome;
}

enum outcome room_count_see(struct store *store, struct arena *arena, int64_t count, int64_t tool,
                            const char *code, int64_t at, const struct actor *actor,
                            struct fault *fault)
{
	enum outcome outcome = store_begin(store, "room_count_see", fault);
	return outcome != OUTCOME_DONE
	           ? outcome
	           : transaction_end(store, see(store, arena, count, tool, code, at, actor, fault),
	                             fault);
}

/* ---------------------------------------------------------------- ending */

/* A count that is ended, and what its corrections need. */
struct ending {
	struct store *store;
	struct arena *arena;
	const struct actor *actor;
	struct count_head head;
	struct count_ended *out;
};

static enum outcome move(const struct ending *ending, int64_t tool, int64_t to, const char *reason,
                         struct fault *fault)
{
	struct movement movement = {
		.tool = tool,
		.to = to,
		.word = "put",
		.reason = reason,
		.happened = actor_moment(ending->actor),
	};
	return store_tool_move(ending->store, &movement, ending->actor, fault);
}

static enum outcome put_right(struct ending *ending, struct fault *fault)
{
	struct counted *rows;
	size_t count;
	const char *reason = arena_format(ending->arena, "count of %s", ending->head.code);
	enum outcome outcome = store_count_differences(ending->store, ending->arena, ending->head.id,
	                                               COUNT_ELSEWHERE, &rows, &count, fault);
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = move(ending, rows[i].tool, rows[i].seen_place, reason, fault);
		ending->out->moved++;
	}
	return outcome;
}

/* The one place for what is lost; 0 where there is none, or more than one. */
static enum outcome find_lost(struct ending *ending, int64_t *place, struct fault *fault)
{
	int64_t places[2];
	size_t count;
	struct place_state state;
	enum outcome outcome = store_places_lost(ending->store, places, &count, fault);
	*place = 0;
	if (outcome == OUTCOME_DONE && count == 1) {
		*place = places[0];
		outcome = store_place_state(ending->store, ending->arena, places[0], &state, fault);
		ending->out->lost_to = state.code;
	}
	return outcome;
}

/* What another count has seen meanwhile is not lost, it only was not put right yet. */
static enum outcome put_away_missing(struct ending *ending, struct fault *fault)
{
	struct counted *rows;
	size_t count;
	int64_t lost = 0;
	const char *reason =
		arena_format(ending->arena, "missing at the count of %s", ending->head.code);
	enum outcome outcome = store_count_differences(ending->store, ending->arena, ending->head.id,
	                                               COUNT_MISSING, &rows, &count, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = find_lost(ending, &lost, fault);
	}
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		if (lost == 0 || rows[i].seen != NULL) {
			ending->out->left++;
		} else {
			outcome = move(ending, rows[i].tool, lost, reason, fault);
			ending->out->lost++;
		}
	}
	return outcome;
}

static enum outcome end(struct ending *ending, int64_t count, bool correct, struct fault *fault)
{
	enum outcome outcome =
		store_count_read(ending->store, ending->arena, count, &ending->head, fault);
	if (outcome == OUTCOME_DONE) {
		ending->out->place = ending->head.code;
		outcome = refuse_ended(&ending->head, fault);
	}
	if (outcome == OUTCOME_DONE && correct) {
		outcome = put_right(ending, fault);
	}
	if (outcome == OUTCOME_DONE && correct) {
		outcome = put_away_missing(ending, fault);
	}
	return outcome == OUTCOME_DONE
	           ? store_count_end(ending->store, count, correct, ending->actor, fault)
	           : outcome;
}

enum outcome room_count_end(struct store *store, struct arena *arena, int64_t count, bool correct,
                            const struct actor *actor, struct count_ended *out, struct fault *fault)
{
	struct ending ending = {.store = store, .arena = arena, .actor = actor, .out = out};
	*out = (struct count_ended){.moved = 0};
	enum outcome outcome = store_begin(store, "room_count_end", fault);
	return outcome != OUTCOME_DONE
	           ? outcome
	           : transaction_end(store, end(&ending, count, correct, fault), fault);
}
