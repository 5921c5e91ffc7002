/* What is wrong with a file: all counted, the first by line kept. */
#include <string.h>

#include "import.h"

static bool is_kept(const struct import_report *report, int64_t line)
{
	return report->problems_kept < IMPORT_PROBLEMS_SHOWN ||
	       line < report->problems[report->problems_kept - 1].line;
}

/* The text of a complaint about the place around, once it is clear that it will not come. */
static const char *within_hint(const struct import *import, const char *hint)
{
	const struct waiting *item = import->retried;
	if (item == NULL || item->within == 0 || hint[0] != '\0') {
		return hint;
	}
	if (waiting_in_circle(&import->waiting, item)) {
		return "By this file it would lie within itself.";
	}
	int64_t line = seen_line(&import->names, item->within);
	return line != 0 && line != item->row.line
	           ? arena_format(import->arena, "It stands in line %lld, which is wrong itself.",
	                          (long long)line)
	           : hint;
}

void problem_add(struct import *import, int64_t line, const char *column, const char *sentence,
                 const char *hint)
{
	struct import_report *report = import->report;
	report->problem_count++;
	if (!is_kept(report, line)) {
		return;
	}
	if (column != NULL && strcmp(column, "within") == 0) {
		hint = within_hint(import, hint);
	}
	size_t at = report->problems_kept;
	if (at == IMPORT_PROBLEMS_SHOWN) {
		at--; /* the last one is pushed out */
	} else {
		report->problems_kept++;
	}
	for (; at > 0 && report->problems[at - 1].line > line; at--) {
		report->problems[at] = report->problems[at - 1];
	}
	report->problems[at] = (struct import_problem){
		.line = line,
		.column = arena_copy(import->arena, column),
		.text = hint != NULL && hint[0] != '\0'
	                ? arena_format(import->arena, "%s. %s", sentence, hint)
	                : arena_copy(import->arena, sentence),
	};
}

void problems_add(struct import *import, int64_t line, const struct complaints *complaints)
{
	for (size_t i = 0; i < complaints->count; i++) {
		const struct complaint *complaint = &complaints->items[i];
		problem_add(import, line, complaint->attribute, complaint->sentence, complaint->hint);
	}
	import->report->problem_count += (int64_t)(complaints->total - complaints->count);
}
