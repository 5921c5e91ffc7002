/* The answer of a check as data: the JSON of the specification, and rows for CSV. */
#include <inttypes.h>
#include <string.h>

#include "answer.h"
#include "check_answer.h"

const char *verdict_word(enum verdict verdict)
{
	switch (verdict) {
	case VERDICT_READY:
		return "ready";
	case VERDICT_CAUTION:
		return "caution";
	case VERDICT_SHORT:
		break;
	}
	return "short";
}

enum answer_mark verdict_mark(enum verdict verdict)
{
	switch (verdict) {
	case VERDICT_READY:
		return MARK_GOOD;
	case VERDICT_CAUTION:
		return MARK_CAUTION;
	case VERDICT_SHORT:
		break;
	}
	return MARK_BAD;
}

const char *level_word(enum finding_level level)
{
	switch (level) {
	case FINDING_NOTE:
		return "note";
	case FINDING_CAUTION:
		return "caution";
	case FINDING_SHORT:
		break;
	}
	return "short";
}

/* ---------------------------------------------------------------- members that may be null */

static void tag_write(struct answer *answer, const char *key, const struct chosen *chosen)
{
	answer_word(answer, key, chosen->known ? tag_shown(chosen->tag).bytes : NULL);
}

static void count_write(struct answer *answer, const char *key, struct known_count count)
{
	if (count.known) {
		answer_count(answer, key, count.value);
	} else {
		answer_null(answer, key);
	}
}

/* 0 stands for none. */
static void number_write(struct answer *answer, const char *key, int64_t number)
{
	count_write(answer, key, (struct known_count){number != 0, number});
}

static void figure_write(struct answer *answer, const char *key, bool known, double figure,
                         int decimals)
{
	if (known) {
		answer_number(answer, key, figure, decimals);
	} else {
		answer_null(answer, key);
	}
}

static void moment_write(struct answer *answer, const char *key, struct known_moment moment)
{
	if (moment.known) {
		answer_moment(answer, key, moment.value);
	} else {
		answer_null(answer, key);
	}
}

static void tags_write(struct answer *answer, const struct tag *tags, size_t count)
{
	answer_array_open(answer, "tools");
	for (size_t i = 0; i < count; i++) {
		answer_word(answer, NULL, tag_shown(tags[i]).bytes);
	}
	answer_array_close(answer);
}

static void teeth_write(struct answer *answer, struct repeat repeat)
{
	bool toothed = repeat.known && repeat.toothed;
	count_write(answer, "teeth", (struct known_count){toothed, repeat.teeth});
	answer_word(answer, "pitch", toothed ? pitch_text(repeat.pitch).bytes : NULL);
}

void repeat_write(struct answer *answer, struct repeat repeat)
{
	teeth_write(answer, repeat);
	figure_write(answer, "repeat_mm", repeat.known,
	             repeat.known ? real_to_mm(repeat_length(repeat)) : 0.0, 3);
}

/* ---------------------------------------------------------------- JSON */

static void layout_write(struct answer *answer, const struct check *check)
{
	repeat_write(answer, check->repeat);
	count_write(answer, "number_around", check->number_around);
	count_write(answer, "number_across", check->number_across);
	figure_write(answer, "gap_around_mm", check->gap_known, real_to_mm(check->gap_around), 3);
	figure_write(answer, "web_needed_mm", check->web_needed.known,
	             length_to_mm(check->web_needed.value), 3);
	figure_write(answer, "printed_width_mm", check->printed_width.known,
	             length_to_mm(check->printed_width.value), 3);
	figure_write(answer, "run_m", check->run.known, length_to_m(check->run.value), 1);
	figure_write(answer, "waste_percent", check->waste_known, 100.0 * check->waste, 1);
}

static void station_write(struct answer *answer, const struct station_answer *station)
{
	answer_object_open(answer, NULL);
	answer_count(answer, "station", station->station);
	answer_word(answer, "ink", station->ink);
	answer_word(answer, "process", station->process);
	tag_write(answer, "cylinder", &station->cylinder);
	tag_write(answer, "gear", &station->gear);
	tag_write(answer, "anilox", &station->anilox);
	tag_write(answer, "blade", &station->blade);
	figure_write(answer, "volume_cm3_m2", station->volume.known,
	             volume_to_cm3_m2(station->volume.value), 2);
	figure_write(answer, "factor_percent", station->factor_known, station->factor_percent, 2);
	figure_write(answer, "flat_length_mm", station->factor_known, real_to_mm(station->flat_length),
	             3);
	figure_write(answer, "buildup_error_mm", station->buildup_known,
	             real_to_mm(station->buildup_error), 3);
	answer_word(answer, "plates", station->plates);
	answer_object_close(answer);
}

static void finding_write(struct answer *answer, const struct finding *finding)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "need", finding->need);
	number_write(answer, "station", finding->station);
	number_write(answer, "cut", finding->cut);
	answer_word(answer, "level", level_word(finding->level));
	answer_count(answer, "wanted", finding->wanted);
	answer_count(answer, "have", finding->have);
	tags_write(answer, finding->tools, finding->tool_count);
	answer_array_open(answer, "stations");
	for (size_t i = 0; i < finding->station_count; i++) {
		answer_count(answer, NULL, finding->stations[i]);
	}
	answer_array_close(answer);
	moment_write(answer, "until", finding->until);
	answer_word(answer, "text", finding->text);
	answer_object_close(answer);
}

