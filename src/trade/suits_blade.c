/* Does a doctor blade assembly suit the roll it would doctor? */
#include "rules.h"

/* The blade spans the whole face of the roll, whatever part of it is damaged. */
static enum suits rule_length(const struct blade *blade, const struct anilox *anilox,
                              const struct limits *limits, struct remarks *remarks)
{
	if (!blade->length.known) {
		return REMARK(remarks, SUITS_NOT, "length not known");
	}
	if (!anilox->tool.face.known) {
		return REMARK(remarks, SUITS_NOT, "face of the roll not known");
	}
	if (!length_near(blade->length.value, anilox->tool.face.value, limits->blade_length_match)) {
		return REMARK(remarks, SUITS_NOT, "length %s, %s +/-%s needed",
		              tooling_text(blade->length.value, limits->units).bytes,
		              tooling_text(anilox->tool.face.value, limits->units).bytes,
		              tooling_text(limits->blade_length_match, limits->units).bytes);
	}
	return SUITS_YES;
}

/* life - run >= run_m; `run` not known counts 0 */
static enum suits rule_life(const struct blade *blade, const struct layout *layout,
                            const struct limits *limits, struct remarks *remarks)
{
	struct known_length left = blade_life_left(blade);
	if (!left.known) {
		return REMARK(remarks, SUITS_NOTED, "life not known");
	}
	/* Of a job without a quantity nobody asks how long it runs. */
	if (!layout->run.known) {
		return SUITS_YES;
	}
	if (length_compare(left.value, layout->run.value) >= 0) {
		return SUITS_YES;
	}
	if (length_compare(left.value, length_from_nm(0)) < 0) {
		return REMARK(remarks, life_over_level(limits), "%s past its life of %s, the run is %s",
		              run_text(length_subtract(length_from_nm(0), left.value), limits->units).bytes,
		              run_text(blade->life.value, limits->units).bytes,
		              run_text(layout->run.value, limits->units).bytes);
	}
	return REMARK(remarks, life_over_level(limits), "life left %s, the run is %s",
	              run_text(left.value, limits->units).bytes,
	              run_text(layout->run.value, limits->units).bytes);
}

enum suits blade_suits(const struct blade *blade, const struct anilox *anilox,
                       const struct layout *layout, const struct press *press,
                       const struct limits *limits, struct remarks *remarks)
{
	enum suits level = fit_suits(blade->tool.fit, press->fit, remarks);
	level = suits_worse(level, rule_length(blade, anilox, limits, remarks));
	return suits_worse(level, rule_life(blade, layout, limits, remarks));
}
