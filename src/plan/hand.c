/*
 * The tools in hand: those out for a job, the one asked about, and what of the shelf the gears,
 * blades and magnetic cylinders among them could go with.
 */
#include <string.h>

#include "serves.h"

/* ---------------------------------------------------------------- kinds */

struct sort_of_tool {
	enum kind_id kind;
	const char *article, *words;
	const struct group_rules *rules;
	bool companion;
};
static const struct sort_of_tool sorts[] = {
	{KIND_CYLINDER, "a", "cylinder", &cylinder_rules, false},
	{KIND_GEAR, "a", "gear", &cylinder_rules, true},
	{KIND_ANILOX, "an", "anilox roll", &roll_rules, false},
	{KIND_BLADE, "a", "blade", &roll_rules, true},
	{KIND_DIE, "a", "die", &die_rules, false},
	{KIND_MAGNETIC_CYLINDER, "a", "magnetic cylinder", &die_rules, true},
};

static const struct sort_of_tool *sort_of(enum kind_id kind)
{
	size_t i = 0;
	while (i + 1 < COUNT_OF(sorts) && sorts[i].kind != kind) {
		i++;
	}
	return &sorts[i];
}

const char *words_of_kind(enum kind_id kind)
{
	return sort_of(kind)->words;
}

const char *article_of_kind(enum kind_id kind)
{
	return sort_of(kind)->article;
}

/* ---------------------------------------------------------------- adding to a shelf */

/* The array with more at its end; `*count` grows by them. */
static void *appended(struct arena *arena, const void *array, size_t *count, const void *more,
                      size_t many, size_t size)
{
	char *grown = arena_grow(arena, array, *count, *count + many, size);
	if (many > 0) {
		memcpy(grown + *count * size, more, many * size);
	}
	*count += many;
	return grown;
}

