#include "expected.h"

#include <math.h>

#define IFLEXO "iFlexo, \"Anilox BCM and ink transfer volume\", 2024-01-25"
#define HARPER "Harper Corporation of America anilox tables"

static struct volume volume_given(const char *typed)
{
	struct fault fault;
	struct volume volume;
	fault_clear(&fault);
	assert_done(volume_parse(typed, &volume, &fault), typed, &fault);
	return volume;
}

static void volume_parse__as_typed__kept_exactly_and_shown(void **state)
{
	(void)state;
	static const struct kept rows[] = {
		{"4.3bcm", 6665013, "6.665013cm3/m2", "4.3bcm"},
		{"4.3 BCM", 6665013, "6.665013cm3/m2", "4.3bcm"},
		{"4.3bcm/in2", 6665013, "6.665013cm3/m2", "4.3bcm"},
		{"6.7cm3/m2", 6700000, "6.7cm3/m2", "4.322572bcm"},
		{"6.7cm\u00b3/m\u00b2", 6700000, "6.7cm3/m2", "4.322572bcm"},
		{"1bcm", 1550003, "1.550003cm3/m2", "1bcm"},
		{"0bcm", 0, "0cm3/m2", "0bcm"},
		{"0.000001cm3/m2", 1, "0.000001cm3/m2", "0.0000006bcm"},
		{"1000000cm3/m2", 1000000000000, "1000000cm3/m2", "645160.0000026bcm"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct volume volume = volume_given(rows[i].typed);
		assert_int_equal(volume_to_micro(volume), rows[i].number);
		assert_shown(volume_text(volume, UNITS_METRIC), rows[i].metric);
		assert_shown(volume_text(volume, UNITS_INCH), rows[i].inch);
		assert_int_equal(volume_given(rows[i].metric).micro, rows[i].number);
		assert_int_equal(volume_given(rows[i].inch).micro, rows[i].number);
	}
}

static void volume_to_cm3_m2__published__as_published(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		double cm3_m2;
		double within;
		const char *source;
	} rows[] = {
		{"2.4bcm", 3.72, 0.005, IFLEXO}, {"4.0bcm", 6.2, 0.05, HARPER},
		{"6.0bcm", 9.3, 0.05, HARPER},   {"8.0bcm", 12.4, 0.05, HARPER},
		{"11.5bcm", 17.8, 0.05, HARPER},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		double cm3_m2 = volume_to_cm3_m2(volume_given(rows[i].typed));
		if (fabs(cm3_m2 - rows[i].cm3_m2) > rows[i].within) {
			fail_msg("%s: %.6f: %s", rows[i].typed, cm3_m2, rows[i].source);
		}
	}
	assert_true(fabs(volume_to_bcm(volume_from_micro(6665013)) - 4.3) < 1e-6);
}

#define LIKE "Type a volume such as 6.7cm3/m2 or 4.3bcm."
#define UNITS "Type the number and then cm3/m2 or bcm."

static void volume_parse__not_a_volume__refused_in_words(void **state)
{
	(void)state;
	static const struct refusal rows[] = {
		{"", "volume is blank", LIKE},
		{"4.3", "volume without a unit: 4.3", "Type 4.3cm3/m2 or 4.3bcm."},
		{"4.3ml", "unit of volume not known: 4.3ml", UNITS},
		{"4.3cm3", "unit of volume not known: 4.3cm3", UNITS},
		{"bcm", "volume without a number: bcm", LIKE},
		{"-1bcm", "volume is less than nothing: -1bcm", LIKE},
		{"1000000.000001cm3/m2", "volume too large: 1000000.000001cm3/m2",
	     "Type at most 1000000cm3/m2."},
		{"645161bcm", "volume too large: 645161bcm", "Type at most 645160.0000026bcm."},
		{"4,3bcm", "volume with a separator inside its number: 4,3bcm",
	     "Type 4.3bcm: decimals take a point, thousands take nothing."},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		struct volume volume;
		fault_clear(&fault);
		assert_refused(volume_parse(rows[i].typed, &volume, &fault), &rows[i], &fault);
	}
}

