/* Does a die suit a cut, and a magnetic cylinder a die? One function a rule of the check. */
#include <math.h>

#include "rules.h"

/* ---- what it cuts */

static enum suits rule_cut(const struct die *die, const struct cut *cut, struct remarks *remarks)
{
	if (words_equal(die->cut, cut->kind)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOT, "cut %s, %s needed", die->cut ? die->cut : "not known",
	              cut->kind);
}

static enum suits rule_shape(const struct die *die, bool named, const struct layout *layout,
                             struct remarks *remarks)
{
	if (!layout->shape) {
		return SUITS_YES;
	}
	if (words_equal(layout->shape, "special") && !named) {
		return REMARK(remarks, SUITS_NOT, "shape special, cut only by a die that the job names");
	}
	if (!words_equal(die->shape, layout->shape)) {
		return REMARK(remarks, SUITS_NOT, "shape %s, %s needed",
		              die->shape ? die->shape : "not known", layout->shape);
	}
	return SUITS_YES;
}

/* A size of the die within die_match of the job's; what the job does not ask is not checked. */
static enum suits rule_size(const char *what, struct known_length own, struct known_length asked,
                            const struct limits *limits, enum suits where_not_known,
                            struct remarks *remarks)
{
	if (!asked.known) {
		return SUITS_YES;
	}
	if (!own.known) {
		return REMARK(remarks, where_not_known, "%s not known", what);
	}
	if (!length_near(own.value, asked.value, limits->die_match)) {
		return REMARK(remarks, SUITS_NOT, "%s %s, %s needed", what,
		              tooling_text(own.value, limits->units).bytes,
		              tooling_text(asked.value, limits->units).bytes);
	}
	return SUITS_YES;
}

static enum suits rule_label(const struct die *die, const struct layout *layout,
                             const struct limits *limits, struct remarks *remarks)
{
	bool one_across = layout->number_across.known && layout->number_across.value == 1;
	enum suits level = rule_size("label across", die->label_across, layout->label_across, limits,
	                             SUITS_NOT, remarks);
	level = suits_worse(level, rule_size("label around", die->label_around, layout->label_around,
	                                     limits, SUITS_NOT, remarks));
	if (!one_across) {
		level = suits_worse(level, rule_size("gap across", die->gap_across, layout->gap_across,
		                                     limits, SUITS_NOT, remarks));
	}
	if (!words_equal(layout->shape, "circle")) {
		level = suits_worse(level, rule_size("corner", die->corner, layout->corner, limits,
		                                     SUITS_NOTED, remarks));
	}
	return level;
}

static enum suits rule_number_across(const struct die *die, const struct layout *layout,
                                     struct remarks *remarks)
{
	if (!layout->number_across.known) {
		return SUITS_YES;
	}
	if (!die->number_across.known) {
		return REMARK(remarks, SUITS_NOT, "number across not known");
	}
	if (die->number_across.value != layout->number_across.value) {
		return REMARK(remarks, SUITS_NOT, "%lld across, %lld needed",
		              (long long)die->number_across.value, (long long)layout->number_across.value);
	}
	return SUITS_YES;
}

/* ---- its length */

static struct real_length share(struct repeat repeat, int64_t around)
{
	return real_times(repeat_length(repeat), 1.0L / (long double)around);
}

/* Length of web per label equal to the print's. */
static enum suits rule_length_per_label(const struct die *die, const struct layout *layout,
                                        const struct limits *limits, struct remarks *remarks)
{
	if (!die->own.known || !die->number_around.known || die->number_around.value < 1) {
		return REMARK(remarks, SUITS_NOT, "%s not known",
		              die->own.known ? "number around" : "teeth and pitch");
	}
	if (!layout->repeat.known || !layout->number_around.known || layout->number_around.value < 1) {
		return REMARK(remarks, SUITS_NOT, "%s of the job not known",
		              layout->repeat.known ? "number around" : "repeat");
	}
	if (repeat_shares_equal(die->own, die->number_around.value, layout->repeat,
	                        layout->number_around.value, limits->repeat_match)) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOT, "%s of web a label, %s needed",
	              real_text(share(die->own, die->number_around.value), NULL, limits->units).bytes,
	              real_text(share(layout->repeat, layout->number_around.value), NULL, limits->units)
	                  .bytes);
}

bool die_keeps_step(const struct die *die, const struct layout *layout, const struct limits *limits)
{
	return rule_length_per_label(die, layout, limits, NULL) != SUITS_NOT;
}

/* On a geared press it turns in the train too. */
static enum suits rule_press(const struct die *die, const struct press *press,
                             const struct limits *limits, struct remarks *remarks)
{
	enum suits level = rule_press_repeat("length", die->own, press, limits->units, remarks);
	level = suits_worse(level, rule_press_drive(press, remarks));
	if (press_is_geared(press)) {
		level = suits_worse(level, rule_train_pitch(die->own, press, remarks));
	}
	return level;
}

/* ---- liner and life */

static enum suits rule_liner(const struct die *die, const struct layout *layout,
                             const struct limits *limits, struct remarks *remarks)
{
	if (!layout->liner_caliper.known) {
		return SUITS_YES;
	}
	if (!die->liner_caliper.known) {
		return REMARK(remarks, SUITS_DOUBTFUL, "liner caliper not known");
	}
	if (!length_near(die->liner_caliper.value, layout->liner_caliper.value, limits->liner_match)) {
		return REMARK(remarks, SUITS_NOT, "made for a liner of %s, %s needed",
		              tooling_text(die->liner_caliper.value, limits->units).bytes,
		              tooling_text(layout->liner_caliper.value, limits->units).bytes);
	}
	return SUITS_YES;
}

