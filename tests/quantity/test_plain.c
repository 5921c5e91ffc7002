#include "expected.h"

static void count_parse__within__read(void **state)
{
	(void)state;
	static const struct {
		const char *typed;
		int64_t count;
	} rows[] = {
		{"96", 96},   {" 96 ", 96}, {"+96", 96}, {"0096", 96},
		{"96.0", 96}, {"-3", -3},   {"-0", 0},   {"9223372036854775807", INT64_MAX},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		int64_t count = 42;
		fault_clear(&fault);
		assert_done(count_parse("teeth", rows[i].typed, -3, INT64_MAX, &count, &fault),
		            rows[i].typed, &fault);
		assert_int_equal(count, rows[i].count);
	}
}

static void count_parse__not_a_count__refused_by_name(void **state)
{
	(void)state;
#define FROM_1_TO_500 "Type a whole number from 1 to 500."
	static const struct refusal rows[] = {
		{"", "teeth is blank", FROM_1_TO_500},
		{"many", "teeth is not a whole number: many", FROM_1_TO_500},
		{"1.5", "teeth is not a whole number: 1.5", FROM_1_TO_500},
		{"1/2", "teeth is not a whole number: 1/2", FROM_1_TO_500},
		{"4/2", "teeth is not a whole number: 4/2", FROM_1_TO_500},
		{"96t", "teeth is not a whole number: 96t", FROM_1_TO_500},
		{"9 6", "teeth is not a whole number: 9 6", FROM_1_TO_500},
		{"1e2", "teeth is not a whole number: 1e2", FROM_1_TO_500},
		{"0x60", "teeth is not a whole number: 0x60", FROM_1_TO_500},
		{"1,000", "teeth with a separator inside its number: 1,000",
	     "Type 1000: a whole number takes neither point nor comma."},
		{"1.000", "teeth with a separator inside its number: 1.000",
	     "Type 1000: a whole number takes neither point nor comma."},
		{"12'500", "teeth with a separator inside its number: 12'500",
	     "Type 12500: a whole number takes neither point nor comma."},
		{"0", "teeth is less than 1: 0", FROM_1_TO_500},
		{"-5", "teeth is less than 1: -5", FROM_1_TO_500},
		{"-99999999999999999999", "teeth is less than 1: -99999999999999999999", FROM_1_TO_500},
		{"501", "teeth is more than 500: 501", FROM_1_TO_500},
		{"99999999999999999999", "teeth is more than 500: 99999999999999999999", FROM_1_TO_500},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct fault fault;
		int64_t count = 42;
		fault_clear(&fault);
		assert_refused(count_parse("teeth", rows[i].typed, 1, 500, &count, &fault), &rows[i],
		               &fault);
		assert_int_equal(count, 42);
	}
}

static void count_parse__no_upper_limit__hint_without_one(void **state)
{
	(void)state;
	static const struct refusal row = {"-1", "quantity is less than 0: -1",
	                                   "Type a whole number, 0 or more."};
	struct fault fault;
	int64_t count = 0;
	fault_clear(&fault);
	assert_refused(count_parse("quantity", "-1", 0, INT64_MAX, &count, &fault), &row, &fault);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(count_parse__within__read),
		cmocka_unit_test(count_parse__not_a_count__refused_by_name),
		cmocka_unit_test(count_parse__no_upper_limit__hint_without_one),
	};
	return cmocka_run_group_tests_name("quantity/plain", tests, NULL, NULL);
}
