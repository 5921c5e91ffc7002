/* Free words, lists of words, and words of a list. */
#include <stdlib.h>
#include <string.h>

#include "parsers.h"

/* Bytes of the UTF-8 character at `text`, 0 where there is none (RFC 3629, section 4). */
static int character_length(const unsigned char *text, int room)
{
	unsigned char first = text[0];
	int length = first < 0x80 ? 1 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : 4;
	if ((first >= 0x80 && first < 0xc2) || first > 0xf4 || length > room) {
		return 0;
	}
	for (int i = 1; i < length; i++) {
		if ((text[i] & 0xc0) != 0x80) {
			return 0;
		}
	}
	/* Longer than need be, halves of pairs, and beyond U+10FFFF. */
	if ((first == 0xe0 && text[1] < 0xa0) || (first == 0xed && text[1] > 0x9f) ||
	    (first == 0xf0 && text[1] < 0x90) || (first == 0xf4 && text[1] > 0x8f)) {
		return 0;
	}
	return length;
}

/* C0 and DEL, and C1, which some terminals obey as well. */
static bool is_control(const unsigned char *text)
{
	return (text[0] < 0x20 && text[0] != '\n' && text[0] != '\t') || text[0] == 0x7f ||
	       (text[0] == 0xc2 && text[1] < 0xa0);
}

/* Long enough for any note, and short enough to be shown with every record. */
#define WORDS_LONGEST 4000

static enum outcome refuse_long(const char *what, struct typed typed, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s is longer than %d bytes, it begins: %.40s", what,
	          WORDS_LONGEST, typed.start);
	fault_hint(fault, "Keep the long text in a file, and name that file here.");
	return OUTCOME_BAD;
}

enum outcome value_words_check(const char *what, struct typed typed, struct fault *fault)
{
	const unsigned char *text = (const unsigned char *)typed.start;
	int length = 0;
	if (typed.length > WORDS_LONGEST) {
		return refuse_long(what, typed, fault);
	}
	for (int i = 0; i < typed.length; i += length) {
		length = character_length(text + i, typed.length - i);
		if (length == 0) {
			fault_set(fault, OUTCOME_BAD, "%s not in UTF-8: %.*s", what, TYPED(typed));
			fault_hint(fault, "Save the text as UTF-8, or type it anew.");
			return OUTCOME_BAD;
		}
		if (is_control(text + i) || (length == 3 && text_turns((const char *)text + i))) {
			fault_set(fault, OUTCOME_BAD, "%s with a control character: %.*s", what, TYPED(typed));
			fault_hint(fault, "Type it without: of these only newline and TAB are kept.");
			return OUTCOME_BAD;
		}
	}
	return OUTCOME_DONE;
}

static bool ends_part(char c)
{
	return c == ',' || c == ';';
}

bool value_list_next(struct typed *rest, struct typed *part)
{
	while (rest->length > 0) {
		int length = 0;
		while (length < rest->length && !ends_part(rest->start[length])) {
			length++;
		}
		*part = typed_trim_bytes(rest->start, (size_t)length);
		int stepped = length < rest->length ? length + 1 : length;
		rest->start += stepped;
		rest->length -= stepped;
		if (part->length > 0) {
			return true;
		}
	}
	return false;
}

