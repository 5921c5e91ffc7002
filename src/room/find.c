/* `find [KIND] [key=value, key=range, WORD...]`: what the shop has. */
#include <string.h>

#include "asking.h"
#include "entry.h"

/* What is looked for: of each kind that can be meant, what is asked. */
struct search {
	struct store *store;
	struct arena *arena;
	const struct kind *kind; /* the one named, or NULL */
	const struct pair *pairs;
	size_t pair_count;
	const char *const *words;
	size_t word_count;
	struct selection selections[KIND_COUNT];
	const struct kind *kinds[KIND_COUNT];
	size_t count;
};

/* ---------------------------------------------------------------- what is refused at once */

static enum outcome check_words(const struct search *search, struct fault *fault)
{
	for (size_t i = 0; i < search->word_count; i++) {
		if (!text_has_letter(search->words[i])) {
			fault_set(fault, OUTCOME_BAD, "word has no letter or digit: %s", search->words[i]);
			fault_hint(fault, "Type a word of a name, a note or a number, or its beginning.");
			return OUTCOME_BAD;
		}
	}
	if (search->word_count > 0 && search->kind != NULL && !search->kind->tagged) {
		fault_set(fault, OUTCOME_BAD, "words are not looked for in %ss: %s", search->kind->name,
		          search->words[0]);
		fault_hint(fault, "Type key=value; help %s says which keys there are.", search->kind->name);
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* A kind that is looked in where none is named: rows of a job and readings have to be named. */
static bool is_candidate(const struct search *search, const struct kind *kind)
{
	return search->kind != NULL ? kind == search->kind : kind->tagged;
}

static bool has_all(const struct search *search, const struct kind *kind)
{
	for (size_t i = 0; i < search->pair_count; i++) {
		if (kind_attribute_find(kind, search->pairs[i].key) == SIZE_MAX) {
			return false;
		}
	}
	return true;
}

/* The first kind that has the attribute, candidates first; NULL where none has. */
static const struct kind *kind_with(const struct search *search, const char *key)
{
	const struct kind *other = NULL;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (kind_attribute_find(&kinds[i], key) == SIZE_MAX) {
			continue;
		}
		if (is_candidate(search, &kinds[i])) {
			return &kinds[i];
		}
		other = other == NULL ? &kinds[i] : other;
	}
	return other;
}

/* The nearest name of an attribute of any candidate. */
static const char *nearest_key(const struct search *search, const char *key)
{
	size_t count = 0;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		count += kind_attribute_count(&kinds[i]);
	}
	const char **names = arena_take(search->arena, count + 1, sizeof *names);
	count = 0;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		for (size_t j = 0; is_candidate(search, &kinds[i]) && j < kind_attribute_count(&kinds[i]);
		     j++) {
			names[count++] = kind_attribute(&kinds[i], j)->name;
		}
	}
	return text_nearest(key, names);
}

static enum outcome refuse_key(const struct search *search, const struct pair *pair,
                               struct fault *fault)
{
	const struct kind *other = kind_with(search, pair->key);
	const char *nearest = nearest_key(search, pair->key);
	if (search->kind != NULL) {
		fault_set(fault, OUTCOME_BAD, "attribute of %s %s not known: %s",
		          entry_article(search->kind), search->kind->title, pair->key);
	} else {
		fault_set(fault, OUTCOME_BAD, "attribute not known: %s", pair->key);
	}
	if (search->kind == NULL && other != NULL) {
		fault_hint(fault, "It is known of %s %s: type find %s %s=%s.", entry_article(other),
		           other->title, other->name, pair->key, pair->value);
	} else if (nearest != NULL) {
		fault_hint(fault, "Type %s=%s.", nearest, pair->value);
	} else {
		fault_hint(fault, "Type help %s for all of them.",
		           search->kind != NULL ? search->kind->name : "KIND, such as help cylinder,");
	}
	return OUTCOME_BAD;
}

