/* What looks like a slip in the readings that an import put on record. */
#include "question.h"

/* Of one roll in one of its lives. */
static enum outcome question_life(struct store *store, struct arena *scratch,
                                  const struct reading_named *named, size_t count,
                                  const struct limits *limits, struct questions *questions,
                                  struct fault *fault)
{
	struct held held;
	struct wear_reading reading;
	enum outcome outcome = held_read(store, scratch, named, limits, limits->units, &held, fault);
	for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
		outcome = store_reading_one(store, named[i].id, &reading, fault);
		if (outcome == OUTCOME_DONE) {
			questions->about = arena_format(scratch, "%s %s, ", record_words(held.roll, "tag"),
			                                moment_text(reading.moment).bytes);
			outcome = held_question(&held, &reading, questions, fault);
		}
	}
	return outcome;
}

static size_t life_length(const struct reading_named *named, size_t count)
{
	size_t length = 1;
	while (length < count && named[length].tool == named->tool &&
	       named[length].life == named->life) {
		length++;
	}
	return length;
}

enum outcome care_question_since(struct store *store, struct arena *arena, int64_t entry,
                                 enum units units, const char **out, size_t most, size_t *count,
                                 struct fault *fault)
{
	struct questions questions = {
		.arena = arena,
		.texts = out,
		.most = most,
		.back = "if it is a slip, mend its row and import it with update=yes",
	};
	struct arena *all = arena_new(), *scratch = arena_new();
	struct reading_named *named = NULL;
	struct limits limits;
	size_t named_count = 0;
	enum outcome outcome = store_limits(store, &limits, fault);
	limits.units = units;
	if (outcome == OUTCOME_DONE) {
		outcome = store_readings_since(store, all, entry, &named, &named_count, fault);
	}
	for (size_t i = 0; i < named_count && outcome == OUTCOME_DONE;) {
		size_t length = life_length(&named[i], named_count - i);
		outcome = question_life(store, scratch, &named[i], length, &limits, &questions, fault);
		arena_reset(scratch);
		i += length;
	}
	arena_free(scratch);
	arena_free(all);
	*count = questions.count;
	return outcome;
}
