/* The word that was meant: the nearest of those there are. */
#include <string.h>

#include "toothrack/base.h"

/* Longer words are never guessed at; our longest is half of this. */
#define NEAREST_LENGTH 40

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static size_t least_of(size_t a, size_t b)
{
	return a < b ? a : b;
}

/*
 * Edits from a to b: insert, remove, change, swap of neighbours ("optimal string alignment",
 * F. J. Damerau, "A technique for computer detection and correction of spelling errors", CACM 7
 * (1964) 171-176).
 */
static size_t edits_between(const char *a, const char *b)
{
	size_t rows[3][NEAREST_LENGTH + 1];
	size_t *before = rows[0];
	size_t *above = rows[1];
	size_t *row = rows[2];
	size_t columns = strlen(b);

	for (size_t j = 0; j <= columns; j++) {
		above[j] = j;
	}
	for (size_t i = 1; a[i - 1] != '\0'; i++) {
		row[0] = i;
		for (size_t j = 1; j <= columns; j++) {
			size_t change = above[j - 1] + (lower(a[i - 1]) != lower(b[j - 1]) ? 1 : 0);
			row[j] = least_of(change, least_of(above[j], row[j - 1]) + 1);
			if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
			    lower(a[i - 2]) == lower(b[j - 1])) {
				row[j] = least_of(row[j], before[j - 2] + 1);
			}
		}
		size_t *oldest = before;
		before = above;
		above = row;
		row = oldest;
	}
	return above[columns];
}

const char *text_nearest(const char *word, const char *const *candidates)
{
	size_t length = strlen(word);
	const char *nearest = NULL;
	size_t limit = length / 3 > 0 ? length / 3 : 1;

	if (length == 0 || length > NEAREST_LENGTH) {
		return NULL;
	}
	for (; *candidates != NULL; candidates++) {
		if (strlen(*candidates) > NEAREST_LENGTH) {
			continue;
		}
		size_t edits = edits_between(word, *candidates);
		if (edits <= limit) {
			nearest = *candidates;
			limit = edits > 0 ? edits - 1 : 0;
			if (edits == 0) {
				return nearest;
			}
		}
	}
	return nearest;
}
