/* What is wrong with a record, gathered. */
#include <stdio.h>
#include <string.h>

#include "entry.h"

static void complaint_add(struct complaints *complaints, const char *attribute,
                          const char *sentence, const char *hint)
{
	complaints->total++;
	if (complaints->count < COMPLAINTS_MOST) {
		complaints->items[complaints->count++] = (struct complaint){
			.attribute = attribute,
			.sentence = arena_copy(complaints->arena, sentence),
			.hint = arena_copy(complaints->arena, hint),
		};
	}
}

void complain(struct complaints *complaints, const char *attribute, const char *hint,
              const char *format, ...)
{
	struct fault fault;
	char sentence[sizeof fault.sentence];
	va_list words;
	va_start(words, format);
	vsnprintf(sentence, sizeof sentence, format, words);
	va_end(words);
	/* By way of a fault, which shows harmlessly what anybody may have typed. */
	fault_clear(&fault);
	fault_set(&fault, OUTCOME_BAD, "%s", sentence);
	fault_hint(&fault, "%s", hint);
	complaint_add(complaints, attribute, fault.sentence, fault.hint);
}

void complain_fault(struct complaints *complaints, const char *attribute, const struct fault *fault)
{
	complaint_add(complaints, attribute, fault->sentence, fault->hint);
}

const struct complaint *complaint_at(const struct complaints *complaints, const char *attribute)
{
	for (size_t i = 0; i < complaints->count; i++) {
		const char *name = complaints->items[i].attribute;
		if (name != NULL && strcmp(name, attribute) == 0) {
			return &complaints->items[i];
		}
	}
	return NULL;
}
