/* What is left of a face beside the bands that are damaged. */
#include "toothrack/trade.h"

/* A band that has no width is none. */
static bool is_band(const struct damage_band *band)
{
	return length_compare(band->from, band->to) < 0;
}

/* Where the damage that begins at or before a point, and goes past it, ends; the point itself. */
static struct length damage_end(struct length at, const struct damage_band *bands, size_t count)
{
	bool further = true;
	while (further) {
		further = false;
		for (size_t i = 0; i < count; i++) {
			if (is_band(&bands[i]) && length_compare(bands[i].from, at) <= 0 &&
			    length_compare(bands[i].to, at) > 0) {
				at = bands[i].to;
				further = true;
			}
		}
	}
	return at;
}

/* Where the next damage behind a point begins; the edge of the face where there is none. */
static struct length damage_start(struct length at, struct length face,
                                  const struct damage_band *bands, size_t count)
{
	struct length nearest = face;
	for (size_t i = 0; i < count; i++) {
		if (is_band(&bands[i]) && length_compare(bands[i].from, at) > 0 &&
		    length_compare(bands[i].from, nearest) < 0) {
			nearest = bands[i].from;
		}
	}
	return nearest;
}

bool face_left(struct length face, const struct damage_band *bands, size_t count,
               struct length *from, struct length *to)
{
	struct length at = damage_end(length_from_nm(0), bands, count);
	bool left = false;
	while (length_compare(at, face) < 0) {
		struct length end = damage_start(at, face, bands, count);
		if (!left || length_compare(length_subtract(end, at), length_subtract(*to, *from)) > 0) {
			*from = at;
			*to = end;
			left = true;
		}
		at = damage_end(end, bands, count);
	}
	return left;
}
