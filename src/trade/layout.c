/*
 * Layout: labels across and around the web, the web they need, how often the cylinder turns, and
 * what is wasted. Sources: teamdls.com/calculations.html (label pitch = label + gap); the rest is
 * arithmetic.
 */
#include "stored.h"
#include "toothrack/trade.h"

/*
 * No cylinder takes more labels around than this; it keeps the arithmetic below within its range.
 */
#define AROUND_MOST 1000000000

struct length web_needed(struct length label_across, int64_t number_across,
                         struct length gap_across, struct length trim)
{
	struct length web = length_times(trim, 2);
	if (number_across < 1)
		return web;
	web = length_add(web, length_times(label_across, number_across));
	return length_add(web, length_times(gap_across, number_across - 1));
}

struct real_length gap_around(struct repeat repeat, int64_t number_around,
                              struct length label_around)
{
	struct real_length share = real_from_length(length_from_nm(0));
	if (number_around >= 1)
		share = real_times(repeat_length(repeat), 1.0L / (long double)number_around);
	return real_subtract(share, real_from_length(label_around));
}

/*
 * number x (label + gap): the repeat that has exactly this gap, so that limits are compared without
 * a division.
 */
static struct real_length labels_around(int64_t number, struct length label, struct length gap)
{
	struct real_length pitch = real_add(real_from_length(label), real_from_length(gap));
	return real_times(pitch, (long double)number);
}

static bool gap_at_least(struct repeat repeat, int64_t number, struct length label,
                         struct length least)
{
	return real_at_most(labels_around(number, label, least), repeat_length(repeat));
}

static bool gap_at_most(struct repeat repeat, int64_t number, struct length label,
                        struct length most)
{
	return real_at_most(repeat_length(repeat), labels_around(number, label, most));
}

bool gap_around_within(struct repeat repeat, int64_t number_around, struct length label_around,
                       const struct length *least, const struct length *most)
{
	if (!repeat.known || number_around < 1)
		return false;
	return gap_at_least(repeat, number_around, label_around, length_from_nm(0)) &&
	       (!least || gap_at_least(repeat, number_around, label_around, *least)) &&
	       (!most || gap_at_most(repeat, number_around, label_around, *most));
}

/* The most labels with at least this gap; exact, the quotient being only the first guess. */
static int64_t around_most(struct repeat repeat, struct length label, struct length gap)
{
	double quotient = real_to_mm(repeat_length(repeat)) / real_to_mm(labels_around(1, label, gap));
	if (!(quotient < AROUND_MOST))
		return AROUND_MOST;
	int64_t number = (int64_t)quotient;
	if (gap_at_least(repeat, number + 1, label, gap))
		return number + 1;
	return gap_at_least(repeat, number, label, gap) ? number : number - 1;
}

/* The fewest labels with at most this gap; likewise. */
static int64_t around_fewest(struct repeat repeat, struct length label, struct length gap)
{
	double quotient = real_to_mm(repeat_length(repeat)) / real_to_mm(labels_around(1, label, gap));
	if (!(quotient < AROUND_MOST))
		return AROUND_MOST;
	int64_t number = (int64_t)quotient;
	if (number < 1)
		return 1;
	return gap_at_most(repeat, number, label, gap) ? number : number + 1;
}

size_t around_choices(struct repeat repeat, struct length label_around,
                      const struct length *gap_least, const struct length *gap_most,
                      struct around *out, size_t room)
{
	struct length none = length_from_nm(0);
	if (!repeat.known || length_compare(label_around, none) <= 0)
		return 0;
	struct length least = gap_least && length_compare(*gap_least, none) > 0 ? *gap_least : none;
	if (gap_most && length_compare(*gap_most, least) < 0)
		return 0;
	int64_t most = around_most(repeat, label_around, least);
	int64_t fewest = gap_most ? around_fewest(repeat, label_around, *gap_most) : 1;
	if (most < fewest)
		return 0;
	size_t count = (size_t)(most - fewest + 1);
	for (size_t i = 0; i < count && i < room; i++) {
		int64_t number = most - (int64_t)i;
		out[i] = (struct around){
			.number_around = number,
			.gap = gap_around(repeat, number, label_around),
		};
	}
	return count;
}

static int64_t quotient_up(int64_t a, int64_t b)
{
	return a / b + (a % b != 0);
}

int64_t repeats_to_run(int64_t quantity, int64_t number_across, int64_t number_around,
                       struct percent overs)
{
	const int64_t million = 1000000;
	int64_t labels;
	int64_t factor;
	if (quantity <= 0)
		return 0;
	if (number_across < 1 || number_around < 1)
		return INT64_MAX;
	if (__builtin_mul_overflow(number_across, number_around, &labels))
		labels = INT64_MAX;
	if (__builtin_add_overflow(million, percent_ppm(overs), &factor))
		return INT64_MAX;
	if (factor < 0)
		factor = 0;
	/* repeats x factor / million in two parts, of which only the small one needs rounding up */
	int64_t repeats = quotient_up(quantity, labels);
	int64_t whole;
	int64_t rest;
	if (__builtin_mul_overflow(repeats / million, factor, &whole) ||
	    __builtin_mul_overflow(repeats % million, factor, &rest) ||
	    __builtin_add_overflow(whole, quotient_up(rest, million), &whole))
		return INT64_MAX;
	return whole;
}

double waste_of(struct length label_across, struct length label_around, int64_t number_across,
                int64_t number_around, struct length web, struct repeat repeat)
{
	double web_mm = length_to_mm(web);
	double repeat_mm = real_to_mm(repeat_length(repeat));
	if (!(web_mm > 0) || !(repeat_mm > 0))
		return 1;
	double across = length_to_mm(label_across) * (double)number_across / web_mm;
	double around = length_to_mm(label_around) * (double)number_around / repeat_mm;
	return 1 - across * around;
}
