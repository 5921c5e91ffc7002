/*
 * The options that stand before or behind a command, and what the environment says in their
 * place.
 */
#include <string.h>

#include "directories.h"
#include "options.h"

enum option {
	OPTION_DB,
	OPTION_JSON,
	OPTION_CSV,
	OPTION_UNITS,
	OPTION_AS,
	OPTION_HELP,
	OPTION_VERSION
};

const struct option_row option_rows[] = {
	[OPTION_DB] =
		{"--db", "FILE",
         "the shop's file; else $TOOTHRACK_DB, else toothrack/shop.db under $XDG_DATA_HOME", true},
	[OPTION_JSON] = {"--json", NULL, "answer in JSON", false},
	[OPTION_CSV] = {"--csv", NULL, "answer in CSV", false},
	[OPTION_UNITS] = {"--units", "UNITS", "metric or inch: how quantities are shown", false},
	[OPTION_AS] = {"--as", "OPERATOR", "who acts, by badge or tag", false},
	[OPTION_HELP] = {"--help", NULL, "help, on the command where one is given", false},
	[OPTION_VERSION] = {"--version", NULL, "which version this is", true},
};
const size_t option_row_count = COUNT_OF(option_rows);

/* `--name` or `--name=value`: the option, or COUNT_OF(option_rows). */
static size_t option_find(const char *text)
{
	size_t length = strcspn(text, "=");
	size_t index = 0;
	while (index < COUNT_OF(option_rows) && (strlen(option_rows[index].name) != length ||
	                                         strncmp(option_rows[index].name, text, length) != 0)) {
		index++;
	}
	return index;
}

static enum outcome refuse_unknown(const char *text, struct fault *fault)
{
	const char *names[COUNT_OF(option_rows) + 1] = {NULL};
	for (size_t i = 0; i < COUNT_OF(option_rows); i++) {
		names[i] = option_rows[i].name;
	}
	const char *nearest = text_nearest(text, names);
	fault_set(fault, OUTCOME_BAD, "option not known: %s", text);
	if (nearest != NULL) {
		fault_hint(fault, "Type %s, or --help for all options.", nearest);
	} else {
		fault_hint(fault, "Type --help for all options.");
	}
	return OUTCOME_BAD;
}

static enum outcome set_form(struct options *options, enum answer_form form, bool *given,
                             struct fault *fault)
{
	if (*given && options->form != form) {
		fault_set(fault, OUTCOME_BAD, "options exclude each other: --json and --csv");
		fault_hint(fault, "Type one of them.");
		return OUTCOME_BAD;
	}
	*given = true;
	options->form = form;
	return OUTCOME_DONE;
}

static enum outcome set_units(struct options *options, const char *value, struct fault *fault)
{
	if (text_equal_fold(value, "metric")) {
		options->units = UNITS_METRIC;
	} else if (text_equal_fold(value, "inch")) {
		options->units = UNITS_INCH;
	} else {
		fault_set(fault, OUTCOME_BAD, "units not known: %s", value);
		fault_hint(fault, "Type --units metric or --units inch.");
		return OUTCOME_BAD;
	}
	options->units_given = true;
	return OUTCOME_DONE;
}

static enum outcome option_set(size_t option, const char *value, bool *form_given,
                               struct options *options, struct fault *fault)
{
	switch ((enum option)option) {
	case OPTION_DB:
		options->db = value;
		return OUTCOME_DONE;
	case OPTION_JSON:
		return set_form(options, FORM_JSON, form_given, fault);
	case OPTION_CSV:
		return set_form(options, FORM_CSV, form_given, fault);
	case OPTION_UNITS:
		return set_units(options, value, fault);
	case OPTION_AS:
		options->as = value;
		return OUTCOME_DONE;
	case OPTION_HELP:
		options->help = true;
		return OUTCOME_DONE;
	case OPTION_VERSION:
		options->version = true;
		break;
	}
	return OUTCOME_DONE;
}