static int compare_words(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static char *lower_copy(struct arena *arena, struct typed typed)
{
	char *copy = arena_copy_bytes(arena, typed.start, (size_t)typed.length);
	for (char *c = copy; *c != '\0'; c++) {
		*c = *c >= 'A' && *c <= 'Z' ? (char)(*c - 'A' + 'a') : *c;
	}
	return copy;
}

static enum outcome refuse_empty_list(const char *what, struct typed typed, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s without a word: %.*s", what, TYPED(typed));
	fault_hint(fault, "Type one word, or several with commas between.");
	return OUTCOME_BAD;
}

enum outcome value_words_read(struct arena *arena, const char *what, struct typed typed,
                              const char **out, struct fault *fault)
{
	struct typed rest = typed;
	struct typed part;
	size_t count = 0;
	enum outcome outcome = value_words_check(what, typed, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	while (value_list_next(&rest, &part)) {
		count++;
	}
	if (count == 0) {
		return refuse_empty_list(what, typed, fault);
	}
	char **words = arena_take(arena, count, sizeof *words);
	rest = typed;
	for (size_t i = 0; value_list_next(&rest, &part); i++) {
		words[i] = lower_copy(arena, part);
	}
	qsort(words, count, sizeof *words, compare_words);
	struct text text = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		if (i == 0 || strcmp(words[i - 1], words[i]) != 0) {
			text_join(&text, ",", words[i]);
		}
	}
	*out = text.bytes;
	return OUTCOME_DONE;
}

/* `a, b or c` */
static void list_choices(char *out, size_t room, const char *const *choices)
{
	size_t used = 0;
	out[0] = '\0';
	for (size_t i = 0; choices[i] != NULL; i++) {
		const char *between = i == 0 ? "" : choices[i + 1] == NULL ? " or " : ", ";
		size_t length = strlen(between) + strlen(choices[i]);
		if (used + length + 1 > room) {
			return;
		}
		memcpy(out + used, between, strlen(between));
		memcpy(out + used + strlen(between), choices[i], strlen(choices[i]) + 1);
		used += length;
	}
}

static enum outcome refuse_choice(const char *what, struct typed typed, const char *const *choices,
                                  struct fault *fault)
{
	char word[64];
	char list[384];
	size_t length = typed.length < (int)sizeof word ? (size_t)typed.length : sizeof word - 1;
	memcpy(word, typed.start, length);
	word[length] = '\0';
	list_choices(list, sizeof list, choices);
	fault_set(fault, OUTCOME_BAD, "%s not known: %.*s", what, TYPED(typed));
	const char *nearest = text_nearest(word, choices);
	if (nearest != NULL) {
		fault_hint(fault, "Type %s; it may be %s.", nearest, list);
	} else {
		fault_hint(fault, "Type %s.", list);
	}
	return OUTCOME_BAD;
}

static size_t choice_index(struct typed typed, const char *const *choices)
{
	size_t i = 0;
	while (choices[i] != NULL && !typed_equal_fold(typed, choices[i])) {
		i++;
	}
	return i;
}

enum outcome value_choice_read(const char *what, struct typed typed, const char *const *choices,
                               const char **out, struct fault *fault)
{
	size_t index = choice_index(typed, choices);
	if (choices[index] == NULL) {
		return refuse_choice(what, typed, choices, fault);
	}
	*out = choices[index];
	return OUTCOME_DONE;
}

enum outcome value_choices_read(struct arena *arena, const char *what, struct typed typed,
                                const char *const *choices, const char **out, struct fault *fault)
{
	struct typed rest = typed;
	struct typed part;
	size_t count = 0;
	while (choices[count] != NULL) {
		count++;
	}
	bool *chosen = arena_take(arena, count + 1, sizeof *chosen);
	while (value_list_next(&rest, &part)) {
		size_t index = choice_index(part, choices);
		if (index == count) {
			return refuse_choice(what, part, choices, fault);
		}
		chosen[index] = true;
	}
	struct text text = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		if (chosen[i]) {
			text_join(&text, ",", choices[i]);
		}
	}
	if (text.length == 0) {
		return refuse_empty_list(what, typed, fault);
	}
	*out = text.bytes;
	return OUTCOME_DONE;
}

static int compare_pitches(const void *a, const void *b)
{
	const struct pitch *x = a;
	const struct pitch *y = b;
	if (x->system != y->system) {
		return x->system > y->system ? 1 : -1;
	}
	return ratio_compare((struct ratio){x->numerator, x->denominator},
	                     (struct ratio){y->numerator, y->denominator});
}

enum outcome value_pitches_read(struct arena *arena, const char *what, const char *unit,
                                struct typed typed, const char **out, struct fault *fault)
{
	struct typed rest = typed;
	struct typed part;
	size_t count = 0;
	while (value_list_next(&rest, &part)) {
		count++;
	}
	if (count == 0) {
		return refuse_empty_list(what, typed, fault);
	}
	struct pitch *pitches = arena_take(arena, count, sizeof *pitches);
	rest = typed;
	for (size_t i = 0; value_list_next(&rest, &part); i++) {
		/* A copy, so that the number scanner does not look past the comma. */
		const char *copy = arena_copy_bytes(arena, part.start, (size_t)part.length);
		enum outcome outcome = pitch_read(what, unit, typed_trim(copy), &pitches[i], fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
	}
	qsort(pitches, count, sizeof *pitches, compare_pitches);
	struct text text = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		if (i == 0 || compare_pitches(&pitches[i - 1], &pitches[i]) != 0) {
			text_join(&text, ",", pitch_text(pitches[i]).bytes);
		}
	}
	*out = text.bytes;
	return OUTCOME_DONE;
}
