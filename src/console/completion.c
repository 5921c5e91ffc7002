/* What Tab offers. */
#include <string.h>

#include "arguments.h"
#include "calc.h"
#include "commands/commands.h"
#include "completion.h"
#include "options.h"
#include "words.h"

/* Enough to see what there is; more is no help to anybody. */
#define CODES_MOST 200

static const char *const yes_no[] = {"yes", "no", NULL};

/* ---------------------------------------------------------------- offers */

static void offer(struct completion *out, const char *word)
{
	if (out->count == out->room) {
		size_t room = out->room == 0 ? 32 : out->room * 2;
		out->words = arena_grow(out->arena, out->words, out->count, room, sizeof *out->words);
		out->room = room;
	}
	out->words[out->count++] = word;
}

static bool begins(const char *word, const char *start)
{
	for (; *start != '\0'; start++, word++) {
		char a[2] = {*word, '\0'};
		char b[2] = {*start, '\0'};
		if (!text_equal_fold(a, b)) {
			return false;
		}
	}
	return true;
}

static void offer_words(struct completion *out, const char *const *words, const char *end)
{
	for (; words != NULL && *words != NULL; words++) {
		if (begins(*words, out->start)) {
			offer(out, arena_format(out->arena, "%s%s%s", out->prefix, *words, end));
		}
	}
}

static void offer_code(const char *code, void *context)
{
	struct completion *out = context;
	/* A word with a blank would have to be quoted, which whoever types it does sooner by hand. */
	if (strpbrk(code, " \t\"'") == NULL) {
		offer(out, arena_format(out->arena, "%s%s", out->prefix, code));
	}
}

static void offer_codes(struct console *console, struct completion *out, enum reference wanted)
{
	struct store *store = NULL;
	if (console_store(console, NEEDS_READ, &store, NULL) == OUTCOME_DONE) {
		store_complete(store, wanted, out->start, CODES_MOST, offer_code, out, NULL);
	}
}

static void offer_places(struct console *console, struct completion *out, bool supplier)
{
	struct store *store = NULL;
	if (console_store(console, NEEDS_READ, &store, NULL) == OUTCOME_DONE) {
		store_complete_place(store, supplier, out->start, CODES_MOST, offer_code, out, NULL);
	}
}

static void offer_number(const char *number, void *context)
{
	const char *numbers[] = {number, NULL};
	offer_words(context, numbers, "");
}

/* Of `station=` and `cut=` behind a job: the numbers that it has. */
static void offer_rows(struct console *console, struct completion *out, const struct call *call,
                       const struct kind *row)
{
	struct store *store = NULL;
	struct found found;
	const char *named = call_bare(call, 0);
	if (named != NULL && console_store(console, NEEDS_READ, &store, NULL) == OUTCOME_DONE &&
	    store_find(store, named, REFER_JOB, &found, NULL) == OUTCOME_DONE) {
		store_complete_job_row(store, row, found.id, offer_number, out, NULL);
	}
}

/* ---------------------------------------------------------------- by what is asked */

static void offer_attribute(struct console *console, struct completion *out,
                            const struct attribute *attribute)
{
	if (attribute->reference != REFER_NONE) {
		offer_codes(console, out, attribute->reference);
	} else if (attribute->choices != NULL) {
		offer_words(out, attribute->choices, "");
	} else if (attribute->type == VALUE_YES_NO) {
		offer_words(out, yes_no, "");
	}
}

static void offer_setting_value(struct completion *out, const struct setting *setting)
{
	static const char *const back[] = {"default", NULL};
	if (setting != NULL && setting->type == VALUE_YES_NO) {
		offer_words(out, yes_no, "");
	} else if (setting != NULL) {
		offer_words(out, setting->choices, "");
	}
	/* Alone it would be typed for who only asks what may stand here. */
	if (out->count > 0 || out->start[0] != '\0') {
		offer_words(out, back, "");
	}
}

