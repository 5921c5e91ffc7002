/* What may have been meant by a name that nothing has: told as a hint, never acted on. */
#include <stdio.h>
#include <string.h>

#include "find.h"

#define GUESSES_MOST 3
/* Longer codes are compared by what they begin with alone: their variants would be too many. */
#define VARIED_LONGEST 16
#define CANDIDATES_MOST 300
#define CANDIDATES_OF_START 100

STATEMENT(tool_in_words) =
	{"tool in a few words",
     "SELECT t.tag, o.code, t.kind, t.name, COALESCE(c.teeth, g.teeth, d.teeth, m.teeth)"
     " FROM tool t LEFT JOIN other_tag o ON o.tool = t.id LEFT JOIN cylinder c ON c.tool = t.id"
     " LEFT JOIN gear g ON g.tool = t.id LEFT JOIN die d ON d.tool = t.id"
     " LEFT JOIN magnetic_cylinder m ON m.tool = t.id WHERE t.id = :id",
     false};
STATEMENT(place_in_words) = {"place in a few words",
                             "SELECT tag, code, 'place', name, NULL FROM place WHERE id = :id",
                             false};
STATEMENT(press_in_words) = {"press in a few words",
                             "SELECT tag, code, 'press', name, NULL FROM press WHERE id = :id",
                             false};
STATEMENT(job_in_words) = {"job in a few words",
                           "SELECT tag, number, 'job', title, NULL FROM job WHERE id = :id", false};
STATEMENT(operator_in_words) =
	{"operator in a few words",
     "SELECT tag, badge, 'operator', name, NULL FROM operator WHERE id = :id", false};

/* Codes of a list, each looked up by index, in the list's order: the likeliest first. */
STATEMENT(presses_of_list) = {"presses of a list of codes",
                              "SELECT r.code FROM json_each(:list) v CROSS JOIN press r"
                              " WHERE r.code = v.value LIMIT 9",
                              false};
STATEMENT(jobs_of_list) = {"jobs of a list of numbers",
                           "SELECT r.number FROM json_each(:list) v CROSS JOIN job r"
                           " WHERE r.number = v.value LIMIT 9",
                           false};
STATEMENT(tools_of_list) = {"tools of a list of other tags",
                            "SELECT r.code FROM json_each(:list) v CROSS JOIN other_tag r"
                            " WHERE r.code = v.value LIMIT 9",
                            false};
STATEMENT(places_of_list) = {"places of a list of codes",
                             "SELECT r.code FROM json_each(:list) v CROSS JOIN place r"
                             " WHERE r.code = v.value LIMIT 9",
                             false};
STATEMENT(operators_of_list) = {"operators of a list of badges",
                                "SELECT r.badge FROM json_each(:list) v CROSS JOIN operator r"
                                " WHERE r.badge = v.value LIMIT 9",
                                false};

/* What was found so far, and where it is looked for. */
struct guesses {
	struct store *store;
	enum reference wanted;
	struct found found[GUESSES_MOST];
	bool by_tag[GUESSES_MOST];
	size_t count;
};

static bool guesses_are_enough(const struct guesses *guesses)
{
	return guesses->count == GUESSES_MOST;
}

static void guess_add(struct guesses *guesses, const struct found *found, bool by_tag)
{
	if (found->id == 0 || guesses_are_enough(guesses) ||
	    !find_is_wanted(found->kind, guesses->wanted)) {
		return;
	}
	for (size_t i = 0; i < guesses->count; i++) {
		if (guesses->found[i].kind == found->kind && guesses->found[i].id == found->id) {
			return;
		}
	}
	guesses->found[guesses->count] = *found;
	guesses->by_tag[guesses->count++] = by_tag;
}

static void guess_code(struct guesses *guesses, const char *code)
{
	struct found found;
	if (!guesses_are_enough(guesses) &&
	    find_by_code(guesses->store, code, guesses->wanted, &found, NULL) == OUTCOME_DONE) {
		guess_add(guesses, &found, false);
	}
}

/* ---------------------------------------------------------------- tags of ours */

/* The one that lacks its check character alone: where there is it, the others would only confuse.
 */
static bool guess_whole(struct guesses *guesses, const char *code)
{
	char whole[64];
	char check;
	struct tag tag;
	struct found found;
	if (!tag_check_character(code, &check) || strlen(code) + 2 > sizeof whole) {
		return false;
	}
	snprintf(whole, sizeof whole, "%s%c", code, check);
	if (tag_read(whole, &tag) == TAG_READ &&
	    find_by_tag(guesses->store, tag, &found, NULL) == OUTCOME_DONE) {
		guess_add(guesses, &found, true);
	}
	return guesses->count > 0;
}

