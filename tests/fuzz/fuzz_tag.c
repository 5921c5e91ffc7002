/*
 * Tags: whatever is scanned, the reader answers; and a tag that was read, or is near, is read again
 * as shown and as stored.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "toothrack/tag.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must_read_again(struct tag tag, const char *text)
{
	struct tag again;
	if (tag_read(text, &again) != TAG_READ || tag_compare(tag, again) != 0) {
		fprintf(stderr, "not read again: %s\n", text);
		abort();
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct tag tag, near[TAG_NEAR_MOST];
	char check = '\0';
	char *text = malloc(size + 1);
	if (text == NULL) {
		return 0;
	}
	if (size > 0) {
		memcpy(text, data, size);
	}
	text[size] = '\0';
	(void)tag_check_character(text, &check);
	size_t count = tag_near(text, near, COUNT_OF(near));
	for (size_t i = 0; i < count; i++) {
		must_read_again(near[i], tag_stored(near[i]).bytes);
	}
	if (tag_read(text, &tag) == TAG_READ) {
		must_read_again(tag, tag_shown(tag).bytes);
		must_read_again(tag, tag_stored(tag).bytes);
	}
	free(text);
	return 0;
}
