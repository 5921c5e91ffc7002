/* The rules about what names a record: tags of ours, the shop's own codes, other tags. */
#include <string.h>

#include "entry.h"

#define CODE_LONGEST 64

/* The commands of the program, those to come too, and the words of the bench that are typed. */
static const char *const command_words[] = {
	"new",   "edit",     "remove",  "show",    "find",    "import",     "export",   "put",
	"take",  "send",     "receive", "hold",    "clear",   "scrap",      "scan",     "undo",
	"count", "history",  "tag",     "check",   "choices", "book",       "unbook",   "at_risk",
	"ahead", "earliest", "start",   "finish",  "kit",     "changeover", "sequence", "reading",
	"gauge", "cleaned",  "dirty",   "reblade", "regrind", "wear",       "due",      "calc",
	"set",   "backup",   "restore", "verify",  "help",    "quit",       "demo",     "home",
	"done",  "yes",
};

bool word_is_command(const char *word)
{
	for (size_t i = 0; i < COUNT_OF(command_words); i++) {
		if (text_equal_fold(command_words[i], word)) {
			return true;
		}
	}
	return false;
}

/* ---------------------------------------------------------------- tags */

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
	return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

/*
 * The check character that class and serial of a misread tag ask for; false where they cannot be
 * told.
 */
static bool check_character_of(struct arena *arena, const char *text, char *check)
{
	char *code = arena_copy(arena, text);
	size_t count = 0;
	const char *from =
		text[0] == ']' && strlen(text) > 3 ? text + 3 : text; /* past what a scanner set in front */
	for (; *from != '\0'; from++) {
		bool prefix = count == 0 && is_digit(*from); /* of GS1: a tag begins with a letter */
		if (!prefix && (is_digit(*from) || is_letter(*from))) {
			code[count++] = *from;
		}
	}
	if (count < 2) {
		return false;
	}
	code[count - 1] = '\0';
	return tag_check_character(code, check);
}

static void complain_misread(struct entry_form *form, const char *text)
{
	static const char hint[] = "Compare it with the tag sign by sign.";
	char check;
	if (check_character_of(form->arena, text, &check)) {
		complain(&form->complaints, "tag", hint, "tag misread: %s; its check character would be %c",
		         text, check);
	} else {
		complain(&form->complaints, "tag", hint, "tag misread: %s", text);
	}
}

static void check_tag(struct entry_form *form)
{
	const struct kind *kind = form->record->kind;
	const char *text = record_words(form->record, "tag");
	const char *letters = tag_class_letters(kind->class);
	struct tag tag;
	if (text == NULL) {
		return;
	}
	switch (tag_read(text, &tag)) {
	case TAG_READ:
		if (tag.class != kind->class) {
			complain(&form->complaints, "tag",
			         arena_format(form->arena, "Tags of %s %s begin with %s.", entry_article(kind),
			                      kind->title, letters),
			         "tag is not that of %s %s: %s", entry_article(kind), kind->title, text);
		}
		return;
	case TAG_MISREAD:
		complain_misread(form, text);
		return;
	case TAG_NOT_OURS:
		complain(&form->complaints, "tag",
		         "Leave tag out and one is given; a number of the shop's own goes to other_tag.",
		         "tag is not one of ours: %s", text);
		return;
	}
}

/* ---------------------------------------------------------------- codes */

/* The form of a tag of ours, whatever its check character, and one without it. */
static bool looks_like_a_tag(struct arena *arena, const char *code)
{
	struct tag tag;
	char check;
	return tag_read(code, &tag) != TAG_NOT_OURS ||
	       (tag_check_character(code, &check) &&
	        tag_read(arena_format(arena, "%s%c", code, check), &tag) == TAG_READ);
}

/* Does the bench read it as what it is: one scan, and no other code? */
static bool scans_whole(const char *code)
{
	struct scan scans[2];
	return scan_read(code, strlen(code), scans, COUNT_OF(scans)) == 1 &&
	       strcmp(scans[0].code, code) == 0;
}