/* life - run/own length >= run_m/own length; `run` not known counts 0 */
static enum suits rule_life(const struct die *die, const struct layout *layout,
                            const struct limits *limits, struct remarks *remarks)
{
	if (!die->life.known) {
		return REMARK(remarks, SUITS_NOTED, "life not known");
	}
	/* Of a job without a quantity nobody asks how long it runs. */
	if (!die->own.known || !layout->run.known) {
		return SUITS_YES;
	}
	struct real_length own = repeat_length(die->own);
	struct length run = die->tool.run.known ? die->tool.run.value : length_from_nm(0);
	struct real_length whole = real_times(own, (long double)die->life.value);
	struct real_length used = real_add(real_from_length(run), real_from_length(layout->run.value));
	/* The run was rounded to whole nanometres: what is at the limit but for that is at it. */
	if (real_at_most(used, real_add(whole, (struct real_length){.nm = 0.5L}))) {
		return SUITS_YES;
	}
	/* Whole revolutions: what a division leaves behind the point of a whole number is not shown. */
	const double dust = 1e-9;
	int64_t left = 0;
	die_life_left(die, &left);
	double takes = ceil(length_to_mm(layout->run.value) / real_to_mm(own) - dust);
	if (left < 0) {
		return REMARK(remarks, life_over_level(limits),
		              "%lld revolutions past its life of %lld, the run takes %.0f",
		              -(long long)left, (long long)die->life.value, takes);
	}
	return REMARK(remarks, life_over_level(limits),
	              "life left %lld revolutions, the run takes %.0f", (long long)left, takes);
}

enum suits die_suits(const struct die *die, const struct cut *cut, bool named,
                     const struct layout *layout, const struct press *press,
                     const struct limits *limits, struct remarks *remarks)
{
	enum suits level = rule_cut(die, cut, remarks);
	level = suits_worse(level, rule_shape(die, named, layout, remarks));
	level = suits_worse(level, rule_number_across(die, layout, remarks));
	level = suits_worse(level, rule_label(die, layout, limits, remarks));
	level = suits_worse(level, rule_length_per_label(die, layout, limits, remarks));
	level = suits_worse(level, fit_suits(die->tool.fit, press->fit, remarks));
	level = suits_worse(level, rule_face(&die->tool, layout, limits->units, remarks));
	level = suits_worse(level, rule_press(die, press, limits, remarks));
	level = suits_worse(level, rule_liner(die, layout, limits, remarks));
	return suits_worse(level, rule_life(die, layout, limits, remarks));
}

/* ---- magnetic cylinders */

static enum suits rule_teeth_of_die(const struct magnetic_cylinder *cylinder, const struct die *die,
                                    struct remarks *remarks)
{
	if (!cylinder->own.known || !die->own.known) {
		return REMARK(remarks, SUITS_NOT, "teeth and pitch not known");
	}
	if (cylinder->own.teeth != die->own.teeth ||
	    !pitch_equal(cylinder->own.pitch, die->own.pitch)) {
		return REMARK(remarks, SUITS_NOT, "%lld teeth %s, %lld teeth %s needed",
		              (long long)cylinder->own.teeth, pitch_text(cylinder->own.pitch).bytes,
		              (long long)die->own.teeth, pitch_text(die->own.pitch).bytes);
	}
	return SUITS_YES;
}

/* Whole micrometres, half up. */
static int64_t micrometres(struct length length)
{
	return (length_to_nm(length) + 500) / 1000;
}

/* 3 um too much or too little spoils the cut ("Small gap - big effect", NarrowWebTech). */
static enum suits rule_die_gap(const struct magnetic_cylinder *cylinder, const struct die *die,
                               struct remarks *remarks)
{
	if (!cylinder->die_gap.known || !die->die_gap.known) {
		return REMARK(remarks, SUITS_NOT, "gap %s not known",
		              cylinder->die_gap.known ? "of the die" : "of the magnetic cylinder");
	}
	if (micrometres(cylinder->die_gap.value) != micrometres(die->die_gap.value)) {
		return REMARK(remarks, SUITS_NOT, "gap %lldum, the die is made for %lldum",
		              (long long)micrometres(cylinder->die_gap.value),
		              (long long)micrometres(die->die_gap.value));
	}
	return SUITS_YES;
}

static enum suits rule_face_of_die(const struct magnetic_cylinder *cylinder, const struct die *die,
                                   const struct limits *limits, struct remarks *remarks)
{
	struct known_length own = usable_face(&cylinder->tool), wanted = usable_face(&die->tool);
	if (!own.known || !wanted.known) {
		return REMARK(remarks, SUITS_NOT, "face %s not known",
		              own.known ? "of the die" : "of the magnetic cylinder");
	}
	if (length_compare(own.value, wanted.value) < 0) {
		return REMARK(remarks, SUITS_NOT, "face %s, the die has %s",
		              tooling_text(own.value, limits->units).bytes,
		              tooling_text(wanted.value, limits->units).bytes);
	}
	return SUITS_YES;
}

enum suits magnetic_cylinder_suits(const struct magnetic_cylinder *cylinder, const struct die *die,
                                   const struct press *press, const struct limits *limits,
                                   struct remarks *remarks)
{
	enum suits level = rule_teeth_of_die(cylinder, die, remarks);
	level = suits_worse(level, rule_die_gap(cylinder, die, remarks));
	level = suits_worse(level, rule_face_of_die(cylinder, die, limits, remarks));
	return suits_worse(level, fit_suits(cylinder->tool.fit, press->fit, remarks));
}
