/* The needs of the job itself: its web, its repeat, its plates. */
#include "rules.h"

/* ---- web */

static enum suits rule_web_needed(const struct layout *layout, const struct limits *limits,
                                  struct remarks *remarks)
{
	if (!layout->web.known || length_compare(layout->web.value, layout->web_needed.value) >= 0) {
		return SUITS_YES;
	}
	return REMARK(remarks, SUITS_NOT, "stock %s, %s needed",
	              tooling_text(layout->web.value, limits->units).bytes,
	              tooling_text(layout->web_needed.value, limits->units).bytes);
}

static enum suits rule_web_of_press(const struct layout *layout, const struct press *press,
                                    const struct limits *limits, struct remarks *remarks)
{
	struct length web = layout->web.known ? layout->web.value : layout->web_needed.value;
	if (!press->web.known) {
		return REMARK(remarks, SUITS_NOT, "web of press %s not known", press->code);
	}
	if (length_compare(web, press->web.value) > 0) {
		return REMARK(remarks, SUITS_NOT, "web %s, press %s takes %s at most",
		              tooling_text(web, limits->units).bytes, press->code,
		              tooling_text(press->web.value, limits->units).bytes);
	}
	return SUITS_YES;
}

/* Which figure of the layout is missing. */
static const char *web_unknown(const struct layout *layout)
{
	if (!layout->label_across.known) {
		return "label_across";
	}
	if (!layout->number_across.known) {
		return "number_across";
	}
	return layout->trim.known ? "gap_across" : "trim";
}

enum suits web_suits(const struct layout *layout, const struct press *press,
                     const struct limits *limits, struct remarks *remarks)
{
	if (!layout->web_needed.known) {
		return REMARK(remarks, SUITS_NOT, "web needed not known: %s is not on record",
		              web_unknown(layout));
	}
	enum suits level = rule_web_needed(layout, limits, remarks);
	return suits_worse(level, rule_web_of_press(layout, press, limits, remarks));
}

/* ---- repeat */

static enum suits rule_gap_around(const struct layout *layout, const struct limits *limits,
                                  struct remarks *remarks)
{
	bool asked = layout->gap_around_min.known || layout->gap_around_max.known;
	if (layout->number_around.known && !layout->label_around.known && !asked) {
		return SUITS_YES; /* no gap is asked, and none can be worked out */
	}
	if (!layout->number_around.known || !layout->label_around.known) {
		return REMARK(remarks, SUITS_NOT, "gap around not known: %s is not on record",
		              layout->label_around.known ? "number_around" : "label_around");
	}
	const struct length *least =
		layout->gap_around_min.known ? &layout->gap_around_min.value : NULL;
	const struct length *most = layout->gap_around_max.known ? &layout->gap_around_max.value : NULL;
	int64_t around = layout->number_around.value;
	if (gap_around_within(layout->repeat, around, layout->label_around.value, least, most)) {
		return SUITS_YES;
	}
	struct real_length gap = gap_around(layout->repeat, around, layout->label_around.value);
	bool overlap = !real_at_most(real_from_length(length_from_nm(0)), gap);
	bool short_of = least && !real_at_most(real_from_length(*least), gap);
	const struct length *limit = short_of ? least : most;
	if (!limit || (overlap && !short_of)) {
		return REMARK(remarks, SUITS_NOT, "gap around %s, the labels overlap",
		              real_text(gap, NULL, limits->units).bytes);
	}
	return REMARK(remarks, SUITS_NOT, "gap around %s, %s at %s",
	              real_text(gap, limit, limits->units).bytes,
	              tooling_text(*limit, limits->units).bytes, short_of ? "least" : "most");
}

enum suits repeat_suits(const struct layout *layout, const struct press *press,
                        const struct limits *limits, struct remarks *remarks)
{
	if (!layout->repeat.known) {
		return REMARK(remarks, SUITS_NOT, "repeat not known");
	}
	enum suits level = rule_gap_around(layout, limits, remarks);
	level = suits_worse(level,
	                    rule_press_repeat("repeat", layout->repeat, press, limits->units, remarks));
	level = suits_worse(level, rule_press_drive(press, remarks));
	if (press_is_geared(press)) {
		level = suits_worse(level, rule_train_pitch(layout->repeat, press, remarks));
	}
	return level;
}

/* ---- plates */

enum suits plates_suit(const struct station *station, struct remarks *remarks)
{
	if (!station->plates) {
		return REMARK(remarks, SUITS_NOTED, "plates not on record");
	}
	if (!words_equal(station->plates, "ready")) {
		return REMARK(remarks, SUITS_DOUBTFUL, "plates %s", station->plates);
	}
	return SUITS_YES;
}
