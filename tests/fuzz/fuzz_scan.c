/*
 * Scans: whatever a line holds, what comes of it keeps its promises. At most as many scans as there
 * is room for; texts that end and are harmless to show; tags that are read again as the same; and
 * what is wrong is explained.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "toothrack/tag.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool right, const char *what, const struct scan *scan)
{
	if (!right) {
		fprintf(stderr, "%s: [%.100s] [%.200s]\n", what, scan->code, scan->wrong);
		abort();
	}
}

/* UTF-8 without controls; a look of its own, not the one it looks at. */
static bool is_harmless(const char *text)
{
	const unsigned char *at = (const unsigned char *)text;
	while (*at != '\0') {
		size_t more = *at < 0x80 ? 0 : *at >= 0xf0 ? 3 : *at >= 0xe0 ? 2 : 1;
		bool broken = *at < ' ' || *at == 0x7f || (*at >= 0x80 && *at < 0xc2) || *at > 0xf4 ||
		              (*at == 0xc2 && at[1] < 0xa0);
		if (broken || text_turns((const char *)at)) {
			return false;
		}
		for (at++; more > 0; more--, at++) {
			if ((*at & 0xc0) != 0x80) {
				return false;
			}
		}
	}
	return true;
}

static void must_read_again(const struct scan *scan)
{
	struct scan again[2];
	struct tag tag;
	struct tag_text stored = tag_stored(scan->tag);
	must(strcmp(stored.bytes, scan->code) == 0, "code not as stored", scan);
	must(tag_read(scan->code, &tag) == TAG_READ && tag_compare(tag, scan->tag) == 0,
	     "not read again", scan);
	must(scan_read(scan->code, strlen(scan->code), again, 2) == 1 && again[0].reading == SCAN_TAG &&
	         tag_compare(again[0].tag, scan->tag) == 0,
	     "not scanned again", scan);
}

static void must_keep(const struct scan *scan)
{
	bool explained = scan->reading == SCAN_MISREAD || scan->reading == SCAN_DAMAGED;
	must(memchr(scan->code, '\0', sizeof scan->code) != NULL, "code has no end", scan);
	must(memchr(scan->wrong, '\0', sizeof scan->wrong) != NULL, "wrong has no end", scan);
	must(memchr(scan->cure, '\0', sizeof scan->cure) != NULL, "cure has no end", scan);
	must(is_harmless(scan->code) && is_harmless(scan->wrong) && is_harmless(scan->cure), "harmful",
	     scan);
	must(scan->code[0] != '\0' && scan->reading != SCAN_NOTHING, "nothing given", scan);
	must(explained == (scan->wrong[0] != '\0') && explained == (scan->cure[0] != '\0'),
	     "not explained", scan);
	if (scan->reading == SCAN_TAG) {
		must_read_again(scan);
	} else if (scan->reading == SCAN_DAMAGED && scan->tag.serial != 0) {
		struct tag tag;
		must(tag_read(tag_stored(scan->tag).bytes, &tag) == TAG_READ, "no tag", scan);
	} else {
		must(scan->tag.serial == 0, "a tag where none is", scan);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct scan scans[SCANS_MOST + 1];
	struct scan untouched;
	memset(&untouched, 0x5a, sizeof untouched);
	size_t most = size > 0 && data[0] == 0xfe ? size % SCANS_MOST : SCANS_MOST;
	memcpy(&scans[most], &untouched, sizeof untouched);
	size_t count = scan_read((const char *)data, size, scans, most);
	if (count > most || memcmp(&scans[most], &untouched, sizeof untouched) != 0) {
		fprintf(stderr, "more than there is room for\n");
		abort();
	}
	for (size_t i = 0; i < count; i++) {
		must_keep(&scans[i]);
	}
	return 0;
}