static bool is_choice(const struct argument *argument, const char *word)
{
	for (const char *const *choice = argument->choices; *choice != NULL; choice++) {
		if (text_equal_fold(*choice, word)) {
			return true;
		}
	}
	return false;
}

/* Behind `changed` and `unprinted` a kind that has tags, behind another choice nothing. */
static void offer_tag_or_choice(struct console *console, struct completion *out,
                                const struct argument *argument, const struct call *call)
{
	const char *first = call_bare(call, 0);
	if (first == NULL) {
		offer_words(out, argument->choices, "");
	}
	if (first == NULL || !is_choice(argument, first)) {
		offer_codes(console, out, REFER_NONE);
	} else if (text_equal_fold(first, "changed") || text_equal_fold(first, "unprinted")) {
		for (size_t i = 0; i < KIND_COUNT && call_bare_count(call) == 1; i++) {
			const char *const name[] = {kinds[i].tagged ? kinds[i].name : NULL, NULL};
			offer_words(out, name, "");
		}
	}
}

static void offer_argument(struct console *console, struct completion *out,
                           const struct argument *argument, const struct call *call)
{
	switch (argument->type) {
	case ARGUMENT_TAG:
		offer_codes(console, out, REFER_NONE);
		break;
	case ARGUMENT_TAG_OR_CHOICE:
		offer_tag_or_choice(console, out, argument, call);
		break;
	case ARGUMENT_TOOL:
		offer_codes(console, out, REFER_TOOL);
		break;
	case ARGUMENT_PLACE:
		offer_codes(console, out, REFER_PLACE);
		break;
	case ARGUMENT_SUPPLIER:
	case ARGUMENT_OWN_PLACE:
		offer_places(console, out, argument->type == ARGUMENT_SUPPLIER);
		break;
	case ARGUMENT_PRESS:
		offer_codes(console, out, REFER_PRESSES);
		break;
	case ARGUMENT_JOB:
		offer_codes(console, out, REFER_JOB);
		break;
	case ARGUMENT_FILE:
		out->files = true;
		break;
	case ARGUMENT_SETTING_VALUE:
		offer_setting_value(out, setting_find(call_bare(call, 0)));
		break;
	case ARGUMENT_CHOICE:
	case ARGUMENT_KIND:
	case ARGUMENT_KIND_OR_WORD:
	case ARGUMENT_SETTING:
	case ARGUMENT_TOPIC:
	case ARGUMENT_COMMAND:
	case ARGUMENT_STOCK:
		offer_words(out, argument_words(out->arena, argument), "");
		break;
	case ARGUMENT_TEXT:
	case ARGUMENT_MOMENT:
	case ARGUMENT_ATTRIBUTES:
		break;
	}
}

/* The kinds of which a job has rows: a key of that name names one of them. */
static const enum kind_id rows[] = {KIND_STATION, KIND_CUT};

/* Does the command take attributes of a record that its first word names, as `edit` does? */
static bool is_of_record(const struct command *command)
{
	const struct argument *argument = argument_of_bare(command, 0);
	return takes_attributes(command) && argument != NULL && argument->type == ARGUMENT_TAG;
}

/*
 * The kind of the record that a command's first word names. Of a job whose station or cut is named
 * too, that row's.
 */
static const struct kind *kind_of_named(struct console *console, const struct call *call,
                                        const char *named)
{
	struct store *store = NULL;
	struct found found;
	if (console_store(console, NEEDS_READ, &store, NULL) != OUTCOME_DONE ||
	    store_find(store, named, REFER_NONE, &found, NULL) != OUTCOME_DONE) {
		return NULL;
	}
	for (size_t i = 0; i < COUNT_OF(rows) && found.kind->id == KIND_JOB; i++) {
		if (call_value(call, kinds[rows[i]].name) != NULL) {
			return &kinds[rows[i]];
		}
	}
	return found.kind;
}