static void guess_tags(struct guesses *guesses, const char *code)
{
	struct tag near[TAG_NEAR_MOST];
	size_t count = tag_near(code, near, COUNT_OF(near));
	for (size_t i = 0; i < count && !guesses_are_enough(guesses); i++) {
		struct found found;
		if (find_by_tag(guesses->store, near[i], &found, NULL) == OUTCOME_DONE) {
			guess_add(guesses, &found, true);
		}
	}
}

/* ---------------------------------------------------------------- the shop's own codes */

/* What the eye takes a sign for. */
static const char *signs_alike(char c)
{
	static const char *const alike[] = {"0Oo", "1IiLl", "2Zz", "5Ss", "8Bb"};
	for (size_t i = 0; i < COUNT_OF(alike); i++) {
		if (strchr(alike[i], c) != NULL) {
			return alike[i];
		}
	}
	return "";
}

/* What may stand for a sign: digits for digits, letters for letters, separators for each other. */
static const char *signs_like(char c)
{
	if (c >= '0' && c <= '9') {
		return "0123456789";
	}
	if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')) {
		return "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
	}
	return strchr("-._/ ", c) != NULL ? "-._/ " : "";
}

static void variant_add(struct text *list, const char *variant)
{
	text_add_format(list, "%s\"%s\"", list->length > 1 ? "," : "", variant);
}

/* `code` with the sign at `at` replaced (taken 1) or another set before it (taken 0). */
static void variants_with(struct text *list, const char *code, size_t at, size_t taken,
                          const char *signs)
{
	char other[VARIED_LONGEST + 4];
	for (; *signs != '\0'; signs++) {
		snprintf(other, sizeof other, "%.*s%c%s", (int)at, code, *signs, code + at + taken);
		variant_add(list, other);
	}
}

/* All that is one slip away, as a JSON array: swaps first, which a hand makes most. */
static void variants_list(struct text *list, const char *code)
{
	char other[VARIED_LONGEST + 4];
	size_t length = strlen(code);
	text_add(list, "[");
	for (size_t i = 0; i + 1 < length; i++) {
		snprintf(other, sizeof other, "%s", code);
		other[i] = code[i + 1];
		other[i + 1] = code[i];
		variant_add(list, other);
	}
	for (size_t i = length; i-- > 0;) {
		variants_with(list, code, i, 1, signs_alike(code[i]));
	}
	for (size_t i = length; i-- > 0;) {
		variants_with(list, code, i, 1, signs_like(code[i]));
	}
	for (size_t i = 0; i < length; i++) {
		snprintf(other, sizeof other, "%.*s%s", (int)i, code, code + i + 1);
		variant_add(list, other);
	}
	for (size_t i = length + 1; i-- > 0;) {
		bool behind_letter = i > 0 && *signs_like(code[i - 1]) == 'A';
		variants_with(list, code, i, 0, behind_letter ? signs_like('A') : "0123456789");
		variants_with(list, code, i, 0, "-");
	}
	text_add(list, "]");
}

/* A code that could break out of the list, or would be cut within a sign, is not varied. */
static bool can_be_varied(const char *code)
{
	size_t length = strlen(code);
	bool plain = length >= 2 && length <= VARIED_LONGEST;
	for (; plain && *code != '\0'; code++) {
		plain = *code >= ' ' && *code <= '~' && *code != '"' && *code != '\\';
	}
	return plain;
}

static size_t lists_wanted(enum reference wanted, const struct statement *out[5])
{
	switch (wanted) {
	case REFER_PLACE:
		out[0] = &places_of_list;
		return 1;
	case REFER_PRESSES:
		out[0] = &presses_of_list;
		return 1;
	case REFER_JOB:
		out[0] = &jobs_of_list;
		return 1;
	case REFER_TOOL:
	case REFER_ANILOX:
	case REFER_DIE:
		out[0] = &tools_of_list;
		return 1;
	case REFER_NONE:
		break;
	}
	out[0] = &presses_of_list;
	out[1] = &jobs_of_list;
	out[2] = &tools_of_list;
	out[3] = &places_of_list;
	out[4] = &operators_of_list;
	return 5;
}

static void guess_variants(struct guesses *guesses, struct arena *arena, const char *code)
{
	const struct statement *in[5];
	size_t count = lists_wanted(guesses->wanted, in);
	struct text list = text_start(arena);
	if (!can_be_varied(code)) {
		return;
	}
	variants_list(&list, code);
	for (size_t i = 0; i < count; i++) {
		enum outcome outcome = OUTCOME_DONE;
		sqlite3_stmt *stmt = statement_ready(guesses->store, in[i], NULL);
		if (stmt == NULL) {
			return;
		}
		bind_words(stmt, ":list", list.bytes);
		while (statement_row(guesses->store, stmt, &outcome, NULL)) {
			guess_code(guesses, (const char *)sqlite3_column_text(stmt, 0));
		}
	}
}

/* Codes that begin as what was typed does. */
struct candidates {
	struct arena *arena;
	const char *names[CANDIDATES_MOST + 1];
	size_t count;
};

