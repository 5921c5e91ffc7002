/*
 * The queries for records of each kind. What is not asked of an attribute is NULL, and SQLite looks
 * at that once, not once a row; a blank is asked for by '', which stands for NULL in a column and
 * is no value of any.
 */
#include "select.h"

#define ASK(name, test) " AND (:" name " IS NULL OR " test ")"
/* A number, kept whole or as lines per cm: within bounds. */
#define RANGE_IN(column, name) \
	ASK(name, "COALESCE(" column ", '') BETWEEN :" name " AND :" name "_most")
#define RANGE(of, name) RANGE_IN(of "." name, name)
/* A word of a list, or the id of what is named: that one. */
#define SAME(of, name) ASK(name, "COALESCE(" of "." name ", '') = :" name)
/* What something is called: in either case. */
#define CALLED_IN(column, name) ASK(name, "COALESCE(" column ", '') = :" name " COLLATE NOCASE")
#define CALLED(of, name) CALLED_IN(of "." name, name)
#define WORDS(of, name) ASK(name, "words_hold(" of "." name ", :" name ")")
#define LIST(of, name) ASK(name, "list_holds(" of "." name ", :" name ")")
#define PITCHES(of, name) ASK(name, "pitches_hold(" of "." name ", :" name ")")
#define WHEN_IN(column, name) ASK(name, "falls_within(" column ", :" name ", :" name "_most)")
#define WHEN(of, name) WHEN_IN(of "." name, name)
/* A place, or one within it at any depth. */
#define WITHIN(of, name) \
	ASK(name, \
	    "COALESCE(" of "." name ", '') IN (WITH RECURSIVE inner_place (id) AS (SELECT :" name \
	    " UNION SELECT p.id FROM place p JOIN inner_place i ON p.within = i.id)" \
	    " SELECT id FROM inner_place)")

/* Every tool's. */
#define TOOL_ASKED \
	CALLED("t", "tag") \
	WORDS("t", "maker_serial") \
	CALLED_IN("(SELECT o.code FROM other_tag o WHERE o.tool = t.id)", "other_tag") \
	WORDS("t", "name") \
	LIST("t", "fit") \
	WITHIN("t", "place") \
	WITHIN("t", "home") \
	SAME("t", "condition") \
	WHEN("t", "back") \
	RANGE("t", "face") \
	RANGE("t", "face_from") \
	RANGE("t", "face_to") \
	RANGE("t", "weight") \
	RANGE("t", "cost") \
	WHEN("t", "acquired") \
	RANGE("t", "run") \
	WORDS("t", "note")

#define CYLINDER_ASKED \
	RANGE("k", "teeth") \
	PITCHES("k", "pitch") \
	SAME("k", "drive") \
	RANGE("k", "repeat") \
	RANGE("k", "undercut") \
	RANGE("k", "diameter") \
	RANGE("k", "runout") \
	RANGE("k", "bore") \
	RANGE("k", "pressure_angle") \
	RANGE("k", "helix") \
	SAME("k", "hand") \
	SAME("k", "carries")

#define GEAR_ASKED \
	RANGE("k", "teeth") \
	PITCHES("k", "pitch") \
	RANGE("k", "pressure_angle") \
	RANGE("k", "helix") \
	SAME("k", "hand") \
	RANGE("k", "bore")

#define ANILOX_ASKED \
	RANGE("k", "line_screen") \
	RANGE("k", "volume") \
	RANGE("k", "angle") \
	RANGE("k", "diameter") \
	SAME("k", "surface") \
	WHEN("k", "engraved")

#define BLADE_ASKED \
	RANGE("k", "length") \
	SAME("k", "material") \
	RANGE("k", "thickness") \
	SAME("k", "edge") \
	WHEN("k", "fitted") \
	RANGE("k", "life")

#define DIE_ASKED \
	SAME("k", "build") \
	SAME("k", "cut") \
	RANGE("k", "teeth") \
	PITCHES("k", "pitch") \
	RANGE("k", "number_across") \
	RANGE("k", "number_around") \
	RANGE("k", "label_across") \
	RANGE("k", "label_around") \
	RANGE("k", "gap_across") \
	RANGE("k", "gap_around") \
	RANGE("k", "corner") \
	SAME("k", "shape") \
	RANGE("k", "liner_caliper") \
	RANGE("k", "die_gap") \
	RANGE("k", "life")