static void across_parse__as_typed__left_centre_right(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		int64_t left, centre, right;
		const char *metric;
		const char *inch;
	} rows[] = {
		{"6.2/6.4/6.1cm3/m2", 6200000, 6400000, 6100000, "6.2/6.4/6.1cm3/m2",
	     "3.999992/4.129024/3.935476bcm"},
		{" 6.2 / 6.4 / 6.1 CM3/M2 ", 6200000, 6400000, 6100000, "6.2/6.4/6.1cm3/m2",
	     "3.999992/4.129024/3.935476bcm"},
		{"6.2cm3/m2/6.4cm3/m2/6.1cm3/m2", 6200000, 6400000, 6100000, "6.2/6.4/6.1cm3/m2",
	     "3.999992/4.129024/3.935476bcm"},
		{"4/4.1/3.9bcm", 6200012, 6355013, 6045012, "6.200012/6.355013/6.045012cm3/m2",
	     "4/4.1/3.9bcm"},
		{"4bcm/4.1bcm/in2/6.1cm3/m2", 6200012, 6355013, 6100000, "6.200012/6.355013/6.1cm3/m2",
	     "4/4.1/3.935476bcm"},
		{"1000000/999999.999999/1000000cm3/m2", 1000000000000, 999999999999, 1000000000000,
	     "1000000/999999.999999/1000000cm3/m2", "645160.0000026/645160.000002/645160.0000026bcm"},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		struct across across;
		fault_clear(&fault);
		assert_done(across_parse(rows[i].typed, &across, &fault), rows[i].typed, &fault);
		assert_int_equal(across.left.micro, rows[i].left);
		assert_int_equal(across.centre.micro, rows[i].centre);
		assert_int_equal(across.right.micro, rows[i].right);
		assert_shown(across_text(across, UNITS_METRIC), rows[i].metric);
		assert_shown(across_text(across, UNITS_INCH), rows[i].inch);
	}
}

#define THREE "three volumes such as 6.2/6.4/6.1cm3/m2."

static void across_parse__not_three_volumes__refused_in_words(void **state)
{
	(void)state;
	static const struct refusal rows[] = {
		{"", "across is blank", "Type " THREE},
		{"6.2cm3/m2", "across is not three volumes: 6.2cm3/m2",
	     "Type left, centre and right: " THREE},
		{"6.2/6.4cm3/m2", "across is not three volumes: 6.2/6.4cm3/m2",
	     "Type left, centre and right: " THREE},
		{"6.2/6.4/6.1/6.0cm3/m2", "across is not three volumes: 6.2/6.4/6.1/6.0cm3/m2",
	     "Type left, centre and right: " THREE},
		{"6.2/x/6.1cm3/m2", "across is not three volumes: 6.2/x/6.1cm3/m2",
	     "Type left, centre and right: " THREE},
		{"6.2/6.4/6.1ml", "across is not three volumes: 6.2/6.4/6.1ml",
	     "Type left, centre and right: " THREE},
		{"6.2/6.4/6.1", "across without a unit: 6.2/6.4/6.1",
	     "Type one unit behind all three, or one behind each: " THREE},
		{"6.2bcm/6.4/6.1bcm", "across with a unit on some of the three: 6.2bcm/6.4/6.1bcm",
	     "Type one unit behind all three, or one behind each: " THREE},
		{"6.2bcm/6.4/6.1", "across with a unit on some of the three: 6.2bcm/6.4/6.1",
	     "Type one unit behind all three, or one behind each: " THREE},
		{"6.2/-6.4/6.1bcm", "across is less than nothing: 6.2/-6.4/6.1bcm", LIKE},
		{"6,2/6.4/6.1bcm", "across with a separator inside its number: 6,2/6.4/6.1bcm",
	     "Type three volumes such as 6.2/6.4/6.1cm3/m2: decimals take a point, thousands take "
	     "nothing."},
		{"6.2/6e2/6.1bcm", "across with an exponent: 6.2/6e2/6.1bcm",
	     "Type three volumes such as 6.2/6.4/6.1cm3/m2, the digits in full."},
		{"1/2/9999999cm3/m2", "across too large: 1/2/9999999cm3/m2", "Type at most 1000000cm3/m2."},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		struct across across;
		fault_clear(&fault);
		assert_refused(across_parse(rows[i].typed, &across, &fault), &rows[i], &fault);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(volume_parse__as_typed__kept_exactly_and_shown),
		cmocka_unit_test(volume_to_cm3_m2__published__as_published),
		cmocka_unit_test(volume_parse__not_a_volume__refused_in_words),
		cmocka_unit_test(across_parse__as_typed__left_centre_right),
		cmocka_unit_test(across_parse__not_three_volumes__refused_in_words),
	};
	return cmocka_run_group_tests_name("quantity/volume", tests, NULL, NULL);
}
