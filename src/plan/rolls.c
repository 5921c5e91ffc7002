/* Rolls and blades: one a printing station, with volumes nearest to what the stations ask. */
#include "internal.h"

static size_t row_count(const struct question *question)
{
	return question->printing_count;
}

static size_t item_count(const struct question *question)
{
	return question->shelf->roll_count;
}

static size_t companion_count(const struct question *question)
{
	return question->shelf->blade_count;
}

static int64_t row_number(const struct question *question, size_t row)
{
	return question->printing[row].number;
}

static struct tool *item_tool(const struct question *question, size_t item)
{
	return &question->shelf->rolls[item].tool;
}

static struct tool *companion_tool(const struct question *question, size_t companion)
{
	return &question->shelf->blades[companion].tool;
}

static enum suits item_suits(const struct question *question, size_t row, size_t item,
                             struct remarks *remarks)
{
	return anilox_suits(&question->shelf->rolls[item], &question->printing[row], &question->layout,
	                    &question->press->press, question->limits, remarks);
}

static enum suits companion_suits(const struct question *question, size_t item, size_t companion,
                                  struct remarks *remarks)
{
	return blade_suits(&question->shelf->blades[companion], &question->shelf->rolls[item],
	                   &question->layout, &question->press->press, question->limits, remarks);
}

/* Every roll is doctored. */
static bool needs_companion(const struct question *question, size_t item)
{
	(void)question;
	(void)item;
	return true;
}

/* A blade asks of a roll nothing but its face. */
static bool asks_the_same(const struct question *question, size_t item, size_t other)
{
	const struct known_length *a = &question->shelf->rolls[item].tool.face;
	const struct known_length *b = &question->shelf->rolls[other].tool.face;
	return a->known && b->known && length_compare(a->value, b->value) == 0;
}

static int64_t deviation(const struct question *question, size_t row, size_t item)
{
	return volume_deviation(&question->shelf->rolls[item], &question->printing[row],
	                        question->layout.run);
}

const struct group_rules roll_rules = {
	.item_need = "anilox",
	.item_words = "anilox roll",
	.items_words = "anilox rolls",
	.companion_need = "blade",
	.companion_words = "doctor blade assembly",
	.companions_words = "doctor blade assemblies",
	.row_count = row_count,
	.item_count = item_count,
	.companion_count = companion_count,
	.row_number = row_number,
	.item_tool = item_tool,
	.companion_tool = companion_tool,
	.item_suits = item_suits,
	.companion_suits = companion_suits,
	.needs_companion = needs_companion,
	.asks_the_same = asks_the_same,
	.deviation = deviation,
};
