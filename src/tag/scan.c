/* One line as a scanner that types sent it: cut into scans, each of them understood. */
#include <stdio.h>
#include <string.h>

#include "code.h"
#include "scan.h"

static const char cure_again[] =
	"Wipe the tag and the scanner's window and scan again; if it stays so, type the tag, or print it "
	"anew.";
static const char cure_suffix[] =
	"Scan each again, one after the other, and set the scanner, by its manual, to send CR behind each "
	"code.";
static const char cure_around[] =
	"Scan again; if it stays so, set the scanner, by its manual, to send nothing in front of a code "
	"and only CR behind it.";
static const char together[] = "two scans run together that cannot be told apart";

/* Where the scans go. */
struct scans {
	struct scan *out;
	size_t most, count;
	bool more; /* than there is room for */
};

static struct scan *scan_add(struct scans *scans, enum scan_reading reading, const char *text,
                             size_t length)
{
	/* What finds no room goes here; it is told at the end. */
	static const struct scan none = {.reading = SCAN_NOTHING};
	if (scans->count == scans->most) {
		scans->more = true;
		return NULL;
	}
	struct scan *scan = &scans->out[scans->count++];
	*scan = none;
	scan->reading = reading;
	if (!scan_text_shown(text, length, scan->code, sizeof scan->code) && reading == SCAN_OTHER) {
		scan->reading = SCAN_MISREAD;
		snprintf(scan->wrong, sizeof scan->wrong, "too long for a code: %zu bytes", length);
		snprintf(scan->cure, sizeof scan->cure, "%s", cure_suffix);
	}
	return scan;
}

static void scan_add_tag(struct scans *scans, struct tag tag)
{
	struct tag_text text = tag_stored(tag);
	struct scan *scan = scan_add(scans, SCAN_TAG, text.bytes, strlen(text.bytes));
	if (scan != NULL) {
		scan->tag = tag;
	}
}

static void scan_add_misread(struct scans *scans, const char *text, size_t length,
                             const char *wrong, const char *cure)
{
	struct scan *scan = scan_add(scans, SCAN_MISREAD, text, length);
	if (scan != NULL) {
		snprintf(scan->wrong, sizeof scan->wrong, "%s", wrong);
		snprintf(scan->cure, sizeof scan->cure, "%s", cure);
	}
}

/* True where a layout's damage was found, and told. */
static bool scan_add_damaged(struct scans *scans, const char *text, size_t length)
{
	struct damage damage;
	if (!damage_find(text, length, &damage)) {
		return false;
	}
	struct scan *scan = scan_add(scans, SCAN_DAMAGED, text, length);
	if (scan != NULL) {
		scan->tag = damage.tag;
		memcpy(scan->wrong, damage.wrong, sizeof scan->wrong);
		snprintf(scan->cure, sizeof scan->cure, "%s", damage.cure);
	}
	return true;
}

/* Does this identifier say that GS1 element strings follow? EAN and UPC (`]E0`) hold but a number.
 */
static bool is_gs1(const char *identifier)
{
	/* Code 128, Data Matrix and QR: maker manuals (NCR 7895, Opticon, Zebra DS457); DataBar and its
	   composites: GS1 Barcode Syntax Engine, gs1encoders.h; DotCode, ]J1: from memory. */
	static const char known[][3] = {"C1", "D2", "Q3", "J1"};
	if (identifier[1] == 'e' && identifier[2] == '0') {
		return true;
	}
	for (size_t i = 0; i < COUNT_OF(known); i++) {
		if (tag_upper(identifier[1]) == known[i][0] && identifier[2] == known[i][1]) {
			return true;
		}
	}
	return false;
}

/* The tags of a GS1 symbol. False where it says nothing of ours. */
static bool elements_tell(struct scans *scans, const struct elements *elements, const char *text,
                          size_t length)
{
	if (elements->tag_count > 1 && elements->tag_count < elements->count) {
		scan_add_misread(scans, text, length, "more than one tag in one GS1 symbol", cure_again);
		return true;
	}
	for (size_t i = 0; i < elements->tag_count; i++) {
		scan_add_tag(scans, elements->tags[i]);
	}
	return elements->tag_count > 0;
}

/* Tags run together, where each of them is sure. */
static bool together_read(struct scans *scans, const struct signs *signs)
{
	struct tag tags[SCANS_MOST + 1];
	size_t count = signs_tags(signs, tags, COUNT_OF(tags));
	for (size_t i = 0; i < count; i++) {
		scan_add_tag(scans, tags[i]);
	}
	return count > 0;
}

