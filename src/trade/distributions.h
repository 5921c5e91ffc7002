/* Quantiles and tails that the trend of wear needs. */
#ifndef TOOTHRACK_TRADE_DISTRIBUTIONS_H
#define TOOTHRACK_TRADE_DISTRIBUTIONS_H

/* Below which a standard normal value lies with that probability, 0 < probability < 1. */
double normal_quantile(double probability);
/* Probability of a standard normal value at least so far from 0, either way. */
double normal_two_sided(double z);
/* Below which a value of Student's t lies with that probability; freedom >= 1, not only whole. */
double student_quantile(double probability, double freedom);
/* The first and second derivative of ln gamma(x), x > 0. */
double digamma(double x);
double trigamma(double x);
/* The x > 0 whose trigamma is `value` > 0. */
double trigamma_inverse(double value);

#endif
