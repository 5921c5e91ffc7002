/*
 * Damage done by keyboard layouts. A scanner that types sends keys, not characters: it looks for
 * the key of each character in the layout it is set to, and the computer takes the key for what
 * its own layout has there. Every pair of layouts is undone, and only the check character proves
 * it.
 */
#include <stdio.h>
#include <string.h>

#include "check_character.h"
#include "code.h"
#include "layout.h"
#include "scan.h"

/* Longest text looked into, in characters: an identifier, an AI, a company prefix, a tag. */
#define KEYS_MOST 64
#define TAG_LEAST 9

/* One key press: its place in the layout, and whether Shift was held. */
struct press {
	unsigned char key, shift;
};

/* What is being undone, and what came of it. */
struct undoing {
	uint32_t points[KEYS_MOST];
	size_t length;
	struct tag tag; /* of those found so far; serial 0 where they differ */
	bool found;
	bool by_layout, by_shift; /* of those found: how */
	bool doubtful; /* the check character disagrees, yet only a layout gives such signs */
	char first[KEYS_MOST + 1]; /* what the first of them is when undone */
	char unproved[KEYS_MOST + 1];
};

/* The characters of the text; `latin`: each byte is one, as Latin-1 has it. */
static bool points_read(const char *text, size_t length, bool latin, struct undoing *undoing)
{
	size_t count = 1;
	bool whole = true;
	for (size_t i = 0; i < length; i += count) {
		if (undoing->length == KEYS_MOST) {
			return false;
		}
		uint32_t point = scan_point(text + i, length - i, &count, &whole);
		count = latin ? 1 : count;
		undoing->points[undoing->length++] = latin ? (unsigned char)text[i] : point;
	}
	return true;
}

static bool press_find(const struct layout *layout, uint32_t point, struct press *press)
{
	for (unsigned char shift = 0; shift < 2; shift++) {
		for (unsigned char key = 0; key < KEY_COUNT; key++) {
			if ((uint32_t)layout->keys[shift][key] == point) {
				*press = (struct press){.key = key, .shift = shift};
				return true;
			}
		}
	}
	return false;
}

/* The small letter of a capital of Latin-1, which Caps Lock gives where no key has it: À for à. */
static uint32_t latin_small(uint32_t point)
{
	return point >= 0xc0 && point <= 0xde && point != 0xd7 ? point + 0x20 : point;
}

/* The keys that give these characters on the computer's layout. A blank is one on every layout. */
static bool presses_find(const struct undoing *undoing, const struct layout *computer,
                         struct press presses[KEYS_MOST])
{
	for (size_t i = 0; i < undoing->length; i++) {
		presses[i] = (struct press){.key = KEY_COUNT};
		uint32_t point = undoing->points[i];
		if (point != ' ' && point != FNC1 && !press_find(computer, point, &presses[i]) &&
		    !press_find(computer, latin_small(point), &presses[i])) {
			return false;
		}
	}
	return true;
}

static bool is_digit(uint32_t point)
{
	return point >= '0' && point <= '9';
}

static bool is_letter(uint32_t point)
{
	return (point >= 'A' && point <= 'Z') || (point >= 'a' && point <= 'z');
}

/*
 * On many layouts the `]` of an identifier lies on the third level of a key, that of 9 (Germany,
 * the North, Portugal, Turkey) or of `)` (France), and a computer without that level takes the key
 * alone: `9C0PC000123Y`.
 */
static bool bracket_mend(char *undone)
{
	if ((undone[0] != '9' && undone[0] != ')') || !is_letter((unsigned char)undone[1]) ||
	    !is_digit((unsigned char)undone[2])) {
		return false;
	}
	undone[0] = ']';
	return true;
}

/*
 * Too much would become a separator otherwise, signs that scanners set around a code too: one
 * stands between the six digits and the check character alone, and with Shift turned it is ours.
 */
static bool is_separator_astray(const struct undoing *undoing, size_t place, uint32_t point,
                                bool turned)
{
	return point < 0x80 && tag_is_separator((char)point) &&
	       ((turned && point != '-') || place < TAG_LEAST - 1 || place + 1 == undoing->length);
}

