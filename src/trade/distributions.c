/*
 * Quantiles and tails that the trend of wear needs. Coefficients and places of the works named are
 * from memory; what they give is held against scipy and tables, tests/trade/test_distributions.c.
 */
#include "distributions.h"

#include <float.h>
#include <math.h>

#include "pi.h"
#include "toothrack/base.h"

static double polynomial(const double *terms, size_t count, double x)
{
	double sum = 0;
	for (size_t i = count; i > 0; i--) {
		sum = sum * x + terms[i - 1];
	}
	return sum;
}

/* M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477-484, PPND16: to about 1e-16. */
static double quantile_near_middle(double q)
{
	static const double above[] = {
		3.3871328727963666080e0,  1.3314166789178437745e+2, 1.9715909503065514427e+3,
		1.3731693765509461125e+4, 4.5921953931549871457e+4, 6.7265770927008700853e+4,
		3.3430575583588128105e+4, 2.5090809287301226727e+3,
	};
	static const double below[] = {
		1.0,
		4.2313330701600911252e+1,
		6.8718700749205790830e+2,
		5.3941960214247511077e+3,
		2.1213794301586595867e+4,
		3.9307895800092710610e+4,
		2.8729085735721942674e+4,
		5.2264952788528545610e+3,
	};
	double r = 0.180625 - q * q;
	return q * polynomial(above, COUNT_OF(above), r) / polynomial(below, COUNT_OF(below), r);
}

static double quantile_of_tail(double r)
{
	static const double above[] = {
		1.42343711074968357734e0,  4.63033784615654529590e0,  5.76949722146069140550e0,
		3.64784832476320460504e0,  1.27045825245236838258e0,  2.41780725177450611770e-1,
		2.27238449892691845833e-2, 7.74545014278341407640e-4,
	};
	static const double below[] = {
		1.0,
		2.05319162663775882187e0,
		1.67638483018380384940e0,
		6.89767334985100004550e-1,
		1.48103976427480074590e-1,
		1.51986665636164571966e-2,
		5.47593808499534494600e-4,
		1.05075007164441684324e-9,
	};
	static const double above_far[] = {
		6.65790464350110377720e0,  5.46378491116411436990e0,  1.78482653991729133580e0,
		2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
		2.71155556874348757815e-5, 2.01033439929228813265e-7,
	};
	static const double below_far[] = {
		1.0,
		5.99832206555887937690e-1,
		1.36929880922735805310e-1,
		1.48753612908506148525e-2,
		7.86869131145613259100e-4,
		1.84631831751005468180e-5,
		1.42151175831644588870e-7,
		2.04426310338993978564e-15,
	};
	if (r <= 5) {
		r -= 1.6;
		return polynomial(above, COUNT_OF(above), r) / polynomial(below, COUNT_OF(below), r);
	}
	r -= 5;
	return polynomial(above_far, COUNT_OF(above_far), r) /
	       polynomial(below_far, COUNT_OF(below_far), r);
}

double normal_quantile(double probability)
{
	double q = probability - 0.5;
	if (fabs(q) <= 0.425) {
		return quantile_near_middle(q);
	}
	double tail = q < 0 ? probability : 1 - probability;
	return copysign(quantile_of_tail(sqrt(-log(tail))), q);
}

double normal_two_sided(double z)
{
	return erfc(fabs(z) / sqrt(2.0));
}

/* The fraction that stands for the incomplete beta, by its even and odd terms in turn. */
static double beta_fraction(double a, double b, double x)
{
	const double least = DBL_MIN / DBL_EPSILON;
	double up = 1;
	double down = 1 / (1 - (a + b) * x / (a + 1));
	double fraction = down;
	for (int term = 1; term <= 10000; term++) {
		double twice = a + 2 * term;
		const double terms[2] = {
			term * (b - term) * x / ((twice - 1) * twice),
			-(a + term) * (a + b + term) * x / (twice * (twice + 1)),
		};
		double step = 1;
		for (int i = 0; i < 2; i++) {
			down = 1 + terms[i] * down;
			down = 1 / (fabs(down) < least ? least : down);
			up = 1 + terms[i] / up;
			up = fabs(up) < least ? least : up;
			step = up * down;
			fraction *= step;
		}
		if (fabs(step - 1) < 4 * DBL_EPSILON) {
			break;
		}
	}
	return fraction;
}

