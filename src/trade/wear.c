/* What is left, how even a roll is, and how long web lasts. */
#include <math.h>

#include "stored.h"
#include "toothrack/trade.h"

struct volume volume_at_limit(struct volume when_new, const struct limits *limits)
{
	wide left = PPM_WHOLE - (wide)percent_ppm(limits->volume_loss);
	wide micro = left > 0 ? (volume_to_micro(when_new) * left + PPM_WHOLE / 2) / PPM_WHOLE : 0;
	return volume_from_micro((int64_t)micro);
}

struct percent across_unevenness(struct across across)
{
	int64_t each[] = {volume_to_micro(across.left), volume_to_micro(across.centre),
	                  volume_to_micro(across.right)};
	int64_t least = each[0];
	int64_t most = each[0];
	wide sum = 0;
	for (size_t i = 0; i < COUNT_OF(each); i++) {
		least = each[i] < least ? each[i] : least;
		most = each[i] > most ? each[i] : most;
		sum += each[i];
	}
	/* Rounded half up; of nothing at all it is none. */
	wide ppm = sum > 0 ? ((wide)(most - least) * 3 * PPM_WHOLE * 2 + sum) / (2 * sum) : 0;
	return value_from_stored(VALUE_PERCENT, (int64_t)ppm).percent;
}

bool days_of(struct length web, struct length per_day, double *days)
{
	double a_day = (double)length_to_nm(per_day);
	if (!(a_day > 0)) {
		return false;
	}
	*days = (double)length_to_nm(web) / a_day;
	return true;
}
