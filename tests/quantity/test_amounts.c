#include "expected.h"

/* One of the smaller quantities, as its number; each has a parser and a writer of its own. */
struct amount {
	enum outcome (*parse)(const char *text, int64_t *out, struct fault *fault);
	struct quantity_text (*text)(int64_t number, enum units units);
};

#define AMOUNT(name, member) \
	static enum outcome name##_number(const char *text, int64_t *out, struct fault *fault) \
	{ \
		struct name quantity = {*out}; \
		enum outcome outcome = name##_parse(text, &quantity, fault); \
		*out = quantity.member; \
		return outcome; \
	}

AMOUNT(weight, ug)
AMOUNT(area, um2)
AMOUNT(liquid, pl)
AMOUNT(angle, udeg)
AMOUNT(speed, nm_min)
AMOUNT(duration, s)
AMOUNT(percent, ppm)
AMOUNT(money, cents)

static struct quantity_text weight_shown(int64_t number, enum units units)
{
	return weight_text((struct weight){number}, units);
}

static struct quantity_text area_shown(int64_t number, enum units units)
{
	return area_text((struct area){number}, units);
}

static struct quantity_text liquid_shown(int64_t number, enum units units)
{
	(void)units;
	return liquid_text((struct liquid){number});
}

static struct quantity_text angle_shown(int64_t number, enum units units)
{
	(void)units;
	return angle_text((struct angle){number});
}

static struct quantity_text speed_shown(int64_t number, enum units units)
{
	return speed_text((struct speed){number}, units);
}

static struct quantity_text duration_shown(int64_t number, enum units units)
{
	(void)units;
	return duration_text((struct duration){number});
}

static struct quantity_text percent_shown(int64_t number, enum units units)
{
	(void)units;
	return percent_text((struct percent){number});
}

static struct quantity_text money_shown(int64_t number, enum units units)
{
	(void)units;
	return money_text((struct money){number});
}

static const struct amount weight_amount = {weight_number, weight_shown};
static const struct amount area_amount = {area_number, area_shown};
static const struct amount liquid_amount = {liquid_number, liquid_shown};
static const struct amount angle_amount = {angle_number, angle_shown};
static const struct amount speed_amount = {speed_number, speed_shown};
static const struct amount duration_amount = {duration_number, duration_shown};
static const struct amount percent_amount = {percent_number, percent_shown};
static const struct amount money_amount = {money_number, money_shown};

static const struct {
	const struct amount *amount;
	struct kept kept;
} read[] = {
	{&weight_amount, {"18kg", 18000000000, "18kg", "39.683207193lb"}},
	{&weight_amount, {"40lb", 18143694800, "18.1436948kg", "40lb"}},
	{&weight_amount, {"500 g", 500000000, "0.5kg", "1.10231131lb"}},
	{&weight_amount, {"0kg", 0, "0kg", "0lb"}},
	{&area_amount, {"25cm2", 2500000000, "25cm2", "3.87500775in2"}},
	{&area_amount, {"25cm\u00b2", 2500000000, "25cm2", "3.87500775in2"}},
	{&area_amount, {"4in2", 2580640000, "25.8064cm2", "4in2"}},
	{&area_amount, {"1m2", 1000000000000, "10000cm2", "1550.003100006in2"}},
	{&area_amount, {"50mm2", 50000000, "0.5cm2", "0.077500155in2"}},
	{&liquid_amount, {"12ul", 12000000, "12ul", "12ul"}},
	{&liquid_amount, {"12\u00b5l", 12000000, "12ul", "12ul"}},
	{&liquid_amount, {"12\u03bcL", 12000000, "12ul", "12ul"}},
	{&liquid_amount, {"0.012ml", 12000000, "12ul", "12ul"}},
	{&angle_amount, {"60deg", 60000000, "60deg", "60deg"}},
	{&angle_amount, {"14.5\u00b0", 14500000, "14.5deg", "14.5deg"}},
	{&angle_amount, {"-12 1/2deg", -12500000, "-12.5deg", "-12.5deg"}},
	{&speed_amount, {"100m/min", 100000000000, "100m/min", "328.0839895ft/min"}},
	{&speed_amount, {"330 FT/MIN", 100584000000, "100.584m/min", "330ft/min"}},
	{&duration_amount, {"10s", 10, "10s", "10s"}},
	{&duration_amount, {"0s", 0, "0s", "0s"}},
	{&duration_amount, {"0w", 0, "0s", "0s"}},
	{&duration_amount, {"90min", 5400, "90min", "90min"}},
	{&duration_amount, {"1.5h", 5400, "90min", "90min"}},
	{&duration_amount, {"60min", 3600, "1h", "1h"}},
	{&duration_amount, {"4h", 14400, "4h", "4h"}},
	{&duration_amount, {"24h", 86400, "1d", "1d"}},
	{&duration_amount, {"3d", 259200, "3d", "3d"}},
	{&duration_amount, {"14d", 1209600, "2w", "2w"}},
	{&duration_amount, {"52000w", 31449600000, "52000w", "52000w"}},
	{&percent_amount, {"10%", 100000, "10%", "10%"}},
	{&percent_amount, {"-2.5 %", -25000, "-2.5%", "-2.5%"}},
	{&percent_amount, {"0.0001%", 1, "0.0001%", "0.0001%"}},
	{&money_amount, {"1250.00", 125000, "1250.00", "1250.00"}},
	{&money_amount, {"1250", 125000, "1250.00", "1250.00"}},
	{&money_amount, {"0.5", 50, "0.50", "0.50"}},
	{&money_amount, {".05", 5, "0.05", "0.05"}},
	{&money_amount, {"-0", 0, "0.00", "0.00"}},
	{&money_amount,
     {"92233720368547758.07", INT64_MAX, "92233720368547758.07", "92233720368547758.07"}},
};

