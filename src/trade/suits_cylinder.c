/* Does a plate cylinder suit a station, and a gear a cylinder? One function a rule of the check. */
#include "pi.h"
#include "rules.h"

/* ---- length and pitch */

/* Registered: its length is the repeat; in one pitch class compared by teeth. */
static enum suits rule_length_is_repeat(const struct cylinder *cylinder,
                                        const struct layout *layout, const struct limits *limits,
                                        struct remarks *remarks)
{
	if (!cylinder->own.known) {
		return SUITS_NOT;
	}
	if (!layout->repeat.known) {
		return REMARK(remarks, SUITS_NOT, "repeat of the job not known");
	}
	if (!repeat_equal(cylinder->own, layout->repeat, limits->repeat_match)) {
		return REMARK(remarks, SUITS_NOT, "length %s, %s needed",
		              repeat_words(cylinder->own, limits->units).bytes,
		              repeat_words(layout->repeat, limits->units).bytes);
	}
	return SUITS_YES;
}

/* Registered, on a geared press: its pitch is the job's, since all cylinders turn in one train. */
static enum suits rule_pitch_is_jobs(const struct cylinder *cylinder, const struct layout *layout,
                                     struct remarks *remarks)
{
	if (!cylinder->own.known || !layout->repeat.known) {
		return SUITS_NOT;
	}
	if (!cylinder->own.toothed || !layout->repeat.toothed) {
		return REMARK(remarks, SUITS_NOT, "pitch of the %s not known",
		              cylinder->own.toothed ? "job" : "cylinder");
	}
	if (!pitch_equal(cylinder->own.pitch, layout->repeat.pitch)) {
		return REMARK(remarks, SUITS_NOT, "pitch %s, %s needed",
		              pitch_text(cylinder->own.pitch).bytes,
		              pitch_text(layout->repeat.pitch).bytes);
	}
	return SUITS_YES;
}

static enum suits rule_length(const struct cylinder *cylinder, const struct station *station,
                              const struct layout *layout, const struct press *press,
                              const struct limits *limits, struct remarks *remarks)
{
	enum suits level = rule_own_length(cylinder->own, remarks);
	if (!station->registered) {
		level = suits_worse(level, rule_press_repeat("length", cylinder->own, press, limits->units,
		                                             remarks));
		/* Of one with a gear of its own rule_train says it. */
		return press_is_geared(press) && cylinder->drive != DRIVE_GEARED
		           ? suits_worse(level, rule_train_pitch(cylinder->own, press, remarks))
		           : level;
	}
	level = suits_worse(level, rule_length_is_repeat(cylinder, layout, limits, remarks));
	if (press_is_geared(press)) {
		level = suits_worse(level, rule_pitch_is_jobs(cylinder, layout, remarks));
	}
	return level;
}

/* ---- drive */

enum suits rule_cylinder_driven(const struct cylinder *cylinder, const struct press *press,
                                struct remarks *remarks)
{
	switch (cylinder->drive) {
	case DRIVE_GEARED:
	case DRIVE_DEMOUNTABLE:
		return SUITS_YES;
	case DRIVE_GEARLESS:
		return REMARK(remarks, SUITS_NOT, "gearless, press %s is geared", press->code);
	case DRIVE_UNKNOWN:
		break;
	}
	return REMARK(remarks, SUITS_NOT, "drive not known, press %s is geared", press->code);
}

static enum suits rule_drive(const struct cylinder *cylinder, const struct press *press,
                             struct remarks *remarks)
{
	enum suits level = rule_press_drive(press, remarks);
	return press_is_geared(press)
	           ? suits_worse(level, rule_cylinder_driven(cylinder, press, remarks))
	           : level;
}

/* Its own gear meshes with the train; of a demountable one the loose gear is asked: see gear_suits.
 */
static enum suits rule_train(const struct cylinder *cylinder, const struct press *press,
                             struct remarks *remarks)
{
	if (!press_is_geared(press) || cylinder->drive != DRIVE_GEARED) {
		return SUITS_YES;
	}
	return rule_train_meshes(cylinder->own, cylinder->pressure_angle, cylinder->helix, press,
	                         remarks);
}

/* ---- build-up */

/* Plate and tape on it, on the radius. */
static struct length build_of(const struct station *station)
{
	return length_add(station->plate.value, station->tape.value);
}

static enum suits rule_measured_buildup(const struct cylinder *cylinder,
                                        const struct station *station, const struct limits *limits,
                                        struct remarks *remarks)
{
	/* abs(diameter/2 + plate + tape - own length/(2 pi)) <= buildup */
	struct real_length printed =
		real_times(printed_diameter(real_from_length(cylinder->diameter.value),
	                                station->plate.value, station->tape.value),
	               0.5L);
	struct real_length nominal = real_times(repeat_length(cylinder->own), 0.5L / PI);
	struct real_length error = real_subtract(printed, nominal);
	if (real_within(error, limits->buildup)) {
		return SUITS_YES;
	}
	struct real_length wanted =
		real_times(real_subtract(nominal, real_from_length(build_of(station))), 2);
	return REMARK(remarks, SUITS_NOT, "diameter %s, %s needed for plate %s and tape %s",
	              tooling_text(cylinder->diameter.value, limits->units).bytes,
	              real_text(wanted, &cylinder->diameter.value, limits->units).bytes,
	              tooling_text(station->plate.value, limits->units).bytes,
	              tooling_text(station->tape.value, limits->units).bytes);
}

