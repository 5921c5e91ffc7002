/*
 * Lifting by hand: a screening figure, never a permission. It stands in every form of the answer
 * which case it is for, and what it is not.
 */
#include <string.h>

#include "answer.h"
#include "calc.h"

enum { LIFT_WEIGHT, LIFT_HORIZONTAL, LIFT_VERTICAL, LIFT_TRAVEL, LIFT_ASYMMETRY, LIFT_COUPLING };

#define GRAM_IN_UG 1e6
#define POUND_IN_UG 453592370.0

/* The index is told to a millionth, and judged by what is told. */
#define INDEX_DECIMALS 6
#define INDEX_DECIMALS_SHOWN 2
#define INDEX_SOME 1
#define INDEX_NEARLY_ALL 3

static const char covers[] =
	"holds for one person who stands and lifts with both hands, smoothly, at most once in five "
	"minutes over at most an hour (for more see NIOSH 94-110); where the load is set down with "
	"care, ask for that end too: the lower limit counts";
static const char caution[] =
	"a screening figure, a permission to nobody: it knows neither the person nor the floor; two "
	"people or lifting gear where in doubt; follow the press maker's manual, local rules and the "
	"trained person in charge";

/* In the order of enum coupling. */
static const char *const couplings[] = {"good", "fair", "poor", NULL};

static enum coupling coupling_named(const char *word)
{
	static const enum coupling of[] = {COUPLING_GOOD, COUPLING_FAIR};
	for (size_t i = 0; i < COUNT_OF(of); i++) {
		if (strcmp(couplings[i], word) == 0) {
			return of[i];
		}
	}
	return COUPLING_POOR;
}

/* Which of what was given is past the equation, as a sentence; NULL: none. */
static const char *past_of(struct call *call, const struct value *given,
                           const struct lift_multipliers *by)
{
	const struct {
		const char *name, *most;
		double multiplier;
		int key;
	} parts[] = {
		{"horizontal", "63cm (24.8in)", by->horizontal, LIFT_HORIZONTAL},
		{"vertical", "175cm (68.9in)", by->vertical, LIFT_VERTICAL},
		{"travel", "175cm (68.9in)", by->travel, LIFT_TRAVEL},
		{"asymmetry", "135deg", by->asymmetry, LIFT_ASYMMETRY},
	};
	struct text line = text_start(call->arena);
	for (size_t i = 0; i < COUNT_OF(parts); i++) {
		if (!(parts[i].multiplier > 0)) {
			text_join(&line, "; ",
			          arena_format(call->arena, "%s is past %s: %s", parts[i].name, parts[i].most,
			                       value_text(call->arena, &given[parts[i].key], call->units)));
		}
	}
	return line.length > 0 ? line.bytes : NULL;
}

static void say(struct call *call, enum answer_mark mark, const char *key, const char *text)
{
	answer_word(call->answer, key, text);
	answer_line(call->answer, mark, "%s", text);
}

static void advise(struct call *call, const char *past, double index)
{
	if (past != NULL) {
		say(call, MARK_BAD, "advice",
		    arena_format(call->arena, "no weight is to be lifted so: %s", past));
	} else if (index > INDEX_NEARLY_ALL) {
		say(call, MARK_BAD, "advice",
		    "index above 3: more risk to the back of nearly everybody; lift it otherwise");
	} else if (index > INDEX_SOME) {
		say(call, MARK_CAUTION, "advice",
		    "index above 1: more risk to the back of some; lift it otherwise, or less of it");
	} else {
		say(call, MARK_PLAIN, "advice", "index at most 1: what the equation aims at");
	}
}

/* As many as it takes that what is above a step of the advice does not read as if it stood on it.
 */
static int index_decimals(double index)
{
	int decimals = INDEX_DECIMALS_SHOWN;
	while (decimals < INDEX_DECIMALS) {
		double shown = answer_rounded(index, decimals);
		if ((shown > INDEX_SOME) == (index > INDEX_SOME) &&
		    (shown > INDEX_NEARLY_ALL) == (index > INDEX_NEARLY_ALL)) {
			break;
		}
		decimals++;
	}
	return decimals;
}

