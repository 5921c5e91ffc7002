/* Words that the room's answers share. */
#include "words.h"

const char *care_what(struct arena *arena, const struct record *record, enum units units)
{
	static const char *const telling[] = {"line_screen", "teeth", "pitch", "material", "cut"};
	struct text text = text_start(arena);
	text_add(&text, record->kind->title);
	for (size_t i = 0; i < COUNT_OF(telling); i++) {
		bool has = kind_attribute_find(record->kind, telling[i]) != SIZE_MAX;
		const struct value *value = has ? record_known(record, telling[i]) : NULL;
		if (value != NULL && value->type == VALUE_COUNT) {
			text_add_format(&text, ", %lld teeth", (long long)value->count);
		} else if (value != NULL) {
			text_add_format(&text, "%s%s", value->type == VALUE_PITCH ? " " : ", ",
			                value_text(arena, value, units));
		}
	}
	return text.bytes;
}

const char *care_volume(struct arena *arena, struct volume volume, enum units units)
{
	return units == UNITS_INCH ? arena_format(arena, "%.2fbcm", volume_to_bcm(volume))
	                           : arena_format(arena, "%.2fcm3/m2", volume_to_cm3_m2(volume));
}
