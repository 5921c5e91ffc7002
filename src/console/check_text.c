/* The answer of a check for people: the verdict first, in one line to read out on the telephone. */
#include <inttypes.h>
#include <limits.h>
#include <string.h>

#include "check_answer.h"

#define LINE_MOST 96 /* columns that a finding takes before it is told part by part */

const char *length_said(const struct call *call, struct real_length length)
{
	int64_t step = call->units == UNITS_INCH ? 2540 : 1000;
	int64_t nm = length_to_nm(real_round(real_times(length, 1.0L / (long double)step))) * step;
	return arena_copy(call->arena,
	                  length_text(length_from_nm(nm), LENGTH_TOOLING, call->units).bytes);
}

/* `magnetic cylinder` for the need `magnetic_cylinder` */
static const char *need_said(const struct call *call, const char *need)
{
	char *said = arena_copy(call->arena, need);
	for (char *at = strchr(said, '_'); at != NULL; at = strchr(at, '_')) {
		*at = ' ';
	}
	return said;
}

/* ---------------------------------------------------------------- the verdict */

/* Findings told in one breath: of one need and level; where `text` counts, alike in all said. */
static bool is_like(const struct finding *a, const struct finding *b, bool text)
{
	if (a->level != b->level || strcmp(a->need, b->need) != 0) {
		return false;
	}
	return !text || (strcmp(a->text, b->text) == 0 && a->until.known == b->until.known &&
	                 (!a->until.known || moment_compare(a->until.value, b->until.value) == 0));
}

/* ` at stations 2, 3 and 5` of all findings that are like this one; nothing without a number. */
static void numbers_add(struct call *call, struct text *line, const struct check *check,
                        const struct finding *like, bool text, bool cuts)
{
	struct text numbers = text_start(call->arena);
	const char *last = NULL;
	size_t count = 0;
	for (size_t i = 0; i < check->finding_count; i++) {
		const struct finding *finding = &check->findings[i];
		int64_t number = cuts ? finding->cut : finding->station;
		if (number == 0 || !is_like(finding, like, text)) {
			continue;
		}
		if (last != NULL) {
			text_join(&numbers, ", ", last);
		}
		last = arena_format(call->arena, "%" PRId64, number);
		count++;
	}
	if (count > 0) {
		text_join(&numbers, " and ", last);
		text_add_format(line, " at %s%s %s", cuts ? "cut" : "station", count > 1 ? "s" : "",
		                numbers.bytes);
	}
}

/* Was it told with an earlier finding? */
static bool said_before(const struct check *check, size_t index, bool text)
{
	for (size_t i = 0; i < index; i++) {
		if (is_like(&check->findings[i], &check->findings[index], text)) {
			return true;
		}
	}
	return false;
}

/* `anilox at stations 2 and 3; die at cut 1`: the needs with a finding of a level; counts these. */
static const char *needs_said(struct call *call, const struct check *check,
                              enum finding_level level, size_t *count)
{
	struct text line = text_start(call->arena);
	*count = 0;
	for (size_t i = 0; i < check->finding_count; i++) {
		const struct finding *finding = &check->findings[i];
		if (finding->level != level) {
			continue;
		}
		++*count;
		if (!said_before(check, i, false)) {
			text_join(&line, "; ", need_said(call, finding->need));
			numbers_add(call, &line, check, finding, false, false);
			numbers_add(call, &line, check, finding, false, true);
		}
	}
	return line.bytes;
}

/* `short of 2 needs: anilox at station 3; die at cut 1` */
const char *verdict_said(struct call *call, const struct check *check)
{
	size_t count = 0;
	const char *needs = NULL;
	switch (check->verdict) {
	case VERDICT_READY:
		return "ready";
	case VERDICT_CAUTION:
		needs = needs_said(call, check, FINDING_CAUTION, &count);
		return arena_format(call->arena, "ready with caution: %s", needs);
	case VERDICT_SHORT:
		break;
	}
	needs = needs_said(call, check, FINDING_SHORT, &count);
	return arena_format(call->arena, "short of %zu need%s: %s", count, count == 1 ? "" : "s",
	                    needs);
}