struct tool *shelf_add(struct arena *arena, struct shelf *shelf, enum kind_id kind,
                       const union any_tool *tool)
{
	const void *more = tool;
	switch (kind) {
	case KIND_CYLINDER:
		shelf->cylinders = appended(arena, shelf->cylinders, &shelf->cylinder_count, more, 1,
		                            sizeof *shelf->cylinders);
		return &shelf->cylinders[shelf->cylinder_count - 1].tool;
	case KIND_GEAR:
		shelf->gears =
			appended(arena, shelf->gears, &shelf->gear_count, more, 1, sizeof *shelf->gears);
		return &shelf->gears[shelf->gear_count - 1].tool;
	case KIND_ANILOX:
		shelf->rolls =
			appended(arena, shelf->rolls, &shelf->roll_count, more, 1, sizeof *shelf->rolls);
		return &shelf->rolls[shelf->roll_count - 1].tool;
	case KIND_BLADE:
		shelf->blades =
			appended(arena, shelf->blades, &shelf->blade_count, more, 1, sizeof *shelf->blades);
		return &shelf->blades[shelf->blade_count - 1].tool;
	case KIND_DIE:
		shelf->dies = appended(arena, shelf->dies, &shelf->die_count, more, 1, sizeof *shelf->dies);
		return &shelf->dies[shelf->die_count - 1].tool;
	case KIND_MAGNETIC_CYLINDER:
		shelf->magnetic_cylinders =
			appended(arena, shelf->magnetic_cylinders, &shelf->magnetic_cylinder_count, more, 1,
		             sizeof *shelf->magnetic_cylinders);
		return &shelf->magnetic_cylinders[shelf->magnetic_cylinder_count - 1].tool;
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
	return NULL;
}

static enum outcome load_one(struct asking *asking, struct shelf *shelf, enum kind_id kind,
                             int64_t id, struct tool **out)
{
	union any_tool tool;
	enum outcome outcome = store_tool_asked(asking->store, asking->arena, asking->job.id, kind, id,
	                                        &tool, asking->fault);
	if (outcome == OUTCOME_DONE) {
		*out = shelf_add(asking->arena, shelf, kind, &tool);
	}
	return outcome;
}

/* ---------------------------------------------------------------- what lies behind */

bool hand_holds(const struct hand *hand, int64_t id)
{
	for (size_t i = 0; i < hand->out_count; i++) {
		if (hand->out[i].id == id) {
			return true;
		}
	}
	return hand->tool->id == id;
}

void hand_add_cylinders(struct arena *arena, const struct hand *hand, struct shelf *shelf,
                        const struct cylinder *cylinders, size_t count)
{
	struct cylinder *kept = arena_take(arena, count, sizeof *kept);
	size_t kept_count = 0;
	for (size_t i = 0; i < count; i++) {
		if (!hand_holds(hand, cylinders[i].tool.id)) {
			kept[kept_count++] = cylinders[i];
		}
	}
	shelf->cylinders =
		appended(arena, shelf->cylinders, &shelf->cylinder_count, kept, kept_count, sizeof *kept);
}

void hand_add_rolls(struct arena *arena, const struct hand *hand, struct shelf *shelf,
                    const struct anilox *rolls, size_t count)
{
	struct anilox *kept = arena_take(arena, count, sizeof *kept);
	size_t kept_count = 0;
	for (size_t i = 0; i < count; i++) {
		if (!hand_holds(hand, rolls[i].tool.id)) {
			kept[kept_count++] = rolls[i];
		}
	}
	shelf->rolls =
		appended(arena, shelf->rolls, &shelf->roll_count, kept, kept_count, sizeof *kept);
}

void hand_add_dies(struct arena *arena, const struct hand *hand, struct shelf *shelf,
                   const struct die *dies, size_t count)
{
	struct die *kept = arena_take(arena, count, sizeof *kept);
	size_t kept_count = 0;
	for (size_t i = 0; i < count; i++) {
		if (!hand_holds(hand, dies[i].tool.id)) {
			kept[kept_count++] = dies[i];
		}
	}
	shelf->dies = appended(arena, shelf->dies, &shelf->die_count, kept, kept_count, sizeof *kept);
}

/* A cylinder takes a gear of its own length around: of no others a gear in hand asks. */
static enum outcome add_cylinders_of_gears(struct asking *asking, struct hand *hand)
{
	enum outcome outcome = OUTCOME_DONE;
	const struct shelf *own = &hand->own;
	for (size_t i = 0; i < own->gear_count && outcome == OUTCOME_DONE; i++) {
		struct length length = real_round(repeat_length(own->gears[i].own));
		bool seen = !own->gears[i].own.known;
		for (size_t j = 0; j < i && !seen; j++) {
			seen = own->gears[j].own.known &&
			       length_compare(length, real_round(repeat_length(own->gears[j].own))) == 0;
		}
		struct cylinder *cylinders;
		size_t count;
		if (!seen) {
			outcome = store_cylinders(asking->store, asking->arena, asking->job.id, length, length,
			                          &cylinders, &count, asking->fault);
		}
		if (!seen && outcome == OUTCOME_DONE) {
			hand_add_cylinders(asking->arena, hand, &hand->all, cylinders, count);
		}
	}
	return outcome;
}

enum outcome hand_look_behind(struct asking *asking, const struct question *question, bool all,
                              struct hand *hand)
{
	struct shelf loaded = {.cylinders = NULL};
	enum outcome outcome = OUTCOME_DONE;
	hand->all = hand->own;
	if (hand->own.gear_count > 0 && (all || hand->kind == KIND_GEAR)) {
		outcome = add_cylinders_of_gears(asking, hand);
	}
	if (outcome == OUTCOME_DONE && hand->own.blade_count > 0 && (all || hand->kind == KIND_BLADE)) {
		outcome = shelf_load_rolls(asking, question, &loaded);
		hand_add_rolls(asking->arena, hand, &hand->all, loaded.rolls, loaded.roll_count);
	}
	if (outcome == OUTCOME_DONE && hand->own.magnetic_cylinder_count > 0 &&
	    (all || hand->kind == KIND_MAGNETIC_CYLINDER)) {
		outcome = shelf_load_dies(asking, question, &loaded);
		hand_add_dies(asking->arena, hand, &hand->all, loaded.dies, loaded.die_count);
	}
	return outcome;
}

enum outcome hand_fill(struct asking *asking, enum kind_id kind, int64_t id, struct hand *hand)
{
	enum outcome outcome = OUTCOME_DONE;
	struct tool *tool;
	hand->kind = kind;
	hand->rules = sort_of(kind)->rules;
	hand->companion = sort_of(kind)->companion;
	for (size_t i = 0; i < hand->out_count && outcome == OUTCOME_DONE; i++) {
		outcome = load_one(asking, &hand->own, hand->out[i].kind->id, hand->out[i].id, &tool);
	}
	return outcome == OUTCOME_DONE ? load_one(asking, &hand->own, kind, id, &hand->tool) : outcome;
}