#define MAGNETIC_CYLINDER_ASKED \
	RANGE("k", "teeth") \
	PITCHES("k", "pitch") \
	RANGE("k", "die_gap")

#define OPERATOR_ASKED \
	CALLED("k", "badge") \
	CALLED("k", "tag") \
	WORDS("k", "name") \
	SAME("k", "role") \
	RANGE("k", "retired")

#define PLACE_ASKED \
	CALLED("k", "code") \
	CALLED("k", "tag") \
	WORDS("k", "name") \
	WITHIN("k", "within") \
	SAME("k", "sort") \
	RANGE("k", "walk") \
	RANGE("k", "capacity") \
	LIST("k", "processes") \
	SAME("k", "condition") \
	WORDS("k", "note") \
	RANGE("k", "retired")

#define PRESS_ASKED \
	CALLED("k", "code") \
	CALLED("k", "tag") \
	WORDS("k", "name") \
	SAME("k", "drive") \
	RANGE("k", "web") \
	RANGE("k", "repeat_min") \
	RANGE("k", "repeat_max") \
	PITCHES("k", "pitches") \
	RANGE("k", "pressure_angle") \
	RANGE("k", "helix") \
	RANGE("k", "stations") \
	RANGE("k", "die_stations") \
	RANGE("k", "spacing") \
	LIST("k", "fit") \
	RANGE("k", "speed") \
	RANGE("k", "retired")

#define JOB_ASKED \
	CALLED("k", "number") \
	CALLED("k", "tag") \
	WORDS("k", "title") \
	SAME("k", "state") \
	ASK("press", "CASE WHEN :press = '' THEN NOT EXISTS (SELECT 1 FROM job_press jp" \
	             " WHERE jp.job = k.id) ELSE EXISTS (SELECT 1 FROM job_press jp" \
	             " WHERE jp.job = k.id AND jp.press = :press) END") \
	WHEN_IN("k.starts", "from") \
	WHEN_IN("k.ends", "until") \
	RANGE("k", "quantity") \
	RANGE("k", "label_across") \
	RANGE("k", "label_around") \
	RANGE("k", "corner") \
	SAME("k", "shape") \
	RANGE("k", "number_across") \
	RANGE("k", "gap_across") \
	RANGE("k", "gap_around_min") \
	RANGE("k", "gap_around_max") \
	RANGE("k", "trim") \
	RANGE("k", "web") \
	RANGE("k", "liner_caliper") \
	RANGE("k", "teeth") \
	PITCHES("k", "pitch") \
	RANGE("k", "repeat") \
	RANGE("k", "number_around")

#define STATION_ASKED \
	SAME("k", "job") \
	RANGE("k", "station") \
	WORDS("k", "ink") \
	SAME("k", "process") \
	RANGE("k", "register") \
	RANGE("k", "plate") \
	RANGE("k", "base") \
	RANGE("k", "tape") \
	SAME("k", "plates") \
	RANGE("k", "screen_min") \
	RANGE("k", "screen_max") \
	RANGE("k", "volume") \
	RANGE("k", "volume_tolerance") \
	RANGE("k", "plate_screen")

#define CUT_ASKED \
	SAME("k", "job") \
	RANGE("k", "cut") \
	SAME("k", "kind") \
	SAME("k", "die")

/*
 * Bounds of the three volumes across, each of its own, so that `6/7/6cm3/m2` finds that. One that
 * was taken back is of no life, and found by nothing.
 */
#define READING_ASKED \
	SAME("k", "tool") \
	RANGE("k", "moment") \
	RANGE("k", "volume") \
	ASK("across", \
	    "(COALESCE(k.left_volume, '') BETWEEN :across AND :across_most" \
	    " AND COALESCE(k.centre_volume, '') BETWEEN :across_centre AND :across_centre_most" \
	    " AND COALESCE(k.right_volume, '') BETWEEN :across_right AND :across_right_most)") \
	SAME("k", "method") \
	SAME("k", "after") \
	RANGE("k", "run") \
	" AND k.life > 0"