void completion_attributes(struct console *console, const struct call *call,
                           const struct kind **kind, const struct calc_topic **topic)
{
	const struct argument *argument = argument_of_bare(call->command, 0);
	const char *named = call_bare(call, 0);
	*kind = NULL;
	*topic = NULL;
	if (!takes_attributes(call->command) || argument == NULL || named == NULL) {
		return;
	}
	if (argument->type == ARGUMENT_TOPIC) {
		*topic = calc_topic_find(named);
	} else if (argument->type == ARGUMENT_KIND || argument->type == ARGUMENT_KIND_OR_WORD) {
		*kind = kind_find(named);
	} else {
		*kind = kind_of_named(console, call, named);
	}
}

/* Of `find` without a kind: the first kind that has the attribute; NULL for other commands. */
static const struct kind *any_kind_with(const struct call *call, const char *key)
{
	const struct argument *argument = argument_of_bare(call->command, 0);
	if (argument == NULL || argument->type != ARGUMENT_KIND_OR_WORD) {
		return NULL;
	}
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (kinds[i].tagged && kind_attribute_find(&kinds[i], key) != SIZE_MAX) {
			return &kinds[i];
		}
	}
	return NULL;
}

static void offer_value(struct console *console, struct completion *out, const struct call *call,
                        const char *key)
{
	const struct argument *argument = argument_of_key(call->command, key);
	const struct kind *kind = NULL;
	const struct calc_topic *topic = NULL;
	completion_attributes(console, call, &kind, &topic);
	kind = kind == NULL ? any_kind_with(call, key) : kind;
	if (argument != NULL) {
		offer_argument(console, out, argument, call);
	} else if (kind != NULL && kind_attribute_find(kind, key) != SIZE_MAX) {
		offer_attribute(console, out, kind_attribute(kind, kind_attribute_find(kind, key)));
	}
	for (size_t i = 0; i < COUNT_OF(rows) && (argument != NULL || is_of_record(call->command));
	     i++) {
		if (strcmp(kinds[rows[i]].name, key) == 0) {
			offer_rows(console, out, call, &kinds[rows[i]]);
		}
	}
	for (size_t i = 0; topic != NULL && i < topic->key_count; i++) {
		const struct calc_key *one = &topic->keys[i];
		if (strcmp(one->name, key) == 0 && one->choices != NULL) {
			offer_words(out, one->choices, "");
		} else if (strcmp(one->name, key) == 0 && one->type == VALUE_YES_NO) {
			offer_words(out, yes_no, "");
		}
	}
}

static void offer_key(struct completion *out, const struct call *call, const char *key)
{
	const char *keys[] = {key, NULL};
	if (call_value(call, key) == NULL) {
		offer_words(out, keys, "=");
	}
}

/* What names a record is never changed: its tag, or of a job's row the job and the row's number. */
static bool is_never_changed(const struct kind *kind, const char *name)
{
	return strcmp(name, "tag") == 0 ||
	       (!kind->tagged && (strcmp(name, "job") == 0 || strcmp(name, kind->name) == 0));
}

/* Of a command that takes some of the attributes alone. */
static bool is_taken(const struct command *command, const char *name)
{
	for (size_t i = 0; i < command->argument_count; i++) {
		const struct argument *argument = &command->arguments[i];
		if (argument->type == ARGUMENT_ATTRIBUTES && argument->choices != NULL) {
			return is_choice(argument, name);
		}
	}
	return true;
}

static void offer_attribute_keys(struct completion *out, const struct call *call,
                                 const struct kind *kind)
{
	bool of_record = is_of_record(call->command);
	for (size_t i = 0; i < kind_attribute_count(kind); i++) {
		const char *name = kind_attribute(kind, i)->name;
		if ((!of_record || !is_never_changed(kind, name)) && is_taken(call->command, name)) {
			offer_key(out, call, name);
		}
	}
	for (size_t i = 0; i < COUNT_OF(rows) && of_record && kind->id == KIND_JOB; i++) {
		offer_key(out, call, kinds[rows[i]].name);
	}
}

