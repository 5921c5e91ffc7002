/* The check character of a code: ISO/IEC 7064 MOD 37,36. */
#include "calc.h"

static enum outcome check_character_run(struct call *call, const struct value *given)
{
	char check[2] = "";
	const char *code = given[0].text;
	if (!tag_check_character(code, check)) {
		fault_set(call->fault, OUTCOME_BAD, "code holds more than digits and letters: %s", code);
		fault_hint(call->fault, "Type digits and letters, with or without separators.");
		return OUTCOME_BAD;
	}
	answer_object_open(call->answer, NULL);
	answer_word(call->answer, "code", code);
	answer_word(call->answer, "check", check);
	answer_object_close(call->answer);
	answer_line(call->answer, MARK_PLAIN, "%s", check);
	return OUTCOME_DONE;
}

static const struct calc_key check_character_keys[] = {
	{.name = "code", .type = VALUE_TEXT, .meaning = "what stands before the check character"},
};

const struct calc_topic calc_check_character = {
	.name = "check_character",
	.summary = "check character of a code, ISO/IEC 7064 MOD 37,36",
	.keys = check_character_keys,
	.key_count = COUNT_OF(check_character_keys),
	.example = "calc check_character code=A12425GABC1234002",
	.run = check_character_run,
};
