/* Finding a record by whatever names it: tag, code, number, badge, other tag. */
#include <stdio.h>
#include <string.h>

#include "find.h"

STATEMENT(tool_by_tag) = {"tool by tag", "SELECT id, kind FROM tool WHERE tag = :text", false};
STATEMENT(tool_by_other_tag) =
	{"tool by other tag",
     "SELECT t.id, t.kind FROM other_tag o JOIN tool t ON t.id = o.tool WHERE o.code = :text",
     false};
STATEMENT(place_by_tag) = {"place by tag", "SELECT id, 'place' FROM place WHERE tag = :text",
                           false};
STATEMENT(place_by_code) = {"place by code", "SELECT id, 'place' FROM place WHERE code = :text",
                            false};
STATEMENT(press_by_tag) = {"press by tag", "SELECT id, 'press' FROM press WHERE tag = :text",
                           false};
STATEMENT(press_by_code) = {"press by code", "SELECT id, 'press' FROM press WHERE code = :text",
                            false};
STATEMENT(job_by_tag) = {"job by tag", "SELECT id, 'job' FROM job WHERE tag = :text", false};
STATEMENT(job_by_number) = {"job by number", "SELECT id, 'job' FROM job WHERE number = :text",
                            false};
STATEMENT(operator_by_tag) = {"operator by tag",
                              "SELECT id, 'operator' FROM operator WHERE tag = :text", false};
STATEMENT(operator_by_badge) = {"operator by badge",
                                "SELECT id, 'operator' FROM operator WHERE badge = :text", false};

/* A press stands on the place of its code, and its tag hangs there. */
STATEMENT(place_of_press) =
	{"place of a press by the press's tag",
     "SELECT p.id, 'place' FROM press r JOIN place p ON p.code = r.code WHERE r.tag = :text",
     false};

static enum outcome look_up(struct store *store, const struct statement *statement,
                            const char *text, struct found *out, struct fault *fault)
{
	sqlite3_stmt *stmt = statement_ready(store, statement, fault);
	enum outcome outcome = OUTCOME_STORE;
	if (stmt == NULL) {
		return outcome;
	}
	bind_words(stmt, ":text", text);
	if (statement_row(store, stmt, &outcome, fault)) {
		out->id = sqlite3_column_int64(stmt, 0);
		out->kind = kind_find((const char *)sqlite3_column_text(stmt, 1));
	}
	statement_done(stmt);
	return outcome;
}

/* Where a tag of a class is kept. */
static const struct statement *statement_of_class(enum tag_class class)
{
	const struct kind *kind = kind_of_class(class);
	if (kind == NULL) {
		return NULL;
	}
	switch (kind->id) {
	case KIND_OPERATOR:
		return &operator_by_tag;
	case KIND_PLACE:
		return &place_by_tag;
	case KIND_PRESS:
		return &press_by_tag;
	case KIND_JOB:
		return &job_by_tag;
	case KIND_CYLINDER:
	case KIND_GEAR:
	case KIND_ANILOX:
	case KIND_BLADE:
	case KIND_DIE:
	case KIND_MAGNETIC_CYLINDER:
		return &tool_by_tag;
	case KIND_STATION:
	case KIND_CUT:
	case KIND_READING:
	case KIND_COUNT:
		break;
	}
	return NULL;
}

/* What to look in, in this order, when the text is no tag of ours. */
static size_t codes_wanted(enum reference wanted, const struct statement *out[5])
{
	switch (wanted) {
	case REFER_PLACE:
		out[0] = &place_by_code;
		return 1;
	case REFER_PRESSES:
		out[0] = &press_by_code;
		return 1;
	case REFER_JOB:
		out[0] = &job_by_number;
		return 1;
	case REFER_TOOL:
	case REFER_ANILOX:
	case REFER_DIE:
		out[0] = &tool_by_other_tag;
		return 1;
	case REFER_NONE:
		break;
	}
	/* A press shares its code with the place that it is: the press tells more. */
	out[0] = &press_by_code;
	out[1] = &job_by_number;
	out[2] = &tool_by_other_tag;
	out[3] = &place_by_code;
	out[4] = &operator_by_badge;
	return 5;
}

static const char *wanted_words(enum reference wanted)
{
	switch (wanted) {
	case REFER_PLACE:
		return "place";
	case REFER_PRESSES:
		return "press";
	case REFER_JOB:
		return "job";
	case REFER_TOOL:
		return "tool";
	case REFER_ANILOX:
		return "anilox roll";
	case REFER_DIE:
		return "die";
	case REFER_NONE:
		break;
	}
	return "tag";
}

/* What `find` takes to list them; NULL for tools of all kinds, which are too many. */
static const char *kind_words(enum reference wanted)
{
	switch (wanted) {
	case REFER_PLACE:
		return "place";
	case REFER_PRESSES:
		return "press";
	case REFER_JOB:
		return "job";
	case REFER_ANILOX:
		return "anilox";
	case REFER_DIE:
		return "die";
	case REFER_TOOL:
	case REFER_NONE:
		break;
	}
	return NULL;
}

