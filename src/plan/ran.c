/* Which tools ran for a job. */
#include <stdlib.h>
#include <string.h>

#include "turn.h"

/* A tool booked for the job that was not scanned out for it. */
struct booked_tool {
	union any_tool tool;
	const struct kind *kind;
	bool here;      /* at the press */
	bool elsewhere; /* out for another job, or at another press */
};
struct gathering {
	struct turning *turning;
	int64_t press;
	struct tool_out *out; /* scanned out for the job */
	size_t out_count;
	struct booked_tool *booked;
	size_t booked_count;
	struct tool_ran *ran;
	size_t ran_count;
};

static bool is_out(const struct gathering *gathering, int64_t tool)
{
	for (size_t i = 0; i < gathering->out_count; i++) {
		if (gathering->out[i].id == tool) {
			return true;
		}
	}
	return false;
}

/* At the press of the run; where that is not known, at one that the job names. */
static enum outcome read_out(struct gathering *gathering)
{
	const struct turning *turning = gathering->turning;
	bool known = gathering->press != 0;
	return store_tools_out(turning->store, turning->arena, turning->job.id,
	                       known ? &gathering->press : turning->job.presses,
	                       known ? 1 : turning->job.press_count, &gathering->out,
	                       &gathering->out_count, turning->fault);
}

static enum outcome read_booked_one(struct gathering *gathering, const struct promised_tool *tool)
{
	const struct turning *turning = gathering->turning;
	struct booked_tool *booked = &gathering->booked[gathering->booked_count++];
	struct tool_state state = {.id = 0};
	*booked = (struct booked_tool){.kind = tool->kind};
	enum outcome outcome = store_tool(turning->store, turning->arena, tool->kind->id, tool->tool,
	                                  &booked->tool, turning->fault);
	if (outcome == OUTCOME_DONE) {
		outcome =
			store_tool_state(turning->store, turning->arena, tool->tool, &state, turning->fault);
	}
	/* What is out for this job was scanned out for it. */
	bool out = state.taken_for != NULL;
	int64_t at = booked->tool.tool.press;
	booked->here = !out && at != 0 && at == gathering->press;
	booked->elsewhere = out || (at != 0 && gathering->press != 0 && !booked->here);
	return outcome;
}