/* A symbol whose identifier says that it is made of element strings. */
static void gs1_read(struct scans *scans, const char *text, size_t length,
                     const struct signs *signs)
{
	struct elements elements;
	bool right = elements_read(text, length, &elements);
	if (right && elements_tell(scans, &elements, text, length)) {
		return;
	}
	if (right && elements.misread && together_read(scans, signs)) {
		return;
	}
	if ((!right || elements.misread) && scan_add_damaged(scans, text, length)) {
		return;
	}
	if (!right || elements.misread) {
		scan_add_misread(scans, text, length, elements.wrong, cure_again);
	} else if (elements.count == 1 && elements.value != NULL) {
		scan_add(scans, SCAN_OTHER, elements.value, elements.value_length);
	} else {
		scan_add(scans, SCAN_OTHER, text, length);
	}
}

/* `text` ends in NUL and may hold NUL. */
static void text_read(struct scans *scans, const char *text, size_t length, bool gs1)
{
	struct tag tag;
	struct signs signs;
	struct elements elements;
	char wrong[sizeof scans->out->wrong];
	bool digit = *text >= '0' && *text <= '9';
	bool whole = strlen(text) == length;
	if (whole && !(gs1 && digit) && tag_read(text, &tag) == TAG_READ) {
		scan_add_tag(scans, tag);
		return;
	}
	signs_read(text, length, &signs);
	if (gs1 && (digit || !together_read(scans, &signs))) {
		gs1_read(scans, text, length, &signs);
		return;
	}
	if (gs1) {
		return;
	}
	bool right = digit && elements_read(text, length, &elements);
	if (right && elements_tell(scans, &elements, text, length)) {
		return;
	}
	if (together_read(scans, &signs)) {
		return;
	}
	if (whole && scan_add_damaged(scans, text, length)) {
		return;
	}
	if (signs_are_several(&signs)) {
		scan_add_misread(scans, text, length, together, cure_suffix);
	} else if (right && elements.misread) {
		scan_add_misread(scans, text, length, elements.wrong, cure_again);
	} else if (signs_misread(&signs, wrong, sizeof wrong)) {
		bool holds_tag = signs_find_tag(&signs, 0) != SIZE_MAX;
		scan_add_misread(scans, text, length, wrong, holds_tag ? cure_around : cure_again);
	} else {
		scan_add(scans, SCAN_OTHER, text, length);
	}
}

/* Signs that scanners set around a code: controls and blanks, FNC1 among them. */
static bool is_around(char c)
{
	return (unsigned char)c <= ' ' || c == 0x7f;
}

/* What stands between two identifiers, or an identifier and an end. */
static void piece_read(struct scans *scans, const char *bytes, size_t length, bool gs1)
{
	char text[SCAN_TEXT_MOST + 1];
	while (length > 0 && is_around(*bytes)) {
		bytes++;
		length--;
	}
	while (length > 0 && is_around(bytes[length - 1])) {
		length--;
	}
	if (length > SCAN_TEXT_MOST) {
		snprintf(text, sizeof text, "too long for a scan: %zu bytes", length);
		scan_add_misread(scans, bytes, length, text, cure_suffix);
	} else if (length > 0) {
		memcpy(text, bytes, length);
		text[length] = '\0';
		text_read(scans, text, length, gs1);
	}
}

/* The next AIM symbology identifier at or behind `at`; `end` where there is none. */
static const char *identifier_find(const char *at, const char *end)
{
	while (end - at >= 3) {
		const char *bracket = memchr(at, ']', (size_t)(end - at) - 2);
		if (bracket == NULL) {
			break;
		}
		if (tag_has_identifier(bracket)) {
			return bracket;
		}
		at = bracket + 1;
	}
	return end;
}

/* What a scanner sent up to CR, LF or TAB. An identifier begins a scan of its own. */
static void stretch_read(struct scans *scans, const char *at, const char *end)
{
	bool gs1 = false;
	while (at < end && !scans->more) {
		const char *next = identifier_find(at, end);
		piece_read(scans, at, (size_t)(next - at), gs1);
		gs1 = next < end && is_gs1(next);
		at = next < end ? next + 3 : end;
	}
}

size_t scan_read(const char *bytes, size_t length, struct scan *out, size_t most)
{
	struct scans scans = {.out = out, .most = most < SCANS_MOST ? most : SCANS_MOST};
	const char *at = bytes, *end = bytes + length;
	if (most == 0) {
		return 0;
	}
	out[0] = (struct scan){.reading = SCAN_NOTHING};
	while (at < end && !scans.more) {
		const char *next = at;
		while (next < end && *next != '\r' && *next != '\n' && *next != '\t') {
			next++;
		}
		stretch_read(&scans, at, next);
		at = next + (next < end);
	}
	if (scans.more) {
		/* None is taken rather than some: who scanned would not know which. */
		char wrong[80];
		snprintf(wrong, sizeof wrong, "too many scans in one line: more than %zu", scans.most);
		scans.count = 0;
		scan_add_misread(&scans, bytes, length, wrong, cure_suffix);
	}
	return scans.count;
}
