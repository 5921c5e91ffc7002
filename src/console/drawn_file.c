/* Files that something is drawn into. */
#include "drawn_file.h"

enum outcome drawn_file_check(struct call *call, const char *file, const char *example,
                              enum file_form *out)
{
	if (*file == '\0') {
		fault_set(call->fault, OUTCOME_BAD, "file not given");
		fault_hint(call->fault, "Type file=%s.", example);
		return OUTCOME_BAD;
	}
	enum outcome outcome = file_form_of(file, out, call->fault);
	if (outcome == OUTCOME_DONE && store_keeps_in(call->store, file)) {
		fault_set(call->fault, OUTCOME_BAD, "file is the shop's own: %s", file);
		fault_hint(call->fault, "Name another, such as %s.", example);
		return OUTCOME_BAD;
	}
	return outcome;
}