/* No kind has them all: each is known, but of different ones. */
static enum outcome refuse_together(const struct search *search, struct fault *fault)
{
	struct text keys = text_start(search->arena);
	for (size_t i = 0; i < search->pair_count; i++) {
		const struct kind *with = kind_with(search, search->pairs[i].key);
		if (with == NULL || !is_candidate(search, with)) {
			return refuse_key(search, &search->pairs[i], fault);
		}
		text_join(&keys, ", ", search->pairs[i].key);
	}
	fault_set(fault, OUTCOME_BAD, "no kind has all of these: %s", keys.bytes);
	fault_hint(fault, "Ask for them one at a time; help KIND says what is known of a kind.");
	return OUTCOME_BAD;
}

/* ---------------------------------------------------------------- what is asked of each kind */

static enum outcome read_pairs(struct search *search, const struct kind *kind, struct asked *asked,
                               struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < search->pair_count && outcome == OUTCOME_DONE; i++) {
		const struct pair *pair = &search->pairs[i];
		outcome = asking_read(search->store, search->arena, kind,
		                      kind_attribute_find(kind, pair->key), pair->value, &asked[i], fault);
	}
	return outcome;
}

static void add_kind(struct search *search, const struct kind *kind, const struct asked *asked)
{
	bool first = search->count == 0;
	search->kinds[search->count] = kind;
	search->selections[search->count] = (struct selection){
		.kind = kind,
		.asked = asked,
		.asked_count = search->pair_count,
		.words = search->words,
		.word_count = search->word_count,
		.words_found = !first,
	};
	search->count++;
}

/*
 * The kinds that can be meant: those that have all the attributes, of which the values are right.
 * Where a value is right for none the fault tells of the one whose hint says what to type.
 */
static enum outcome choose_kinds(struct search *search, struct fault *fault)
{
	struct fault refused = {.sentence = ""};
	bool met = false;
	for (size_t i = 0; i < KIND_COUNT; i++) {
		struct fault here = {.sentence = ""};
		if (!is_candidate(search, &kinds[i]) || !has_all(search, &kinds[i])) {
			continue;
		}
		struct asked *asked = arena_take(search->arena, search->pair_count + 1, sizeof *asked);
		enum outcome outcome = read_pairs(search, &kinds[i], asked, &here);
		if (outcome == OUTCOME_STORE) {
			*fault = here;
			return outcome;
		}
		if (outcome == OUTCOME_DONE) {
			add_kind(search, &kinds[i], asked);
		} else if (!met || strlen(here.hint) > strlen(refused.hint)) {
			refused = here;
		}
		met = true;
	}
	if (!met) {
		return refuse_together(search, fault);
	}
	if (search->count == 0) {
		*fault = refused;
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

/* ---------------------------------------------------------------- looking */

static enum outcome look(struct search *search, find_begin begin, record_take take, void *context,
                         int64_t *count, struct fault *fault)
{
	enum outcome outcome = check_words(search, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = choose_kinds(search, fault);
	}
	if (outcome == OUTCOME_DONE) {
		begin(search->kinds, search->count, context);
	}
	for (size_t i = 0; i < search->count && outcome == OUTCOME_DONE; i++) {
		int64_t found = 0;
		outcome = store_select(search->store, &search->selections[i], take, context, &found, fault);
		*count += found;
	}
	return outcome;
}

enum outcome room_find(struct store *store, struct arena *arena, const struct question *question,
                       find_begin begin, record_take take, void *context, int64_t *count,
                       struct fault *fault)
{
	struct search search = {
		.store = store,
		.arena = arena,
		.kind = question->kind,
		.pairs = question->pairs,
		.pair_count = question->pair_count,
		.words = question->words,
		.word_count = question->word_count,
	};
	*count = 0;
	enum outcome outcome = store_snapshot_begin(store, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = look(&search, begin, take, context, count, fault);
		store_snapshot_end(store);
	}
	return outcome;
}
