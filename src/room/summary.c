/* A record in a few words. */
#include <string.h>

#include "toothrack/room.h"

/* What tells a record of a kind apart: an attribute, and what stands before and behind its value.
 */
struct part {
	const char *attribute, *before, *behind;
};
#define PARTS_MOST 5
static const struct part parts_of_kind[KIND_COUNT][PARTS_MOST] = {
	[KIND_OPERATOR] = {{"name", "", ""}, {"role", "", ""}},
	[KIND_PLACE] = {{"name", "", ""}, {"sort", "", ""}},
	[KIND_PRESS] = {{"name", "", ""},
                    {"drive", "", ""},
                    {"stations", "", " stations"},
                    {"web", "web ", ""}},
	[KIND_JOB] = {{"title", "", ""}, {"state", "", ""}, {"quantity", "", " labels"}},
	[KIND_CYLINDER] = {{"teeth", "", " teeth"},
                       {"repeat", "repeat ", ""},
                       {"face", "face ", ""},
                       {"drive", "", ""}},
	[KIND_GEAR] = {{"teeth", "", " teeth"}},
	[KIND_ANILOX] = {{"line_screen", "", ""}, {"volume", "", " when new"}, {"face", "face ", ""}},
	[KIND_BLADE] = {{"length", "length ", ""}, {"material", "", ""}},
	[KIND_DIE] = {{"cut", "", " cut"},
                  {"label_across", "label ", " across"},
                  {"label_around", "", " around"},
                  {"teeth", "", " teeth"}},
	[KIND_MAGNETIC_CYLINDER] = {{"teeth", "", " teeth"},
                                {"die_gap", "gap ", ""},
                                {"face", "face ", ""}},
	[KIND_STATION] = {{"station", "station ", ""},
                      {"job", " of job ", ""},
                      {"ink", "", ""},
                      {"process", "", ""}},
	[KIND_CUT] = {{"cut", "cut ", ""},
                  {"job", " of job ", ""},
                  {"kind", "", ""},
                  {"die", "die ", ""}},
	[KIND_READING] = {{"tool", " of ", ""}, {"volume", "", ""}, {"moment", "", ""}},
};

bool room_summary_tells(const struct kind *kind, const char *attribute)
{
	for (size_t i = 0; i < PARTS_MOST; i++) {
		const char *told = parts_of_kind[kind->id][i].attribute;
		if (told != NULL && strcmp(told, attribute) == 0) {
			return true;
		}
	}
	return false;
}

const char *room_summary(struct arena *arena, const struct record *record, enum units units)
{
	struct text text = text_start(arena);
	/* A row of a job is told by its number: station 1 of job A-1. */
	if (record->kind->tagged || record->kind->id == KIND_READING) {
		text_add(&text, record->kind->title);
	}
	const struct value *pitch = record_known(record, "pitch");
	for (size_t i = 0; i < PARTS_MOST; i++) {
		const struct part *part = &parts_of_kind[record->kind->id][i];
		const struct value *value =
			part->attribute != NULL ? record_known(record, part->attribute) : NULL;
		if (value == NULL) {
			continue;
		}
		/* `station 3 of job J1`: what begins with a blank goes on without a comma. */
		text_join(&text, part->before[0] == ' ' ? "" : ", ", part->before);
		text_add(&text, value_text(arena, value, units));
		text_add(&text, part->behind);
		if (pitch != NULL && strcmp(part->attribute, "teeth") == 0) {
			text_add_format(&text, " %s", pitch_text(pitch->pitch).bytes);
		}
	}
	return text.bytes;
}

bool room_revolutions(const struct record *record, int64_t *out)
{
	enum kind_id kind = record->kind->id;
	if (kind != KIND_CYLINDER && kind != KIND_DIE && kind != KIND_MAGNETIC_CYLINDER) {
		return false;
	}
	const struct value *run = record_known(record, "run");
	const struct value *teeth = record_known(record, "teeth");
	const struct value *pitch = record_known(record, "pitch");
	const struct value *plain = kind == KIND_CYLINDER ? record_known(record, "repeat") : NULL;
	struct repeat own = {.known = false};
	if (teeth != NULL && pitch != NULL) {
		own = repeat_of_teeth(teeth->count, pitch->pitch);
	} else if (plain != NULL) {
		own = repeat_of_length(plain->length);
	}
	return run != NULL && revolutions_of(run->length, own, out);
}
