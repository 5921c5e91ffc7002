/*
 * Words of a line: whatever is typed, it is split or refused in words; and the words of a line, put
 * into quotes and typed again, are the same words.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "console/words.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds, const char *what, const char *line)
{
	if (!holds) {
		fprintf(stderr, "%s: %s\n", what, line);
		abort();
	}
}

/* A word in double quotes, with a backslash before what would end it. */
static void quote(struct text *line, const char *word)
{
	text_add(line, " \"");
	for (const char *at = word; *at != '\0'; at++) {
		if (*at == '"' || *at == '\\') {
			text_add(line, "\\");
		}
		text_add_bytes(line, at, 1);
	}
	text_add(line, "\"");
}

static bool texts_equal(const char *a, const char *b)
{
	return (a == NULL) == (b == NULL) && (a == NULL || strcmp(a, b) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct arena *arena = arena_new();
	const char *line = arena_copy_bytes(arena, (const char *)data, size);
	struct word *words, *again;
	struct fault fault;
	size_t count, count_again;
	fault_clear(&fault);
	if (words_split(arena, line, &words, &count, &fault) != OUTCOME_DONE) {
		must(fault.sentence[0] != '\0' && fault.hint[0] != '\0', "refused without words", line);
		arena_free(arena);
		return 0;
	}
	struct text quoted = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		quote(&quoted, words[i].text);
	}
	must(words_split(arena, quoted.bytes, &again, &count_again, &fault) == OUTCOME_DONE,
	     "refused in quotes", quoted.bytes);
	must(count == count_again, "not as many words", quoted.bytes);
	for (size_t i = 0; i < count; i++) {
		must(strcmp(words[i].text, again[i].text) == 0, "another word", quoted.bytes);
		must(texts_equal(words[i].key, again[i].key), "another key", quoted.bytes);
		must(texts_equal(words[i].value, again[i].value), "another value", quoted.bytes);
	}
	arena_free(arena);
	return 0;
}
