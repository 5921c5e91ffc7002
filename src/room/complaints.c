/* What is wrong with a record, gathered. */
#include <stdio.h>

#include "entry.h"

static void complaint_add(struct complaints *complaints, const char *attribute,
                          const char *sentence, const char *hint)
{
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
	char sentence[1024];
	va_list words;
	va_start(words, format);
	vsnprintf(sentence, sizeof sentence, format, words);
	va_end(words);
	complaint_add(complaints, attribute, sentence, hint);
}

void complain_fault(struct complaints *complaints, const char *attribute, const struct fault *fault)
{
	complaint_add(complaints, attribute, fault->sentence, fault->hint);
}
