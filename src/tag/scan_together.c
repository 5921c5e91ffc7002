/* Scans run together: where one tag ends and the next begins. */
#include <string.h>

#include "check_character.h"
#include "code.h"
#include "scan.h"

/* Class letters, 6 to 18 digits, check character. */
#define TAG_LEAST 9
#define TAG_MOST 21

static bool is_sign(char c)
{
	return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z');
}

void signs_read(const char *text, size_t length, struct signs *signs)
{
	bool apart = false, cut = false, whole = true;
	size_t count = 1, used = 0;
	signs->strange = NULL;
	signs->strange_bytes = 0;
	for (size_t i = 0; i < length; i += count) {
		(void)scan_point(text + i, length - i, &count, &whole);
		if (tag_is_separator(text[i])) {
			apart = true;
			continue;
		}
		if (text[i] == FNC1) {
			cut = true;
			continue;
		}
		char sign = tag_upper(text[i]);
		if (!is_sign(sign)) {
			sign = SIGN_STRANGE;
			signs->strange_bytes = signs->strange == NULL ? count : signs->strange_bytes;
			signs->strange = signs->strange == NULL ? text + i : signs->strange;
		}
		signs->apart[used] = apart || cut;
		signs->cut[used] = cut;
		signs->code[used++] = sign;
		apart = cut = false;
	}
	signs->code[used] = '\0';
	signs->length = used;
}

static bool class_stands_at(const char *code)
{
	for (int class = 0; class < TAG_CLASS_COUNT; class ++) {
		if (strncmp(code, tag_class_letters((enum tag_class) class), 2) == 0) {
			return true;
		}
	}
	return false;
}

/*
 * Where the tags end that begin at `at`, whole and their check character right; at most 13, for
 * what follows six digits may be the check character or one digit more. With the tags into `tags`.
 */
static size_t tag_ends(const struct signs *signs, size_t at, size_t ends[TAG_MOST],
                       struct tag tags[TAG_MOST])
{
	size_t count = 0;
	if (!class_stands_at(signs->code + at)) {
		return 0;
	}
	for (size_t length = 2; length <= TAG_MOST && at + length <= signs->length; length++) {
		char own[TAG_MOST + 1];
		memcpy(own, signs->code + at, length);
		own[length] = '\0';
		if (signs->cut[at + length - 1] || (length == 2 && signs->cut[at + 1])) {
			break;
		}
		if (length >= TAG_LEAST && tag_code_read(own, &tags[count]) == TAG_READ) {
			ends[count++] = at + length;
		}
		if (length > 2 && (own[length - 1] < '0' || own[length - 1] > '9')) {
			break;
		}
	}
	return count;
}

/* What GS1 may set in front; not where FNC1 stands within. */
static size_t identifier_at(const struct signs *signs, size_t at)
{
	char head[2 + CODE_ROOM];
	size_t digits = strspn(signs->code + at, "0123456789");
	if (digits == 0 || digits > 16) {
		return 0;
	}
	/* A GIAI of several run together ends with the tag: what is behind it is not counted. */
	memcpy(head, signs->code + at, digits);
	head[digits] = '\0';
	for (size_t i = 1; i <= digits; i++) {
		if (at + i == signs->length || signs->cut[at + i]) {
			return 0;
		}
	}
	return tag_application_identifier(head);
}

size_t signs_tags(const struct signs *signs, struct tag *tags, size_t most)
{
	/* From each place on: in how many ways the rest can be cut (2: two or more), and the cut. */
	unsigned char ways[SCAN_TEXT_MOST + 1] = {0};
	size_t next[SCAN_TEXT_MOST + 1];
	struct tag first[SCAN_TEXT_MOST + 1];
	ways[signs->length] = 1;
	for (size_t at = signs->length; at-- > 0;) {
		size_t ends[TAG_MOST];
		struct tag found[TAG_MOST];
		next[at] = signs->length;
		first[at] = (struct tag){TAG_PLATE_CYLINDER, 0};
		size_t count = tag_ends(signs, at + identifier_at(signs, at), ends, found);
		for (size_t i = 0; i < count; i++) {
			if (ways[ends[i]] > 0) {
				next[at] = ends[i];
				first[at] = found[i];
				ways[at] = ways[at] > 0 || ways[ends[i]] > 1 ? 2 : 1;
			}
		}
	}
	size_t count = 0;
	if (signs->length == 0 || ways[0] != 1) {
		return 0;
	}
	for (size_t at = 0; at < signs->length; at = next[at]) {
		if (count == most) {
			return 0;
		}
		tags[count++] = first[at];
	}
	return count;
}

size_t signs_find_tag(const struct signs *signs, size_t from)
{
	size_t ends[TAG_MOST];
	struct tag tags[TAG_MOST];
	for (size_t at = from; at + TAG_LEAST <= signs->length; at++) {
		if (tag_ends(signs, at, ends, tags) > 0) {
			return at;
		}
	}
	return SIZE_MAX;
}

bool signs_are_several(const struct signs *signs)
{
	size_t ends[TAG_MOST];
	struct tag tags[TAG_MOST];
	size_t heads = 0;
	for (size_t at = 0; at + 8 <= signs->length; at++) {
		if (class_stands_at(signs->code + at)) {
			heads += strspn(signs->code + at + 2, "0123456789") >= 6;
		}
	}
	if (heads > 1) {
		return true;
	}
	size_t at = signs_find_tag(signs, 0);
	if (at == SIZE_MAX) {
		return false;
	}
	size_t count = tag_ends(signs, at, ends, tags);
	/* `(91)` or an address on the web in front is no scan of its own: no code of a shop is so. */
	bool front = at > 1 && strspn(signs->code, "0123456789") < at &&
	             memchr(signs->code, SIGN_STRANGE, at) == NULL;
	return front || ends[count - 1] + 1 < signs->length;
}