static void multipliers_say(struct call *call, const struct lift_multipliers *by)
{
	const struct {
		const char *title, *key;
		double number;
	} rows[] = {
		{"horizontal multiplier", "horizontal_multiplier", by->horizontal},
		{"vertical multiplier", "vertical_multiplier", by->vertical},
		{"travel multiplier", "travel_multiplier", by->travel},
		{"asymmetry multiplier", "asymmetry_multiplier", by->asymmetry},
		{"coupling multiplier", "coupling_multiplier", by->coupling},
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		figure_pair(call, rows[i].title, (struct figure){rows[i].key, rows[i].number, "", 3},
		            (struct figure){0});
	}
}

static enum outcome lift_run(struct call *call, const struct value *given)
{
	struct lift lift = {
		.weight = given[LIFT_WEIGHT].weight,
		.horizontal = given[LIFT_HORIZONTAL].length,
		.vertical = given[LIFT_VERTICAL].length,
		.travel = given[LIFT_TRAVEL].length,
		.asymmetry = given[LIFT_ASYMMETRY].angle,
		.coupling = coupling_named(given[LIFT_COUPLING].text),
	};
	struct value limit = {.type = VALUE_WEIGHT, .known = true};
	struct lift_multipliers by;
	double index = 0;
	bool known = lift_of(&lift, &limit.weight, &index);
	index = answer_rounded(index, INDEX_DECIMALS);
	double ug = (double)value_to_stored(&limit);
	lift_multipliers_of(&lift, &by);
	figures_open(call);
	figure_pair(call, "limit", (struct figure){"limit_kg", ug / GRAM_IN_UG / 1000, "kg", 2},
	            (struct figure){"limit_lb", ug / POUND_IN_UG, "lb", 1});
	if (known) {
		figure_pair(call, "index", (struct figure){"index", index, "", index_decimals(index)},
		            (struct figure){0});
	} else {
		const char *cells[] = {"index", "not known", NULL};
		answer_null(call->answer, "index");
		answer_table_row(call->answer, MARK_PLAIN, cells);
	}
	multipliers_say(call, &by);
	answer_table_close(call->answer);
	answer_blank(call->answer);
	advise(call, known ? NULL : past_of(call, given, &by), index);
	say(call, MARK_PLAIN, "covers", covers);
	say(call, MARK_CAUTION, "caution", caution);
	answer_object_close(call->answer);
	return known ? OUTCOME_DONE : OUTCOME_NO;
}

static const struct calc_key lift_keys[] = {
	[LIFT_WEIGHT] = {.name = "weight",
                     .type = VALUE_WEIGHT,
                     .positive = true,
                     .meaning = "of what is lifted"},
	[LIFT_HORIZONTAL] = {.name = "horizontal",
                         .type = VALUE_TOOLING,
                         .meaning = "from between the ankles out to between the hands"},
	[LIFT_VERTICAL] = {.name = "vertical",
                       .type = VALUE_TOOLING,
                       .meaning = "from the floor up to the hands, where the lift begins"},
	[LIFT_TRAVEL] = {.name = "travel",
                     .type = VALUE_TOOLING,
                     .meaning = "how far up or down the hands go"},
	[LIFT_ASYMMETRY] = {.name = "asymmetry",
                        .type = VALUE_ANGLE,
                        .meaning = "how far to the side the load is, 0deg straight ahead"},
	[LIFT_COUPLING] = {.name = "coupling",
                       .type = VALUE_CHOICE,
                       .meaning = "grip: good with handles; poor bulky, slippery or sharp",
                       .choices = couplings},
};

const struct calc_topic calc_lift = {
	.name = "lift",
	.summary = "what one person may lift now and then at most, as a screening figure",
	.keys = lift_keys,
	.key_count = COUNT_OF(lift_keys),
	.example = "calc lift weight=15.5kg horizontal=40cm vertical=80cm travel=40cm asymmetry=30deg "
			   "coupling=fair",
	.run = lift_run,
};
