/* Does an anilox roll suit a station, and what will it carry at the end of the run? */
#include <math.h>
#include <stdio.h>

#include "rules.h"
#include "stored.h"

bool volume_never_read(const struct anilox *anilox)
{
	return !anilox->reading.now.known;
}

/* now + slope x run, in whole steps; a run so long that nothing is left leaves nothing. */
static struct volume forecast_after(struct roll_forecast forecast, struct known_length run)
{
	const double meters = run.known ? length_to_m(run.value) : 0;
	const double micro = forecast.now + forecast.slope * meters;
	const double most = 1e18; /* far from any roll's, within what a number holds */
	return volume_from_micro(llround(fmin(fmax(micro, 0), most)));
}

struct known_volume volume_at_end(const struct anilox *anilox, struct known_length run)
{
	if (anilox->forecast.known) {
		return (struct known_volume){.known = true, .value = forecast_after(anilox->forecast, run)};
	}
	return anilox->reading.now.known ? anilox->reading.now : anilox->volume;
}

static struct percent tolerance_of(const struct station *station, const struct limits *limits)
{
	return station->volume_tolerance.known ? station->volume_tolerance.value
	                                       : limits->volume_tolerance;
}

/* ---- screen */

static enum suits rule_screen(const struct anilox *anilox, const struct station *station,
                              enum units units, struct remarks *remarks)
{
	bool asked =
		station->screen_min.known || station->screen_max.known || station->plate_screen.known;
	if (!anilox->line_screen.known) {
		return asked ? REMARK(remarks, SUITS_DOUBTFUL, "line screen not known") : SUITS_YES;
	}
	if (station->screen_min.known &&
	    screen_compare(anilox->line_screen.value, station->screen_min.value) < 0) {
		return REMARK(remarks, SUITS_NOT, "line screen %s, %s at least",
		              screen_text(anilox->line_screen.value, units).bytes,
		              screen_text(station->screen_min.value, units).bytes);
	}
	if (station->screen_max.known &&
	    screen_compare(anilox->line_screen.value, station->screen_max.value) > 0) {
		return REMARK(remarks, SUITS_NOT, "line screen %s, %s at most",
		              screen_text(anilox->line_screen.value, units).bytes,
		              screen_text(station->screen_max.value, units).bytes);
	}
	return SUITS_YES;
}

/* Too few cells to a dot: the dots dip into them. */
static enum suits doubt_screen_ratio(const struct anilox *anilox, const struct station *station,
                                     const struct limits *limits, struct remarks *remarks)
{
	if (!anilox->line_screen.known || !station->plate_screen.known) {
		return SUITS_YES;
	}
	/* line_screen / plate_screen < screen_ratio, compared as screens are */
	struct screen least =
		screen_from_per_cm(screen_to_per_cm(station->plate_screen.value) * limits->screen_ratio);
	if (screen_compare(anilox->line_screen.value, least) >= 0) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_DOUBTFUL,
	              "line screen %s is %.3g times the plate's %s, %g at least",
	              screen_text(anilox->line_screen.value, limits->units).bytes,
	              screen_ratio_of(anilox->line_screen.value, station->plate_screen.value),
	              screen_text(station->plate_screen.value, limits->units).bytes,
	              limits->screen_ratio);
}

/* ---- volume */

/*
 * Is a difference of volumes within a share of a volume? Both were rounded to whole 1e-6 cm3/m2
 * when they were read, so that 4.4bcm is 10 % over 4bcm only to that step: less than one step over
 * the limit is at it.
 */
static bool within_share(wide difference, struct percent share, struct volume of)
{
	return difference * PPM_WHOLE < (wide)percent_ppm(share) * volume_to_micro(of) + PPM_WHOLE;
}

/* abs(volume - asked) <= tolerance x asked */
static bool volume_is_near(struct volume volume, struct volume asked, struct percent tolerance)
{
	wide difference = (wide)volume_to_micro(volume) - volume_to_micro(asked);
	return within_share(difference < 0 ? -difference : difference, tolerance, asked);
}

void volumes_taken(const struct station *station, const struct limits *limits, struct volume *least,
                   struct volume *most)
{
	*least = volume_from_micro(0);
	*most = volume_from_micro(INT64_MAX);
	if (station->volume.known) {
		wide asked = volume_to_micro(station->volume.value);
		wide share = asked * percent_ppm(tolerance_of(station, limits)) / PPM_WHOLE + 2;
		*least = volume_from_micro((int64_t)(asked > share ? asked - share : 0));
		*most = volume_from_micro((int64_t)(asked + share < INT64_MAX ? asked + share : INT64_MAX));
	}
}

/* To 0.01 cm3/m2 or BCM: what a reading is good for. */
static struct quantity_text volume_shown(struct volume volume, enum units units)
{
	struct quantity_text text;
	if (units == UNITS_INCH) {
		snprintf(text.bytes, sizeof text.bytes, "%.2fbcm", volume_to_bcm(volume));
	} else {
		snprintf(text.bytes, sizeof text.bytes, "%.2fcm3/m2", volume_to_cm3_m2(volume));
	}
	return text;
}

