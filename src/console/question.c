/* What `find` is asked, out of the words of a command. */
#include "question.h"

#include "arguments.h"

void question_read(struct call *call, size_t first, struct question *out)
{
	struct pair *pairs = arena_take(call->arena, call->word_count + 1, sizeof *pairs);
	const char **words = arena_take(call->arena, call->word_count + 1, sizeof *words);
	size_t pair_count = 0, word_count = 0, bare = 0;
	for (size_t i = 0; i < call->word_count; i++) {
		const struct word *word = &call->words[i];
		if (word->key == NULL && bare++ >= first) {
			words[word_count++] = word->text;
		} else if (word->key != NULL && argument_of_key(call->command, word->key) == NULL) {
			pairs[pair_count++] = (struct pair){word->key, word->value};
		}
	}
	const struct kind *kind = word_count > 0 ? kind_find(words[0]) : NULL;
	size_t named = kind != NULL ? 1 : 0;
	*out = (struct question){
		.kind = kind,
		.pairs = pairs,
		.pair_count = pair_count,
		.words = words + named,
		.word_count = word_count - named,
	};
}