/* The option at `*at`, which is moved onto its value where that is a word of its own. */
static enum outcome option_read(const struct word *words, size_t count, size_t *at, bool in_line,
                                bool *form_given, struct options *options, struct fault *fault)
{
	const char *text = words[*at].text;
	const char *value = strchr(text, '=');
	size_t option = option_find(text);
	if (option == COUNT_OF(option_rows)) {
		return refuse_unknown(text, fault);
	}
	const struct option_row *row = &option_rows[option];
	if (in_line && row->of_program) {
		fault_set(fault, OUTCOME_BAD, "option of the program, not of a line: %s", row->name);
		fault_hint(fault, "Leave, and type toothrack %s%s%s.", row->name,
		           row->value == NULL ? "" : " ", row->value == NULL ? "" : row->value);
		return OUTCOME_BAD;
	}
	if (row->value == NULL && value != NULL) {
		fault_set(fault, OUTCOME_BAD, "option takes no value: %s", text);
		fault_hint(fault, "Type %s.", row->name);
		return OUTCOME_BAD;
	}
	value = value == NULL ? value : value + 1;
	if (row->value != NULL && value == NULL && *at + 1 < count) {
		*at += 1;
		value = words[*at].text;
	}
	if (row->value != NULL && (value == NULL || value[0] == '\0')) {
		fault_set(fault, OUTCOME_BAD, "option lacks its value: %s", row->name);
		fault_hint(fault, "Type %s %s.", row->name, row->value);
		return OUTCOME_BAD;
	}
	return option_set(option, value, form_given, options, fault);
}

/* A dash and a letter, or two: a length may be less than nothing, and a lone dash is a word. */
static bool is_option(const char *text)
{
	char second = text[0] == '-' ? text[1] : '\0';
	return second == '-' || (second >= 'a' && second <= 'z') || (second >= 'A' && second <= 'Z');
}

enum outcome options_take(struct word *words, size_t *count, bool in_line, struct options *options,
                          struct fault *fault)
{
	size_t kept = 0;
	bool form_given = false;
	bool ended = false;
	for (size_t i = 0; i < *count; i++) {
		if (!ended && strcmp(words[i].text, "--") == 0) {
			ended = true;
		} else if (ended || !is_option(words[i].text)) {
			words[kept++] = words[i];
		} else if (option_read(words, *count, &i, in_line, &form_given, options, fault) !=
		           OUTCOME_DONE) {
			return OUTCOME_BAD;
		}
	}
	*count = kept;
	return OUTCOME_DONE;
}

enum outcome options_shop_file(struct arena *arena, const struct options *options, const char **out,
                               struct fault *fault)
{
	const char *named = options->db != NULL ? options->db : environment_of("TOOTHRACK_DB");
	if (named != NULL) {
		*out = arena_copy(arena, named);
		return OUTCOME_DONE;
	}
	const char *folder = directory_of(arena, "XDG_DATA_HOME", ".local/share");
	if (folder == NULL) {
		fault_set(fault, OUTCOME_BAD, "home folder not known, nor which shop file is meant");
		fault_hint(fault, "Type --db FILE.");
		return OUTCOME_BAD;
	}
	*out = arena_format(arena, "%s/toothrack/shop.db", folder);
	return OUTCOME_DONE;
}

enum outcome options_clock(struct known_moment *out, struct fault *fault)
{
	const char *text = environment_of("TOOTHRACK_NOW");
	struct fault spelling;
	fault_clear(&spelling);
	out->known = false;
	if (text == NULL) {
		return OUTCOME_DONE;
	}
	if (moment_parse(text, &out->value, &spelling) != OUTCOME_DONE) {
		fault_set(fault, OUTCOME_BAD, "TOOTHRACK_NOW: %s", spelling.sentence);
		fault_hint(fault, "%s", spelling.hint);
		return OUTCOME_BAD;
	}
	out->known = true;
	return OUTCOME_DONE;
}