static void candidate_add(const char *code, void *context)
{
	struct candidates *candidates = context;
	if (candidates->count < CANDIDATES_MOST) {
		candidates->names[candidates->count++] = arena_copy(candidates->arena, code);
	}
}

/* More than one slip: the nearest by edits of those that begin alike, the longest start first. */
static void guess_by_start(struct guesses *guesses, struct arena *arena, const char *code)
{
	struct candidates candidates = {.arena = arena};
	char start[256];
	struct fault unread = {0};
	snprintf(start, sizeof start, "%s", code);
	for (size_t length = strlen(start); length-- > 1 && candidates.count < CANDIDATES_MOST;) {
		start[length] = '\0';
		if (store_complete(guesses->store, guesses->wanted, start, CANDIDATES_OF_START,
		                   candidate_add, &candidates, &unread) != OUTCOME_DONE) {
			break;
		}
	}
	while (!guesses_are_enough(guesses)) {
		const char *nearest = text_nearest(code, candidates.names);
		if (nearest == NULL) {
			break;
		}
		guess_code(guesses, nearest);
		size_t kept = 0;
		for (size_t i = 0; i < candidates.count; i++) {
			if (!text_equal_fold(candidates.names[i], nearest)) {
				candidates.names[kept++] = candidates.names[i];
			}
		}
		candidates.names[candidates.count = kept] = NULL;
	}
}

/* ---------------------------------------------------------------- in words */

static const struct statement *words_statement(const struct kind *kind)
{
	if (kind->tool) {
		return &tool_in_words;
	}
	return kind->id == KIND_PLACE   ? &place_in_words
	       : kind->id == KIND_PRESS ? &press_in_words
	       : kind->id == KIND_JOB   ? &job_in_words
	                                : &operator_in_words;
}

static void row_say(struct text *out, sqlite3_stmt *stmt, const struct kind *kind, bool by_tag)
{
	const char *code = (const char *)sqlite3_column_text(stmt, 1);
	const char *name = (const char *)sqlite3_column_text(stmt, 3);
	by_tag = by_tag || code == NULL;
	text_add_format(out, "%s (%s", by_tag ? tag_shown(column_tag(stmt, 0)).bytes : code,
	                kind->title);
	if (by_tag && code != NULL) {
		text_add_format(out, " %s", code);
	}
	if (sqlite3_column_type(stmt, 4) != SQLITE_NULL) {
		text_add_format(out, ", %lld teeth", (long long)sqlite3_column_int64(stmt, 4));
	}
	/* Long names are left out: what is typed matters. */
	if (name != NULL && strlen(name) <= 40) {
		text_add_format(out, ", %s", name);
	}
	text_add(out, ")");
}

/* `PC000012-C (plate cylinder, 96 teeth)`: as it is typed, and what it is. */
static void guess_say(struct text *out, struct guesses *guesses, size_t index)
{
	const struct kind *kind = guesses->found[index].kind;
	enum outcome outcome = OUTCOME_DONE;
	sqlite3_stmt *stmt = statement_ready(guesses->store, words_statement(kind), NULL);
	if (stmt == NULL) {
		return;
	}
	bind_number(stmt, ":id", guesses->found[index].id);
	if (statement_row(guesses->store, stmt, &outcome, NULL)) {
		row_say(out, stmt, kind, guesses->by_tag[index]);
	}
	statement_done(stmt);
}

/* The guesses one after another; fewer where all would be too long for a hint. */
static void guesses_say(struct guesses *guesses, struct arena *arena, struct nearest_text *out)
{
	for (size_t count = guesses->count; count > 0; count--) {
		struct text text = text_start(arena);
		for (size_t i = 0; i < count; i++) {
			text_add(&text, i == 0 ? "" : i + 1 == count ? " or " : ", ");
			guess_say(&text, guesses, i);
		}
		if (text.length < sizeof out->bytes) {
			snprintf(out->bytes, sizeof out->bytes, "%s", text.bytes);
			return;
		}
	}
}

struct nearest_text find_nearest(struct store *store, const char *code, enum reference wanted)
{
	struct guesses guesses = {.store = store, .wanted = wanted};
	struct nearest_text out = {.bytes = ""};
	struct arena *arena = arena_new();
	struct tag tag;
	enum tag_reading reading = tag_read(code, &tag);

	if (guess_whole(&guesses, code)) {
		guesses_say(&guesses, arena, &out);
		arena_free(arena);
		return out;
	}
	guess_tags(&guesses, code);
	if (reading == TAG_NOT_OURS && guesses.count == 0) {
		guess_variants(&guesses, arena, code);
	}
	if (reading == TAG_NOT_OURS && guesses.count == 0) {
		guess_by_start(&guesses, arena, code);
	}
	guesses_say(&guesses, arena, &out);
	arena_free(arena);
	return out;
}
