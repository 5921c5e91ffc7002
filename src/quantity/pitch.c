/* Pitches of gear teeth: exact ratios, with or without the circle's number. */
#include "number.h"
#include "toothrack/quantity.h"

#define PI 3.14159265358979323846264338327950288L

#define NM_PER_MM 1000000.0L
#define NM_PER_INCH 25400000.0L

/* Has its length the circle's number in it? */
static bool of_the_circle(struct pitch pitch)
{
	return pitch.system == PITCH_DIAMETRAL || pitch.system == PITCH_MODULE;
}

/*
 * Millimetres a tooth, to be multiplied by pi where of_the_circle. Circular pitch p in: 25.4 p.
 * Diametral pitch n: pi x 25.4 / n. Module m: pi x m.
 */
static struct ratio ratio_mm(struct pitch pitch)
{
	switch (pitch.system) {
	case PITCH_CP_INCH:
		return (struct ratio){(wide)127 * pitch.numerator, (wide)5 * pitch.denominator};
	case PITCH_DIAMETRAL:
		return (struct ratio){(wide)127 * pitch.denominator, (wide)5 * pitch.numerator};
	case PITCH_CP_MM:
	case PITCH_MODULE:
		break;
	}
	return (struct ratio){pitch.numerator, pitch.denominator};
}

bool pitch_same_class(struct pitch a, struct pitch b)
{
	return of_the_circle(a) == of_the_circle(b);
}

bool pitch_equal(struct pitch a, struct pitch b)
{
	bool circular = !of_the_circle(a) && !of_the_circle(b);
	return (circular || a.system == b.system) && ratio_compare(ratio_mm(a), ratio_mm(b)) == 0;
}

/* count_a x a against count_b x b, in the same class. */
static int multiples_compare(int64_t count_a, struct pitch a, int64_t count_b, struct pitch b)
{
	struct ratio left;
	struct ratio right;
	if (ratio_times(ratio_mm(a), count_a, 1, &left) &&
	    ratio_times(ratio_mm(b), count_b, 1, &right)) {
		return ratio_compare(left, right);
	}
	long double x = pitch_times(a, count_a).nm;
	long double y = pitch_times(b, count_b).nm;
	return (x > y) - (x < y);
}

bool pitch_multiples_equal(int64_t count_a, struct pitch a, int64_t count_b, struct pitch b)
{
	return pitch_same_class(a, b) && multiples_compare(count_a, a, count_b, b) == 0;
}

int pitch_multiples_compare(int64_t count_a, struct pitch a, int64_t count_b, struct pitch b)
{
	if (pitch_same_class(a, b)) {
		return multiples_compare(count_a, a, count_b, b);
	}
	long double x = pitch_times(a, count_a).nm;
	long double y = pitch_times(b, count_b).nm;
	return (x > y) - (x < y);
}

/* Without the circle's number, whichever class the pitch is of. */
static long double nm_of_teeth(struct pitch pitch, int64_t teeth)
{
	long double count = (long double)teeth;
	long double numerator = (long double)pitch.numerator;
	long double denominator = (long double)pitch.denominator;
	switch (pitch.system) {
	case PITCH_CP_INCH:
		return count * numerator * NM_PER_INCH / denominator;
	case PITCH_DIAMETRAL:
		return count * denominator * NM_PER_INCH / numerator;
	case PITCH_CP_MM:
	case PITCH_MODULE:
		break;
	}
	return count * numerator * NM_PER_MM / denominator;
}

struct real_length pitch_times(struct pitch pitch, int64_t teeth)
{
	long double nm = nm_of_teeth(pitch, teeth);
	return (struct real_length){of_the_circle(pitch) ? nm * PI : nm};
}

struct real_length pitch_diameter(struct pitch pitch, int64_t teeth)
{
	long double nm = nm_of_teeth(pitch, teeth);
	return (struct real_length){of_the_circle(pitch) ? nm : nm / PI};
}

struct real_length pitch_length(struct pitch pitch)
{
	return pitch_times(pitch, 1);
}
