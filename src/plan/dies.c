/* Dies and magnetic cylinders: one a cut; a flexible die needs a magnetic cylinder. */
#include <string.h>

#include "internal.h"

static size_t row_count(const struct question *question)
{
	return question->cut_count;
}

static size_t item_count(const struct question *question)
{
	return question->shelf->die_count;
}

static size_t companion_count(const struct question *question)
{
	return question->shelf->magnetic_cylinder_count;
}

static int64_t row_number(const struct question *question, size_t row)
{
	return question->cuts[row].number;
}

static struct tool *item_tool(const struct question *question, size_t item)
{
	return &question->shelf->dies[item].tool;
}

static struct tool *companion_tool(const struct question *question, size_t companion)
{
	return &question->shelf->magnetic_cylinders[companion].tool;
}

/* Where a cut names its die no other is looked at. */
static enum suits item_suits(const struct question *question, size_t row, size_t item,
                             struct remarks *remarks)
{
	const struct cut *cut = &question->cuts[row];
	const struct die *die = &question->shelf->dies[item];
	if (cut->die_id != 0 && cut->die_id != die->tool.id) {
		return SUITS_NOT;
	}
	return die_suits(die, cut, cut->die_id != 0, &question->layout, &question->press->press,
	                 question->limits, remarks);
}

static enum suits companion_suits(const struct question *question, size_t item, size_t companion,
                                  struct remarks *remarks)
{
	return magnetic_cylinder_suits(&question->shelf->magnetic_cylinders[companion],
	                               &question->shelf->dies[item], &question->press->press,
	                               question->limits, remarks);
}

static bool needs_companion(const struct question *question, size_t item)
{
	return question->shelf->dies[item].build == BUILD_FLEXIBLE;
}

static size_t named_item(const struct question *question, size_t row)
{
	int64_t named = question->cuts[row].die_id;
	for (size_t item = 0; named != 0 && item < question->shelf->die_count; item++) {
		if (question->shelf->dies[item].tool.id == named) {
			return item;
		}
	}
	return ASSIGNED_NONE;
}

const struct group_rules die_rules = {
	.item_need = "die",
	.item_words = "die",
	.items_words = "dies",
	.companion_need = "magnetic_cylinder",
	.companion_words = "magnetic cylinder",
	.companions_words = "magnetic cylinders",
	.rows_are_cuts = true,
	.row_count = row_count,
	.item_count = item_count,
	.companion_count = companion_count,
	.row_number = row_number,
	.item_tool = item_tool,
	.companion_tool = companion_tool,
	.item_suits = item_suits,
	.companion_suits = companion_suits,
	.needs_companion = needs_companion,
	.named_item = named_item,
};