/* Two queries of one kind: the table `k`, what joins it, its key, what is asked, and the order. */
#define SELECT(name, words, table, join, key, code, asked, order) \
	STATEMENT(name##_all) = {words " asked for", \
	                         "SELECT k." key " FROM " table " k" join " WHERE TRUE" asked \
	                         " ORDER BY " order, \
	                         true}; \
	STATEMENT(name##_among) = {words " asked for among some", \
	                           "SELECT k." key " FROM found f CROSS JOIN " table " k" join \
	                           " WHERE f.row & 7 = " code " AND k." key " = f.row >> 3" asked \
	                           " ORDER BY " order, \
	                           false}
#define SELECT_TOOL(name, words, asked) \
	SELECT(name, words, #name, " CROSS JOIN tool t ON t.id = k.tool", "tool", "0", \
	       TOOL_ASKED asked, "t.tag")
#define SELECT_CALLED(name, words, code, asked, called) \
	SELECT(name, words, #name, "", "id", code, asked, "k." called " COLLATE NOCASE")

SELECT_TOOL(cylinder, "cylinders", CYLINDER_ASKED);
SELECT_TOOL(gear, "gears", GEAR_ASKED);
SELECT_TOOL(anilox, "rolls", ANILOX_ASKED);
SELECT_TOOL(blade, "blades", BLADE_ASKED);
SELECT_TOOL(die, "dies", DIE_ASKED);
SELECT_TOOL(magnetic_cylinder, "magnetic cylinders", MAGNETIC_CYLINDER_ASKED);
SELECT_CALLED(place, "places", "1", PLACE_ASKED, "code");
SELECT_CALLED(press, "presses", "2", PRESS_ASKED, "code");
SELECT_CALLED(job, "jobs", "3", JOB_ASKED, "number");
SELECT_CALLED(operator, "operators", "4", OPERATOR_ASKED, "badge");
SELECT(station, "stations", "station", " CROSS JOIN job j ON j.id = k.job", "id", "5",
       STATION_ASKED, "j.number COLLATE NOCASE, k.station");
SELECT(cut, "cuts", "cut", " CROSS JOIN job j ON j.id = k.job", "id", "6", CUT_ASKED,
       "j.number COLLATE NOCASE, k.cut");
SELECT(reading, "readings", "reading", " CROSS JOIN tool t ON t.id = k.tool", "id", "7",
       READING_ASKED, "t.tag, k.moment, k.id");

#define SQL_OF(name) \
	{ \
		&name##_all, &name##_among \
	}

const struct select_sql *select_sql_of(const struct kind *kind)
{
	static const struct select_sql of_kind[KIND_COUNT] = {
		[KIND_OPERATOR] = SQL_OF(operator), [KIND_PLACE] = SQL_OF(place),
		[KIND_PRESS] = SQL_OF(press),       [KIND_JOB] = SQL_OF(job),
		[KIND_CYLINDER] = SQL_OF(cylinder), [KIND_GEAR] = SQL_OF(gear),
		[KIND_ANILOX] = SQL_OF(anilox),     [KIND_BLADE] = SQL_OF(blade),
		[KIND_DIE] = SQL_OF(die),           [KIND_MAGNETIC_CYLINDER] = SQL_OF(magnetic_cylinder),
		[KIND_STATION] = SQL_OF(station),   [KIND_CUT] = SQL_OF(cut),
		[KIND_READING] = SQL_OF(reading),
	};
	return &of_kind[kind->id];
}

int64_t found_code(const struct kind *kind)
{
	static const int64_t codes[KIND_COUNT] = {
		[KIND_PLACE] = 1,   [KIND_PRESS] = 2, [KIND_JOB] = 3,     [KIND_OPERATOR] = 4,
		[KIND_STATION] = 5, [KIND_CUT] = 6,   [KIND_READING] = 7,
	};
	return kind->tool ? 0 : codes[kind->id];
}
