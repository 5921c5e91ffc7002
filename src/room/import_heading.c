/* The first row of a file: which column holds which attribute, in which unit. */
#include <string.h>

#include "import.h"

static const char *trimmed_lower(struct arena *arena, const char *text)
{
	text += strspn(text, " \t\r\n");
	char *copy = arena_copy(arena, text);
	size_t length = strlen(copy);
	while (length > 0 && strchr(" \t\r\n", copy[length - 1]) != NULL) {
		copy[--length] = '\0';
	}
	for (char *c = copy; *c != '\0'; c++) {
		*c = *c >= 'A' && *c <= 'Z' ? (char)(*c - 'A' + 'a') : *c;
	}
	return copy;
}

static const char *unit_find(const struct attribute *attribute, const char *name)
{
	const char *const *unit = value_heading_units(attribute->type);
	while (*unit != NULL && strcmp(*unit, name) != 0) {
		unit++;
	}
	return *unit;
}

/*
 * The attribute that a heading begins with, `_` behind it; the longest where several do. SIZE_MAX:
 * none.
 */
static size_t attribute_before(const struct kind *kind, const char *heading)
{
	size_t found = SIZE_MAX, longest = 0;
	for (size_t i = 0; i < kind_attribute_count(kind); i++) {
		const char *name = kind_attribute(kind, i)->name;
		size_t length = strlen(name);
		if (strncmp(name, heading, length) == 0 && heading[length] == '_' && length > longest) {
			found = i;
			longest = length;
		}
	}
	return found;
}

/* `face`, or `face_mm`: an attribute and a unit that it takes. */
static bool column_find(const struct kind *kind, const char *heading, struct column *out)
{
	*out = (struct column){kind_attribute_find(kind, heading), NULL, heading};
	if (out->attribute != SIZE_MAX) {
		return true;
	}
	size_t index = attribute_before(kind, heading);
	if (index == SIZE_MAX) {
		return false;
	}
	const struct attribute *attribute = kind_attribute(kind, index);
	out->unit = unit_find(attribute, heading + strlen(attribute->name) + 1);
	out->attribute = out->unit != NULL ? index : SIZE_MAX;
	return out->unit != NULL;
}

/* ---------------------------------------------------------------- the separator */

struct attempt {
	const struct kind *kind;
	struct arena *arena;
	size_t known, columns;
};

static enum outcome attempt_row(const struct csv_row *row, void *context)
{
	struct attempt *attempt = context;
	struct column column;
	attempt->columns = row->count;
	for (size_t i = 0; i < row->count; i++) {
		attempt->known +=
			column_find(attempt->kind, trimmed_lower(attempt->arena, row->cells[i]), &column) ? 1
																							  : 0;
	}
	return OUTCOME_NO; /* the first row is enough */
}

char heading_separator(const struct kind *kind, const char *text, size_t length)
{
	struct attempt best = {.known = 0};
	char separator = csv_separators[0];
	for (const char *tried = csv_separators; *tried != '\0'; tried++) {
		struct attempt attempt = {.kind = kind, .arena = arena_new()};
		struct arena *each = arena_new();
		struct csv_tear tear;
		(void)csv_read(each, text, length, *tried, attempt_row, &attempt, &tear, NULL);
		arena_free(each);
		arena_free(attempt.arena);
		if (attempt.known > best.known ||
		    (attempt.known == best.known && attempt.columns > best.columns)) {
			best = attempt;
			separator = *tried;
		}
	}
	return separator;
}

/* ---------------------------------------------------------------- reading it */

static const char *units_listed(struct arena *arena, const struct attribute *attribute)
{
	struct text text = text_start(arena);
	text_add(&text, attribute->name);
	for (const char *const *unit = value_heading_units(attribute->type); *unit != NULL; unit++) {
		text_add_format(&text, "%s%s_%s", unit[1] != NULL ? ", " : " or ", attribute->name, *unit);
	}
	return text.bytes;
}

static void complain_unknown(struct arena *arena, const struct kind *kind, const char *heading,
                             struct complaints *complaints)
{
	size_t index = attribute_before(kind, heading);
	const struct attribute *attribute = index != SIZE_MAX ? kind_attribute(kind, index) : NULL;
	const char *nearest = entry_nearest_attribute(arena, kind, heading);
	if (attribute != NULL && value_heading_units(attribute->type)[0] != NULL) {
		complain(complaints, heading,
		         arena_format(arena, "Type %s.", units_listed(arena, attribute)),
		         "column of %s %s not known: %s", entry_article(kind), kind->title, heading);
		return;
	}
	complain(complaints, heading,
	         nearest != NULL ? arena_format(arena, "Is %s meant?", nearest) : "",
	         "column of %s %s not known: %s", entry_article(kind), kind->title, heading);
}

/* Not one column is known: perhaps there is no heading, or another separator. */
static void complain_all_unknown(const struct kind *kind, const struct csv_row *row,
                                 struct complaints *complaints)
{
	complain(complaints, NULL,
	         "The first line names the columns, with commas, semicolons or TABs between.",
	         "no column of %s %s is named in the first line: %s", entry_article(kind), kind->title,
	         row->cells[0]);
}

struct heading heading_read(struct arena *arena, const struct kind *kind, const struct csv_row *row,
                            struct complaints *complaints)
{
	struct heading heading = {.count = row->count};
	size_t known = 0;
	heading.columns = arena_take(arena, row->count, sizeof *heading.columns);
	heading.given = arena_take(arena, kind_attribute_count(kind), sizeof *heading.given);
	for (size_t i = 0; i < row->count; i++) {
		known +=
			column_find(kind, trimmed_lower(arena, row->cells[i]), &heading.columns[i]) ? 1 : 0;
	}
	if (known == 0 &&
	    (row->count > 1 || entry_nearest_attribute(arena, kind, row->cells[0]) == NULL)) {
		complain_all_unknown(kind, row, complaints);
		return heading;
	}
	for (size_t i = 0; i < row->count; i++) {
		struct column *column = &heading.columns[i];
		if (column->heading[0] == '\0') {
			continue;
		}
		if (column->attribute == SIZE_MAX) {
			complain_unknown(arena, kind, column->heading, complaints);
		} else if (heading.given[column->attribute]) {
			complain(complaints, column->heading, "", "column stands twice in the heading");
		} else {
			heading.given[column->attribute] = true;
		}
	}
	return heading;
}