/* ln of the gamma function; lgamma would write to a global. x > 0. */
static double log_gamma(double x)
{
	int sign;
	return lgamma_r(x, &sign);
}

/*
 * The regularised incomplete beta function by Lentz's method: M. Abramowitz, I. A. Stegun, Handbook
 * of Mathematical Functions, National Bureau of Standards 1964, 26.5.8.
 */
static double incomplete_beta(double a, double b, double x, double x_to_1)
{
	double front =
		exp(log_gamma(a + b) - log_gamma(a) - log_gamma(b) + a * log(x) + b * log(x_to_1));
	if (x < (a + 1) / (a + b + 2)) {
		return front * beta_fraction(a, b, x) / a;
	}
	return 1 - front * beta_fraction(b, a, x_to_1) / b;
}

/* Past so much freedom Student's t is the normal distribution to what matters here. */
#define FREEDOM_MOST 1e7

/* Where to begin: short of the quantile, nearer the more freedom. Abramowitz, Stegun 26.7.5. */
static double student_start(double normal, double freedom)
{
	if (freedom < 3) {
		return normal;
	}
	double square = normal * normal;
	double first = (square + 1) * normal / 4;
	double second = ((5 * square + 16) * square + 3) * normal / 96;
	return normal + first / freedom + second / (freedom * freedom);
}

/* Newton's method: it doubles the right places each time. The tail: Abramowitz, Stegun 26.7.1. */
double student_quantile(double probability, double freedom)
{
	double tail = probability < 0.5 ? probability : 1 - probability;
	double normal = fabs(normal_quantile(probability));
	if (freedom > FREEDOM_MOST || normal <= 0) {
		return copysign(normal, probability - 0.5);
	}
	double t = student_start(normal, freedom);
	double height =
		exp(log_gamma((freedom + 1) / 2) - log_gamma(freedom / 2)) / sqrt(freedom * (double)PI);
	for (int round = 0; round < 100; round++) {
		double x = freedom / (freedom + t * t);
		double left = incomplete_beta(freedom / 2, 0.5, x, t * t / (freedom + t * t)) / 2 - tail;
		double step = left / (height * pow(x, (freedom + 1) / 2));
		t += step;
		if (fabs(step) <= 1e-8 * t) {
			break;
		}
	}
	return copysign(t, probability - 0.5);
}

/* By the series for large x, reached by the recurrence: Abramowitz, Stegun 6.3.5, 6.3.18. */
double digamma(double x)
{
	double below = 0;
	while (x < 10) {
		below += 1 / x;
		x += 1;
	}
	double square = 1 / (x * x);
	return log(x) - 0.5 / x -
	       square *
	           (1.0 / 12 -
	            square * (1.0 / 120 - square * (1.0 / 252 - square * (1.0 / 240 - square / 132)))) -
	       below;
}

/* Abramowitz, Stegun 6.4.6, 6.4.12. */
double trigamma(double x)
{
	double below = 0;
	while (x < 10) {
		below += 1 / (x * x);
		x += 1;
	}
	double square = 1 / (x * x);
	return below + 1 / x + square / 2 +
	       square / x *
	           (1.0 / 6 -
	            square * (1.0 / 30 - square * (1.0 / 42 - square * (1.0 / 30 - square * 5 / 66))));
}

/* By halving: trigamma falls all the way. */
double trigamma_inverse(double value)
{
	double least = 1e-6;
	double most = 1e6;
	for (int round = 0; round < 100 && most / least > 1 + 1e-12; round++) {
		double middle = sqrt(least * most);
		if (trigamma(middle) > value) {
			least = middle;
		} else {
			most = middle;
		}
	}
	return sqrt(least * most);
}
