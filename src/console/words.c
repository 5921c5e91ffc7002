/* The words of a line, as typed. */
#include <string.h>

#include "words.h"

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* Bytes of the name that `text` begins with, 0 where it begins with none. */
static size_t name_length(const char *text)
{
	size_t length = 0;
	if (!is_letter(text[0])) {
		return 0;
	}
	while (is_letter(text[length]) || (text[length] >= '0' && text[length] <= '9') ||
	       text[length] == '_') {
		length++;
	}
	return length;
}

struct word word_of(struct arena *arena, const char *text)
{
	struct word word = {.text = arena_copy(arena, text)};
	size_t length = name_length(text);
	if (length == 0 || text[length] != '=') {
		return word;
	}
	char *key = arena_copy_bytes(arena, text, length);
	for (char *c = key; *c != '\0'; c++) {
		*c = *c >= 'A' && *c <= 'Z' ? (char)(*c - 'A' + 'a') : *c;
	}
	word.key = key;
	word.value = word.text + length + 1;
	return word;
}

/*
 * What stands in quotes, from behind the opening one. Returns where it goes on, NULL where
 * nothing closes it.
 */
static const char *quoted_read(struct text *word, const char *at, char quote)
{
	while (*at != quote) {
		if (*at == '\\' && quote == '"' && at[1] != '\0') {
			at++;
		}
		if (*at == '\0') {
			return NULL;
		}
		text_add_bytes(word, at, 1);
		at++;
	}
	return at + 1;
}

/* One word. Returns where the line goes on, NULL where a quote is not closed. */
static const char *word_read(struct text *word, const char *at)
{
	while (at != NULL && *at != '\0' && !is_blank(*at)) {
		if (*at == '"' || *at == '\'') {
			at = quoted_read(word, at + 1, *at);
		} else {
			text_add_bytes(word, at, 1);
			at++;
		}
	}
	return at;
}

enum outcome words_split(struct arena *arena, const char *line, struct word **out, size_t *count,
                         struct fault *fault)
{
	struct word *words = NULL;
	size_t used = 0;
	size_t room = 0;
	for (const char *at = line;;) {
		while (is_blank(*at)) {
			at++;
		}
		if (*at == '\0' || *at == '#') {
			break;
		}
		const char *start = at;
		struct text word = text_start(arena);
		at = word_read(&word, at);
		if (at == NULL) {
			fault_set(fault, OUTCOME_BAD, "quote not closed: %s", start);
			fault_hint(fault, "Close it, or put the word into quotes of the other sort.");
			return OUTCOME_BAD;
		}
		if (used == room) {
			size_t wider = room == 0 ? 8 : room * 2;
			words = arena_grow(arena, words, used, wider, sizeof *words);
			room = wider;
		}
		words[used++] = word_of(arena, word.bytes);
	}
	*out = words;
	*count = used;
	return OUTCOME_DONE;
}
