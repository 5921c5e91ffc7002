/* The usual cautions for those who handle tooling: it permits nothing. */
#include <string.h>

#include "toothrack/room.h"

const char *room_handling(struct arena *arena, const char *sort, unsigned kinds_handled)
{
	bool heavy = (kinds_handled &
	              (1U << KIND_CYLINDER | 1U << KIND_ANILOX | 1U << KIND_MAGNETIC_CYLINDER)) != 0;
	bool sharp = (kinds_handled & (1U << KIND_BLADE | 1U << KIND_DIE)) != 0;
	struct text line = text_start(arena);
	if (heavy) {
		text_join(&line, "; ", "know the weight, two people or a hoist for heavy ones");
	}
	if (sharp) {
		text_join(&line, "; ", "cut-resistant gloves for edges");
	}
	if (sort != NULL && strcmp(sort, "press") == 0) {
		text_join(&line, "; ", "stop and lock out the press, mind the nip points");
	}
	if (sort != NULL && strcmp(sort, "wash") == 0) {
		text_join(&line, "; ", "gloves and goggles for solvents and caustic wash");
	}
	if (line.length == 0) {
		return NULL;
	}
	text_join(&line, "; ",
	          "follow the press maker's manual, the safety data sheet, local rules and the trained "
	          "person in charge");
	return line.bytes;
}