static enum outcome read_booked(struct gathering *gathering)
{
	const struct kept_promise *promise = &gathering->turning->promise;
	enum outcome outcome = OUTCOME_DONE;
	gathering->booked =
		arena_take(gathering->turning->arena, promise->tool_count, sizeof *gathering->booked);
	for (size_t i = 0; i < promise->tool_count && outcome == OUTCOME_DONE; i++) {
		if (!is_out(gathering, promise->tools[i].tool)) {
			outcome = read_booked_one(gathering, &promise->tools[i]);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- kind by kind */

static void add(struct gathering *gathering, const struct kind *kind, enum ran_by by,
                const union any_tool *tool)
{
	gathering->ran[gathering->ran_count++] =
		(struct tool_ran){.tool = *tool, .kind = kind, .by = by};
}

static enum outcome add_out(struct gathering *gathering, const struct kind *kind)
{
	const struct turning *turning = gathering->turning;
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < gathering->out_count && outcome == OUTCOME_DONE; i++) {
		union any_tool tool;
		if (gathering->out[i].kind != kind) {
			continue;
		}
		outcome = store_tool(turning->store, turning->arena, kind->id, gathering->out[i].id, &tool,
		                     turning->fault);
		if (outcome == OUTCOME_DONE) {
			add(gathering, kind, RAN_SCANNED, &tool);
		}
	}
	return outcome;
}

static void add_booked(struct gathering *gathering, const struct kind *kind, size_t wanted,
                       size_t before)
{
	for (size_t i = 0; i < gathering->booked_count; i++) {
		const struct booked_tool *booked = &gathering->booked[i];
		if (booked->kind == kind && booked->here) {
			add(gathering, kind, RAN_AT_PRESS, &booked->tool);
		}
	}
	for (size_t i = 0; i < gathering->booked_count; i++) {
		const struct booked_tool *booked = &gathering->booked[i];
		bool lacking = gathering->ran_count - before < wanted;
		if (lacking && booked->kind == kind && !booked->here && !booked->elsewhere) {
			add(gathering, kind, RAN_BOOKED, &booked->tool);
		}
	}
}

static int by_tag(const void *a, const void *b)
{
	const struct tool_ran *one = a, *other = b;
	struct tag_text first = tag_stored(one->tool.tool.tag);
	return strcmp(first.bytes, tag_stored(other->tool.tool.tag).bytes);
}

static enum outcome add_kind(struct gathering *gathering, const struct kind *kind)
{
	const struct kept_promise *promise = &gathering->turning->promise;
	size_t before = gathering->ran_count, wanted = 0;
	for (size_t i = 0; i < promise->tool_count; i++) {
		wanted += promise->tools[i].kind == kind;
	}
	enum outcome outcome = add_out(gathering, kind);
	if (outcome == OUTCOME_DONE) {
		add_booked(gathering, kind, wanted, before);
		qsort(gathering->ran + before, gathering->ran_count - before, sizeof *gathering->ran,
		      by_tag);
	}
	return outcome;
}

enum outcome tools_ran(struct turning *turning, int64_t press, struct tool_ran **out, size_t *count)
{
	struct gathering gathering = {.turning = turning, .press = press};
	enum outcome outcome = read_out(&gathering);
	if (outcome == OUTCOME_DONE) {
		outcome = read_booked(&gathering);
	}
	gathering.ran = arena_take(turning->arena, gathering.out_count + gathering.booked_count,
	                           sizeof *gathering.ran);
	for (size_t i = 0; i < KIND_COUNT && outcome == OUTCOME_DONE; i++) {
		if (kinds[i].tool) {
			outcome = add_kind(&gathering, &kinds[i]);
		}
	}
	*out = gathering.ran;
	*count = gathering.ran_count;
	return outcome;
}

/* ---------------------------------------------------------------- what it has run by now */

/* Its own length around, where its revolutions are told. */
static struct repeat own_of(const struct tool_ran *ran)
{
	switch (ran->kind->id) {
	case KIND_CYLINDER:
		return ran->tool.cylinder.own;
	case KIND_DIE:
		return ran->tool.die.own;
	case KIND_MAGNETIC_CYLINDER:
		return ran->tool.magnetic_cylinder.own;
	case KIND_OPERATOR:
	case KIND_PLACE:
	case KIND_PRESS:
	case KIND_JOB:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return (struct repeat){.known = false};
}

/* By how much it is past its life; NULL: it is not, or that is not known. */
static const char *life_over(struct arena *arena, const struct tool_ran *ran, enum units units)
{
	const struct length none = length_from_nm(0);
	union any_tool now = ran->tool;
	int64_t left;
	now.tool.run = (struct known_length){true, ran->run};
	if (ran->kind->id == KIND_BLADE) {
		struct known_length web = blade_life_left(&now.blade);
		bool over = web.known && length_compare(web.value, none) < 0;
		struct length past = length_subtract(none, web.value);
		return over ? arena_copy(arena, web_text(past, units).bytes) : NULL;
	}
	if (ran->kind->id == KIND_DIE && die_life_left(&now.die, &left) && left < 0) {
		return arena_format(arena, "%lld revolution%s", (long long)-left, left == -1 ? "" : "s");
	}
	return NULL;
}

void tool_ran_grow(struct arena *arena, struct tool_ran *ran, struct length length,
                   enum units units)
{
	const struct known_length *before = &ran->tool.tool.run;
	ran->run = before->known ? length_add(before->value, length) : length;
	ran->revolutions_known = revolutions_of(ran->run, own_of(ran), &ran->revolutions);
	ran->life_over = life_over(arena, ran, units);
}
