/* What the tests of scans share: one line read, and what must have come of it. */
#ifndef TESTS_TAG_SCANS_H
#define TESTS_TAG_SCANS_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "toothrack/tag.h"

#define GS "\x1d"

static inline const char *reading_name(enum scan_reading reading)
{
	static const char *const names[] = {
		[SCAN_NOTHING] = "nothing", [SCAN_TAG] = "tag",         [SCAN_OTHER] = "other",
		[SCAN_MISREAD] = "misread", [SCAN_DAMAGED] = "damaged",
	};
	return names[reading];
}

/* The one scan of a line. */
static inline struct scan scan_one(const char *line)
{
	struct scan scans[SCANS_MOST];
	size_t count = scan_read(line, strlen(line), scans, COUNT_OF(scans));
	if (count != 1) {
		fail_msg("%zu scans: %s", count, line);
	}
	return scans[0];
}

static inline struct scan must_be(const char *line, enum scan_reading reading, const char *code)
{
	struct scan scan = scan_one(line);
	if (scan.reading != reading || (code != NULL && strcmp(scan.code, code) != 0)) {
		fail_msg("%s: %s [%s] %s", line, reading_name(scan.reading), scan.code, scan.wrong);
	}
	bool explained = reading == SCAN_MISREAD || reading == SCAN_DAMAGED;
	if (explained != (scan.wrong[0] != '\0') || explained != (scan.cure[0] != '\0')) {
		fail_msg("%s: [%s] [%s]", line, scan.wrong, scan.cure);
	}
	return scan;
}

static inline void must_be_wrong(const char *line, enum scan_reading reading, const char *wrong)
{
	struct scan scan = must_be(line, reading, NULL);
	if (strcmp(scan.wrong, wrong) != 0) {
		fail_msg("%s: %s", line, scan.wrong);
	}
}

/* The codes of all scans of a line, each with the first letter of its reading: `t:PC000123Y o:R1`.
 */
static inline void must_be_all(const char *line, const char *codes)
{
	struct scan scans[SCANS_MOST];
	char seen[1000] = "";
	size_t used = 0;
	size_t count = scan_read(line, strlen(line), scans, COUNT_OF(scans));
	for (size_t i = 0; i < count; i++) {
		used += (size_t)snprintf(seen + used, sizeof seen - used, "%s%c:%s", i > 0 ? " " : "",
		                         reading_name(scans[i].reading)[0], scans[i].code);
	}
	if (strcmp(seen, codes) != 0) {
		fail_msg("%s: %s", line, seen);
	}
}

/* Numbers that are the same each time (xorshift, Marsaglia 2003). */
static inline uint64_t draw(uint64_t *state, uint64_t below)
{
	*state ^= *state << 13;
	*state ^= *state >> 7;
	*state ^= *state << 17;
	return *state % below;
}

static inline struct tag draw_tag(uint64_t *state)
{
	static const uint64_t most[] = {999, 99999, 999999, 99999999, 999999999999999999};
	return (struct tag){.class = (enum tag_class)draw(state, TAG_CLASS_COUNT),
	                    .serial = (int64_t)(1 + draw(state, most[draw(state, COUNT_OF(most))]))};
}

#endif
