/*
 * Quantiles and the like against tables, closed forms and scipy 1.10.1 (Debian python3-scipy:
 * scipy.stats.t.ppf, norm.ppf, scipy.special.digamma, polygamma; for freedom 37.4, where t.ppf is
 * good to eight places only, the t at which scipy.special.betainc is 0.1).
 */
#include "trade/distributions.h"

#include <math.h>

#include "builders.h"
#include "trade/pi.h"

static void assert_near(double found, double expected)
{
	if (!(fabs(found - expected) <= 1e-9 * fmax(1, fabs(expected)))) {
		fail_msg("%.15g, %.15g expected", found, expected);
	}
}

/*
 * Upper critical values to three places: NIST/SEMATECH e-Handbook of Statistical Methods, table of
 * Student's t distribution, itl.nist.gov/div898/handbook.
 */
static void student_quantile__table__to_three_places(void **state)
{
	(void)state;
	static const double table[][3] = {
		{1, 0.95, 6.314},  {2, 0.95, 2.920},   {3, 0.95, 2.353},   {4, 0.975, 2.776},
		{5, 0.99, 3.365},  {8, 0.95, 1.860},   {10, 0.975, 2.228}, {20, 0.95, 1.725},
		{30, 0.99, 2.457}, {100, 0.95, 1.660},
	};
	for (size_t i = 0; i < COUNT_OF(table); i++) {
		double found = student_quantile(table[i][1], table[i][0]);
		assert_true(fabs(found - table[i][2]) <= 0.00051);
	}
}

static void student_quantile__freedom_not_whole__as_scipy(void **state)
{
	(void)state;
	static const double table[][3] = {
		{1.5, 0.95, 3.705180820160004}, {1.5, 0.001, -52.184430008992805},
		{2.7, 0.97, 3.129524316051414}, {2.7, 0.975, 3.392148383176445},
		{37.4, 0.95, 1.68663046255906}, {1000, 0.97, 1.8829294745554914},
	};
	for (size_t i = 0; i < COUNT_OF(table); i++) {
		assert_near(student_quantile(table[i][1], table[i][0]), table[i][2]);
	}
}

static void student_quantile__one_and_two_freedom__closed_forms(void **state)
{
	(void)state;
	for (double p = 0.001; p < 1; p += 0.037) {
		assert_near(student_quantile(p, 1), tan((double)PI * (p - 0.5)));
		assert_near(student_quantile(p, 2), (2 * p - 1) / sqrt(2 * p * (1 - p)));
		assert_near(student_quantile(p, 1e9), normal_quantile(p));
	}
	assert_near(student_quantile(0.5, 3), 0);
}

static void normal_quantile__near_and_far__as_scipy(void **state)
{
	(void)state;
	static const double table[][2] = {
		{1e-12, -7.034483825301131},
		{0.001, -3.090232306167813},
		{0.05, -1.6448536269514729},
		{0.3, -0.5244005127080409},
		{0.5, 0},
		{0.975, 1.959963984540054},
	};
	for (size_t i = 0; i < COUNT_OF(table); i++) {
		assert_near(normal_quantile(table[i][0]), table[i][1]);
	}
	assert_near(normal_two_sided(-1.959963984540054), 0.05);
}

static void trigamma__and_back__as_scipy(void **state)
{
	(void)state;
	assert_near(digamma(0.5), -1.9635100260214235);
	assert_near(digamma(2.5), 0.7031566406452432);
	assert_near(digamma(500), 6.213607765088991);
	assert_near(trigamma(1), (double)(PI * PI / 6));
	assert_near(trigamma(0.5), (double)(PI * PI / 2));
	for (double x = 0.01; x < 1000; x *= 1.7) {
		assert_near(trigamma_inverse(trigamma(x)), x);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(student_quantile__table__to_three_places),
		cmocka_unit_test(student_quantile__freedom_not_whole__as_scipy),
		cmocka_unit_test(student_quantile__one_and_two_freedom__closed_forms),
		cmocka_unit_test(normal_quantile__near_and_far__as_scipy),
		cmocka_unit_test(trigamma__and_back__as_scipy),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