bool find_is_wanted(const struct kind *kind, enum reference wanted)
{
	switch (wanted) {
	case REFER_NONE:
		return true;
	case REFER_PLACE:
		return kind->id == KIND_PLACE;
	case REFER_PRESSES:
		return kind->id == KIND_PRESS;
	case REFER_JOB:
		return kind->id == KIND_JOB;
	case REFER_TOOL:
		return kind->tool;
	case REFER_ANILOX:
		return kind->id == KIND_ANILOX;
	case REFER_DIE:
		return kind->id == KIND_DIE;
	}
	return false;
}

/* Without the blanks around; false where nothing is left or it is too long to be a code. */
static bool trim(const char *text, char *out, size_t room)
{
	while (*text == ' ' || *text == '\t' || *text == '\r' || *text == '\n') {
		text++;
	}
	size_t length = strlen(text);
	while (length > 0 && strchr(" \t\r\n", text[length - 1]) != NULL) {
		length--;
	}
	if (length == 0 || length >= room) {
		return false;
	}
	memcpy(out, text, length);
	out[length] = '\0';
	return true;
}

enum outcome find_by_tag(struct store *store, struct tag tag, struct found *out,
                         struct fault *fault)
{
	const struct statement *statement = statement_of_class(tag.class);
	*out = (struct found){.kind = NULL};
	return statement != NULL ? look_up(store, statement, tag_stored(tag).bytes, out, fault)
	                         : OUTCOME_DONE;
}

enum outcome find_by_code(struct store *store, const char *code, enum reference wanted,
                          struct found *out, struct fault *fault)
{
	const struct statement *in[5];
	*out = (struct found){.kind = NULL};
	size_t count = codes_wanted(wanted, in);
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE && out->id == 0; i++) {
		outcome = look_up(store, in[i], code, out, fault);
	}
	return outcome;
}

/* Class and serial of a tag of ours without what stands last. */
static bool lacks_check_character(const char *code)
{
	char whole[260];
	char check;
	struct tag tag;
	if (!tag_check_character(code, &check)) {
		return false;
	}
	snprintf(whole, sizeof whole, "%s%c", code, check);
	return tag_read(whole, &tag) == TAG_READ;
}

/* What a class of tags is of, in words: of those too that no record bears yet. */
static const char *class_title(enum tag_class class)
{
	const struct kind *kind = kind_of_class(class);
	switch (class) {
	case TAG_SLEEVE:
		return "sleeve";
	case TAG_MANDREL:
		return "mandrel";
	case TAG_SCREEN_UNIT:
		return "screen unit";
	case TAG_ACTION:
		return "action card";
	case TAG_PLATE_CYLINDER:
	case TAG_GEAR:
	case TAG_ANILOX:
	case TAG_BLADE:
	case TAG_DIE:
	case TAG_MAGNETIC_CYLINDER:
	case TAG_PLACE:
	case TAG_PRESS:
	case TAG_JOB:
	case TAG_BADGE:
	case TAG_CLASS_COUNT:
		break;
	}
	return kind != NULL ? kind->title : "tag";
}

static const char *article(const char *title)
{
	return strchr("aeiou", title[0]) != NULL ? "an" : "a";
}

/* Whether a tag that nothing bears could have named what is wanted. */
static bool class_is_wanted(enum tag_class class, enum reference wanted)
{
	const struct kind *kind = kind_of_class(class);
	return kind != NULL ? find_is_wanted(kind, wanted)
	                    : class != TAG_ACTION && (wanted == REFER_NONE || wanted == REFER_TOOL);
}

/* What was looked for and not found. */
struct missed {
	const char *code;
	enum tag_reading reading;
	struct tag tag; /* where it was read */
	enum reference wanted;
	struct nearest_text nearest;
};

/* What names it: a sort of record has its own name for that. */
static const char *name_words(enum reference wanted)
{
	switch (wanted) {
	case REFER_PLACE:
	case REFER_PRESSES:
		return "code";
	case REFER_JOB:
		return "number";
	case REFER_TOOL:
	case REFER_ANILOX:
	case REFER_DIE:
		return "tag";
	case REFER_NONE:
		break;
	}
	return "tag or code";
}

/* What to type where nothing on record is near. */
static void hint_wanted(enum reference wanted, struct fault *fault)
{
	const char *kind = kind_words(wanted), *title = wanted_words(wanted);
	if (kind != NULL) {
		fault_hint(fault, "Type the %s of %s %s, or find %s for all on record.", name_words(wanted),
		           article(title), title, kind);
	} else if (wanted == REFER_TOOL) {
		fault_hint(fault, "Type the tag of a tool, or find and a word of its name or number.");
	} else {
		fault_hint(fault, "Type find and a word of its name or number to look for it.");
	}
}

/* On record, but nothing that is wanted here. */
static enum outcome refuse_kind(const struct missed *missed, const struct kind *kind,
                                struct fault *fault)
{
	const char *wanted = wanted_words(missed->wanted);
	fault_set(fault, OUTCOME_BAD, "%s is %s %s, not %s %s: %s",
	          missed->reading == TAG_READ ? "tag" : "code", article(kind->title), kind->title,
	          article(wanted), wanted, missed->code);
	hint_wanted(missed->wanted, fault);
	return OUTCOME_BAD;
}

