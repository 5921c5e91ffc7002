/* Tags that may have been meant: everything one slip of hand or eye away from what was typed. */
#include <stdio.h>
#include <string.h>

#include "code.h"

static const char signs[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/* The tags found so far. `whole`: a code is taken with its check character, which must agree. */
struct near_tags {
	struct tag *out;
	size_t count, most;
	bool whole;
};

static void keep(struct near_tags *near, struct tag tag)
{
	for (size_t i = 0; i < near->count; i++) {
		if (tag_compare(near->out[i], tag) == 0) {
			return;
		}
	}
	if (near->count < near->most) {
		near->out[near->count++] = tag;
	}
}

static void try_code(struct near_tags *near, const char *code)
{
	struct tag tag;
	if (near->whole ? tag_read(code, &tag) == TAG_READ : tag_serial_read(code, &tag)) {
		keep(near, tag);
	}
}

/* Two neighbours the wrong way round: the commonest slip of a hand. */
static void try_swaps(struct near_tags *near, const char *code, size_t length)
{
	char other[CODE_ROOM + 2];
	for (size_t i = 0; i + 1 < length; i++) {
		memcpy(other, code, length + 1);
		other[i] = code[i + 1];
		other[i + 1] = code[i];
		try_code(near, other);
	}
}

static void try_changes(struct near_tags *near, const char *code, size_t length)
{
	char other[CODE_ROOM + 2];
	memcpy(other, code, length + 1);
	/* From the end: serials that were given one after another are alike in front. */
	for (size_t i = length; i-- > 0;) {
		for (const char *sign = signs; *sign != '\0'; sign++) {
			other[i] = *sign;
			try_code(near, other);
		}
		other[i] = code[i];
	}
}

/* One sign too many was typed, or one was left out. */
static void try_lengths(struct near_tags *near, const char *code, size_t length)
{
	char other[CODE_ROOM + 2];
	for (size_t i = 0; i < length; i++) {
		snprintf(other, sizeof other, "%.*s%s", (int)i, code, code + i + 1);
		try_code(near, other);
	}
	for (size_t i = 0; i <= length; i++) {
		for (const char *sign = signs; *sign != '\0'; sign++) {
			snprintf(other, sizeof other, "%.*s%c%s", (int)i, code, *sign, code + i);
			try_code(near, other);
		}
	}
}

/* `PC25`, said in the shop for PC000025, and `PC25-1` for PC000025-1. */
static void try_short(struct near_tags *near, const char *code)
{
	char other[CODE_ROOM + 8];
	size_t digits = strlen(code) - 2 - (near->whole ? 1 : 0);
	if (digits > 0 && digits < 6 && strspn(code + 2, "0123456789") >= digits) {
		snprintf(other, sizeof other, "%.2s%0*d%s", code, (int)(6 - digits), 0, code + 2);
		try_code(near, other);
	}
}

/* What agrees with its check character, or would but for that alone: it is told first. */
static void try_likeliest(struct near_tags *near, char *code, size_t length)
{
	char check = code[length - 1];
	near->whole = false;
	try_code(near, code);
	try_short(near, code);
	near->whole = true;
	try_short(near, code);
	try_lengths(near, code, length);
	near->whole = false;
	code[length - 1] = '\0';
	try_code(near, code);
	code[length - 1] = check;
}

size_t tag_near(const char *text, struct tag *out, size_t most)
{
	char bytes[CODE_ROOM];
	struct near_tags near = {.out = out, .most = most};
	struct tag tag;
	char *code = tag_code(text, bytes);
	size_t length = code != NULL ? strlen(code) : 0;

	if (length < 3 || length + 2 > CODE_ROOM) {
		return 0;
	}
	if (tag_read(code, &tag) == TAG_READ) {
		/* Read rightly, yet borne by nothing: a wrong serial, its check character worked out. */
		code[--length] = '\0';
	} else {
		try_likeliest(&near, code, length);
		near.whole = !tag_serial_read(code, &tag);
	}
	try_swaps(&near, code, length);
	try_changes(&near, code, length);
	try_lengths(&near, code, length);
	return near.count;
}