/* What the scanner meant by the keys; `turned`: Shift was held, or Caps Lock turned it round. */
static bool presses_undo(const struct undoing *undoing, const struct press presses[KEYS_MOST],
                         const struct layout *scanner, bool turned, char *undone)
{
	bool same = true;
	for (size_t i = 0; i < undoing->length; i++) {
		size_t shift = turned ? 1U - presses[i].shift : presses[i].shift;
		uint32_t point = presses[i].key == KEY_COUNT
		                     ? undoing->points[i]
		                     : (uint32_t)scanner->keys[shift][presses[i].key];
		bool same_sign = point == undoing->points[i];
		if (point >= 0x80 || (!same_sign && is_separator_astray(undoing, i, point, turned))) {
			return false;
		}
		undone[i] = (char)point;
		same = same && (undoing->points[i] >= 0x80
		                    ? false
		                    : tag_upper((char)undoing->points[i]) == tag_upper(undone[i]));
	}
	undone[undoing->length] = '\0';
	return bracket_mend(undone) || !same;
}

/*
 * Did signs arrive that only a layout gives, for a barcode of ours holds none: four digits as
 * signs, or anything outside ASCII?
 */
static bool only_a_layout_does_so(const struct undoing *undoing, const char *undone)
{
	size_t count = 0;
	for (size_t i = 0; i < undoing->length; i++) {
		uint32_t point = undoing->points[i];
		if (point >= 0x80) {
			return true;
		}
		count += is_digit((unsigned char)undone[i]) && !is_digit(point) && !is_letter(point);
	}
	return count >= 4;
}

/* Two tags or more, run together; each has six digits. */
static bool is_several(const char *undone)
{
	struct tag several[SCANS_MOST];
	struct signs signs;
	size_t digits = 0;
	for (const char *c = undone; *c != '\0'; c++) {
		digits += is_digit((unsigned char)*c);
	}
	if (digits < 12) {
		return false;
	}
	undone += tag_has_identifier(undone) ? 3 : 0;
	signs_read(undone, strlen(undone), &signs);
	return signs_tags(&signs, several, COUNT_OF(several)) > 1;
}

static void undone_weigh(struct undoing *undoing, const char *undone, bool shift)
{
	struct tag tag = {TAG_PLATE_CYLINDER, 0};
	enum tag_reading reading = tag_read(undone, &tag);
	if (reading == TAG_NOT_OURS && !is_several(undone)) {
		return;
	}
	if (reading == TAG_MISREAD) {
		if (!undoing->doubtful && only_a_layout_does_so(undoing, undone)) {
			undoing->doubtful = true;
			memcpy(undoing->unproved, undone, undoing->length + 1);
		}
		return;
	}
	if (!undoing->found) {
		memcpy(undoing->first, undone, undoing->length + 1);
		undoing->tag = tag;
	} else if (tag_compare(undoing->tag, tag) != 0) {
		undoing->tag.serial = 0;
	}
	undoing->found = true;
	undoing->by_shift = undoing->by_shift || shift;
	undoing->by_layout = undoing->by_layout || !shift;
}

static void layouts_try(struct undoing *undoing)
{
	struct press presses[KEYS_MOST];
	char undone[KEYS_MOST + 1];
	for (size_t computer = 0; computer < tag_layout_count; computer++) {
		if (!presses_find(undoing, &tag_layouts[computer], presses)) {
			continue;
		}
		for (size_t scanner = 0; scanner < tag_layout_count; scanner++) {
			for (int turned = 0; turned < 2; turned++) {
				if (presses_undo(undoing, presses, &tag_layouts[scanner], turned == 1, undone)) {
					undone_weigh(undoing, undone, turned == 1 && computer == scanner);
				}
			}
		}
	}
}

/* Is it what a hyphen becomes under some pair of layouts? */
static bool was_hyphen(uint32_t point)
{
	struct press hyphen;
	for (size_t scanner = 0; scanner < tag_layout_count; scanner++) {
		if (!press_find(&tag_layouts[scanner], '-', &hyphen)) {
			continue;
		}
		for (size_t computer = 0; computer < tag_layout_count; computer++) {
			if ((uint32_t)tag_layouts[computer].keys[hyphen.shift][hyphen.key] == point) {
				return true;
			}
		}
	}
	return false;
}

