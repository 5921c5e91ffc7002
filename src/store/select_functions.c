/* What the queries for records ask of a text, as functions of SQL; and the table `found`. */
#include <string.h>

#include "select.h"

/* A blank is asked for by an empty text, and NULL alone is blank. */
static bool settled(sqlite3_context *context, sqlite3_value **values)
{
	const char *asked = (const char *)sqlite3_value_text(values[1]);
	bool known = sqlite3_value_type(values[0]) != SQLITE_NULL;
	bool blank = asked == NULL || *asked == '\0';
	if (known && !blank) {
		return false;
	}
	sqlite3_result_int(context, !known && blank);
	return true;
}

/* words_hold(TEXT, ASKED): does the text contain what is asked, in either case? */
static void words_hold(sqlite3_context *context, int count, sqlite3_value **values)
{
	(void)count;
	if (!settled(context, values)) {
		sqlite3_result_int(context, text_holds_fold((const char *)sqlite3_value_text(values[0]),
		                                            (const char *)sqlite3_value_text(values[1])));
	}
}

/* Length of a word of a comma-separated list, and the word after it. */
static size_t word_of(const char *list, const char **next)
{
	size_t length = strcspn(list, ",");
	*next = list + length + (list[length] == ',' ? 1 : 0);
	return length;
}

static bool same_words(const char *a, size_t a_length, const char *b, size_t b_length)
{
	return a_length == b_length && memcmp(a, b, a_length) == 0;
}

/*
 * One pitch is written one way but for circular ones: in inches and in mm they may be the same
 * (pitch_equal).
 */
static bool same_pitches(const char *a, size_t a_length, const char *b, size_t b_length)
{
	char one[64], other[64];
	struct pitch p, q;
	if (same_words(a, a_length, b, b_length)) {
		return true;
	}
	bool circular = a[a_length - 1] == 'p' && b[b_length - 1] == 'p' && a[a_length - 2] == 'c' &&
	                b[b_length - 2] == 'c';
	if (!circular || a_length >= sizeof one || b_length >= sizeof other) {
		return false;
	}
	memcpy(one, a, a_length);
	memcpy(other, b, b_length);
	one[a_length] = other[b_length] = '\0';
	return pitch_parse(one, &p, NULL) == OUTCOME_DONE &&
	       pitch_parse(other, &q, NULL) == OUTCOME_DONE && pitch_equal(p, q);
}

typedef bool (*compare)(const char *a, size_t a_length, const char *b, size_t b_length);

/* Does the list hold every word that is asked? */
static bool holds_all(const char *list, const char *asked, compare same)
{
	while (*asked != '\0') {
		const char *next, *at = list;
		size_t length = word_of(asked, &next);
		bool held = false;
		while (*at != '\0' && !held) {
			const char *behind;
			size_t one = word_of(at, &behind);
			held = one > 1 && length > 1 ? same(at, one, asked, length)
			                             : same_words(at, one, asked, length);
			at = behind;
		}
		if (!held) {
			return false;
		}
		asked = next;
	}
	return true;
}

static void list_result(sqlite3_context *context, sqlite3_value **values, compare same)
{
	if (!settled(context, values)) {
		sqlite3_result_int(context, holds_all((const char *)sqlite3_value_text(values[0]),
		                                      (const char *)sqlite3_value_text(values[1]), same));
	}
}

/* list_holds(LIST, ASKED): are all words asked words of the list? */
static void list_holds(sqlite3_context *context, int count, sqlite3_value **values)
{
	(void)count;
	list_result(context, values, same_words);
}

/* pitches_hold(PITCHES, ASKED): are all pitches asked, by value, among them? */
static void pitches_hold(sqlite3_context *context, int count, sqlite3_value **values)
{
	(void)count;
	list_result(context, values, same_pitches);
}

/*
 * falls_within(WHEN, LEAST, MOST): does the moment fall within the bounds, or the day touch them?
 * WHEN is a date or a moment as kept, the bounds are seconds; a blank is asked for by ''.
 */
static void falls_within(sqlite3_context *context, int count, sqlite3_value **values)
{
	struct moment when;
	bool known = sqlite3_value_type(values[0]) != SQLITE_NULL;
	(void)count;
	if (sqlite3_value_type(values[1]) == SQLITE_TEXT) {
		sqlite3_result_int(context, !known);
		return;
	}
	if (!known ||
	    moment_parse((const char *)sqlite3_value_text(values[0]), &when, NULL) != OUTCOME_DONE) {
		sqlite3_result_int(context, 0);
		return;
	}
	int64_t ends = when.date ? moment_of_day_end(when).s - 1 : when.s;
	sqlite3_result_int(context, ends >= sqlite3_value_int64(values[1]) &&
	                                when.s <= sqlite3_value_int64(values[2]));
}

enum outcome select_open(struct store *store, struct fault *fault)
{
	static const struct {
		const char *name;
		int count;
		void (*function)(sqlite3_context *context, int count, sqlite3_value **values);
	} functions[] = {
		{"words_hold", 2, words_hold},
		{"list_holds", 2, list_holds},
		{"pitches_hold", 2, pitches_hold},
		{"falls_within", 3, falls_within},
	};
	for (size_t i = 0; i < COUNT_OF(functions); i++) {
		/* Called by the program's own statements alone, never by a schema from elsewhere. */
		if (sqlite3_create_function_v2(store->db, functions[i].name, functions[i].count,
		                               SQLITE_UTF8 | SQLITE_DETERMINISTIC | SQLITE_DIRECTONLY, NULL,
		                               functions[i].function, NULL, NULL, NULL) != SQLITE_OK) {
			return store_fault(store, "opening", fault);
		}
	}
	return store_script(store, "CREATE TEMP TABLE found (row INTEGER PRIMARY KEY) STRICT", fault);
}
