/*
 * The form of a tag: what was meant to be one, though it is none. A shop's own codes may begin with
 * the letters of a class too; so a code is called misread only where more speaks for a tag: six
 * digits, or the zeros in front with which small serials are written.
 */
#include <stdio.h>
#include <string.h>

#include "code.h"
#include "scan.h"

#define DIGITS "0123456789"

/* A code that begins with the letters of a class, taken apart. */
struct form {
	const char *code; /* the letters, and what follows */
	size_t digits;    /* that follow the letters */
	size_t rest;      /* what follows these */
	bool zero;        /* a zero in front, and no separator among the first digits */
};

static bool form_read(const struct signs *signs, struct form *form)
{
	size_t front = tag_application_identifier(signs->code);
	const char *code = signs->code + front;
	bool ours = false;
	for (int class = 0; class < TAG_CLASS_COUNT; class ++) {
		ours |= strncmp(code, tag_class_letters((enum tag_class) class), 2) == 0;
	}
	if (!ours) {
		return false;
	}
	bool apart = false;
	for (size_t i = front + 1; i < front + 6 && i < signs->length; i++) {
		apart |= signs->apart[i];
	}
	size_t length = signs->length - front;
	*form = (struct form){.code = code, .digits = strspn(code + 2, DIGITS)};
	form->rest = length - 2 - form->digits;
	form->zero = code[2] == '0' && !apart;
	return true;
}

/* The digit that a letter looks like; NUL for one that looks like none. */
static char digit_alike(char letter)
{
	static const char letters[] = "OQDILZSGBT";
	static const char digits[] = "0001125687";
	const char *found = letter != '\0' ? strchr(letters, letter) : NULL;
	return found != NULL ? digits[found - letters] : '\0';
}

/* Is there a digit that makes it a tag, where a letter stands now? */
static bool some_digit_is_right(const char *code, size_t place)
{
	char own[2 + 18 + 2];
	struct tag tag;
	snprintf(own, sizeof own, "%s", code);
	for (own[place] = '0'; own[place] <= '9'; own[place]++) {
		if (tag_code_read(own, &tag) == TAG_READ) {
			return true;
		}
	}
	return false;
}

/*
 * As long as a tag, with signs among its digits that are none. As a shop may have such codes, more
 * must speak for a tag: a zero in front, letters that look like the digits which make the check
 * character right, or, of a longer one, any digit that does.
 */
static bool has_letter_among_digits(const struct form *form)
{
	char own[2 + 18 + 2] = "";
	struct tag tag;
	size_t others = 0, other = 0;
	size_t length = 2 + form->digits + form->rest;
	if (length < 9 || length >= sizeof own) {
		return false;
	}
	memcpy(own, form->code, length + 1);
	for (size_t i = 2; i + 1 < length; i++) {
		if (own[i] < '0' || own[i] > '9') {
			char alike = digit_alike(own[i]);
			own[i] = alike != '\0' ? alike : own[i];
			other = i;
			others++;
		}
	}
	return (others == 1 && form->zero) || (others <= 3 && tag_code_read(own, &tag) == TAG_READ) ||
	       (others == 1 && length > 9 && some_digit_is_right(form->code, other));
}

/* What is wrong with digits and at most one sign behind them; NULL where a shop may mean it so. */
static const char *wrong_of_digits(const struct form *form)
{
	struct tag tag;
	size_t digits = form->digits - (form->rest == 0 ? 1 : 0);
	if (tag_code_read(form->code, &tag) == TAG_MISREAD) {
		return "check character disagrees";
	}
	if (form->digits == 6 && form->rest == 0) {
		return "check character missing";
	}
	if (form->digits >= 6 && strspn(form->code + 2, "0") >= digits) {
		return "serial is 0, which no tag has";
	}
	if (form->digits >= 6 && (form->digits > 18 || form->zero)) {
		return "too many digits for a tag";
	}
	if (form->digits == 5 && form->zero) {
		return form->rest == 0 ? "cut short" : "a digit is missing";
	}
	return NULL;
}

static const char *wrong_of_form(const struct signs *signs, const struct form *form)
{
	if (form->rest <= 1 && form->digits >= 5) {
		return wrong_of_digits(form);
	}
	if (signs_find_tag(signs, 0) == (size_t)(form->code - signs->code)) {
		return "signs stand behind a whole tag";
	}
	if (form->digits == 6 && form->zero && form->rest <= 3) {
		return "signs stand behind the check character";
	}
	if (has_letter_among_digits(form)) {
		return "a letter stands among the digits";
	}
	return NULL;
}

/* Is it a whole tag but for signs that none has? */
static bool is_tag_with_strange(const struct signs *signs)
{
	char code[CODE_ROOM];
	struct tag tag;
	size_t used = 0;
	for (size_t i = 0; i < signs->length && used + 1 < sizeof code; i++) {
		if (signs->code[i] != SIGN_STRANGE) {
			code[used++] = signs->code[i];
		}
	}
	code[used] = '\0';
	return signs->strange != NULL && signs->length < CODE_ROOM &&
	       tag_code_read(code + tag_application_identifier(code), &tag) == TAG_READ;
}

bool signs_misread(const struct signs *signs, char *wrong, size_t room)
{
	struct form form;
	const char *phrase = NULL;
	if (is_tag_with_strange(signs)) {
		phrase = "a sign that no tag has";
	} else if (form_read(signs, &form)) {
		phrase = wrong_of_form(signs, &form);
	} else if (signs_find_tag(signs, 0) != SIZE_MAX) {
		phrase = "signs stand in front of a whole tag";
	}
	if (phrase == NULL) {
		return false;
	}
	if (signs->strange != NULL) {
		char shown[32];
		scan_text_shown(signs->strange, signs->strange_bytes, shown, sizeof shown);
		snprintf(wrong, room, "a sign that no tag has: %s", shown);
	} else {
		snprintf(wrong, room, "%s", phrase);
	}
	return true;
}
