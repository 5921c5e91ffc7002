/* `tag`: which records get a tag, and all that each says. */
#include <string.h>

#include "tags.h"

/* The tags being gathered. */
struct gathering {
	struct store *store;
	struct arena *arena;
	struct arena *scratch; /* of one record */
	const struct tags_asked *asked;
	const struct tag_habits *habits;
	const struct tag_stocks *stocks;
	struct tags_to_print *out;
	size_t room;
	struct fault *fault;
};

static struct tag_to_print *add(struct gathering *gathering)
{
	struct tags_to_print *out = gathering->out;
	if (out->count == gathering->room) {
		size_t room = gathering->room * 2 + 16;
		out->tags =
			arena_grow(gathering->arena, out->tags, gathering->room, room, sizeof *out->tags);
		gathering->room = room;
	}
	return &out->tags[out->count++];
}

/* ---------------------------------------------------------------- what a tag says */

static const char *const *lines_say(struct arena *arena, const struct record *record,
                                    const struct tag_stock *stock, enum units units)
{
	const char **lines = arena_take(arena, stock->line_count + 1, sizeof *lines);
	for (size_t i = 0; i < stock->line_count; i++) {
		lines[i] = tag_line_say(arena, record, &stock->lines[i], units);
	}
	return lines;
}

/* Does the tag say still what it said, in whichever units? */
static bool says_still(struct arena *arena, const struct record *record,
                       const struct tag_stock *stock, const char *face)
{
	static const enum units either[] = {UNITS_METRIC, UNITS_INCH};
	const char *tag = record_words(record, "tag");
	for (size_t i = 0; i < COUNT_OF(either); i++) {
		const char *const *lines = lines_say(arena, record, stock, either[i]);
		if (strcmp(tag_face_say(arena, tag, lines, stock->line_count), face) == 0) {
			return true;
		}
	}
	return false;
}

static bool is_retired(const struct record *record)
{
	const struct value *retired = record_known(record, "retired");
	return retired != NULL && retired->yes;
}

static bool is_word(const struct record *record, const char *attribute, const char *word)
{
	const char *words = record_words(record, attribute);
	return words != NULL && strcmp(words, word) == 0;
}

/* Why nobody should want a tag for it; NULL: it is in use. */
static const char *out_of_use(const struct record *record)
{
	return is_retired(record)                         ? "retired"
	       : is_word(record, "condition", "scrapped") ? "scrapped"
	       : record->kind->id != KIND_JOB             ? NULL
	       : is_word(record, "state", "finished")     ? "finished"
	       : is_word(record, "state", "cancelled")    ? "cancelled"
	                                                  : NULL;
}

/* In the form in which it was printed before; a symbol that was asked for went with that stock. */
static void form_keep(struct arena *arena, const struct tag_printed *printed,
                      struct tag_to_print *out)
{
	if (printed->symbol != NULL && strcmp(printed->stock, out->stock->name) == 0) {
		out->symbol = arena_copy(arena, printed->symbol);
	}
	out->carrier = printed->carrier;
}

