/* Remarks: what is kept of them, and how the figures in them are written. */
#include <stdio.h>
#include <string.h>

#include "remark.h"

enum suits suits_worse(enum suits a, enum suits b)
{
	return a > b ? a : b;
}

/*
 * Where the next remark goes: behind the others; with no room left, in place of the mildest if
 * this one is worse. NULL where there is none.
 */
static struct remark *remark_room(struct remarks *remarks, enum suits level)
{
	if (remarks->count < REMARKS_MOST) {
		return &remarks->items[remarks->count++];
	}
	struct remark *mildest = &remarks->items[0];
	for (size_t i = 1; i < REMARKS_MOST; i++) {
		if (remarks->items[i].level <= mildest->level) {
			mildest = &remarks->items[i];
		}
	}
	return level > mildest->level ? mildest : NULL;
}

/* A remark is one line: a reason typed by anybody may hold newlines. */
static void text_one_line(char *text)
{
	for (; *text; text++) {
		if ((unsigned char)*text < ' ' || *text == 0x7f) {
			*text = ' ';
		}
	}
}

/* Ends a text that was cut off between two characters of UTF-8, with dots. */
static void text_cut(char *text, size_t room)
{
	static const char dots[] = "...";
	size_t end = room - sizeof dots;
	while (end > 0 && ((unsigned char)text[end] & 0xc0) == 0x80) {
		end--;
	}
	memcpy(text + end, dots, sizeof dots);
}

__attribute__((format(printf, 4, 0))) static void remark_write(struct remarks *remarks,
                                                               enum suits level,
                                                               struct known_moment until,
                                                               const char *format, va_list words)
{
	struct remark *remark = remark_room(remarks, level);
	if (!remark) {
		return;
	}
	*remark = (struct remark){.level = level, .until = until};
	int length = vsnprintf(remark->text, sizeof remark->text, format, words);
	if (length >= (int)sizeof remark->text) {
		text_cut(remark->text, sizeof remark->text);
	}
	text_one_line(remark->text);
}

enum suits remark_add(struct remarks *remarks, enum suits so_far, enum suits level,
                      const char *format, ...)
{
	if (remarks) {
		va_list words;
		va_start(words, format);
		remark_write(remarks, level, (struct known_moment){.known = false}, format, words);
		va_end(words);
	}
	return suits_worse(so_far, level);
}

enum suits remark_add_until(struct remarks *remarks, enum suits level, struct known_moment until,
                            const char *format, ...)
{
	if (remarks) {
		va_list words;
		va_start(words, format);
		remark_write(remarks, level, until, format, words);
		va_end(words);
	}
	return level;
}

struct quantity_text tooling_text(struct length length, enum units units)
{
	return length_text(length, LENGTH_TOOLING, units);
}

struct quantity_text run_text(struct length length, enum units units)
{
	return length_text(length, LENGTH_WEB, units);
}

/* To the nearest whole number of steps, half upward. */
static struct length length_in_steps(struct length length, int64_t step)
{
	int64_t rest = length_to_nm(length) % step;
	if (rest < 0) {
		rest += step;
	}
	return length_add(length, length_from_nm(2 * rest < step ? -rest : step - rest));
}

struct quantity_text real_text(struct real_length real, const struct length *beside,
                               enum units units)
{
	/* 0.001 mm; 0.00001 in is 254 nm */
	const int64_t step = units == UNITS_INCH ? 254 : 1000;
	struct length exact = real_round(real);
	struct length shown = length_in_steps(exact, step);
	if (beside && length_compare(shown, *beside) == 0) {
		shown = exact;
	}
	return tooling_text(shown, units);
}

struct words repeat_words(struct repeat repeat, enum units units)
{
	struct words words;
	struct quantity_text length = real_text(repeat_length(repeat), NULL, units);
	if (repeat.toothed) {
		snprintf(words.bytes, sizeof words.bytes, "%s (%lld teeth %s)", length.bytes,
		         (long long)repeat.teeth, pitch_text(repeat.pitch).bytes);
	} else {
		snprintf(words.bytes, sizeof words.bytes, "%s", length.bytes);
	}
	return words;
}

struct words pitch_words(const struct pitch *pitches, size_t count)
{
	struct words words = {.bytes = ""};
	for (size_t i = 0; i < count; i++) {
		size_t used = strlen(words.bytes);
		snprintf(words.bytes + used, sizeof words.bytes - used, "%s%s", used ? ", " : "",
		         pitch_text(pitches[i]).bytes);
	}
	return words;
}
