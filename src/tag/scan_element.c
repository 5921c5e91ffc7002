/*
 * GS1 element strings: application identifier (AI) and value, one after another. Values whose
 * length is predefined need no FNC1 behind them; any other ends with FNC1 or the end of the text.
 */
#include <stdio.h>
#include <string.h>

#include "code.h"
#include "scan.h"

/*
 * One AI or several that are alike. The value has `least` to `most` characters, of which the first
 * `digits` are digits and the others of GS1 character set 82.
 */
struct identifier {
	char first[5], last[5];
	unsigned char digits, least, most;
	bool predefined;
};

/*
 * GS1 Barcode Syntax Dictionary (github.com/gs1/gs1-syntax-dictionary, gs1-syntax-dictionary.txt,
 * commit 0344bf4; its flag "*" is what is predefined). The same AIs and lengths stand in the GS1
 * General Specifications, "Element strings with predefined length using GS1 Application
 * Identifiers": 00 01 02 03 04 11 to 20 31 to 36 41; of these 03 (16 characters with its AI), 04
 * (18), 14, 18 and 19 (8) are not in that dictionary and stand here from memory.
 */
/* clang-format off */
static const struct identifier identifiers[] = {
	{"00", "00", 18, 18, 18, true},       {"01", "03", 14, 14, 14, true},
	{"04", "04", 16, 16, 16, true},       {"10", "10", 0, 1, 20, false},
	{"11", "19", 6, 6, 6, true},          {"20", "20", 2, 2, 2, true},
	{"21", "22", 0, 1, 20, false},        {"235", "235", 0, 1, 28, false},
	{"240", "241", 0, 1, 30, false},      {"242", "242", 6, 1, 6, false},
	{"243", "243", 0, 1, 20, false},      {"250", "251", 0, 1, 30, false},
	{"253", "253", 13, 13, 30, false},    {"254", "254", 0, 1, 20, false},
	{"255", "255", 25, 13, 25, false},    {"30", "30", 8, 1, 8, false},
	{"3100", "3699", 6, 6, 6, true},      {"37", "37", 8, 1, 8, false},
	{"3900", "3909", 15, 1, 15, false},   {"3910", "3919", 18, 4, 18, false},
	{"3920", "3929", 15, 1, 15, false},   {"3930", "3939", 18, 4, 18, false},
	{"3940", "3943", 4, 4, 4, false},     {"3950", "3955", 6, 6, 6, false},
	{"400", "401", 0, 1, 30, false},      {"402", "402", 17, 17, 17, false},
	{"403", "403", 0, 1, 30, false},      {"410", "419", 13, 13, 13, true},
	{"420", "420", 0, 1, 20, false},      {"421", "421", 3, 4, 12, false},
	{"422", "422", 3, 3, 3, false},       {"423", "423", 15, 3, 15, false},
	{"424", "424", 3, 3, 3, false},       {"425", "425", 15, 3, 15, false},
	{"426", "426", 3, 3, 3, false},       {"427", "427", 0, 1, 3, false},
	{"4300", "4301", 0, 1, 35, false},    {"4302", "4306", 0, 1, 70, false},
	{"4307", "4307", 0, 2, 2, false},     {"4308", "4308", 0, 1, 30, false},
	{"4309", "4309", 20, 20, 20, false},  {"4310", "4311", 0, 1, 35, false},
	{"4312", "4316", 0, 1, 70, false},    {"4317", "4317", 0, 2, 2, false},
	{"4318", "4318", 0, 1, 20, false},    {"4319", "4319", 0, 1, 30, false},
	{"4320", "4320", 0, 1, 35, false},    {"4321", "4323", 1, 1, 1, false},
	{"4324", "4325", 10, 10, 10, false},  {"4326", "4326", 6, 6, 6, false},
	{"4330", "4333", 6, 6, 7, false},     {"7001", "7001", 13, 13, 13, false},
	{"7002", "7002", 0, 1, 30, false},    {"7003", "7003", 10, 10, 10, false},
	{"7004", "7004", 4, 1, 4, false},     {"7005", "7005", 0, 1, 12, false},
	{"7006", "7006", 6, 6, 6, false},     {"7007", "7007", 12, 6, 12, false},
	{"7008", "7008", 0, 1, 3, false},     {"7009", "7009", 0, 1, 10, false},
	{"7010", "7010", 0, 1, 2, false},     {"7011", "7011", 10, 6, 10, false},
	{"7020", "7022", 0, 1, 20, false},    {"7023", "7023", 0, 1, 30, false},
	{"7030", "7039", 3, 4, 30, false},    {"7040", "7040", 1, 4, 4, false},
	{"710", "715", 0, 1, 20, false},      {"7230", "7239", 0, 3, 30, false},
	{"7240", "7240", 0, 1, 20, false},    {"7241", "7241", 2, 2, 2, false},
	{"7242", "7242", 0, 1, 25, false},    {"8001", "8001", 14, 14, 14, false},
	{"8002", "8002", 0, 1, 20, false},    {"8003", "8003", 14, 14, 30, false},
	{"8004", "8004", 0, 1, GIAI_MOST, false}, {"8005", "8005", 6, 6, 6, false},
	{"8006", "8006", 18, 18, 18, false},  {"8007", "8007", 0, 1, 34, false},
	{"8008", "8008", 12, 8, 12, false},   {"8009", "8009", 0, 1, 50, false},
	{"8010", "8010", 0, 1, 30, false},    {"8011", "8011", 12, 1, 12, false},
	{"8012", "8012", 0, 1, 20, false},    {"8013", "8013", 0, 1, 25, false},
	{"8017", "8018", 18, 18, 18, false},  {"8019", "8019", 10, 1, 10, false},
	{"8020", "8020", 0, 1, 25, false},    {"8026", "8026", 18, 18, 18, false},
	{"8030", "8030", 0, 1, 90, false},    {"8110", "8110", 0, 1, 70, false},
	{"8111", "8111", 4, 4, 4, false},     {"8112", "8112", 0, 1, 70, false},
	{"8200", "8200", 0, 1, 70, false},    {"90", "90", 0, 1, 30, false},
	{"91", "99", 0, 1, 90, false},
};
/* clang-format on */

