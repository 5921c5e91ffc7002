/* Does a station of a press take a tool, or the press itself? Whatever the job. */
#include <string.h>

#include "words.h"

#define STANDING_MOST 50 /* tools of a station looked at: it holds a handful */

/* What is asked, as read. */
struct onto {
	struct store *store;
	struct arena *arena;
	struct fault *fault;
	const struct limits *limits;
	struct place_state place;
	struct place_around *around;
	size_t around_count;
	struct press_state press;
	const struct press_station *station; /* NULL: the press itself, or a place of it that is none */
	int64_t station_place;               /* its id */
	const struct kind *kind;
	union any_tool tool;
};

/* ---------------------------------------------------------------- reading */

/* The station that the place is, or lies in. */
static void find_station(struct onto *onto)
{
	for (size_t i = 0; i < onto->around_count && onto->station == NULL; i++) {
		for (size_t j = 0; j < onto->press.station_count; j++) {
			const struct press_station *station = &onto->press.stations[j];
			if (onto->around[i].station && text_equal_fold(station->code, onto->around[i].code)) {
				onto->station = station;
				onto->station_place = onto->around[i].id;
			}
		}
	}
}

static enum outcome read_place(struct onto *onto, int64_t place)
{
	enum outcome outcome =
		store_place_state(onto->store, onto->arena, place, &onto->place, onto->fault);
	if (outcome == OUTCOME_DONE && (onto->place.code == NULL || onto->place.press == 0)) {
		return fault_set(onto->fault, OUTCOME_STORE, "place is not of a press: number %lld",
		                 (long long)place);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_places_around(onto->store, onto->arena, place, &onto->around,
		                              &onto->around_count, onto->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = store_press_read(onto->store, onto->arena, onto->place.press, &onto->press,
		                           onto->fault);
	}
	if (outcome == OUTCOME_DONE) {
		find_station(onto);
	}
	return outcome;
}

static enum outcome read_tool(struct onto *onto, int64_t tool)
{
	struct tool_state state;
	enum outcome outcome = store_tool_state(onto->store, onto->arena, tool, &state, onto->fault);
	if (outcome == OUTCOME_DONE && state.kind == NULL) {
		return fault_set(onto->fault, OUTCOME_STORE, "tool is not on record: number %lld",
		                 (long long)tool);
	}
	onto->kind = state.kind;
	return outcome == OUTCOME_DONE ? store_tool(onto->store, onto->arena, state.kind->id, tool,
	                                            &onto->tool, onto->fault)
	                               : outcome;
}

/* ---------------------------------------------------------------- may it be used */

static const char *place_is_held(const struct onto *onto)
{
	for (size_t i = 0; i < onto->around_count; i++) {
		const struct place_around *around = &onto->around[i];
		if (around->held) {
			return words_of_hold(onto->arena, around->code, around->since, around->reason);
		}
	}
	return NULL;
}

static const char *not_in_use(const struct onto *onto)
{
	if (onto->place.retired) {
		return arena_format(onto->arena, "%s is retired", onto->place.code);
	}
	if (onto->press.retired) {
		return arena_format(onto->arena, "press %s is retired", onto->press.press.code);
	}
	return place_is_held(onto);
}

/* ---------------------------------------------------------------- does it take the kind */

static bool cuts(enum kind_id kind)
{
	return kind == KIND_DIE || kind == KIND_MAGNETIC_CYLINDER;
}

static const char *wrong_station(const struct onto *onto)
{
	const struct press_station *station = onto->station;
	const char *title = onto->kind->title;
	int64_t counted =
		station->die ? onto->press.die_stations_counted : onto->press.stations_counted;
	if (station->number > counted) {
		return arena_format(onto->arena, "press %s has no %s %lld", onto->press.press.code,
		                    station->die ? "die station" : "station", (long long)station->number);
	}
	if (station->die != cuts(onto->kind->id)) {
		return arena_format(onto->arena, "%s is a %s station, it takes no %s", station->code,
		                    station->die ? "die" : "print", title);
	}
	if (!station->die && station->processes != NULL && !list_has(station->processes, "flexo") &&
	    !list_has(station->processes, "cold_foil")) {
		return arena_format(onto->arena, "%s does %s, it takes no %s", station->code,
		                    station->processes, title);
	}
	return NULL;
}

/* ---------------------------------------------------------------- does it fit */

static enum suits press_takes(const struct onto *onto, struct remarks *remarks)
{
	const struct press *press = &onto->press.press;
	const union any_tool *tool = &onto->tool;
	if (onto->station == NULL && onto->kind->id != KIND_GEAR) {
		return press_takes_fit(&tool->tool, press, remarks);
	}
	switch (onto->kind->id) {
	case KIND_CYLINDER:
		return press_takes_cylinder(&tool->cylinder, press, onto->limits, remarks);
	case KIND_GEAR:
		/* Of a gear nothing is to fit but its pitch, at a station. */
		return onto->station != NULL ? press_takes_gear(&tool->gear, press, remarks) : SUITS_YES;
	case KIND_DIE:
		return press_takes_die(&tool->tool, tool->die.own, press, onto->limits, remarks);
	case KIND_MAGNETIC_CYLINDER:
		return press_takes_die(&tool->tool, tool->magnetic_cylinder.own, press, onto->limits,
		                       remarks);
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_OPERATOR:
	case KIND_PLACE:
	case KIND_PRESS:
	case KIND_JOB:
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return press_takes_fit(&tool->tool, press, remarks);
}

static const char *joined(struct arena *arena, const struct remarks *remarks, enum suits level)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < remarks->count; i++) {
		if (remarks->items[i].level == level) {
			text_join(&text, "; ", remarks->items[i].text);
		}
	}
	return text.bytes;
}

