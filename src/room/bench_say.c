/* What the bench answers: one line a scan, with what to do or to know beside it. */
#include <stdio.h>

#include "bench.h"

static struct bench_line *line_add(struct bench *bench)
{
	if (bench->line_count == bench->line_room) {
		size_t room = bench->line_room == 0 ? 8 : 2 * bench->line_room;
		bench->lines =
			arena_grow(bench->scratch, bench->lines, bench->line_count, room, sizeof *bench->lines);
		bench->line_room = room;
	}
	struct bench_line *line = &bench->lines[bench->line_count++];
	*line = (struct bench_line){.outcome = OUTCOME_DONE};
	return line;
}

static const char *said(struct bench *bench, const char *format, va_list words)
	__attribute__((format(printf, 2, 0)));

static const char *said(struct bench *bench, const char *format, va_list words)
{
	va_list again;
	va_copy(again, words);
	int length = vsnprintf(NULL, 0, format, again);
	va_end(again);
	char *bytes = arena_take(bench->scratch, (size_t)length + 1, 1);
	vsnprintf(bytes, (size_t)length + 1, format, words);
	return bytes;
}

struct bench_line *bench_say(struct bench *bench, enum bench_tone tone, const char *format, ...)
{
	va_list words;
	struct bench_line *line = line_add(bench);
	line->tone = tone;
	va_start(words, format);
	line->text = said(bench, format, words);
	va_end(words);
	return line;
}

enum outcome bench_refuse(struct bench *bench, const char *hint, const char *format, ...)
{
	va_list words;
	struct bench_line *line = line_add(bench);
	line->tone = BENCH_REFUSED;
	line->outcome = OUTCOME_NO;
	line->hint = hint;
	va_start(words, format);
	line->text = said(bench, format, words);
	va_end(words);
	return line->outcome;
}

enum outcome bench_refuse_fault(struct bench *bench, const struct fault *fault)
{
	bench_refuse(bench, fault->hint[0] != '\0' ? arena_copy(bench->scratch, fault->hint) : NULL,
	             "%s", fault->sentence);
	struct bench_line *line = &bench->lines[bench->line_count - 1];
	line->outcome = fault->outcome != OUTCOME_DONE ? fault->outcome : OUTCOME_NO;
	return line->outcome;
}

const char *bench_words(struct bench *bench, const struct kind *kind, int64_t id)
{
	struct record *record;
	if (store_record_brief(bench->store, bench->scratch, kind, id, &record, NULL) != OUTCOME_DONE) {
		return kind->title;
	}
	return room_summary(bench->scratch, record, bench->limits.units);
}

const char *bench_tags(struct arena *arena, const struct bench_tool *tools, size_t count)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		text_join(&text, ", ", tools[i].tag);
	}
	return text.bytes;
}