static enum suits rule_undercut(const struct cylinder *cylinder, const struct station *station,
                                const struct limits *limits, struct remarks *remarks)
{
	struct length build = build_of(station);
	if (length_near(build, cylinder->undercut.value, limits->buildup)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOT, "undercut %s, plate and tape make %s",
	              tooling_text(cylinder->undercut.value, limits->units).bytes,
	              tooling_text(build, limits->units).bytes);
}

static enum suits rule_buildup(const struct cylinder *cylinder, const struct station *station,
                               const struct limits *limits, struct remarks *remarks)
{
	if (!cylinder->diameter.known && !cylinder->undercut.known) {
		return REMARK(remarks, SUITS_DOUBTFUL, "neither diameter nor undercut known");
	}
	if (!station->plate.known || !station->tape.known) {
		return REMARK(remarks, SUITS_NOT, "%s of station %lld not known",
		              station->plate.known ? "tape" : "plate", (long long)station->number);
	}
	if (!cylinder->diameter.known) {
		return rule_undercut(cylinder, station, limits, remarks);
	}
	return cylinder->own.known ? rule_measured_buildup(cylinder, station, limits, remarks)
	                           : SUITS_NOT;
}

static enum suits rule_runout(const struct cylinder *cylinder, const struct limits *limits,
                              struct remarks *remarks)
{
	if (!cylinder->runout.known) {
		return REMARK(remarks, SUITS_NOTED, "runout not known");
	}
	if (length_compare(cylinder->runout.value, limits->runout) > 0) {
		return REMARK(remarks, SUITS_NOT, "runout %s, %s at most",
		              tooling_text(cylinder->runout.value, limits->units).bytes,
		              tooling_text(limits->runout, limits->units).bytes);
	}
	return SUITS_YES;
}

enum suits runout_suits(const struct cylinder *cylinder, const struct limits *limits,
                        struct remarks *remarks)
{
	return rule_runout(cylinder, limits, remarks);
}

enum suits cylinder_suits(const struct cylinder *cylinder, const struct station *station,
                          const struct layout *layout, const struct press *press,
                          const struct limits *limits, struct remarks *remarks)
{
	enum suits level = fit_suits(cylinder->tool.fit, press->fit, remarks);
	level = suits_worse(level, rule_face(&cylinder->tool, layout, limits->units, remarks));
	level = suits_worse(level, rule_length(cylinder, station, layout, press, limits, remarks));
	level = suits_worse(level, rule_drive(cylinder, press, remarks));
	level = suits_worse(level, rule_train(cylinder, press, remarks));
	level = suits_worse(level, rule_buildup(cylinder, station, limits, remarks));
	return suits_worse(level, rule_runout(cylinder, limits, remarks));
}

bool cylinder_needs_gear(const struct cylinder *cylinder, const struct press *press)
{
	return press_is_geared(press) && cylinder->drive == DRIVE_DEMOUNTABLE;
}

bool printed_diameter_of(const struct cylinder *cylinder, const struct station *station,
                         struct real_length *out)
{
	if (!station->plate.known || !station->tape.known) {
		return false;
	}
	struct real_length bare;
	if (cylinder->diameter.known) {
		bare = real_from_length(cylinder->diameter.value);
	} else if (cylinder->undercut.known && cylinder->own.known) {
		bare = real_subtract(real_times(repeat_length(cylinder->own), 1 / PI),
		                     real_from_length(length_times(cylinder->undercut.value, 2)));
	} else {
		return false;
	}
	*out = printed_diameter(bare, station->plate.value, station->tape.value);
	return true;
}

/* ---- gears */

static enum suits rule_gear_is_cylinders(const struct gear *gear, const struct cylinder *cylinder,
                                         struct remarks *remarks)
{
	if (!gear->own.known || !cylinder->own.known || !cylinder->own.toothed) {
		return REMARK(remarks, SUITS_NOT, "teeth and pitch not known");
	}
	if (gear->own.teeth != cylinder->own.teeth ||
	    !pitch_equal(gear->own.pitch, cylinder->own.pitch)) {
		return REMARK(remarks, SUITS_NOT, "%lld teeth %s, %lld teeth %s needed",
		              (long long)gear->own.teeth, pitch_text(gear->own.pitch).bytes,
		              (long long)cylinder->own.teeth, pitch_text(cylinder->own.pitch).bytes);
	}
	return SUITS_YES;
}

static enum suits rule_bore(const struct gear *gear, const struct cylinder *cylinder,
                            const struct limits *limits, struct remarks *remarks)
{
	if (!gear->bore.known || !cylinder->bore.known ||
	    length_compare(gear->bore.value, cylinder->bore.value) == 0) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOT, "bore %s, %s of the cylinder",
	              tooling_text(gear->bore.value, limits->units).bytes,
	              tooling_text(cylinder->bore.value, limits->units).bytes);
}

enum suits gear_suits(const struct gear *gear, const struct cylinder *cylinder,
                      const struct press *press, const struct limits *limits,
                      struct remarks *remarks)
{
	static const char whose[] = "cylinder";
	enum suits level = rule_gear_is_cylinders(gear, cylinder, remarks);
	level = suits_worse(level, rule_angle("pressure angle", gear->pressure_angle, whose,
	                                      cylinder->pressure_angle, remarks));
	level = suits_worse(level, rule_angle("helix", gear->helix, whose, cylinder->helix, remarks));
	level = suits_worse(level, rule_bore(gear, cylinder, limits, remarks));
	if (press_is_geared(press)) {
		level = suits_worse(level, rule_train_meshes(gear->own, gear->pressure_angle, gear->helix,
		                                             press, remarks));
	}
	return level;
}