/* A code is typed, scanned and printed: on one line, and no longer than a tag can hold. */
static void check_code(struct entry_form *form, const char *attribute, const char *code)
{
	if (looks_like_a_tag(form->arena, code)) {
		complain(&form->complaints, attribute,
		         "Give it another, such as one with the shop's own letters.",
		         "%s looks like a tag of ours: %s", attribute, code);
	} else if (strlen(code) > CODE_LONGEST) {
		complain(&form->complaints, attribute, "Put long words into name or note.",
		         "%s is longer than %d characters: %s", attribute, CODE_LONGEST, code);
	} else if (strpbrk(code, "\n\t") != NULL) {
		complain(&form->complaints, attribute, "Type it on one line, with blanks at most.",
		         "%s with a line break or TAB: %s", attribute, code);
	} else if (form->record->kind->id == KIND_PRESS && strpbrk(code, ",;") != NULL) {
		complain(&form->complaints, attribute, "A job lists its presses with commas between.",
		         "%s of a press with a comma or semicolon: %s", attribute, code);
	}
}

static void complain_named(struct entry_form *form, const char *attribute, const char *code,
                           const struct kind *kind)
{
	complain(&form->complaints, attribute, "Give it another.", "%s names %s %s already: %s",
	         attribute, entry_article(kind), kind->title, code);
}

/* No other record may have the code already: it could not be told from this one. */
static enum outcome check_alone(struct entry_form *form, const char *attribute, const char *code,
                                struct fault *fault)
{
	struct found found;
	struct fault unknown;
	fault_clear(&unknown);
	enum outcome outcome = store_find_plain(form->store, code, REFER_NONE, &found, &unknown);
	if (outcome == OUTCOME_STORE) {
		return fault_set(fault, outcome, "%s", unknown.sentence);
	}
	if (outcome == OUTCOME_DONE && (found.kind != form->record->kind || found.id != form->known)) {
		complain_named(form, attribute, code, found.kind);
	}
	return OUTCOME_DONE;
}

/* May two records of these kinds share a code? A press and the place that it stands on do. */
static bool share_codes(enum kind_id a, enum kind_id b)
{
	return (a == KIND_PLACE && b == KIND_PRESS) || (a == KIND_PRESS && b == KIND_PLACE);
}

/* The same of a place, a press or a job, whose codes are looked for among all others. */
static enum outcome check_apart(struct entry_form *form, const char *attribute, const char *code,
                                struct fault *fault)
{
	static const enum reference among[] = {REFER_JOB, REFER_TOOL, REFER_NONE};
	const struct kind *kind = form->record->kind;
	for (size_t i = 0; i < COUNT_OF(among); i++) {
		struct found found;
		struct fault unknown;
		fault_clear(&unknown);
		enum outcome outcome = store_find_plain(form->store, code, among[i], &found, &unknown);
		if (outcome == OUTCOME_STORE) {
			return fault_set(fault, outcome, "%s", unknown.sentence);
		}
		if (outcome == OUTCOME_DONE && found.kind != kind &&
		    !share_codes(kind->id, found.kind->id)) {
			complain_named(form, attribute, code, found.kind);
			return OUTCOME_DONE;
		}
	}
	return OUTCOME_DONE;
}

enum outcome entry_check_names(struct entry_form *form, struct fault *fault)
{
	const struct kind *kind = form->record->kind;
	const char *attribute = entry_code_attribute(kind);
	if (!kind->tagged) {
		return OUTCOME_DONE;
	}
	check_tag(form);
	const char *code = record_words(form->record, attribute);
	if (code == NULL) {
		return OUTCOME_DONE;
	}
	if (complaint_at(&form->complaints, attribute) == NULL) {
		check_code(form, attribute, code);
	}
	/* What an older program took stays as it is until it is changed. */
	bool stood = form->stood_code != NULL && text_equal_fold(form->stood_code, code);
	if ((kind->tool || !stood) && word_is_command(code)) {
		complain(&form->complaints, attribute, "Give it another.", "%s looks like a command: %s",
		         attribute, code);
	}
	if (!stood && complaint_at(&form->complaints, attribute) == NULL && !scans_whole(code)) {
		complain(&form->complaints, attribute,
		         "Give it another, without the signs that scanners set around a code.",
		         "%s would not be read whole from a barcode: %s", attribute, code);
	}
	if (complaint_at(&form->complaints, attribute) != NULL) {
		return OUTCOME_DONE;
	}
	if (kind->tool || kind->id == KIND_OPERATOR) {
		return check_alone(form, attribute, code, fault);
	}
	return stood ? OUTCOME_DONE : check_apart(form, attribute, code, fault);
}