static void cure_write(struct answer *answer, const struct cure *cure)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "kind", cure->kind);
	answer_word(answer, "press", cure->press);
	teeth_write(answer, cure->repeat);
	count_write(answer, "number_around", cure->number_around);
	tags_write(answer, cure->tools, cure->tool_count);
	moment_write(answer, "from", cure->from);
	answer_word(answer, "text", cure->text);
	answer_object_close(answer);
}

static void head_write(struct answer *answer, const struct check *check)
{
	answer_word(answer, "job", check->job);
	answer_word(answer, "press", check->press);
	answer_moment(answer, "from", check->from);
	answer_moment(answer, "until", check->until);
	answer_word(answer, "verdict", verdict_word(check->verdict));
}

void check_findings_write(struct answer *answer, const struct check *check)
{
	answer_array_open(answer, "findings");
	for (size_t i = 0; i < check->finding_count; i++) {
		finding_write(answer, &check->findings[i]);
	}
	answer_array_close(answer);
}

static void lists_write(struct answer *answer, const struct check *check)
{
	answer_array_open(answer, "stations");
	for (size_t i = 0; i < check->station_count; i++) {
		station_write(answer, &check->stations[i]);
	}
	answer_array_close(answer);
	answer_array_open(answer, "cuts");
	for (size_t i = 0; i < check->cut_count; i++) {
		answer_object_open(answer, NULL);
		answer_count(answer, "cut", check->cuts[i].cut);
		tag_write(answer, "die", &check->cuts[i].die);
		tag_write(answer, "magnetic_cylinder", &check->cuts[i].magnetic_cylinder);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	check_findings_write(answer, check);
	answer_array_open(answer, "cures");
	for (size_t i = 0; i < check->cure_count; i++) {
		cure_write(answer, &check->cures[i]);
	}
	answer_array_close(answer);
}

static const char *plates_word(enum combination_plates plates)
{
	switch (plates) {
	case PLATES_KEPT:
		return "kept";
	case PLATES_NEW:
		return "new";
	case PLATES_FIRST:
		break;
	}
	return "first";
}

static void combinations_write(struct answer *answer, const struct check *check)
{
	answer_array_open(answer, "combinations");
	for (size_t i = 0; i < check->combination_count; i++) {
		const struct combination *combination = &check->combinations[i];
		answer_object_open(answer, NULL);
		answer_word(answer, "press", combination->press);
		repeat_write(answer, combination->repeat);
		answer_count(answer, "number_around", combination->number_around);
		answer_word(answer, "verdict", verdict_word(combination->verdict));
		answer_count(answer, "unmet", (int64_t)combination->unmet);
		figure_write(answer, "waste_percent", combination->waste_known, 100.0 * combination->waste,
		             1);
		answer_number(answer, "plate_area_cm2", combination->plate_area_cm2, 1);
		answer_word(answer, "plates", plates_word(combination->plates));
		answer_count(answer, "plate_count", (int64_t)combination->plate_count);
		answer_word(answer, "text", combination->text);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void json_write(struct answer *answer, const struct check *check, bool first)
{
	answer_object_open(answer, NULL);
	head_write(answer, check);
	layout_write(answer, check);
	lists_write(answer, check);
	if (first) {
		answer_array_open(answer, "others");
		for (size_t i = 0; i < check->other_count; i++) {
			json_write(answer, &check->others[i], false);
		}
		answer_array_close(answer);
		combinations_write(answer, check);
	}
	answer_object_close(answer);
}

/* ---------------------------------------------------------------- CSV */

/* One row: a finding beside what it is found of. `finding` may be NULL. */
static void row_write(struct call *call, const struct check *check, const struct finding *finding)
{
	static const struct finding none = {0};
	struct answer *answer = call->answer;
	struct text tools = text_start(call->arena);
	struct text stations = text_start(call->arena);
	bool found = finding != NULL;
	finding = found ? finding : &none;
	for (size_t i = 0; i < finding->tool_count; i++) {
		text_join(&tools, ",", tag_shown(finding->tools[i]).bytes);
	}
	for (size_t i = 0; i < finding->station_count; i++) {
		text_join(&stations, ",", "");
		text_add_format(&stations, "%" PRId64, finding->stations[i]);
	}
	answer_object_open(answer, NULL);
	head_write(answer, check);
	answer_word(answer, "need", finding->need);
	number_write(answer, "station", finding->station);
	number_write(answer, "cut", finding->cut);
	answer_word(answer, "level", found ? level_word(finding->level) : NULL);
	count_write(answer, "wanted", (struct known_count){found, finding->wanted});
	count_write(answer, "have", (struct known_count){found, finding->have});
	answer_word(answer, "tools", tools.bytes);
	answer_word(answer, "stations", stations.bytes);
	answer_word(answer, "text", finding->text);
	answer_object_close(answer);
}

static void rows_write(struct call *call, const struct check *check)
{
	if (check->finding_count == 0) {
		row_write(call, check, NULL);
	}
	for (size_t i = 0; i < check->finding_count; i++) {
		row_write(call, check, &check->findings[i]);
	}
}

void check_write(struct call *call, const struct check *check)
{
	if (answer_form(call->answer) != FORM_CSV) {
		json_write(call->answer, check, true);
		return;
	}
	answer_array_open(call->answer, NULL);
	rows_write(call, check);
	for (size_t i = 0; i < check->other_count; i++) {
		rows_write(call, &check->others[i]);
	}
	answer_array_close(call->answer);
}

const char *check_as_json(struct arena *arena, const struct check *check, void *context)
{
	struct answer *answer = answer_new(arena, FORM_JSON, UNITS_METRIC);
	(void)context;
	json_write(answer, check, true);
	char *json = arena_copy(arena, answer_finish(answer));
	json[strcspn(json, "\n")] = '\0';
	return json;
}
