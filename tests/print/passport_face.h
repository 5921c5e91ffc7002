/* A passport as the shop would have one printed: an anilox roll, all of it invented. */
#ifndef TOOTHRACK_TESTS_PRINT_PASSPORT_FACE_H
#define TOOTHRACK_TESTS_PRINT_PASSPORT_FACE_H

#include "wear_face.h"

static inline struct passport_face passport_face_of(struct arena *memory, size_t entries)
{
	static const struct passport_row rows[] = {
		{"line_screen", "141.732/cm"},
		{"volume_now", "6.103013cm3/m2, read after cleaning 2026-09-02T08:50"},
		{"volume", "7.200017cm3/m2 when new"},
		{"loss", "15.2%, 20% at most"},
		{"angle", "60deg"},
		{"face", "330mm"},
		{"run", "9000000m"},
		{"maker_serial", "E54863"},
		{"fit", "journal35"},
		{"weight", "15.5kg"},
		{"diameter", "110.001mm"},
		{"surface", "ceramic"},
		{"engraved", "2024-03-12"},
		{"note", "nick at the drive side, outside of the face; keep its cover on"},
	};
	const char **history = arena_take(memory, entries, sizeof *history);
	for (size_t i = 0; i < entries; i++) {
		history[i] = arena_format(
			memory,
			i % 3 == 0 ? "2026-%02zu-%02zuT08:00  put, from P1-2 to A1-1, Mirela Ost, entry%zu"
			: i % 3 == 1
				? "2026-%02zu-%02zuT14:10  cleaned, Tomas Hale, in the wash with the ultrasonic bath, "
				  "40 minutes, rinsed and dried with air from below, entry%zu"
				: "2026-%02zu-%02zuT16:35  reading, volume 6.4cm3/m2, method surface, after clean, "
				  "entry%zu",
			12 - i / 28 % 12, 28 - i % 28, i);
	}
	return (struct passport_face){
		.title = "anilox roll, 141.732/cm, 7.200017cm3/m2 when new, face 330mm",
		.code = "AN000045-3",
		.content = "AN0000453",
		.whereabouts = "in anilox rack 1, coarse screens (A1-1), its home\nwithin anilox rack 1 "
					   "(A1), tool room (ROOM)\nready\ncaution: volume 6.10cm3/m2, "
					   "7.20cm3/m2 when new: 15.2% lost, 20% at most",
		.rows = rows,
		.row_count = COUNT_OF(rows),
		.history_title = "what happened last",
		.history = history,
		.history_count = entries,
		.printed = "printed 2026-12-01",
	};
}

#endif
