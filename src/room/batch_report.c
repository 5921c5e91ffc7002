/* What is said of the lines of a batch: all counted, the first kept. */
#include "batch.h"

/* By way of a fault, which shows harmlessly what anybody may have scanned. */
static const char *shown(struct arena *arena, const char *text)
{
	struct fault fault;
	fault_clear(&fault);
	fault_set(&fault, OUTCOME_BAD, "%s", text);
	return arena_copy(arena, fault.sentence);
}

static struct batch_problem said(struct arena *arena, int64_t line, const char *code,
                                 const char *sentence, const char *hint)
{
	return (struct batch_problem){
		.line = line,
		.code = shown(arena, code),
		.text = hint != NULL && hint[0] != '\0' ? arena_format(arena, "%s. %s", sentence, hint)
	                                            : arena_copy(arena, sentence),
	};
}

void batch_problem_add(struct batch_report *report, struct arena *arena, int64_t line,
                       const char *code, const char *sentence, const char *hint)
{
	if (report->problems_kept < BATCH_PROBLEMS_SHOWN) {
		report->problems[report->problems_kept++] = said(arena, line, code, sentence, hint);
	}
	report->problem_count++;
}

void batch_caution_add(struct batch_report *report, struct arena *arena, int64_t line,
                       const char *code, const char *text)
{
	if (report->cautions_kept < BATCH_PROBLEMS_SHOWN) {
		report->cautions[report->cautions_kept++] = said(arena, line, code, text, NULL);
	}
	report->caution_count++;
}
