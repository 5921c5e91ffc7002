/* `due`: what needs care next, most urgent first, and the next job that needs the tool. */
#include <math.h>
#include <string.h>

#include "toothrack/care.h"
#include "commands.h"

#define DAY_SECONDS 86400
#define DAYS_MOST 366
#define MM_OF_FOOT 304.8
#define MM_OF_METRE 1000.0

/* ---------------------------------------------------------------- data */

/* What was worked out from recent use is good for a day. */
static struct moment as_told(const struct due_row *row, struct moment moment)
{
	bool counted = row->left.known;
	if (counted) {
		moment = moment_day_start(moment);
		moment.date = true;
	}
	return moment;
}

static void when_write(struct answer *answer, const char *key, const struct due_row *row,
                       struct known_moment moment)
{
	if (moment.known) {
		answer_moment(answer, key, as_told(row, moment.value));
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

/* To whole metres: a forecast is good for no more, and nobody counts a life finer. */
static void web_write(struct answer *answer, const char *key, struct known_length web)
{
	const struct value value = {
		.type = VALUE_WEB,
		.known = web.known,
		.length = length_from_mm(round(length_to_m(web.value)) * 1000),
	};
	answer_value(answer, key, &value);
}

static void tooling_write(struct answer *answer, const char *key, struct known_length length)
{
	const struct value value = {.type = VALUE_TOOLING,
	                            .known = length.known,
	                            .length = length.value};
	answer_value(answer, key, &value);
}

static void count_write(struct answer *answer, const char *key, struct known_count count)
{
	const struct value value = {.type = VALUE_COUNT, .known = count.known, .count = count.value};
	answer_value(answer, key, &value);
}

/* What the supplier asks of whoever orders another like it. */
static void order_write(struct answer *answer, const struct due_tool *tool)
{
	const struct value volume = {.type = VALUE_VOLUME,
	                             .known = tool->volume.known,
	                             .volume = tool->volume.value};
	answer_value(answer, "volume", &volume);
	tooling_write(answer, "face", tool->face);
	tooling_write(answer, "length", tool->length);
	answer_word(answer, "material", tool->material);
	tooling_write(answer, "thickness", tool->thickness);
	answer_word(answer, "edge", tool->edge);
	answer_word(answer, "build", tool->die_build);
	count_write(answer, "teeth", tool->die_teeth);
	answer_word(answer, "pitch", tool->die_pitch);
	count_write(answer, "number_across", tool->die_across);
	count_write(answer, "number_around", tool->die_around);
}

static void row_write(struct answer *answer, const struct due_row *row)
{
	const struct due_tool *tool = &row->tool;
	const struct value screen = {.type = VALUE_SCREEN,
	                             .known = tool->line_screen.known,
	                             .screen = tool->line_screen.value};
	answer_object_open(answer, NULL);
	answer_word(answer, "tag", tool->tag);
	answer_word(answer, "maker_serial", tool->maker_serial);
	answer_word(answer, "kind", tool->kind->name);
	answer_word(answer, "name", tool->name);
	answer_value(answer, "line_screen", &screen);
	answer_word(answer, "what", row->what_word);
	answer_word(answer, "by", row->by);
	answer_yes_no(answer, "overdue", row->overdue);
	when_write(answer, "earliest", row, row->least);
	when_write(answer, "latest", row, row->most);
	web_write(answer, "left", row->left);
	web_write(answer, "left_most", row->left_most);
	answer_word(answer, "reason", row->text);
	answer_word(answer, "next_job", tool->next_job);
	answer_word(answer, "next_press", tool->next_press);
	moment_write(answer, "next_start", tool->next_from);
	answer_yes_no(answer, "before_next_job", row->before_next_job);
	answer_word(answer, "place", tool->place);
	answer_word(answer, "taken_for", tool->taken_for);
	order_write(answer, tool);
	answer_object_close(answer);
}

/* ---------------------------------------------------------------- for people */

static const char *day_said(const struct call *call, struct moment moment)
{
	moment = moment_day_start(moment);
	moment.date = true;
	return arena_copy(call->arena, moment_text(moment).bytes);
}

/* To whole metres or feet, of a forecast to hundreds: as the sentence beside it. */
static const char *web_said(const struct call *call, const struct due_row *row)
{
	double step = (strcmp(row->by, "forecast") == 0 ? 100 : 1) *
	              (call->units == UNITS_INCH ? MM_OF_FOOT : MM_OF_METRE);
	struct length near = length_from_mm(round(length_to_mm(row->left.value) / step) * step);
	return arena_format(call->arena, "in %s", length_text(near, LENGTH_WEB, call->units).bytes);
}

/* `overdue`, `2026-12-24`; `in 200m` where no day can be told */
static const char *when_said(const struct call *call, const struct due_row *row)
{
	return row->overdue       ? "overdue"
	       : row->least.known ? day_said(call, row->least.value)
	       : row->left.known  ? web_said(call, row)
	                          : NULL;
}

/* `anilox roll 141.732/cm at A1-2; needed by J2604 on P1 from 2026-12-02T06:00` */
static const char *around_said(const struct call *call, const struct due_row *row)
{
	const struct due_tool *tool = &row->tool;
	struct text text = text_start(call->arena);
	text_add(&text, tool->kind->title);
	if (tool->line_screen.known) {
		text_add_format(&text, " %s", screen_text(tool->line_screen.value, call->units).bytes);
	}
	if (tool->name != NULL) {
		text_add_format(&text, ", %s", tool->name);
	}
	if (tool->taken_for != NULL) {
		text_add_format(&text, ", out for job %s", tool->taken_for);
	} else if (tool->place != NULL) {
		text_add_format(&text, ", at %s", tool->place);
	}
	if (tool->next_job != NULL) {
		text_add_format(&text, "; %s %s on %s from %s",
		                row->before_next_job ? "needed by" : "next job", tool->next_job,
		                tool->next_press != NULL ? tool->next_press : "a press not known",
		                moment_text(tool->next_from.value).bytes);
	}
	return text.bytes;
}

static void rows_say(struct call *call, const struct due_row *rows, size_t count)
{
	static const char *const columns[] = {"due", "what", "tool", "why"};
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < count; i++) {
		const struct due_row *row = &rows[i];
		const char *cells[] = {when_said(call, row), row->what_word, row->tool.tag, row->text};
		const char *around[] = {NULL, NULL, NULL, around_said(call, row)};
		answer_table_row(call->answer,
		                 row->overdue           ? MARK_BAD
		                 : row->before_next_job ? MARK_CAUTION
		                                        : MARK_PLAIN,
		                 cells);
		answer_table_row(call->answer, MARK_DIM, around);
	}
	answer_table_close(call->answer);
}

/* `5 due by 2026-12-31: 3 overdue, 1 needed by a job booked`, and those without a day. */
static void head_say(struct call *call, const struct due_row *rows, size_t count,
                     struct moment until)
{
	size_t overdue = 0, before = 0, dated = 0;
	for (size_t i = 0; i < count; i++) {
		overdue += rows[i].overdue ? 1 : 0;
		before += rows[i].before_next_job ? 1 : 0;
		dated += rows[i].overdue || rows[i].least.known ? 1 : 0;
	}
	struct text text = text_start(call->arena);
	if (dated > 0) {
		text_add_format(&text, "%zu due by %s: %zu overdue, %zu needed by a job booked", dated,
		                day_said(call, until), overdue, before);
	} else {
		text_add_format(&text, "nothing is due by %s", day_said(call, until));
	}
	if (count > dated) {
		text_add_format(&text, "; %zu%s near the end, no day can be told", count - dated,
		                dated > 0 ? " more" : "");
	}
	answer_line(call->answer,
	            overdue > 0 ? MARK_BAD
	            : count > 0 ? MARK_STRONG
	                        : MARK_GOOD,
	            "%s", text.bytes);
}

static void list_say(struct call *call, const struct due_row *rows, size_t count,
                     struct moment until)
{
	head_say(call, rows, count, until);
	if (count > 0) {
		answer_blank(call->answer);
		rows_say(call, rows, count);
	}
}

static void due_say(struct call *call, const struct due *due, struct moment until)
{
	list_say(call, due->rows, due->count, until);
	if (due->say_count > 0) {
		answer_blank(call->answer);
	}
	for (size_t i = 0; i < due->say_count; i++) {
		answer_line(call->answer, MARK_CAUTION, "%s", due->says[i]);
	}
}

/* ---------------------------------------------------------------- the command */

/* `days=`, else the shop's. */
static enum outcome days_asked(struct call *call, int64_t *out)
{
	const char *days = call_value(call, "days");
	const struct value habit = {.type = VALUE_DURATION,
	                            .known = true,
	                            .duration = call->limits.due_days};
	*out = (value_to_stored(&habit) + DAY_SECONDS - 1) / DAY_SECONDS;
	return days == NULL ? OUTCOME_DONE : count_parse("days", days, 1, DAYS_MOST, out, call->fault);
}

static enum outcome run(struct call *call)
{
	struct due due;
	int64_t days;
	enum outcome outcome = days_asked(call, &days);
	if (outcome == OUTCOME_DONE) {
		outcome =
			care_due(call->store, call->arena, days, call->units, call->now, &due, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_array_open(call->answer, NULL);
	for (size_t i = 0; i < due.count && answer_is_wanted(call->answer); i++) {
		row_write(call->answer, &due.rows[i]);
	}
	answer_array_close(call->answer);
	if (answer_form(call->answer) == FORM_TEXT) {
		const struct value ahead = value_from_stored(VALUE_DURATION, days * DAY_SECONDS);
		due_say(call, &due, moment_add(call->now, ahead.duration));
	}
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "days",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .usage = "DAYS",
     .meaning = "how many days ahead, 1 to 366; else as set due_days says"},
};

static const char *const examples[] = {
	"due",
	"due days=90",
	"due --csv",
	NULL,
};

const struct command command_due = {
	.name = "due",
	.summary = "what needs care next: clean, read, new blade, regrind, decide; most urgent first",
	.more =
		"By date, by metres at the recent use (set recent) and by the web of the next job booked, or "
		"by the forecast of a roll's trend; without recent use, where little of the life or of the way "
		"to the limit is left (set due_left). What is asked: set clean_every, read_every, "
		"volume_loss, uneven, runout, life_steel, life_coated, life_polymer. With --csv a list for "
		"the supplier's order.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
