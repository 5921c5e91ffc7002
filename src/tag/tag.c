/* Tags: read from what is typed or scanned, and written. */
#include <assert.h>
#include <string.h>

#include "check_character.h"
#include "code.h"

#define GROUP_SEPARATOR '\x1d' /* FNC1, as scanners send it */
#define DIGITS_LEAST 6
#define DIGITS_MOST 18
#define SERIAL_MOST 999999999999999999

static const char class_letters[TAG_CLASS_COUNT][3] = {
	[TAG_PLATE_CYLINDER] = "PC", [TAG_GEAR] = "GR",    [TAG_ANILOX] = "AN",
	[TAG_BLADE] = "DB",          [TAG_DIE] = "DI",     [TAG_MAGNETIC_CYLINDER] = "MC",
	[TAG_SLEEVE] = "SL",         [TAG_MANDREL] = "MD", [TAG_SCREEN_UNIT] = "SU",
	[TAG_PLACE] = "PL",          [TAG_PRESS] = "PR",   [TAG_JOB] = "JB",
	[TAG_BADGE] = "OP",          [TAG_ACTION] = "AC",
};

const char *tag_class_letters(enum tag_class class)
{
	assert(class < TAG_CLASS_COUNT);
	return class_letters[class];
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_upper(char c)
{
	return c >= 'A' && c <= 'Z';
}

char tag_upper(char c)
{
	return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

/* What a scanner or a keyboard sets at the ends. */
static bool is_at_ends(char c)
{
	return c == GROUP_SEPARATOR || c == '\r' || c == '\n' || c == '\t' || c == ' ';
}

bool tag_has_identifier(const char *text)
{
	return text[0] == ']' && is_upper(tag_upper(text[1])) &&
	       (is_digit(text[2]) || is_upper(tag_upper(text[2])));
}

/* The bare code: digits and capital letters alone. False where anything else stands in the text. */
static bool code_extract(const char *text, char code[CODE_ROOM])
{
	while (is_at_ends(*text)) {
		text++;
	}
	text += tag_has_identifier(text) ? 3 : 0;
	while (is_at_ends(*text)) {
		text++;
	}
	size_t length = strlen(text);
	while (length > 0 && is_at_ends(text[length - 1])) {
		length--;
	}
	size_t used = 0;
	for (size_t i = 0; i < length; i++) {
		char c = tag_upper(text[i]);
		if (tag_is_separator(c)) {
			continue;
		}
		if ((!is_digit(c) && !is_upper(c)) || used + 1 == CODE_ROOM) {
			return false;
		}
		code[used++] = c;
	}
	code[used] = '\0';
	return true;
}

size_t tag_application_identifier(const char *code)
{
	size_t digits = strspn(code, "0123456789");
	bool own = digits == 2 && code[0] == '9' && code[1] != '0';
	bool asset = digits > 4 && digits <= 4 + 12 && strncmp(code, "8004", 4) == 0 &&
	             strlen(code) <= 4 + GIAI_MOST;
	return own || asset ? digits : 0;
}

char *tag_code(const char *text, char code[CODE_ROOM])
{
	code[0] = '\0';
	return code_extract(text, code) ? code + tag_application_identifier(code) : NULL;
}

bool tag_serial_read(const char *code, struct tag *out)
{
	size_t length = strlen(code);
	if (length < 2 + DIGITS_LEAST || length > 2 + DIGITS_MOST) {
		return false;
	}
	size_t class = 0;
	while (class < TAG_CLASS_COUNT && strncmp(code, class_letters[class], 2) != 0) {
		class ++;
	}
	size_t digits = length - 2;
	if (class == TAG_CLASS_COUNT || (digits > DIGITS_LEAST && code[2] == '0')) {
		return false;
	}
	int64_t serial = 0;
	for (size_t i = 2; i < length; i++) {
		if (!is_digit(code[i])) {
			return false;
		}
		serial = serial * 10 + (code[i] - '0');
	}
	*out = (struct tag){.class = (enum tag_class) class, .serial = serial};
	return serial > 0;
}

enum tag_reading tag_code_read(const char *code, struct tag *out)
{
	char own[2 + DIGITS_MOST + 1];
	struct tag tag;
	char check = '\0';
	size_t length = strlen(code);
	if (length < 1 || length > sizeof own) {
		return TAG_NOT_OURS;
	}
	memcpy(own, code, length - 1);
	own[length - 1] = '\0';
	if (!tag_serial_read(own, &tag)) {
		return TAG_NOT_OURS;
	}
	if (!tag_check_character(own, &check) || check != code[length - 1]) {
		return TAG_MISREAD;
	}
	*out = tag;
	return TAG_READ;
}

enum tag_reading tag_read(const char *text, struct tag *out)
{
	char code[CODE_ROOM];
	const char *own = tag_code(text, code);
	return own == NULL ? TAG_NOT_OURS : tag_code_read(own, out);
}

/* At least DIGITS_LEAST of them; returns where they end. */
static char *digits_written(char *at, int64_t serial)
{
	char backwards[20];
	int count = 0;
	while (serial > 0 || count < DIGITS_LEAST) {
		backwards[count++] = (char)('0' + serial % 10);
		serial /= 10;
	}
	while (count > 0) {
		*at++ = backwards[--count];
	}
	return at;
}

static struct tag_text tag_written(struct tag tag, const char *between)
{
	struct tag_text text;
	char check = '\0';
	assert(tag.serial >= 0 && tag.serial <= SERIAL_MOST);
	/* Written for every row of long lists: by hand, which the library takes ten times as long for.
	 */
	const char *letters = tag_class_letters(tag.class);
	char *at = text.bytes;
	*at++ = letters[0];
	*at++ = letters[1];
	at = digits_written(at, tag.serial);
	*at = '\0';
	tag_check_character(text.bytes, &check);
	for (; *between != '\0'; between++) {
		*at++ = *between;
	}
	*at++ = check;
	*at = '\0';
	return text;
}

struct tag_text tag_shown(struct tag tag)
{
	return tag_written(tag, "-");
}

struct tag_text tag_stored(struct tag tag)
{
	return tag_written(tag, "");
}

int tag_compare(struct tag a, struct tag b)
{
	if (a.class != b.class) {
		return a.class > b.class ? 1 : -1;
	}
	return (a.serial > b.serial) - (a.serial < b.serial);
}
