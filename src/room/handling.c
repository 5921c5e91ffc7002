/* The usual cautions for those who handle tooling: it permits nothing. */
#include <string.h>

#include "toothrack/room.h"

const char *room_handling(struct arena *arena, const char *sort, const struct kind *const *handled,
                          size_t count)
{
	bool heavy = false;
	bool sharp = false;
	for (size_t i = 0; i < count; i++) {
		enum kind_id kind = handled[i]->id;
		heavy =
			heavy || kind == KIND_CYLINDER || kind == KIND_ANILOX || kind == KIND_MAGNETIC_CYLINDER;
		sharp = sharp || kind == KIND_BLADE || kind == KIND_DIE;
	}
	struct text line = text_start(arena);
	if (heavy) {
		text_join(&line, "; ", "know the weight, two people or a hoist for heavy ones");
	}
	if (sharp) {
		text_join(&line, "; ", "cut-resistant gloves for edges");
	}
	if (strcmp(sort, "press") == 0) {
		text_join(&line, "; ", "stop and lock out the press, mind the nip points");
	}
	if (strcmp(sort, "wash") == 0) {
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
