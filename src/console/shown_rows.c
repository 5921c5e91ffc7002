/* What belongs to a record that is shown: stations, cuts, readings, the tools that lie there. */
#include <string.h>

#include "shown.h"

/* The attribute that names a row: station 3, cut 1, the moment of a reading. */
static size_t row_name(const struct record *row)
{
	if (row->kind->id == KIND_READING) {
		return kind_attribute_find(row->kind, "moment");
	}
	return kind_attribute_find(row->kind, row->kind->name);
}

/* What is known of a row but what names it and what goes without saying. */
static const char *row_said(struct call *call, const struct record *row, size_t name)
{
	struct text text = text_start(call->arena);
	for (size_t i = 0; i < kind_attribute_count(row->kind); i++) {
		const struct attribute *attribute = kind_attribute(row->kind, i);
		const char *value = value_text(call->arena, &row->values[i], call->units);
		bool said = i != name && row->values[i].known && attribute->reference != REFER_JOB &&
		            attribute->reference != REFER_ANILOX;
		if (said && (attribute->fallback == NULL || strcmp(attribute->fallback, value) != 0)) {
			text_join(&text, ", ", attribute->name);
			text_add_format(&text, " %s", value);
		}
	}
	return text.bytes;
}

/* ---------------------------------------------------------------- stations of a job */

/* Adds `before VALUE behind`, where the attribute is known. */
static void part_add(struct call *call, struct text *text, const struct record *row,
                     const char *attribute, const char *before, const char *behind)
{
	const struct value *value = record_known(row, attribute);
	if (value != NULL) {
		text_join(text, ", ", before);
		text_add_format(text, "%s%s", value_text(call->arena, value, call->units), behind);
	}
}

/* `opaque white, flexo, plates ready` */
static const char *printed_there(struct call *call, const struct record *row)
{
	struct text text = text_start(call->arena);
	const struct value *registered = record_known(row, "register");
	part_add(call, &text, row, "ink", "", "");
	part_add(call, &text, row, "process", "", "");
	if (registered != NULL && !registered->yes) {
		text_join(&text, ", ", "not in register");
	}
	part_add(call, &text, row, "plates", "plates ", "");
	return text.bytes;
}

/* `plate 1.7mm, base 0.127mm, tape 0.38mm, 59.055/cm on the plate` */
static const char *mounted_there(struct call *call, const struct record *row)
{
	struct text text = text_start(call->arena);
	part_add(call, &text, row, "plate", "plate ", "");
	part_add(call, &text, row, "base", "base ", "");
	part_add(call, &text, row, "tape", "tape ", "");
	part_add(call, &text, row, "plate_screen", "", " on the plate");
	return text.bytes;
}

/* `anilox 14.26cm3/m2, 70.866/cm at least, 98.425/cm at most` */
static const char *anilox_there(struct call *call, const struct record *row)
{
	struct text text = text_start(call->arena);
	part_add(call, &text, row, "volume", "", "");
	part_add(call, &text, row, "volume_tolerance", "+/-", "");
	part_add(call, &text, row, "screen_min", "", " at least");
	part_add(call, &text, row, "screen_max", "", " at most");
	return text.length > 0 ? arena_format(call->arena, "anilox %s", text.bytes) : "";
}

/* Three short lines a station: what is printed, what is mounted, which roll. */
static void job_station_say(struct call *call, const struct record *row, const char *name)
{
	const char *const lines[] = {printed_there(call, row), mounted_there(call, row),
	                             anilox_there(call, row)};
	for (size_t i = 0; i < COUNT_OF(lines); i++) {
		const char *cells[] = {i == 0 ? name : NULL, lines[i]};
		if (i == 0 || *lines[i] != '\0') {
			answer_table_row(call->answer, MARK_PLAIN, cells);
		}
	}
}

/* Stations and cuts of a job, readings of a roll. */
static void rows_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"", ""};
	if (shown->row_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < shown->row_count; i++) {
		const struct record *row = shown->rows[i];
		size_t name = row_name(row);
		const char *called = arena_format(call->arena, "%s %s", row->kind->name,
		                                  value_text(call->arena, &row->values[name], call->units));
		const char *cells[] = {called, row_said(call, row, name)};
		if (row->kind->id == KIND_STATION) {
			job_station_say(call, row, called);
		} else {
			answer_table_row(call->answer, MARK_PLAIN, cells);
		}
	}
	answer_table_close(call->answer);
}

/* ---------------------------------------------------------------- presses and places */

/* One line of a station; its code stands in the first alone. */
static void station_say(struct call *call, const char **code, enum answer_mark mark,
                        const char *tag, const char *text)
{
	const char *cells[] = {*code, tag, text};
	answer_table_row(call->answer, mark, cells);
	*code = NULL;
}

/* A station of the press: what it does where not all, why it is on hold, the tools that sit there.
 */
static void stations_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"station", "tag", "what is there"};
	answer_blank(call->answer);
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < shown->row_count; i++) {
		const char *name = record_words(shown->rows[i], "code");
		const char *processes = record_words(shown->rows[i], "processes");
		const char *code = name;
		if (processes != NULL) {
			station_say(call, &code, MARK_PLAIN, NULL,
			            arena_format(call->arena, "%s only", processes));
		}
		if (shown->row_held[i] != NULL) {
			station_say(call, &code, MARK_BAD, NULL, shown->row_held[i]);
		}
		for (size_t j = 0; j < shown->tool_count; j++) {
			const struct shown_tool *tool = &shown->tools[j];
			if (strcmp(tool->place, name) != 0) {
				continue;
			}
			station_say(call, &code, MARK_PLAIN, tool->tag, tool->summary);
			if (tool->remark != NULL) {
				station_say(call, &code, MARK_BAD, NULL, tool->remark);
			}
		}
		if (code != NULL) {
			station_say(call, &code, MARK_PLAIN, NULL, NULL);
		}
	}
	answer_table_close(call->answer);
}

/* The first tools of a place; where each lies is said where not all lie in the place itself. */
static void tools_say(struct call *call, const struct shown *shown)
{
	static const char *const columns[] = {"tag", "what", "place"};
	const char *code = record_words(shown->record, "code");
	bool within = false;
	for (size_t i = 0; i < shown->tool_count; i++) {
		within = within || strcmp(shown->tools[i].place, code) != 0;
	}
	if (shown->tool_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_table_open(call->answer, &columns[0], within ? 3 : 2);
	for (size_t i = 0; i < shown->tool_count; i++) {
		const char *cells[] = {shown->tools[i].tag, shown->tools[i].summary, shown->tools[i].place};
		answer_table_row(call->answer, MARK_PLAIN, cells);
		if (shown->tools[i].remark != NULL) {
			const char *stopped[] = {NULL, shown->tools[i].remark, NULL};
			answer_table_row(call->answer, MARK_BAD, stopped);
		}
	}
	answer_table_close(call->answer);
	if (shown->tools_more > 0) {
		answer_line(call->answer, MARK_DIM, "and %lld more", (long long)shown->tools_more);
	}
}

void shown_rows_say(struct call *call, const struct shown *shown)
{
	if (shown->record->kind->id == KIND_PRESS) {
		stations_say(call, shown);
	} else {
		rows_say(call, shown);
		tools_say(call, shown);
	}
}