/* ---------------------------------------------------------------- what stands there */

static bool is_pair(enum kind_id a, enum kind_id b)
{
	return a != b && cuts(a) && cuts(b);
}

/*
 * A flexible die and a magnetic cylinder share a station, by the rules of the check: what speaks
 * against that is told. Any other die takes the station for itself: `*stands`.
 */
static enum outcome judge_pair(const struct onto *onto, const struct tool_there *there,
                               struct text *against, bool *stands)
{
	union any_tool other;
	struct remarks remarks = {.count = 0};
	enum outcome outcome =
		store_tool(onto->store, onto->arena, there->kind->id, there->id, &other, onto->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	bool is_die = onto->kind->id == KIND_DIE;
	const struct die *die = is_die ? &onto->tool.die : &other.die;
	const struct magnetic_cylinder *cylinder =
		is_die ? &other.magnetic_cylinder : &onto->tool.magnetic_cylinder;
	/* Whether each fits the press was asked when it was put there. */
	struct press any = onto->press.press;
	any.fit = NULL;
	*stands = die->build != BUILD_FLEXIBLE;
	if (!*stands &&
	    magnetic_cylinder_suits(cylinder, die, &any, onto->limits, &remarks) == SUITS_NOT) {
		text_join(against, "; ", is_die ? "with " : "for ");
		text_add_format(against, "%s there: %s", there->tag,
		                joined(onto->arena, &remarks, SUITS_NOT));
	}
	return OUTCOME_DONE;
}

/* `AN000010-P stands there already`; `with MC000003-4 there: gap 483um, the die is made for 480um`
 */
static enum outcome say_standing(const struct onto *onto, struct text *caution)
{
	struct tool_there *tools;
	size_t count, told = 0;
	struct text against = text_start(onto->arena);
	enum outcome outcome = store_place_tools(onto->store, onto->arena, onto->station_place,
	                                         STANDING_MOST, &tools, &count, onto->fault);
	for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
		bool stands = tools[i].kind == onto->kind && tools[i].id != onto->tool.tool.id;
		if (is_pair(tools[i].kind->id, onto->kind->id)) {
			outcome = judge_pair(onto, &tools[i], &against, &stands);
		}
		if (stands) {
			text_join(caution, told == 0 ? "; " : ", ", tools[i].tag);
			told++;
		}
	}
	if (told > 0) {
		text_add_format(caution, " stand%s there already", told == 1 ? "s" : "");
	}
	if (against.length > 0) {
		text_join(caution, "; ", against.bytes);
	}
	return outcome;
}

/* What keeps the tool off, whatever its own condition; NULL: nothing. The doubts are in `remarks`.
 */
static const char *keeps_off(const struct onto *onto, struct remarks *remarks)
{
	const char *text = not_in_use(onto);
	if (text == NULL && onto->station != NULL) {
		text = wrong_station(onto);
	}
	if (text == NULL && press_takes(onto, remarks) == SUITS_NOT) {
		text = joined(onto->arena, remarks, SUITS_NOT);
	}
	return text;
}

static enum outcome takes_now(struct onto *onto, struct station_takes *out)
{
	struct remarks condition = {.count = 0}, remarks = {.count = 0};
	struct text against = text_start(onto->arena), caution = text_start(onto->arena);
	if (tool_condition_suits(&onto->tool.tool, &condition) == SUITS_NOT) {
		text_add(&against, condition.items[0].text);
	}
	const char *kept_off = keeps_off(onto, &remarks);
	if (kept_off != NULL) {
		text_join(&against, "; ", kept_off);
	}
	if (against.length > 0) {
		out->text = against.bytes;
		return OUTCOME_DONE;
	}
	enum outcome outcome = OUTCOME_DONE;
	text_add(&caution, joined(onto->arena, &remarks, SUITS_DOUBTFUL));
	if (onto->station != NULL) {
		outcome = say_standing(onto, &caution);
	}
	out->takes = true;
	out->caution = caution.length > 0 ? caution.bytes : NULL;
	return outcome;
}

enum outcome plan_station_takes(struct store *store, struct arena *arena, int64_t place,
                                int64_t tool, const struct limits *limits,
                                struct station_takes *out, struct fault *fault)
{
	struct onto onto = {.store = store, .arena = arena, .fault = fault, .limits = limits};
	*out = (struct station_takes){.takes = false};
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = read_place(&onto, place);
	if (outcome == OUTCOME_DONE) {
		outcome = read_tool(&onto, tool);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = takes_now(&onto, out);
	}
	store_snapshot_end(store);
	return outcome;
}
