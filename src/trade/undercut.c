/*
 * Undercut and build-up: how far the bare cylinder lies below the pitch line, and what is printed
 * with plate and tape on it. The undercut is radial, a difference of radii: PrintWiki, "Undercut";
 * US Army TM 5-3610-286-10.
 */
#include "pi.h"
#include "toothrack/trade.h"

/* Plate and tape on both sides of a cylinder: what they add to its diameter. */
static struct real_length mounted(struct length plate, struct length tape)
{
	return real_times(real_add(real_from_length(plate), real_from_length(tape)), 2);
}

static struct real_length repeat_diameter(struct repeat repeat)
{
	if (repeat.known && repeat.toothed)
		return pitch_diameter(repeat.pitch, repeat.teeth);
	return real_times(repeat_length(repeat), 1 / PI);
}

struct real_length bare_diameter(struct repeat repeat, struct length plate, struct length tape)
{
	return real_subtract(repeat_diameter(repeat), mounted(plate, tape));
}

struct real_length printed_diameter(struct real_length bare, struct length plate,
                                    struct length tape)
{
	return real_add(bare, mounted(plate, tape));
}

bool buildup_taken(const struct cylinder *cylinder, struct real_length *out)
{
	if (cylinder->diameter.known && cylinder->own.known) {
		struct real_length bare = real_from_length(cylinder->diameter.value);
		*out = real_times(real_subtract(repeat_diameter(cylinder->own), bare), 0.5L);
		return true;
	}
	*out = real_from_length(cylinder->undercut.value);
	return cylinder->undercut.known;
}

struct real_length length_around(struct real_length diameter)
{
	return real_times(diameter, PI);
}