/* Behind a volume that its trend tells: why it is not that of the reading. */
static const char *when_it_is(const struct anilox *anilox, struct known_length run)
{
	return !anilox->forecast.known ? "" : run.known ? " at the end of the run" : " by its trend";
}

static enum suits rule_volume(const struct anilox *anilox, const struct station *station,
                              const struct layout *layout, const struct limits *limits,
                              struct remarks *remarks)
{
	struct known_volume volume = volume_at_end(anilox, layout->run);
	struct percent tolerance = tolerance_of(station, limits);
	if (!station->volume.known) {
		return SUITS_YES;
	}
	if (!volume.known) {
		return REMARK(remarks, SUITS_DOUBTFUL, "volume not known");
	}
	if (volume_is_near(volume.value, station->volume.value, tolerance)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOT, "volume %s%s, %s +/-%s wanted",
	              volume_shown(volume.value, limits->units).bytes, when_it_is(anilox, layout->run),
	              volume_shown(station->volume.value, limits->units).bytes,
	              percent_text(tolerance).bytes);
}

/* Its volume when new counts, since nobody knows better. */
static enum suits note_never_read(const struct anilox *anilox, const struct station *station,
                                  struct remarks *remarks)
{
	if (!station->volume.known || !volume_never_read(anilox) || !anilox->volume.known ||
	    anilox->forecast.known) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOTED, "%s since engraved, volume when new counts",
	              anilox->reading.read_after_run_only ? "read only after a run, not after cleaning,"
	                                                  : "never read");
}

/* (new - what is left) / new > volume_loss; `when` is said of what is left */
static enum suits rule_loss(const struct anilox *anilox, struct known_volume left, const char *when,
                            const struct limits *limits, struct remarks *remarks)
{
	if (!anilox->volume.known || !left.known) {
		return SUITS_YES;
	}
	wide loss = (wide)volume_to_micro(anilox->volume.value) - volume_to_micro(left.value);
	if (within_share(loss, limits->volume_loss, anilox->volume.value)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_DOUBTFUL, "volume %s%s, %s when new: %s lost, %s at most",
	              volume_shown(left.value, limits->units).bytes, when,
	              volume_shown(anilox->volume.value, limits->units).bytes,
	              percent_text(share_lost(anilox->volume.value, left.value)).bytes,
	              percent_text(limits->volume_loss).bytes);
}

/* At the end of the run, where a trend tells that; else as it was read. */
static enum suits doubt_loss(const struct anilox *anilox, const struct layout *layout,
                             const struct limits *limits, struct remarks *remarks)
{
	if (anilox->forecast.known) {
		return rule_loss(anilox, volume_at_end(anilox, layout->run),
		                 layout->run.known ? " at the end of the run by its trend"
		                                   : " by its trend",
		                 limits, remarks);
	}
	return rule_loss(anilox, anilox->reading.now, "", limits, remarks);
}

enum suits volume_loss_suits(const struct anilox *anilox, const struct limits *limits,
                             struct remarks *remarks)
{
	return rule_loss(anilox, anilox->reading.now, "", limits, remarks);
}

enum suits volume_gain_suits(const struct anilox *anilox, const struct limits *limits,
                             struct remarks *remarks)
{
	if (!anilox->volume.known || !anilox->reading.now.known) {
		return SUITS_YES;
	}
	int64_t new = volume_to_micro(anilox->volume.value);
	wide gain = (wide)volume_to_micro(anilox->reading.now.value) - new;
	if (within_share(gain, limits->volume_loss, anilox->volume.value)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_DOUBTFUL,
	              "volume %s, %s when new: %.1f%% more, is the reading's unit right?",
	              volume_shown(anilox->reading.now.value, limits->units).bytes,
	              volume_shown(anilox->volume.value, limits->units).bytes,
	              100.0 * (double)gain / (double)new);
}

enum suits anilox_suits(const struct anilox *anilox, const struct station *station,
                        const struct layout *layout, const struct press *press,
                        const struct limits *limits, struct remarks *remarks)
{
	enum suits level = fit_suits(anilox->tool.fit, press->fit, remarks);
	level = suits_worse(level, rule_face(&anilox->tool, layout, limits->units, remarks));
	level = suits_worse(level, rule_screen(anilox, station, limits->units, remarks));
	level = suits_worse(level, doubt_screen_ratio(anilox, station, limits, remarks));
	level = suits_worse(level, rule_volume(anilox, station, layout, limits, remarks));
	level = suits_worse(level, note_never_read(anilox, station, remarks));
	return suits_worse(level, doubt_loss(anilox, layout, limits, remarks));
}

int64_t volume_deviation(const struct anilox *anilox, const struct station *station,
                         struct known_length run)
{
	struct known_volume volume = volume_at_end(anilox, run);
	if (!station->volume.known) {
		return 0;
	}
	int64_t asked = volume_to_micro(station->volume.value);
	if (!volume.known || asked <= 0) {
		return 1000;
	}
	wide difference = (wide)volume_to_micro(volume.value) - asked;
	if (difference < 0) {
		difference = -difference;
	}
	/* difference x 1000 / asked, half up */
	return (int64_t)((difference * 2000 + asked) / ((wide)asked * 2));
}
