/*
 * Could a press take a tool, whatever the job? The rules of the check that ask nothing of a job.
 * What is not known is a doubt here: somebody stands at the press and can look.
 */
#include "rules.h"

/* A rule's remarks, as a doubt where what it asks is not known. */
static enum suits known_or_doubt(bool known, enum suits level, const struct remarks *said,
                                 struct remarks *remarks)
{
	enum suits become = !known && level == SUITS_NOT ? SUITS_DOUBTFUL : level;
	for (size_t i = 0; remarks && i < said->count; i++) {
		remark_add(remarks, SUITS_YES, become, "%s", said->items[i].text);
	}
	return become;
}

static enum suits rule_fit(const struct tool *tool, const struct press *press,
                           struct remarks *remarks)
{
	if (fit_suits(tool->fit, press->fit, NULL) != SUITS_NOT) {
		return SUITS_YES;
	}
	if (!tool->fit) {
		return REMARK(remarks, SUITS_DOUBTFUL, "fit not known, %s takes %s", press->code,
		              press->fit);
	}
	return REMARK(remarks, SUITS_NOT, "fit %s, %s takes %s", tool->fit, press->code, press->fit);
}

/* Between the shortest and the longest repeat of the press. */
static enum suits rule_length(struct repeat own, const struct press *press, enum units units,
                              struct remarks *remarks)
{
	struct remarks said = {.count = 0};
	if (!own.known) {
		return known_or_doubt(false, rule_own_length(own, &said), &said, remarks);
	}
	enum suits level = rule_press_repeat_least("length", own, press, units, &said);
	level = known_or_doubt(press->repeat_min.known, level, &said, remarks);
	said.count = 0;
	enum suits most = rule_press_repeat_most("length", own, press, units, &said);
	return suits_worse(level, known_or_doubt(press->repeat_max.known, most, &said, remarks));
}

/* Of a press of which nobody knows how it is driven nothing more is asked. */
static enum suits rule_drive_known(const struct press *press, struct remarks *remarks)
{
	struct remarks said = {.count = 0};
	return known_or_doubt(press->drive_known, rule_press_drive(press, &said), &said, remarks);
}

/* Its pitch is one of the gear train's. A length without teeth has no pitch. */
static enum suits rule_pitch(struct repeat own, const struct press *press, struct remarks *remarks)
{
	struct remarks said = {.count = 0};
	if (!own.known || !press_is_geared(press)) {
		return SUITS_YES; /* that it is not known was said */
	}
	return known_or_doubt(own.toothed && press->pitch_count > 0,
	                      rule_train_pitch(own, press, &said), &said, remarks);
}

static enum suits rule_angles(struct known_angle pressure_angle, struct known_angle helix,
                              const struct press *press, struct remarks *remarks)
{
	static const char train[] = "gear train";
	return suits_worse(rule_angle("pressure angle", pressure_angle, train, press->pressure_angle,
	                              remarks),
	                   rule_angle("helix", helix, train, press->helix, remarks));
}

static enum suits rule_cylinder_drive(const struct cylinder *cylinder, const struct press *press,
                                      struct remarks *remarks)
{
	struct remarks said = {.count = 0};
	enum suits level = rule_drive_known(press, remarks);
	if (!press_is_geared(press)) {
		return level;
	}
	level = rule_cylinder_driven(cylinder, press, &said);
	level = known_or_doubt(cylinder->drive != DRIVE_UNKNOWN, level, &said, remarks);
	if (cylinder->drive == DRIVE_GEARED) {
		level = suits_worse(level,
		                    rule_angles(cylinder->pressure_angle, cylinder->helix, press, remarks));
	}
	return cylinder->drive == DRIVE_GEARLESS
	           ? level
	           : suits_worse(level, rule_pitch(cylinder->own, press, remarks));
}

enum suits press_takes_cylinder(const struct cylinder *cylinder, const struct press *press,
                                const struct limits *limits, struct remarks *remarks)
{
	enum suits level = rule_fit(&cylinder->tool, press, remarks);
	level = suits_worse(level, rule_length(cylinder->own, press, limits->units, remarks));
	return suits_worse(level, rule_cylinder_drive(cylinder, press, remarks));
}

enum suits press_takes_gear(const struct gear *gear, const struct press *press,
                            struct remarks *remarks)
{
	enum suits level = rule_drive_known(press, remarks);
	if (press->drive_known && !press->geared) {
		return REMARK(remarks, SUITS_NOT,
		              "press %s has a motor for each cylinder, it takes no gear", press->code);
	}
	if (!press_is_geared(press)) {
		return level;
	}
	if (!gear->own.known) {
		level = REMARK(remarks, SUITS_DOUBTFUL, "teeth and pitch not known");
	}
	level = suits_worse(level, rule_pitch(gear->own, press, remarks));
	return suits_worse(level, rule_angles(gear->pressure_angle, gear->helix, press, remarks));
}

enum suits press_takes_die(const struct tool *tool, struct repeat own, const struct press *press,
                           const struct limits *limits, struct remarks *remarks)
{
	enum suits level = rule_fit(tool, press, remarks);
	level = suits_worse(level, rule_length(own, press, limits->units, remarks));
	level = suits_worse(level, rule_drive_known(press, remarks));
	return suits_worse(level, rule_pitch(own, press, remarks));
}

enum suits press_takes_fit(const struct tool *tool, const struct press *press,
                           struct remarks *remarks)
{
	return rule_fit(tool, press, remarks);
}
