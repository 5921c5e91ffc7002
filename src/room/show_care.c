/* What care has found of a tool and done to it, as `show` tells it. */
#include "show.h"

#define BANDS_SHOWN 8

/* `100mm..120mm (2026-11-26T09:20: scored), 0mm..20mm (2026-11-02T14:00)`, latest first */
static enum outcome tell_damage(struct telling *telling, struct fault *fault)
{
	struct care_row *rows;
	size_t count;
	struct text text = text_start(telling->arena);
	enum outcome outcome = store_care_of(telling->store, telling->arena, telling->out->record->id,
	                                     "damaged", BANDS_SHOWN + 1, &rows, &count, fault);
	if (outcome != OUTCOME_DONE || count == 0) {
		return outcome;
	}
	for (size_t i = 0; i < count && i < BANDS_SHOWN; i++) {
		text_join(&text, ", ", tooling_words(telling, rows[i].band.from));
		text_add_format(&text, "..%s (%s%s%s)", tooling_words(telling, rows[i].band.to),
		                moment_text(rows[i].moment).bytes, rows[i].note != NULL ? ": " : "",
		                rows[i].note != NULL ? rows[i].note : "");
	}
	text_add(&text, count > BANDS_SHOWN ? ", and more" : "");
	tell_words(telling, "damage", NULL, text.bytes);
	return outcome;
}

/* `3, the last since 2026-11-26T09:20: ground anew`; of what is in its first nothing is told. */
static enum outcome tell_lives(struct telling *telling, struct fault *fault)
{
	const struct record *record = telling->out->record;
	bool blade = record->kind->id == KIND_BLADE, roll = record->kind->id == KIND_ANILOX;
	const char *begins = blade ? "reblade" : roll ? "engraved" : "regrind";
	const char *said = blade ? "new blade" : roll ? "engraved anew" : "ground anew";
	int64_t life;
	struct care_row *row;
	size_t count = 0;
	enum outcome outcome = store_tool_life(telling->store, record->id, &life, fault);
	if (outcome != OUTCOME_DONE || life < 2) {
		return outcome;
	}
	outcome =
		store_care_of(telling->store, telling->arena, record->id, begins, 1, &row, &count, fault);
	tell_figure(telling, "lives", NULL, value_of_count(true, life),
	            count > 0 ? arena_format(telling->arena, "%lld, the last since %s: %s",
	                                     (long long)life, moment_text(row->moment).bytes, said)
	                      : NULL);
	return outcome;
}

enum outcome tell_care(struct telling *telling, struct fault *fault)
{
	enum outcome outcome = tell_damage(telling, fault);
	return outcome == OUTCOME_DONE ? tell_lives(telling, fault) : outcome;
}