static void offer_keys(struct console *console, struct completion *out, const struct call *call)
{
	const struct kind *kind = NULL;
	const struct calc_topic *topic = NULL;
	completion_attributes(console, call, &kind, &topic);
	for (size_t i = 0; i < call->command->argument_count; i++) {
		if (call->command->arguments[i].keyed) {
			offer_key(out, call, call->command->arguments[i].name);
		}
	}
	if (kind != NULL) {
		offer_attribute_keys(out, call, kind);
	}
	for (size_t i = 0; topic != NULL && i < topic->key_count; i++) {
		offer_key(out, call, topic->keys[i].name);
	}
	for (size_t i = 0; kind == NULL && i < KIND_COUNT; i++) {
		for (size_t j = 0; j < kind_attribute_count(&kinds[i]); j++) {
			const char *name = kind_attribute(&kinds[i], j)->name;
			if (any_kind_with(call, name) == &kinds[i]) {
				offer_key(out, call, name);
			}
		}
	}
}

/* What stands where the word is, of a command or behind its `find`. */
static void offer_word(struct console *console, struct completion *out, const struct call *call)
{
	const struct argument *argument = argument_of_bare(call->command, call_bare_count(call));
	if (argument != NULL) {
		offer_argument(console, out, argument, call);
	}
	offer_keys(console, out, call);
}

static void offer_options(struct completion *out)
{
	for (size_t i = 0; i < option_row_count; i++) {
		const struct option_row *row = &option_rows[i];
		const char *names[] = {row->of_program ? NULL : row->name, NULL};
		offer_words(out, names, row->value == NULL ? "" : "=");
	}
}

static void offer_first(struct console *console, struct completion *out)
{
	const struct argument any = {.type = ARGUMENT_COMMAND};
	offer_words(out, argument_words(out->arena, &any), "");
	if (out->start[0] != '\0') {
		offer_codes(console, out, REFER_NONE);
	}
}

struct call completion_inner(struct arena *arena, const struct call *call)
{
	if (!asks_as_find(call->command, call->words, call->word_count)) {
		return *call;
	}
	/* The word itself goes, and the command's own keys with it. */
	struct word *words = arena_take(arena, call->word_count, sizeof *words);
	struct call inner = {.command = &command_find_records, .words = words};
	bool met = false;
	for (size_t i = 0; i < call->word_count; i++) {
		const struct word *word = &call->words[i];
		if (word->key == NULL ? met : argument_of_key(call->command, word->key) == NULL) {
			words[inner.word_count++] = *word;
		}
		met = met || word->key == NULL;
	}
	return inner;
}

void completion_find(struct console *console, struct arena *arena, const char *before,
                     const char *partial, struct completion *out)
{
	struct word *words = NULL;
	size_t count = 0;
	struct options options = {0};
	*out = (struct completion){.arena = arena, .prefix = "", .start = partial};
	if (words_split(arena, before, &words, &count, NULL) != OUTCOME_DONE ||
	    options_take(words, &count, true, &options, NULL) != OUTCOME_DONE) {
		return;
	}
	if (partial[0] == '-') {
		offer_options(out);
		return;
	}
	if (count == 0) {
		offer_first(console, out);
		return;
	}
	struct call call = {.command = command_find(words[0].text),
	                    .words = words + 1,
	                    .word_count = count - 1};
	if (call.command == NULL) {
		return;
	}
	struct word word = word_of(arena, partial);
	struct call inner = completion_inner(arena, &call);
	if (word.key == NULL) {
		for (size_t i = 0; inner.command != call.command && i < call.command->argument_count; i++) {
			if (call.command->arguments[i].keyed) {
				offer_key(out, &call, call.command->arguments[i].name);
			}
		}
		offer_word(console, out, &inner);
		return;
	}
	/* Of a list, what stands behind its last comma. */
	const char *comma = strrchr(word.value, ',');
	out->start = comma != NULL ? comma + 1 : word.value;
	out->prefix = arena_copy_bytes(arena, word.text, (size_t)(out->start - word.text));
	bool own = argument_of_key(call.command, word.key) != NULL;
	offer_value(console, out, own ? &call : &inner, word.key);
}