/* A record's tag, on the stock for it; of one `printed` before only where that says otherwise. */
static enum outcome add_record(struct gathering *gathering, const struct record *record,
                               const struct tag_printed *printed)
{
	struct arena *arena = gathering->arena;
	const struct tag_stock *stock;
	struct tag tag;
	enum outcome outcome =
		gathering->stocks->find(room_tag_use(record->kind), printed != NULL ? printed->stock : NULL,
	                            &stock, gathering->stocks->context, gathering->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (printed != NULL && says_still(gathering->scratch, record, stock, printed->face)) {
		return OUTCOME_DONE;
	}
	struct tag_to_print *out = add(gathering);
	*out = (struct tag_to_print){
		.kind = record->kind,
		.id = record->id,
		.tag = arena_copy(arena, record_words(record, "tag")),
		.what = room_summary(arena, record, gathering->asked->units),
		.lines = lines_say(arena, record, stock, gathering->asked->units),
		.caution = out_of_use(record),
		.at_press = record->kind->id == KIND_PRESS || is_word(record, "sort", "press"),
		.stock = stock,
	};
	if (printed != NULL) {
		form_keep(arena, printed, out);
	}
	out->face = tag_face_say(arena, out->tag, out->lines, stock->line_count);
	tag_read(out->tag, &tag);
	return tag_content_say(arena, gathering->habits, tag, &out->content, &out->gs1,
	                       gathering->fault);
}

static enum outcome add_card(struct gathering *gathering, const struct action_card *card)
{
	struct arena *arena = gathering->arena;
	struct tag tag = {.class = TAG_ACTION, .serial = card->serial};
	const struct tag_stock *stock;
	enum outcome outcome = gathering->stocks->find(TAG_USE_ACTION, NULL, &stock,
	                                               gathering->stocks->context, gathering->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	const char **lines = arena_take(arena, stock->line_count + 1, sizeof *lines);
	for (size_t i = 0; i < stock->line_count; i++) {
		lines[i] = tag_line_say_card(arena, card, &stock->lines[i]);
	}
	struct tag_to_print *out = add(gathering);
	*out = (struct tag_to_print){
		.id = card->serial,
		.tag = arena_copy(arena, tag_shown(tag).bytes),
		.what = card->word != NULL ? arena_format(arena, "action card, %s", card->word)
	                               : arena_format(arena, "reason card, %s", card->reason),
		.lines = lines,
		.stock = stock,
	};
	out->face = tag_face_say(arena, out->tag, lines, stock->line_count);
	return tag_content_say(arena, gathering->habits, tag, &out->content, &out->gs1,
	                       gathering->fault);
}

/* ---------------------------------------------------------------- which records */

static enum outcome add_cards(struct gathering *gathering)
{
	size_t count;
	const struct action_card *cards = action_cards(&count);
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		outcome = add_card(gathering, &cards[i]);
	}
	return outcome;
}

static enum outcome add_named(struct gathering *gathering, const char *name)
{
	struct tag tag;
	struct found found;
	struct record *record;
	if (tag_read(name, &tag) == TAG_READ && tag.class == TAG_ACTION) {
		const struct action_card *card = action_card_find(tag.serial);
		if (card == NULL) {
			fault_set(gathering->fault, OUTCOME_BAD, "card not known: %s", name);
			fault_hint(gathering->fault, "Type tag actions for all there are.");
		}
		return card != NULL ? add_card(gathering, card) : OUTCOME_BAD;
	}
	arena_reset(gathering->scratch);
	enum outcome outcome = store_find(gathering->store, name, REFER_NONE, &found, gathering->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_record_read(gathering->store, gathering->scratch, found.kind, found.id,
		                            &record, gathering->fault);
	}
	return outcome == OUTCOME_DONE ? add_record(gathering, record, NULL) : outcome;
}

static void begin_found(const struct kind *const *kinds_found, size_t count, void *context)
{
	(void)kinds_found;
	(void)count;
	(void)context;
}

static enum outcome take_found(struct arena *arena, struct record *record, void *context)
{
	(void)arena;
	return add_record(context, record, NULL);
}

static enum outcome add_found(struct gathering *gathering)
{
	const struct question *question = gathering->asked->question;
	int64_t count;
	if (question->kind != NULL && !question->kind->tagged) {
		fault_set(gathering->fault, OUTCOME_BAD, "kind has no tags of its own: %s",
		          question->kind->name);
		fault_hint(gathering->fault, "Type tag find with a kind that has tags, such as cylinder.");
		return OUTCOME_BAD;
	}
	return room_find(gathering->store, gathering->scratch, question, begin_found, take_found,
	                 gathering, &count, gathering->fault);
}

static enum outcome take_due(const struct kind *kind, int64_t id, const struct tag_printed *printed,
                             void *context)
{
	struct gathering *gathering = context;
	struct record *record;
	arena_reset(gathering->scratch);
	enum outcome outcome = store_record_read(gathering->store, gathering->scratch, kind, id,
	                                         &record, gathering->fault);
	if (outcome != OUTCOME_DONE || out_of_use(record) != NULL) {
		return outcome;
	}
	return add_record(gathering, record, printed);
}

static enum outcome add_due(struct gathering *gathering)
{
	const struct tags_asked *asked = gathering->asked;
	enum outcome outcome = OUTCOME_DONE;
	if (asked->kind != NULL && !asked->kind->tagged) {
		fault_set(gathering->fault, OUTCOME_BAD, "kind has no tags of its own: %s",
		          asked->kind->name);
		fault_hint(gathering->fault, "Type a kind that has tags, such as cylinder.");
		return OUTCOME_BAD;
	}
	for (size_t i = 0; i < KIND_COUNT && outcome == OUTCOME_DONE; i++) {
		const struct kind *kind = &kinds[i];
		if (!kind->tagged || (asked->kind != NULL && kind != asked->kind)) {
			continue;
		}
		outcome =
			asked->which == TAGS_CHANGED
				? store_tags_touched(gathering->store, kind, take_due, gathering, gathering->fault)
				: store_tags_unprinted(gathering->store, kind, take_due, gathering,
		                               gathering->fault);
	}
	return outcome;
}

static enum outcome gather(struct gathering *gathering)
{
	const struct tags_asked *asked = gathering->asked;
	enum outcome outcome = OUTCOME_DONE;
	switch (asked->which) {
	case TAGS_NAMED:
		for (size_t i = 0; i < asked->name_count && outcome == OUTCOME_DONE; i++) {
			outcome = add_named(gathering, asked->names[i]);
		}
		return outcome;
	case TAGS_FOUND:
		return add_found(gathering);
	case TAGS_CHANGED:
	case TAGS_UNPRINTED:
		return add_due(gathering);
	case TAGS_CARDS:
		return add_cards(gathering);
	}
	return outcome;
}

enum outcome room_tags(struct store *store, struct arena *arena, const struct tags_asked *asked,
                       const struct tag_habits *habits, const struct tag_stocks *stocks,
                       struct tags_to_print *out, struct fault *fault)
{
	struct gathering gathering = {
		.store = store,
		.arena = arena,
		.asked = asked,
		.habits = habits,
		.stocks = stocks,
		.out = out,
		.fault = fault,
	};
	*out = (struct tags_to_print){.tags = NULL};
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	gathering.scratch = arena_new();
	out->entry = store_last_entry(store);
	outcome = gather(&gathering);
	arena_free(gathering.scratch);
	store_snapshot_end(store);
	return outcome;
}

/* ---------------------------------------------------------------- and that they were printed */

static enum outcome keep(struct store *store, const struct tags_to_print *printed,
                         struct moment now, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < printed->count && outcome == OUTCOME_DONE; i++) {
		const struct tag_to_print *tag = &printed->tags[i];
		const struct tag_printed kept = {
			.stock = tag->stock->name,
			.symbol = tag->symbol,
			.carrier = tag->carrier,
			.face = tag->face,
			.printed = now,
			.entry = printed->entry,
		};
		if (tag->kind != NULL) {
			outcome = store_tag_printed_write(store, tag->kind, tag->id, &kept, fault);
		}
	}
	return outcome;
}

enum outcome room_tags_printed(struct store *store, const struct tags_to_print *printed,
                               struct moment now, struct fault *fault)
{
	enum outcome outcome = store_begin(store, "room_tags_printed", fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome = keep(store, printed, now, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = store_commit(store, fault);
	}
	if (outcome != OUTCOME_DONE) {
		store_rollback(store);
	}
	return outcome;
}