/*
 * An AI that came later than the dictionary. What is predefined will not grow (GS1 General
 * Specifications, from memory), so its value ends with FNC1, wherever it begins behind the first
 * two digits; none is longer than that of 91 to 99.
 */
static const struct identifier later = {"nn", "nn", 0, 1, 92, false};

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* The AI that begins the text; no AI is the beginning of another. NULL where none does. */
static const struct identifier *identifier_find(const char *text, size_t length)
{
	for (size_t i = 0; i < COUNT_OF(identifiers); i++) {
		const struct identifier *row = &identifiers[i];
		size_t size = strlen(row->first);
		if (size <= length && strspn(text, "0123456789") >= size &&
		    memcmp(text, row->first, size) >= 0 && memcmp(text, row->last, size) <= 0) {
			return row;
		}
	}
	return NULL;
}

/* Digits, letters and some marks (GS1 General Specifications, character set 82). */
static bool is_of_set_82(char c)
{
	static const char set[] = "!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_"
							  "abcdefghijklmnopqrstuvwxyz";
	return c != '\0' && strchr(set, c) != NULL;
}

/* One element string within a text. */
struct element {
	const struct identifier *kind;
	const char *text; /* its AI */
	size_t name;      /* characters of the AI */
	const char *value;
	size_t length;
};

static bool element_refuse(const struct element *element, const char *phrase, struct elements *out)
{
	snprintf(out->wrong, sizeof out->wrong, "GS1 AI %.*s: %s", (int)element->name, element->text,
	         phrase);
	return false;
}

/* What the value must be made of. */
static bool value_check(const struct element *element, struct elements *out)
{
	for (size_t i = 0; i < element->length; i++) {
		char c = element->value[i];
		if (i < element->kind->digits && !is_digit(c)) {
			return element_refuse(element, "a sign among the digits of its value", out);
		}
		/* The signature of 8030 is of set 64, all but "=" in set 82. */
		if (!is_of_set_82(c)) {
			return element_refuse(element, "a sign outside GS1 character set 82", out);
		}
	}
	if (element->length < element->kind->least) {
		return element_refuse(element, "value cut short", out);
	}
	if (element->length > element->kind->most) {
		return element_refuse(element,
		                      element->kind->most == GIAI_MOST &&
		                              strcmp(element->kind->first, "8004") == 0
		                          ? "GIAI longer than 30"
		                          : "value too long",
		                      out);
	}
	return true;
}

/* Takes the next element string off; its FNC1 too. */
static bool element_take(const char **text, const char *end, struct element *element,
                         struct elements *out)
{
	size_t left = (size_t)(end - *text);
	element->text = *text;
	element->kind = identifier_find(*text, left);
	if (element->kind == NULL && left >= 2 && is_digit((*text)[0]) && is_digit((*text)[1])) {
		element->kind = &later;
	}
	if (element->kind == NULL) {
		char shown[24];
		scan_text_shown(*text, left < 4 ? left : 4, shown, sizeof shown);
		snprintf(out->wrong, sizeof out->wrong, "GS1 application identifier missing: %s", shown);
		return false;
	}
	element->name = strlen(element->kind->first);
	element->value = *text + element->name;
	left -= element->name;
	const char *mark = memchr(element->value, FNC1, left);
	element->length = mark != NULL ? (size_t)(mark - element->value) : left;
	if (element->kind->predefined && element->length > element->kind->most) {
		element->length = element->kind->most;
	}
	*text = element->value + element->length;
	*text += *text < end && **text == FNC1 ? 1 : 0;
	return value_check(element, out);
}

/* What a company of its own may mark with: where our tags stand. */
static bool is_own(const struct element *element)
{
	return strcmp(element->kind->first, "8004") == 0 || strcmp(element->kind->first, "91") == 0;
}

static void tag_keep(struct elements *out, struct tag tag)
{
	for (size_t i = 0; i < out->tag_count; i++) {
		if (tag_compare(out->tags[i], tag) == 0) {
			return;
		}
	}
	if (out->tag_count < COUNT_OF(out->tags)) {
		out->tags[out->tag_count++] = tag;
	}
}

/* A tag stands whole in the value; one that nearly does is misread. */
static void element_read(const struct element *element, struct elements *out)
{
	char text[4 + 90 + 1];
	struct signs signs;
	struct tag tag;
	size_t length = element->name + element->length;
	if (!is_own(element)) {
		return;
	}
	out->value = element->value;
	out->value_length = element->length;
	memcpy(text, element->text, length);
	text[length] = '\0';
	if (tag_read(text, &tag) == TAG_READ) {
		tag_keep(out, tag);
		return;
	}
	signs_read(text, length, &signs);
	out->misread = out->misread || signs_misread(&signs, out->wrong, sizeof out->wrong);
}

bool elements_read(const char *text, size_t length, struct elements *out)
{
	const char *end = text + length;
	*out = (struct elements){.count = 0};
	while (text < end && *text == FNC1) {
		text++;
	}
	while (text < end) {
		struct element element;
		if (!element_take(&text, end, &element, out)) {
			return false;
		}
		element_read(&element, out);
		out->count++;
	}
	return out->count > 0;
}