static enum outcome refuse_misread(const struct missed *missed, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "tag misread, its check character does not agree: %s",
	          missed->code);
	if (missed->nearest.bytes[0] != '\0') {
		fault_hint(fault, "Scan it again; nearest on record: %s.", missed->nearest.bytes);
	} else {
		fault_hint(fault, "Scan it again, or compare it with the tag sign by sign.");
	}
	return OUTCOME_BAD;
}

static enum outcome refuse_unchecked(const struct missed *missed, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "tag lacks its last sign, the check character: %s", missed->code);
	if (missed->nearest.bytes[0] != '\0') {
		fault_hint(fault, "Scan it; nearest on record: %s.", missed->nearest.bytes);
	} else {
		fault_hint(fault, "Scan it, or type all of it as it stands on the tag.");
	}
	return OUTCOME_BAD;
}

static enum outcome refuse_class(const struct missed *missed, struct fault *fault)
{
	const char *title = class_title(missed->tag.class);
	if (missed->tag.class == TAG_ACTION) {
		fault_set(fault, OUTCOME_BAD, "tag is an action card of the bench: %s", missed->code);
		fault_hint(fault, "Type the command that is meant, or help for all of them.");
		return OUTCOME_BAD;
	}
	fault_set(fault, OUTCOME_BAD, "tag is that of %s %s, not of %s %s: %s", article(title), title,
	          article(wanted_words(missed->wanted)), wanted_words(missed->wanted), missed->code);
	hint_wanted(missed->wanted, fault);
	return OUTCOME_BAD;
}

/* Nothing has that name: why not, and what is near. A guess is told, never acted on. */
static enum outcome refuse(struct store *store, struct missed *missed, bool guess,
                           struct fault *fault)
{
	if (missed->reading == TAG_READ && !class_is_wanted(missed->tag.class, missed->wanted)) {
		return refuse_class(missed, fault);
	}
	if (guess && fault != NULL) {
		struct found other;
		if (missed->reading == TAG_NOT_OURS &&
		    find_by_code(store, missed->code, REFER_NONE, &other, NULL) == OUTCOME_DONE &&
		    other.id != 0) {
			return refuse_kind(missed, other.kind, fault);
		}
		missed->nearest = find_nearest(store, missed->code, missed->wanted);
	}
	if (missed->reading == TAG_MISREAD) {
		return refuse_misread(missed, fault);
	}
	if (missed->reading == TAG_NOT_OURS && lacks_check_character(missed->code)) {
		return refuse_unchecked(missed, fault);
	}
	fault_set(fault, OUTCOME_BAD, "%s not known: %s",
	          missed->reading == TAG_READ ? "tag" : wanted_words(missed->wanted), missed->code);
	if (missed->nearest.bytes[0] != '\0') {
		fault_hint(fault, "Type %s.", missed->nearest.bytes);
	} else if (guess && kind_words(missed->wanted) != NULL) {
		fault_hint(fault, "Type find %s for all on record.", kind_words(missed->wanted));
	} else if (guess) {
		hint_wanted(missed->wanted, fault);
	}
	return OUTCOME_BAD;
}

static enum outcome find(struct store *store, const char *text, enum reference wanted, bool guess,
                         struct found *out, struct fault *fault)
{
	char code[256];
	struct missed missed = {.code = code, .wanted = wanted};
	enum outcome outcome;

	*out = (struct found){.kind = NULL};
	if (!trim(text, code, sizeof code)) {
		fault_set(fault, OUTCOME_BAD, "%s not known: %.64s%s", wanted_words(wanted), text,
		          strlen(text) > 64 ? "..." : "");
		hint_wanted(wanted, fault);
		return OUTCOME_BAD;
	}
	missed.reading = tag_read(code, &missed.tag);
	if (missed.reading == TAG_READ) {
		outcome = find_by_tag(store, missed.tag, out, fault);
		if (outcome == OUTCOME_DONE && wanted == REFER_PLACE && missed.tag.class == TAG_PRESS) {
			outcome = look_up(store, &place_of_press, tag_stored(missed.tag).bytes, out, fault);
		}
		snprintf(code, sizeof code, "%s", tag_shown(missed.tag).bytes);
	} else {
		outcome = find_by_code(store, code, wanted, out, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (out->id == 0) {
		out->misread = missed.reading == TAG_MISREAD;
		outcome = refuse(store, &missed, guess, fault);
		out->near = missed.nearest.bytes[0] != '\0' || lacks_check_character(code);
		return outcome;
	}
	return find_is_wanted(out->kind, wanted) ? OUTCOME_DONE
	                                         : refuse_kind(&missed, out->kind, fault);
}

enum outcome store_find(struct store *store, const char *text, enum reference wanted,
                        struct found *out, struct fault *fault)
{
	return find(store, text, wanted, true, out, fault);
}

enum outcome store_find_plain(struct store *store, const char *text, enum reference wanted,
                              struct found *out, struct fault *fault)
{
	return find(store, text, wanted, false, out, fault);
}
