/* Action cards and reason cards: what lies beside the bench to be scanned. */
#include "toothrack/tag.h"

/*
 * By serial. Cards are printed and hang in shops: a serial keeps its meaning for ever, a new card
 * gets a new one. The reasons are plain words of the trade: common practice, no source.
 */
static const struct action_card cards[] = {
	{ACTION_HOME, "HOME", NULL, "the tool goes to its home"},
	{ACTION_HOLD, "HOLD", NULL, "the tool may not run: scan a reason card next"},
	{ACTION_DIRTY, "DIRTY", NULL, "the tool is due for cleaning"},
	{ACTION_CLEANED, "CLEANED", NULL, "the tool has been cleaned"},
	{ACTION_COUNT, "COUNT", NULL, "count a place: scan the place next"},
	{ACTION_UNDO, "UNDO", NULL, "take back your last entry"},
	{ACTION_SHOW, "SHOW", NULL, "say what the next tag is, move nothing"},
	{ACTION_YES, "YES", NULL, "yes, to the question asked"},
	{ACTION_DONE, "DONE", NULL, "done: no place, job or count stands any more"},
	{101, NULL, "nicked", "reason of a hold"},
	{102, NULL, "scored", "reason of a hold"},
	{103, NULL, "worn", "reason of a hold"},
	{104, NULL, "bent journal", "reason of a hold"},
	{105, NULL, "bearing rough", "reason of a hold"},
	{106, NULL, "plugged cells", "reason of a hold"},
	{107, NULL, "gear tooth damaged", "reason of a hold"},
	{108, NULL, "runout too large", "reason of a hold"},
	{109, NULL, "cutting edge dull", "reason of a hold"},
	{110, NULL, "edge damaged", "reason of a hold"},
	{111, NULL, "leaking", "reason of a hold"},
	{112, NULL, "to be measured", "reason of a hold"},
	{113, NULL, "dropped", "reason of a hold"},
	{114, NULL, "corroded", "reason of a hold"},
};

const struct action_card *action_cards(size_t *count)
{
	*count = COUNT_OF(cards);
	return cards;
}

const struct action_card *action_card_find(int64_t serial)
{
	for (size_t i = 0; i < COUNT_OF(cards); i++) {
		if (cards[i].serial == serial) {
			return &cards[i];
		}
	}
	return NULL;
}

const struct action_card *action_card_named(const char *word)
{
	for (size_t i = 0; i < COUNT_OF(cards); i++) {
		if (cards[i].word != NULL && text_equal_fold(cards[i].word, word)) {
			return &cards[i];
		}
	}
	return NULL;
}