static void amounts_parse__as_typed__kept_exactly_and_shown(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(read); i++) {
		const struct amount *amount = read[i].amount;
		const struct kept *kept = &read[i].kept;
		const char *typed[] = {kept->typed, kept->metric, kept->inch};
		for (size_t j = 0; j < COUNT_OF(typed); j++) {
			struct fault fault;
			int64_t number = 0;
			fault_clear(&fault);
			assert_done(amount->parse(typed[j], &number, &fault), typed[j], &fault);
			assert_int_equal(number, kept->number);
		}
		assert_shown(amount->text(kept->number, UNITS_METRIC), kept->metric);
		assert_shown(amount->text(kept->number, UNITS_INCH), kept->inch);
	}
}

static const struct {
	const struct amount *amount;
	struct refusal refusal;
} refused[] = {
	{&weight_amount, {"18", "weight without a unit: 18", "Type 18kg or 18lb."}},
	{&weight_amount,
     {"18st", "unit of weight not known: 18st", "Type the number and then kg, g or lb."}},
	{&weight_amount,
     {"13\"", "unit of weight not known: 13\"", "Type the number and then kg, g or lb."}},
	{&weight_amount,
     {"-1kg", "weight is less than nothing: -1kg", "Type a weight such as 18kg or 40lb."}},
	{&weight_amount,
     {"9223372037kg", "weight too large: 9223372037kg", "Type at most 9223372036.854775807kg."}},
	{&area_amount, {"25", "area without a unit: 25", "Type 25cm2 or 25in2."}},
	{&area_amount,
     {"25cm", "unit of area not known: 25cm", "Type the number and then cm2, mm2, m2 or in2."}},
	{&area_amount, {"", "area is blank", "Type an area such as 25cm2 or 4in2."}},
	{&liquid_amount, {"12", "liquid without a unit: 12", "Type 12ul or 12ml."}},
	{&liquid_amount,
     {"12oz", "unit of liquid not known: 12oz", "Type the number and then ul or ml."}},
	{&liquid_amount,
     {"-12ul", "liquid is less than nothing: -12ul", "Type an amount of liquid such as 12ul."}},
	{&angle_amount, {"60", "angle without a unit: 60", "Type 60deg."}},
	{&angle_amount, {"1rad", "unit of angle not known: 1rad", "Type the number and then deg."}},
	{&angle_amount,
     {"9223372036855deg", "angle too large: 9223372036855deg",
      "Type a value between -9223372036854.775807deg and 9223372036854.775807deg."}},
	{&speed_amount, {"100", "speed without a unit: 100", "Type 100m/min or 100ft/min."}},
	{&speed_amount,
     {"100m", "unit of speed not known: 100m", "Type the number and then m/min or ft/min."}},
	{&speed_amount,
     {"-1m/min", "speed is less than nothing: -1m/min",
      "Type a speed such as 100m/min or 330ft/min."}},
	{&duration_amount, {"4", "duration without a unit: 4", "Type 4h or 4d."}},
	{&duration_amount,
     {"4y", "unit of duration not known: 4y", "Type the number and then s, min, h, d or w."}},
	{&duration_amount,
     {"1h 30min", "duration with two units: 1h 30min",
      "Type it in one unit, a duration such as 90min, 4h, 3d or 2w."}},
	{&duration_amount,
     {"-4h", "duration is less than nothing: -4h", "Type a duration such as 90min, 4h, 3d or 2w."}},
	{&duration_amount, {"52001w", "duration too large: 52001w", "Type at most 52000w."}},
	{&percent_amount, {"10", "percent without a unit: 10", "Type 10%."}},
	{&percent_amount,
     {"10percent", "unit of percent not known: 10percent", "Type the number and then %."}},
	{&percent_amount, {"%", "percent without a number: %", "Type a percentage such as 10%."}},
	{&money_amount, {"", "money is blank", "Type an amount such as 1250.00."}},
	{&money_amount,
     {"1,250.00", "money with a separator inside its number: 1,250.00",
      "Type 1250.00: decimals take a point, thousands take nothing."}},
	{&money_amount,
     {"1.250,00", "money with a separator inside its number: 1.250,00",
      "Type 1250.00: decimals take a point, thousands take nothing."}},
	{&money_amount,
     {"1.250", "money with other than whole cents: 1.250",
      "Type an amount such as 1250.00, with two digits behind the point."}},
	{&money_amount,
     {"1/4", "money with other than whole cents: 1/4",
      "Type an amount such as 1250.00, with two digits behind the point."}},
	{&money_amount,
     {"1250EUR", "money with something beside the number: 1250EUR",
      "Type the number alone, 1250: the currency is the shop's."}},
	{&money_amount,
     {"\u20ac1250", "money without a number: \u20ac1250", "Type an amount such as 1250.00."}},
	{&money_amount,
     {"-1250.00", "money is less than nothing: -1250.00", "Type an amount such as 1250.00."}},
	{&money_amount,
     {"92233720368547758.08", "money too large: 92233720368547758.08",
      "Type at most 92233720368547758.07."}},
	{&money_amount,
     {"99999999999999999999", "money too large: 99999999999999999999",
      "Type at most 92233720368547758.07."}},
};

