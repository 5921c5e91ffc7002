/*
 * Plate distortion by the K method: a plate made flat stretches when it is bent around the
 * cylinder, the polyester base keeping its length. Sources: "Method for calculating flexo plate
 * reduction" (Chinese), ishare.iask.com/f/22900816.html; iFlexo, "Plate distortion in flexography:
 * how to calculate it", 2024-01-20. A rival rule in print leaves the base out; it is not used here.
 */
#include "pi.h"
#include "toothrack/trade.h"

bool distortion_of(struct real_length repeat, struct length plate, struct length base,
                   struct distortion *out)
{
	if (length_compare(base, plate) > 0)
		return false;
	struct real_length polymer = real_from_length(length_subtract(plate, base));
	struct real_length k = real_times(polymer, 2 * PI);
	double k_mm = real_to_mm(k);
	double repeat_mm = real_to_mm(repeat);
	if (k_mm >= repeat_mm)
		return false;
	*out = (struct distortion){
		.k = k,
		.reduction_percent = 100 * k_mm / repeat_mm,
		.factor_percent = 100 - 100 * k_mm / repeat_mm,
		.flat_length = real_subtract(repeat, k),
	};
	return true;
}
