/* What a scan of a batch is about: whether what stands and waits hangs on it. */
#include <string.h>

#include "batch.h"

static enum batch_about about_action(const struct action_card *card)
{
	if (card == NULL) {
		return BATCH_ABOUT_WHERE;
	}
	if (card->word == NULL) {
		return BATCH_ABOUT_OTHER;
	}
	switch ((enum action)card->serial) {
	case ACTION_HOME:
		return BATCH_ABOUT_HOME;
	case ACTION_HOLD:
	case ACTION_DIRTY:
	case ACTION_CLEANED:
		return BATCH_ABOUT_LAST;
	case ACTION_COUNT:
		return BATCH_ABOUT_WHERE;
	case ACTION_UNDO:
		return BATCH_ABOUT_UNDO;
	case ACTION_DONE:
		return BATCH_ABOUT_DONE;
	case ACTION_SHOW:
	case ACTION_YES:
		break;
	}
	return BATCH_ABOUT_OTHER;
}

static enum batch_about about_class(enum tag_class class)
{
	switch (class) {
	case TAG_PLATE_CYLINDER:
	case TAG_GEAR:
	case TAG_ANILOX:
	case TAG_BLADE:
	case TAG_DIE:
	case TAG_MAGNETIC_CYLINDER:
	case TAG_SLEEVE:
	case TAG_MANDREL:
	case TAG_SCREEN_UNIT:
		return BATCH_ABOUT_TOOL;
	case TAG_BADGE:
		return BATCH_ABOUT_BADGE;
	case TAG_PLACE:
	case TAG_PRESS:
	case TAG_JOB:
	case TAG_ACTION:
	case TAG_CLASS_COUNT:
		break;
	}
	return BATCH_ABOUT_WHERE;
}

/* Of a misread the letters in front, behind what GS1 sets before them, still say what it was on. */
static enum batch_about about_letters(const char *code)
{
	code += strspn(code, "0123456789");
	for (int class = 0; class < TAG_CLASS_COUNT; class ++) {
		const char *letters = tag_class_letters((enum tag_class) class);
		const char start[] = {code[0], code[0] != '\0' ? code[1] : '\0', '\0'};
		if (text_equal_fold(start, letters)) {
			return about_class((enum tag_class) class);
		}
	}
	return BATCH_ABOUT_WHERE;
}

static bool is_reason(const char *word)
{
	size_t count;
	const struct action_card *cards = action_cards(&count);
	for (size_t i = 0; i < count; i++) {
		if (cards[i].reason != NULL && text_equal_fold(cards[i].reason, word)) {
			return true;
		}
	}
	return false;
}

/* Is it on record as it stands? A code that the shop gave itself may look like a misread tag. */
static bool is_on_record(struct store *store, const char *code)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	return store_find_plain(store, code, REFER_NONE, &found, &unknown) == OUTCOME_DONE;
}

/* A place code, another tag, a badge, a word of a card: by what is on record. */
static enum batch_about about_code(struct store *store, const char *code)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	if (action_card_named(code) != NULL) {
		return about_action(action_card_named(code));
	}
	if (is_reason(code)) {
		return BATCH_ABOUT_OTHER;
	}
	if (store_find_plain(store, code, REFER_NONE, &found, &unknown) != OUTCOME_DONE) {
		return BATCH_ABOUT_WHERE;
	}
	return found.kind->tool                  ? BATCH_ABOUT_TOOL
	       : found.kind->id == KIND_OPERATOR ? BATCH_ABOUT_BADGE
	                                         : BATCH_ABOUT_WHERE;
}

enum batch_about batch_about(struct store *store, const struct scan *scan)
{
	switch (scan->reading) {
	case SCAN_TAG:
		return scan->tag.class == TAG_ACTION ? about_action(action_card_find(scan->tag.serial))
		                                     : about_class(scan->tag.class);
	case SCAN_OTHER:
		return about_code(store, scan->code);
	case SCAN_MISREAD:
		return is_on_record(store, scan->code) ? about_code(store, scan->code)
		                                       : about_letters(scan->code);
	case SCAN_DAMAGED:
		if (is_on_record(store, scan->code)) {
			return about_code(store, scan->code);
		}
		return scan->tag.serial != 0 ? about_class(scan->tag.class) : BATCH_ABOUT_WHERE;
	case SCAN_NOTHING:
		break;
	}
	return BATCH_ABOUT_WHERE;
}