/* ---------------------------------------------------------------- the layout */

static const char *repeat_said(const struct call *call, struct repeat repeat)
{
	struct call metric = *call;
	struct call inch = *call;
	metric.units = UNITS_METRIC;
	inch.units = UNITS_INCH;
	struct real_length length = repeat_length(repeat);
	bool inch_first = call->units == UNITS_INCH;
	const char *first = length_said(inch_first ? &inch : &metric, length);
	const char *second = length_said(inch_first ? &metric : &inch, length);
	if (!repeat.toothed) {
		return arena_format(call->arena, "repeat %s = %s", first, second);
	}
	return arena_format(call->arena, "repeat %s = %s = %" PRId64 " teeth %s", first, second,
	                    repeat.teeth, pitch_text(repeat.pitch).bytes);
}

static const char *width_said(const struct call *call, struct known_length width)
{
	return width.known ? length_said(call, real_from_length(width.value)) : "not known";
}

static void around_say(struct call *call, const struct check *check)
{
	struct text line = text_start(call->arena);
	text_add(&line, check->repeat.known ? repeat_said(call, check->repeat) : "repeat not known");
	if (check->number_around.known) {
		text_add_format(&line, ", %" PRId64 " around", check->number_around.value);
	}
	if (check->gap_known) {
		text_add_format(&line, " with a gap of %s", length_said(call, check->gap_around));
	}
	if (check->number_across.known) {
		text_add_format(&line, ", %" PRId64 " across", check->number_across.value);
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
}

static void layout_say(struct call *call, const struct check *check)
{
	struct text line = text_start(call->arena);
	around_say(call, check);
	text_add_format(&line, "web needed %s, printed width %s", width_said(call, check->web_needed),
	                width_said(call, check->printed_width));
	if (check->run.known && call->units == UNITS_INCH) {
		text_add_format(&line, ", run %.1fft", length_to_in(check->run.value) / 12.0);
	} else if (check->run.known) {
		text_add_format(&line, ", run %.1fm", length_to_m(check->run.value));
	} else {
		text_add(&line, ", run not known");
	}
	if (check->waste_known) {
		text_add_format(&line, ", waste %.1f%%", 100.0 * check->waste);
	}
	answer_line(call->answer, MARK_PLAIN, "%s", line.bytes);
}

/* ---------------------------------------------------------------- the tools */

static bool is_short(const struct check *check, const char *need, int64_t station, int64_t cut)
{
	for (size_t i = 0; i < check->finding_count; i++) {
		const struct finding *finding = &check->findings[i];
		if (finding->level == FINDING_SHORT && finding->station == station && finding->cut == cut &&
		    strcmp(finding->need, need) == 0) {
			return true;
		}
	}
	return false;
}

/* A tool chosen, or that one is wanted and not had; nothing where there is no such need. */
static void tool_say(struct call *call, const struct check *check, const char *head,
                     const char *need, const struct chosen *chosen, int64_t station, int64_t cut)
{
	bool lacks = is_short(check, need, station, cut);
	if (!chosen->known && !lacks) {
		return;
	}
	const char *cells[] = {
		head,
		need_said(call, need),
		chosen->known ? arena_copy(call->arena, tag_shown(chosen->tag).bytes) : "none",
		chosen->known ? chosen->place : NULL,
		chosen->known ? chosen->what : NULL,
	};
	answer_table_row(call->answer, lacks ? MARK_BAD : MARK_PLAIN, cells);
}

static const char *plates_said(struct call *call, const struct station_answer *station)
{
	struct text text = text_start(call->arena);
	text_add(&text, station->ink != NULL ? station->ink : "");
	if (station->plates != NULL) {
		text_join(&text, ", ", "");
		text_add_format(&text, "plates %s", station->plates);
	}
	if (station->factor_known) {
		text_join(&text, ", ", "");
		text_add_format(&text, "factor %.2f%%, flat length %s", station->factor_percent,
		                length_said(call, station->flat_length));
	}
	if (station->buildup_known) {
		text_join(&text, ", ", "");
		text_add_format(&text, "build-up error %s", length_said(call, station->buildup_error));
	}
	return text.bytes;
}

static void station_say(struct call *call, const struct check *check,
                        const struct station_answer *station)
{
	int64_t number = station->station;
	const char *cells[] = {
		arena_format(call->arena, "%" PRId64, number),
		need_said(call, station->process),
		NULL,
		NULL,
		plates_said(call, station),
	};
	answer_table_row(call->answer, MARK_STRONG, cells);
	tool_say(call, check, NULL, "cylinder", &station->cylinder, number, 0);
	tool_say(call, check, NULL, "gear", &station->gear, number, 0);
	tool_say(call, check, NULL, "anilox", &station->anilox, number, 0);
	tool_say(call, check, NULL, "blade", &station->blade, number, 0);
}

void tools_say(struct call *call, const struct check *check)
{
	static const char *const columns[] = {"station", "tool", "tag", "place", ""};
	answer_table_open(call->answer, columns, COUNT_OF(columns));
	for (size_t i = 0; i < check->station_count; i++) {
		station_say(call, check, &check->stations[i]);
	}
	for (size_t i = 0; i < check->cut_count; i++) {
		const struct cut_answer *cut = &check->cuts[i];
		const char *head = arena_format(call->arena, "cut %" PRId64, cut->cut);
		bool die = cut->die.known || is_short(check, "die", 0, cut->cut);
		tool_say(call, check, head, "die", &cut->die, 0, cut->cut);
		tool_say(call, check, die ? NULL : head, "magnetic_cylinder", &cut->magnetic_cylinder, 0,
		         cut->cut);
	}
	answer_table_close(call->answer);
}

/* ---------------------------------------------------------------- lacks, cures, other presses */

static const char *until_said(struct call *call, struct known_moment until)
{
	return until.known ? arena_format(call->arena, ", until %s", moment_text(until.value).bytes)
	                   : "";
}

/* A text that is too long for a line, a part at a time. */
static void parts_say(struct call *call, enum answer_mark mark, const char *head, const char *text)
{
	static const char nearest[] = "nearest: ";
	const char *part = text;
	const char *end = strstr(part, "; ");
	if (end == NULL || strlen(head) + strlen(text) <= LINE_MOST) {
		answer_line(call->answer, mark, "%s: %s", head, text);
		return;
	}
	answer_line(call->answer, mark, "%s: %.*s", head, (int)(end - part), part);
	int indent = 2;
	while (end != NULL) {
		part = end + 2;
		end = strstr(part, "; ");
		answer_line(call->answer, mark, "%*s%.*s", indent, "",
		            (int)(end != NULL ? end - part : INT_MAX), part);
		if (strncmp(part, nearest, strlen(nearest)) == 0) {
			indent += (int)strlen(nearest);
		}
	}
}

void findings_say(struct call *call, const struct check *check, enum finding_level level,
                  enum answer_mark mark)
{
	for (size_t i = 0; i < check->finding_count; i++) {
		const struct finding *finding = &check->findings[i];
		if (finding->level != level || said_before(check, i, true)) {
			continue;
		}
		struct text head = text_start(call->arena);
		text_add_format(&head, "%s: %s", level_word(level), need_said(call, finding->need));
		numbers_add(call, &head, check, finding, true, false);
		numbers_add(call, &head, check, finding, true, true);
		text_add(&head, until_said(call, finding->until));
		parts_say(call, mark, head.bytes, finding->text);
	}
}

static void cures_say(struct call *call, const struct check *check)
{
	if (check->cure_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "what would help");
	for (size_t i = 0; i < check->cure_count; i++) {
		answer_line(call->answer, MARK_PLAIN, "  %s: %s", check->cures[i].kind,
		            check->cures[i].text);
	}
}

static void others_say(struct call *call, const struct check *check)
{
	if (check->other_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG, "other presses");
	for (size_t i = 0; i < check->other_count; i++) {
		const struct check *other = &check->others[i];
		answer_line(call->answer, verdict_mark(other->verdict), "  %s: %s",
		            other->press != NULL ? other->press : "none", verdict_said(call, other));
	}
}

/* `waste 7.3%, plate area 3919cm2: new plates for 4 stations` */
static const char *combination_said(struct call *call, const struct combination *combination)
{
	struct text text = text_start(call->arena);
	if (combination->waste_known) {
		text_add_format(&text, "waste %.1f%%, ", 100.0 * combination->waste);
	}
	if (combination->plate_count > 0) {
		text_add_format(&text, "plate area %.0fcm2: ", combination->plate_area_cm2);
	}
	text_add(&text, combination->text);
	return text.bytes;
}

static const char *combination_verdict(const struct call *call,
                                       const struct combination *combination)
{
	switch (combination->verdict) {
	case VERDICT_READY:
		return "ready";
	case VERDICT_CAUTION:
		return "ready with caution";
	case VERDICT_SHORT:
		break;
	}
	return arena_format(call->arena, "short of %zu need%s", combination->unmet,
	                    combination->unmet == 1 ? "" : "s");
}

static void combinations_say(struct call *call, const struct check *check)
{
	if (check->combination_count == 0) {
		return;
	}
	answer_blank(call->answer);
	answer_line(call->answer, MARK_STRONG,
	            check->combinations[0].verdict == VERDICT_SHORT ? "less short instead"
	                                                            : "could run instead");
	for (size_t i = 0; i < check->combination_count; i++) {
		const struct combination *combination = &check->combinations[i];
		answer_line(call->answer, verdict_mark(combination->verdict),
		            "  on %s at %s, %" PRId64 " around: %s", combination->press,
		            repeat_said(call, combination->repeat), combination->number_around,
		            combination_verdict(call, combination));
		answer_line(call->answer, MARK_PLAIN, "    %s", combination_said(call, combination));
	}
}

static void head_say(struct call *call, const struct check *check)
{
	answer_line(call->answer, verdict_mark(check->verdict), "%s%s%s: %s", check->job,
	            check->press != NULL ? " on " : "", check->press != NULL ? check->press : "",
	            verdict_said(call, check));
	struct text line = text_start(call->arena);
	if (check->title != NULL) {
		text_add_format(&line, "%s, ", check->title);
	}
	/* Else a job that nobody will run, or that has run, reads as one to make ready. */
	bool past = strcmp(check->state, "finished") == 0 || strcmp(check->state, "cancelled") == 0;
	if (past) {
		text_add_format(&line, "the job is %s, ", check->state);
	}
	bool span = moment_compare(check->from, check->until) != 0;
	text_add_format(&line, "%s %s", span ? "from" : "at", moment_text(check->from).bytes);
	if (span) {
		text_add_format(&line, " until %s", moment_text(check->until).bytes);
	}
	answer_line(call->answer, past ? MARK_CAUTION : MARK_DIM, "%s", line.bytes);
}

void check_say(struct call *call, const struct check *check)
{
	if (answer_form(call->answer) != FORM_TEXT) {
		return;
	}
	head_say(call, check);
	answer_blank(call->answer);
	layout_say(call, check);
	if (check->press != NULL && check->station_count == 0) {
		/* else a job half on record reads as one that is ready */
		answer_line(call->answer, MARK_CAUTION,
		            "no stations on record for this job: no cylinder, roll or blade is asked for");
	}
	if (check->station_count + check->cut_count > 0) {
		answer_blank(call->answer);
		tools_say(call, check);
	}
	if (check->finding_count > 0) {
		answer_blank(call->answer);
	}
	findings_say(call, check, FINDING_SHORT, MARK_BAD);
	findings_say(call, check, FINDING_CAUTION, MARK_CAUTION);
	findings_say(call, check, FINDING_NOTE, MARK_DIM);
	cures_say(call, check);
	combinations_say(call, check);
	others_say(call, check);
}
