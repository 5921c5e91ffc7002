/* Screens: lines per cm, the same where they round to the same 0.001. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure.h"
#include "parsers.h"

#define CM_PER_INCH 2.54

/*
 * Thousandths of a line per cm: by these, screens are compared. Those of no real screen are held
 * at the ends.
 */
#define THOUSANDTHS_MOST 1e15

static double thousandths(double per_cm)
{
	double rounded = round(per_cm * 1000);
	return isnan(rounded) ? 0 : fmin(fmax(rounded, -THOUSANDTHS_MOST), THOUSANDTHS_MOST);
}

enum outcome screen_read(const char *what, const char *unit, const char *text, struct screen *out,
                         struct fault *fault)
{
	struct ratio per_cm;
	const struct unit *typed_in = screen_measure.units;
	const struct unit *assumed = unit_of_heading(&screen_measure, unit);
	enum outcome outcome =
		measure_read(&screen_measure, what, assumed, text, &per_cm, &typed_in, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (ratio_compare(per_cm, (struct ratio){screen_measure.most, 1}) > 0) {
		return measure_refuse_large(&screen_measure, what, typed_trim(text), typed_in, fault);
	}
	struct screen screen = {ratio_to_double(per_cm)};
	if (thousandths(screen.per_cm) <= 0) {
		fault_set(fault, OUTCOME_BAD, "%s is not more than nothing: %.*s", what,
		          TYPED(typed_trim(text)));
		fault_hint(fault, "Type %s.", screen_measure.spelling);
		return OUTCOME_BAD;
	}
	*out = screen;
	return OUTCOME_DONE;
}

enum outcome screen_parse(const char *text, struct screen *out, struct fault *fault)
{
	return screen_read(screen_measure.what, NULL, text, out, fault);
}

/* The shortest decimal in lines per inch that is the same screen. */
static struct quantity_text inch_decimal(double same)
{
	struct quantity_text text;
	wide scale = 1;
	/* A step of 0.001 lines/cm is 0.00254 lpi: three decimals always find it. */
	for (int decimals = 0;; decimals++, scale *= 10) {
		wide shown = ratio_round((struct ratio){(wide)same * 254 * scale, 100000});
		double again = ratio_to_double((struct ratio){shown * 50, 127 * scale});
		if (decimals == 6 || thousandths(again) == same) {
			decimal_write(text.bytes, sizeof text.bytes, shown, decimals);
			return text;
		}
	}
}

struct quantity_text screen_text(struct screen screen, enum units units)
{
	struct quantity_text text;
	double same = thousandths(screen.per_cm);
	if (units == UNITS_INCH) {
		text = inch_decimal(same);
	} else {
		static const struct unit thousandth = {"", NULL, 1000, 1};
		text = measure_decimal(&thousandth, (int64_t)same);
	}
	size_t used = strlen(text.bytes);
	snprintf(text.bytes + used, sizeof text.bytes - used, "%s",
	         units == UNITS_INCH ? "lpi" : "/cm");
	return text;
}

struct screen screen_from_per_cm(double per_cm)
{
	return (struct screen){per_cm};
}

double screen_to_per_cm(struct screen screen)
{
	return screen.per_cm;
}

double screen_to_lpi(struct screen screen)
{
	return screen.per_cm * CM_PER_INCH;
}

int screen_compare(struct screen a, struct screen b)
{
	double x = thousandths(a.per_cm);
	double y = thousandths(b.per_cm);
	return (x > y) - (x < y);
}