/* Is it on a key of any layout? Then it is harmless to show, too. */
static bool is_on_a_key(uint32_t point)
{
	struct press press;
	for (size_t i = 0; i < tag_layout_count; i++) {
		if (press_find(&tag_layouts[i], point, &press)) {
			return true;
		}
	}
	return false;
}

/* All is as it was but one sign: a hyphen before the check character, or an identifier's bracket.
 */
static void sign_try(struct undoing *undoing, size_t place, char sign)
{
	char undone[KEYS_MOST + 1];
	uint32_t point = undoing->points[place];
	for (size_t i = 0; i < undoing->length; i++) {
		if (i != place && undoing->points[i] >= 0x80) {
			return;
		}
		undone[i] = i == place ? sign : (char)undoing->points[i];
	}
	undone[undoing->length] = '\0';
	if (!is_digit(point) && !is_letter(point) &&
	    (sign == '-' ? was_hyphen(point) : is_on_a_key(point))) {
		undone_weigh(undoing, undone, false);
	}
}

/* What became of which characters, each told once. */
enum change {
	CHANGE_NONE,
	CHANGE_DIGITS,
	CHANGE_Y_Z,
	CHANGE_A_Q,
	CHANGE_LETTERS,
	CHANGE_HYPHEN,
	CHANGE_BRACKET,
};

static bool are_swapped(uint32_t point, char undone, const char *pair)
{
	return (point == (unsigned char)pair[0] && undone == pair[1]) ||
	       (point == (unsigned char)pair[1] && undone == pair[0]);
}

static enum change change_of(uint32_t point, char undone)
{
	uint32_t capital = point < 0x80 ? (unsigned char)tag_upper((char)point) : point;
	char letter = tag_upper(undone);
	if (letter == ']' && capital != ']') {
		return CHANGE_BRACKET;
	}
	if (capital == (unsigned char)letter || (capital < 0x80 && tag_is_separator((char)capital))) {
		return CHANGE_NONE;
	}
	if (is_digit((unsigned char)letter)) {
		return CHANGE_DIGITS;
	}
	if (are_swapped(capital, letter, "YZ")) {
		return CHANGE_Y_Z;
	}
	if (are_swapped(capital, letter, "AQ") || are_swapped(capital, letter, "ZW")) {
		return CHANGE_A_Q;
	}
	if (is_letter((unsigned char)letter)) {
		return CHANGE_LETTERS;
	}
	return tag_is_separator(letter) ? CHANGE_HYPHEN : CHANGE_NONE;
}

/* A character as UTF-8. */
static void point_write(uint32_t point, char out[5])
{
	if (point < 0x80) {
		snprintf(out, 5, "%c", (char)point);
	} else if (point < 0x800) {
		snprintf(out, 5, "%c%c", (int)(0xc0 | point >> 6), (int)(0x80 | (point & 0x3f)));
	} else {
		snprintf(out, 5, "%c%c%c", (int)(0xe0 | (point >> 12 & 0x0f)),
		         (int)(0x80 | (point >> 6 & 0x3f)), (int)(0x80 | (point & 0x3f)));
	}
}

/* One change, as a phrase: which sign became which. */
static void change_write(enum change change, uint32_t point, char undone, char *phrase, size_t room)
{
	char arrived[5] = "";
	point_write(point < 0x80 ? (unsigned char)tag_upper((char)point) : point, arrived);
	switch (change) {
	case CHANGE_DIGITS:
		snprintf(phrase, room, "digits arrive as signs, %c as %s", undone, arrived);
		break;
	case CHANGE_Y_Z:
		snprintf(phrase, room, "Y and Z are swapped");
		break;
	case CHANGE_A_Q:
		snprintf(phrase, room, "A and Q, Z and W are swapped");
		break;
	case CHANGE_LETTERS:
		snprintf(phrase, room, "letters arrive as others, %c as %s", tag_upper(undone), arrived);
		break;
	case CHANGE_HYPHEN:
	case CHANGE_BRACKET:
		snprintf(phrase, room, "%c arrives as %s", undone, arrived);
		break;
	case CHANGE_NONE:
		break;
	}
}