static void amounts_parse__something_else__refused_in_words(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT_OF(refused); i++) {
		struct fault fault;
		int64_t number = 42;
		fault_clear(&fault);
		assert_refused(refused[i].amount->parse(refused[i].refusal.typed, &number, &fault),
		               &refused[i].refusal, &fault);
		assert_int_equal(number, 42);
	}
}

static void amounts_text__any_number__re_enters(void **state)
{
	(void)state;
	static const struct amount *const amounts[] = {
		&weight_amount, &area_amount,    &liquid_amount, &angle_amount,
		&speed_amount,  &percent_amount, &money_amount,
	};
	uint64_t random = 88172645463325252; /* xorshift, G. Marsaglia, J. Stat. Soft. 8 (2003) 14 */
	for (int i = 0; i < 7000; i++) {
		random ^= random << 13;
		random ^= random >> 7;
		random ^= random << 17;
		const struct amount *amount = amounts[(size_t)i % COUNT_OF(amounts)];
		int64_t number = (int64_t)(random >> (1 + random % 63));
		for (int units = UNITS_METRIC; units <= UNITS_INCH; units++) {
			struct fault fault;
			int64_t again = 0;
			struct quantity_text text = amount->text(number, (enum units)units);
			fault_clear(&fault);
			assert_done(amount->parse(text.bytes, &again, &fault), text.bytes, &fault);
			assert_int_equal(again, number);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(amounts_parse__as_typed__kept_exactly_and_shown),
		cmocka_unit_test(amounts_parse__something_else__refused_in_words),
		cmocka_unit_test(amounts_text__any_number__re_enters),
	};
	return cmocka_run_group_tests_name("quantity/amounts", tests, NULL, NULL);
}
