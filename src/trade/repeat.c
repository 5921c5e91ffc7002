/*
 * Repeats: teeth x pitch or a plain length, when two of them are the same, and after what length
 * several fall together again. Source: F. Burgos, "CP Versus DP: Understanding the Differences",
 * FlexoExchange, flexoexchange.com/articles/cpdp_article.html (repeat = teeth x circular pitch).
 */
#include <math.h>

#include "toothrack/trade.h"

/* The largest count for which the pitch functions promise an exact answer. */
#define COUNT_MOST 1000000000

struct repeat repeat_of_teeth(int64_t teeth, struct pitch pitch)
{
	return (struct repeat){
		.known = teeth > 0,
		.toothed = true,
		.teeth = teeth,
		.pitch = pitch,
	};
}

struct repeat repeat_of_length(struct length length)
{
	return (struct repeat){
		.known = length_compare(length, length_from_nm(0)) > 0,
		.plain = length,
	};
}

struct real_length repeat_length(struct repeat repeat)
{
	if (!repeat.known)
		return real_from_length(length_from_nm(0));
	if (repeat.toothed)
		return pitch_times(repeat.pitch, repeat.teeth);
	return real_from_length(repeat.plain);
}

static bool repeats_exact(struct repeat a, struct repeat b)
{
	return a.toothed && b.toothed && pitch_same_class(a.pitch, b.pitch);
}

bool repeat_equal(struct repeat a, struct repeat b, struct length match)
{
	return repeat_shares_equal(a, 1, b, 1, match);
}

static int64_t common_divisor(int64_t a, int64_t b)
{
	while (b != 0) {
		int64_t rest = a % b;
		a = b;
		b = rest;
	}
	return a;
}

/* a x b, or false where that is more than the pitch functions take. */
static bool count_times(int64_t a, int64_t b, int64_t *out)
{
	return !__builtin_mul_overflow(a, b, out) && *out <= COUNT_MOST;
}

static struct real_length repeat_share(struct repeat repeat, int64_t around)
{
	return real_times(repeat_length(repeat), 1.0L / (long double)around);
}

bool repeat_shares_equal(struct repeat a, int64_t around_a, struct repeat b, int64_t around_b,
                         struct length match)
{
	if (!a.known || !b.known || around_a < 1 || around_b < 1)
		return false;
	struct length allowed = match;
	if (repeats_exact(a, b)) {
		/*
		 * teeth_a x pitch_a / around_a = teeth_b x pitch_b / around_b, without the division
		 */
		int64_t divisor = common_divisor(around_a, around_b);
		int64_t count_a;
		int64_t count_b;
		if (count_times(a.teeth, around_b / divisor, &count_a) &&
		    count_times(b.teeth, around_a / divisor, &count_b))
			return pitch_multiples_equal(count_a, a.pitch, count_b, b.pitch);
		/* Kilometres of gear: no tool is like that, and equal still means equal. */
		allowed = length_from_nm(0);
	}
	return real_within(real_subtract(repeat_share(a, around_a), repeat_share(b, around_b)),
	                   allowed);
}

int64_t teeth_nearest(struct real_length repeat, struct pitch pitch)
{
	double ratio = real_to_mm(repeat) / real_to_mm(pitch_length(pitch));
	if (!(ratio > 1))
		return 1;
	if (ratio > COUNT_MOST)
		return COUNT_MOST;
	int64_t lower = (int64_t)ratio;
	struct real_length short_by = real_subtract(repeat, pitch_times(pitch, lower));
	struct real_length long_by = real_subtract(pitch_times(pitch, lower + 1), repeat);
	return real_at_most(short_by, long_by) ? lower : lower + 1;
}

/* The least common multiple of two repeats in one pitch, in teeth. */
static bool teeth_together(int64_t *teeth, int64_t more)
{
	return count_times(*teeth / common_divisor(*teeth, more), more, teeth);
}

/*
 * The least common multiple of teeth x pitch and of `more`, whose pitch is another of the same
 * class. The two lengths stand to each other as whole numbers; the continued fraction of their
 * ratio finds these, smallest first, and each guess is proven exactly.
 */
static bool pitches_together(int64_t *teeth, struct pitch pitch, struct repeat more)
{
	double ratio = real_to_mm(repeat_length(more)) / real_to_mm(pitch_times(pitch, *teeth));
	int64_t times = 1;
	int64_t times_before = 0;
	int64_t more_times = 0;
	int64_t more_times_before = 1;
	double rest = ratio;
	for (;;) {
		double whole = floor(rest);
		if (whole > COUNT_MOST)
			return false;
		int64_t next = (int64_t)whole * times + times_before;
		int64_t next_more = (int64_t)whole * more_times + more_times_before;
		times_before = times;
		more_times_before = more_times;
		times = next;
		more_times = next_more;
		int64_t count;
		int64_t count_more;
		if (!count_times(times, *teeth, &count) ||
		    !count_times(more_times, more.teeth, &count_more))
			return false;
		if (times > 0 && pitch_multiples_equal(count, pitch, count_more, more.pitch)) {
			*teeth = count;
			return true;
		}
		if (rest <= whole)
			return false;
		rest = 1 / (rest - whole);
	}
}

static bool toothed_together(const struct repeat *repeats, size_t count, struct real_length *out)
{
	int64_t teeth = repeats[0].teeth;
	struct pitch pitch = repeats[0].pitch;
	for (size_t i = 1; i < count; i++) {
		if (!repeats_exact(repeats[0], repeats[i]))
			return false;
		bool fits = pitch_equal(pitch, repeats[i].pitch)
		                ? teeth_together(&teeth, repeats[i].teeth)
		                : pitches_together(&teeth, pitch, repeats[i]);
		if (!fits)
			return false;
	}
	*out = pitch_times(pitch, teeth);
	return true;
}

static bool plain_together(const struct repeat *repeats, size_t count, struct real_length *out)
{
	int64_t all = length_to_nm(repeats[0].plain);
	for (size_t i = 1; i < count; i++) {
		if (repeats[i].toothed)
			return false;
		int64_t nm = length_to_nm(repeats[i].plain);
		if (__builtin_mul_overflow(all / common_divisor(all, nm), nm, &all))
			return false;
	}
	*out = real_from_length(length_from_nm(all));
	return true;
}

bool repeats_together(const struct repeat *repeats, size_t count, struct real_length *out)
{
	if (count == 0)
		return false;
	for (size_t i = 0; i < count; i++) {
		if (!repeats[i].known)
			return false;
	}
	return repeats[0].toothed ? toothed_together(repeats, count, out)
	                          : plain_together(repeats, count, out);
}