static void damage_tell(const struct undoing *undoing, const char *undone, const char *head,
                        struct damage *out)
{
	unsigned told = 1U << CHANGE_NONE;
	size_t used = (size_t)snprintf(out->wrong, sizeof out->wrong, "%s", head);
	const char *between = ": ";
	for (size_t i = 0; i < undoing->length; i++) {
		enum change change = change_of(undoing->points[i], undone[i]);
		char phrase[64] = "";
		if ((told >> change & 1U) != 0) {
			continue;
		}
		told |= 1U << change;
		change_write(change, undoing->points[i], undone[i], phrase, sizeof phrase);
		if (used + 2 + strlen(phrase) < sizeof out->wrong) {
			used += (size_t)snprintf(out->wrong + used, sizeof out->wrong - used, "%s%s", between,
			                         phrase);
		}
		between = ", ";
	}
}

const char tag_layout_cure[] =
	"Set the keyboard country of the scanner, by its manual, to the layout of this computer, or to "
	"typing by ALT codes, which fits any layout, then scan again.";

bool damage_find(const char *text, size_t length, struct damage *out)
{
	struct undoing undoing = {.length = 0};
	static const char differ[] = "keyboard layouts of scanner and computer differ";
	static const char shift[] = "Shift or Caps Lock is on";
	static const char either[] =
		"Shift or Caps Lock is on, or keyboard layouts of scanner and computer differ";
	static const char shift_cure[] =
		"Turn Caps Lock off and look for a Shift key that sticks; if it stays so, set the keyboard "
		"country of the scanner, by its manual, to the layout of this computer; then scan again.";
	bool read = points_read(text, length, false, &undoing) && undoing.length >= TAG_LEAST;
	if (read) {
		layouts_try(&undoing);
	}
	if (!undoing.found && undoing.length < length) {
		/* Bytes of Latin-1 side by side may look like UTF-8. */
		struct undoing latin = {.length = 0};
		if (points_read(text, length, true, &latin) && latin.length >= TAG_LEAST) {
			layouts_try(&latin);
		}
		undoing = latin.found ? latin : undoing;
	}
	if (!read && !undoing.found) {
		return false;
	}
	if (!undoing.found) {
		sign_try(&undoing, undoing.length - 2, '-');
		sign_try(&undoing, 0, ']');
	}
	if (!undoing.found && !undoing.doubtful) {
		return false;
	}
	const char *head = undoing.by_shift && undoing.by_layout ? either
	                   : undoing.by_shift                    ? shift
	                                                         : differ;
	out->tag = undoing.tag;
	out->cure = undoing.by_shift ? shift_cure : tag_layout_cure;
	damage_tell(&undoing, undoing.found ? undoing.first : undoing.unproved, head, out);
	return true;
}

static size_t code_keep(char (*out)[TAG_CODE_ROOM], size_t count, size_t most, const char *undone)
{
	for (size_t i = 0; i < count; i++) {
		if (text_equal_fold(out[i], undone)) {
			return count;
		}
	}
	if (count < most) {
		snprintf(out[count], sizeof out[count], "%s", undone);
	}
	return count < most ? count + 1 : count;
}

/* The keys on another layout; false where they give no ASCII there. */
static bool presses_retyped(const struct undoing *undoing, const struct press presses[KEYS_MOST],
                            const struct layout *scanner, char *undone)
{
	for (size_t i = 0; i < undoing->length; i++) {
		uint32_t point = presses[i].key == KEY_COUNT
		                     ? undoing->points[i]
		                     : (uint32_t)scanner->keys[presses[i].shift][presses[i].key];
		if (point < ' ' || point >= 0x7f) {
			return false;
		}
		undone[i] = (char)point;
	}
	undone[undoing->length] = '\0';
	return true;
}

size_t tag_codes_typed(const char *code, char (*out)[TAG_CODE_ROOM], size_t most)
{
	struct undoing undoing = {.length = 0};
	struct press presses[KEYS_MOST];
	size_t count = 0;
	if (!points_read(code, strlen(code), false, &undoing)) {
		return 0;
	}
	for (size_t computer = 0; computer < tag_layout_count; computer++) {
		if (!presses_find(&undoing, &tag_layouts[computer], presses)) {
			continue;
		}
		for (size_t scanner = 0; scanner < tag_layout_count; scanner++) {
			char undone[KEYS_MOST + 1];
			if (computer != scanner &&
			    presses_retyped(&undoing, presses, &tag_layouts[scanner], undone) &&
			    !text_equal_fold(undone, code)) {
				count = code_keep(out, count, most, undone);
			}
		}
	}
	return count;
}
