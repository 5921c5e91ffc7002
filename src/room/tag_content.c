/* What a tag's symbol carries, by the settings of the shop. */
#include <string.h>

#include "tags.h"

/* GIAI, AI (8004): at most 30 characters of set 82 (GS1 barcode syntax dictionary). */
#define GIAI_MOST 30

static const char *const stock_settings[TAG_USE_COUNT] = {
	[TAG_USE_TOOL] = "stock_tool",   [TAG_USE_PLACE] = "stock_place",
	[TAG_USE_PRESS] = "stock_press", [TAG_USE_JOB] = "stock_job",
	[TAG_USE_BADGE] = "stock_badge", [TAG_USE_ACTION] = "stock_action",
};

const char *room_tag_setting(enum tag_use use)
{
	return stock_settings[use];
}

static enum outcome read_setting(struct store *store, struct arena *arena, const char *name,
                                 const char **out, struct fault *fault)
{
	struct setting_state state;
	enum outcome outcome = store_setting_read(store, arena, setting_find(name), &state, fault);
	*out = state.value;
	return outcome;
}

enum outcome room_tag_habits(struct store *store, struct arena *arena, struct tag_habits *out,
                             struct fault *fault)
{
	const char *x_least, *prefix;
	*out = (struct tag_habits){.content = "plain"};
	enum outcome outcome = read_setting(store, arena, "x_least", &x_least, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = length_parse(x_least, &out->x_least, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_setting(store, arena, "tag_content", &out->content, fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = read_setting(store, arena, "company_prefix", &prefix, fault);
	}
	if (outcome == OUTCOME_DONE && strcmp(prefix, "none") != 0) {
		out->company_prefix = prefix;
	}
	for (size_t i = 0; i < TAG_USE_COUNT && outcome == OUTCOME_DONE; i++) {
		outcome = read_setting(store, arena, stock_settings[i], &out->stocks[i], fault);
	}
	return outcome;
}

static enum outcome giai_say(struct arena *arena, const char *prefix, const char *tag,
                             const char **content, struct fault *fault)
{
	if (prefix == NULL) {
		fault_set(fault, OUTCOME_BAD, "company prefix not set, a GIAI begins with it");
		fault_hint(fault, "Type set company_prefix with the digits that GS1 licensed to the shop, "
		                  "or set tag_content 91.");
		return OUTCOME_BAD;
	}
	if (strlen(prefix) + strlen(tag) > GIAI_MOST) {
		fault_set(fault, OUTCOME_BAD, "tag too long for a GIAI of %d characters: %s%s", GIAI_MOST,
		          prefix, tag);
		fault_hint(fault, "Type set tag_content 91, which takes 90 characters.");
		return OUTCOME_BAD;
	}
	*content = arena_format(arena, "[8004]%s%s", prefix, tag);
	return OUTCOME_DONE;
}

enum outcome tag_content_say(struct arena *arena, const struct tag_habits *habits, struct tag tag,
                             const char **content, bool *gs1, struct fault *fault)
{
	struct tag_text stored = tag_stored(tag);
	*gs1 = strcmp(habits->content, "plain") != 0;
	if (!*gs1) {
		*content = arena_copy(arena, stored.bytes);
		return OUTCOME_DONE;
	}
	if (strcmp(habits->content, "giai") == 0) {
		return giai_say(arena, habits->company_prefix, stored.bytes, content, fault);
	}
	*content = arena_format(arena, "[%s]%s", habits->content, stored.bytes);
	return OUTCOME_DONE;
}

enum outcome room_tag_content(struct store *store, struct arena *arena, struct tag tag,
                              const char **content, bool *gs1, struct fault *fault)
{
	struct tag_habits habits;
	enum outcome outcome = room_tag_habits(store, arena, &habits, fault);
	return outcome == OUTCOME_DONE ? tag_content_say(arena, &habits, tag, content, gs1, fault)
	                               : outcome;
}
