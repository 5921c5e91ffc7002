/* The volumes that rolls of a screen have, as one maker of them has published. */
#include <math.h>

#include "toothrack/trade.h"

/*
 * Volumes in BCM, screens in lines an inch: as published.
 *
 * Harper Corporation of America, anilox tables, least and most of three screens: 360 lpi 3.6 to
 * 5.0, 500 lpi 2.8 to 3.7, 1000 lpi 1.10 to 1.40 BCM. The mid column is not used.
 */
static const struct point {
	double lpi, least, most;
} points[] = {{360, 3.6, 5.0}, {500, 2.8, 3.7}, {1000, 1.10, 1.40}};

/*
 * The same tables, rolls by the work they do: line and solid, text and line, vignette, process,
 * opaque white. Lists of this sort drift between editions: they serve only where the points above
 * do not reach.
 */
static const struct work {
	double lpi_least, lpi_most, least, most;
} works[] = {
	{180, 330, 4.0, 8.0},  {200, 400, 3.5, 7.5},  {360, 500, 2.8, 4.7},
	{500, 1200, 1.0, 3.2}, {180, 250, 8.0, 11.5},
};

static struct volume volume_of_bcm(double bcm)
{
	return volume_from_micro(llround(1e6 * bcm / volume_to_bcm(volume_from_micro(1000000))));
}

static struct screen screen_of_lpi(double lpi)
{
	return screen_from_per_cm(lpi / screen_to_lpi(screen_from_per_cm(1)));
}

static bool lies_within(struct screen screen, double lpi_least, double lpi_most)
{
	return screen_compare(screen, screen_of_lpi(lpi_least)) >= 0 &&
	       screen_compare(screen, screen_of_lpi(lpi_most)) <= 0;
}

/* On the straight line through two points on paper that is logarithmic both ways. */
static double between(double lpi, double lpi_a, double a, double lpi_b, double b)
{
	double share = log(lpi / lpi_a) / log(lpi_b / lpi_a);
	return exp(log(a) + share * log(b / a));
}

static struct volume_band band_of_points(struct screen screen)
{
	double lpi = screen_to_lpi(screen);
	for (size_t i = 0; i < COUNT_OF(points); i++) {
		/* A screen stored in lines a cm is that of the table, and so is its volume. */
		if (screen_compare(screen, screen_of_lpi(points[i].lpi)) == 0) {
			return (struct volume_band){true, volume_of_bcm(points[i].least),
			                            volume_of_bcm(points[i].most)};
		}
	}
	const struct point *a = &points[0];
	while (lpi > a[1].lpi) {
		a++;
	}
	return (struct volume_band){
		.known = true,
		.least = volume_of_bcm(between(lpi, a->lpi, a->least, a[1].lpi, a[1].least)),
		.most = volume_of_bcm(between(lpi, a->lpi, a->most, a[1].lpi, a[1].most)),
	};
}

static struct volume_band band_of_works(struct screen screen)
{
	struct volume_band band = {.known = false};
	for (size_t i = 0; i < COUNT_OF(works); i++) {
		if (!lies_within(screen, works[i].lpi_least, works[i].lpi_most)) {
			continue;
		}
		struct volume least = volume_of_bcm(works[i].least), most = volume_of_bcm(works[i].most);
		bool lower = !band.known || volume_to_micro(least) < volume_to_micro(band.least);
		bool higher = !band.known || volume_to_micro(most) > volume_to_micro(band.most);
		band.least = lower ? least : band.least;
		band.most = higher ? most : band.most;
		band.known = true;
	}
	return band;
}

struct volume_band volume_band_of(struct screen screen)
{
	return lies_within(screen, points[0].lpi, points[COUNT_OF(points) - 1].lpi)
	           ? band_of_points(screen)
	           : band_of_works(screen);
}
