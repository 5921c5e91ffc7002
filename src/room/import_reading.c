/*
 * Lists of readings, as the devices write them that read rolls: with what was read before still in
 * them, and decimals as their country writes them.
 */
#include <string.h>

#include "import.h"

/* ---------------------------------------------------------------- decimals */

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* A number of digits and signs between, as it stands in a cell. */
struct digits {
	size_t length, commas, points;
	size_t before, behind; /* the comma: digits */
};

static struct digits digits_at(const char *text)
{
	struct digits digits = {.length = 0};
	for (const char *c = text; is_digit(*c) || *c == ',' || *c == '.'; c++) {
		digits.commas += *c == ',' ? 1 : 0;
		digits.points += *c == '.' ? 1 : 0;
		digits.before += is_digit(*c) && digits.commas == 0 ? 1 : 0;
		digits.behind += is_digit(*c) && digits.commas > 0 ? 1 : 0;
		digits.length++;
	}
	return digits;
}

/* `1,500` is one and a half, or fifteen hundred; `0,500` and `12,5` are but one thing. */
static bool is_ambiguous(const char *text, struct digits digits)
{
	return digits.behind == 3 && digits.before >= 1 && digits.before <= 3 && *text != '0';
}

/*
 * The cell with a point for each decimal comma. No roll holds a thousand of either unit, so that of
 * a volume a comma is never that of thousands.
 */
const char *reading_decimals(struct import *import, struct entry_form *form, size_t attribute,
                             const char *cell)
{
	const struct attribute *taken = kind_attribute(import->kind, attribute);
	bool volume = taken->type == VALUE_VOLUME || taken->type == VALUE_ACROSS;
	if (import->separator == ',' || (!volume && taken->type != VALUE_WEB)) {
		return cell;
	}
	char *copy = arena_copy(form->arena, cell);
	for (char *c = copy; *c != '\0';) {
		struct digits digits = digits_at(c);
		if (digits.commas == 1 && digits.points == 0 && digits.behind > 0) {
			if (!volume && is_ambiguous(c, digits)) {
				complain(&form->complaints, taken->name, "Type it with a point, or with neither.",
				         "%s with a comma that may be of decimals or of thousands: %s", taken->name,
				         cell);
				return "";
			}
			*strchr(c, ',') = '.';
		}
		c += digits.length > 0 ? digits.length : 1;
	}
	return copy;
}

/* ---------------------------------------------------------------- which it is */

#define ALIKE_MOST 1024

/* Does what the row gives stand on record so? What it leaves blank it does not deny. */
static bool stands_so(const struct import *import, const struct record *given,
                      const struct record *stands)
{
	for (size_t i = 0; i < kind_attribute_count(import->kind); i++) {
		const char *name = kind_attribute(import->kind, i)->name;
		bool told = import->heading.given[i] && given->values[i].known;
		/* By these it was found; after what it was read may be blank for a run. */
		bool key = strcmp(name, "tool") == 0 || strcmp(name, "moment") == 0 ||
		           strcmp(name, "method") == 0 || strcmp(name, "after") == 0;
		if (told && !key && !value_equal(&given->values[i], &stands->values[i])) {
			return false;
		}
	}
	return true;
}

/*
 * The first on record that no other row of the file is; `*so`: one that stands so comes first.
 * Where none that is free does, one that another row of the file is: a row written twice.
 */
static enum outcome choose(const struct import *import, struct entry_form *form, const int64_t *ids,
                           size_t count, struct record **chosen, bool *so)
{
	struct record *twice = NULL;
	*chosen = NULL;
	*so = false;
	for (size_t i = 0; i < count && !*so; i++) {
		struct record *record;
		enum outcome outcome = store_record_read(import->store, form->arena, import->kind, ids[i],
		                                         &record, import->fault);
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		bool stands = stands_so(import, form->record, record);
		if (seen_line(&import->records, (uint64_t)ids[i]) != 0) {
			twice = stands ? record : twice;
			continue;
		}
		*so = stands;
		*chosen = *chosen == NULL || *so ? record : *chosen;
	}
	if (!*so && twice != NULL) {
		*chosen = twice;
		*so = true;
	}
	return OUTCOME_DONE;
}

/*
 * A reading has no name: two volumes of one moment are two readings. But a device goes on writing
 * those that it wrote before, and some write a row twice: they are known by roll, moment, method,
 * what they came after, and volume.
 */
enum outcome reading_identify(struct import *import, struct entry_form *form)
{
	int64_t ids[ALIKE_MOST];
	size_t count = 0;
	struct record *record = NULL;
	enum outcome outcome = entry_identify(form, import->fault);
	if (outcome == OUTCOME_DONE && form->known != 0) {
		int64_t tool = form->record->references[kind_attribute_find(import->kind, "tool")];
		outcome =
			store_readings_at(import->store, tool, record_known(form->record, "moment")->moment,
		                      record_words(form->record, "method"),
		                      record_words(form->record, "after"), ids, COUNT_OF(ids), &count,
		                      import->fault);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = choose(import, form, ids, count, &record, &form->stands);
	}
	form->known = record != NULL ? record->id : 0;
	if (outcome != OUTCOME_DONE || record == NULL) {
		return outcome;
	}
	if (import->update) {
		form->stands = false;
		return entry_merge(form, import->heading.given, import->fault);
	}
	if (!form->stands) {
		complain(&form->complaints, NULL, "Give update=yes to correct what is on record.",
		         "%s is on record already, with volume %s", entry_name(form),
		         value_text(form->arena, record_known(record, "volume"), form->limits->units));
	}
	return outcome;
}
