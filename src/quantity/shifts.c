/* A shop's shifts, as they are typed: `mon-fri 06:00-22:00, sat 06:00-14:00`. */
#include <string.h>

#include "calendar_parts.h"
#include "parsers.h"

#define DAY_MINUTES 1440
#define WEEK_MINUTES (7 * DAY_MINUTES)
#define SHIFTS_SPELLING \
	"shifts such as \"mon-fri 06:00-22:00, sat 06:00-14:00\", or always for a shop that never " \
	"closes"

static const char *const day_names[] = {"monday", "tuesday",  "wednesday", "thursday",
                                        "friday", "saturday", "sunday"};

/* One part of what is typed: a shift on some days of the week. */
struct part {
	struct typed typed;
	int first, last; /* days, Monday 0; the first may lie behind the last: over Sunday */
	struct calendar_shift shift;
};

/* Which minutes of the week a shift holds already. */
struct week_held {
	unsigned char minutes[WEEK_MINUTES];
};

void calendar_settle(struct calendar *calendar)
{
	bool whole = true;
	for (size_t day = 0; day < 7; day++) {
		const struct calendar_shift *shift = &calendar->shifts[day][0];
		whole = whole && calendar->shift_count[day] == 1 && shift->from == 0 &&
		        shift->until == DAY_MINUTES;
	}
	calendar->limited = !whole || calendar->closed_count > 0;
}

void calendar_whole_week(struct calendar *calendar)
{
	for (size_t day = 0; day < 7; day++) {
		calendar->shifts[day][0] = (struct calendar_shift){.from = 0, .until = DAY_MINUTES};
		calendar->shift_count[day] = 1;
	}
}

/* ---- one part, read */

static void step_blanks(const char **c, const char *end)
{
	while (*c < end && is_blank(**c)) {
		(*c)++;
	}
}

static bool step_over(const char **c, const char *end, char expected)
{
	step_blanks(c, end);
	bool there = *c < end && **c == expected;
	*c += there ? 1 : 0;
	step_blanks(c, end);
	return there;
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* `mon`, or more of the day's name. */
static bool day_scan(const char **c, const char *end, int *day)
{
	const char *start = *c;
	while (*c < end && is_letter(**c)) {
		(*c)++;
	}
	int length = (int)(*c - start);
	for (int i = 0; i < 7; i++) {
		int same = 0;
		while (same < length && lower(start[same]) == day_names[i][same]) {
			same++;
		}
		if (length >= 3 && same == length) {
			*day = i;
			return true;
		}
	}
	return false;
}

/* `06:00`, also `6:00`; as minutes of the day. */
static bool hour_scan(const char **c, const char *end, int *minutes)
{
	int digits[4];
	int count = 0;
	int hour_digits = 0;
	for (; *c < end && count < 4 && (is_digit(**c) || (**c == ':' && hour_digits == 0)); (*c)++) {
		if (**c == ':') {
			hour_digits = count;
		} else {
			digits[count++] = **c - '0';
		}
	}
	if (hour_digits == 0 || count != hour_digits + 2 || (*c < end && is_digit(**c))) {
		return false;
	}
	int hours = hour_digits == 1 ? digits[0] : digits[0] * 10 + digits[1];
	int past = digits[count - 2] * 10 + digits[count - 1];
	*minutes = hours * 60 + past;
	return past < 60 && *minutes <= DAY_MINUTES;
}

static enum outcome refuse(const char *wrong, struct typed typed, struct fault *fault)
{
	fault_set(fault, OUTCOME_BAD, "%s: %.*s", wrong, TYPED(typed));
	fault_hint(fault, "Type %s.", SHIFTS_SPELLING);
	return OUTCOME_BAD;
}

static enum outcome days_read(const char **c, const char *end, struct part *out,
                              struct fault *fault)
{
	if (!day_scan(c, end, &out->first)) {
		return refuse("shift names no day of the week", out->typed, fault);
	}
	out->last = out->first;
	if (step_over(c, end, '-') && !day_scan(c, end, &out->last)) {
		return refuse("shift names no day of the week", out->typed, fault);
	}
	step_blanks(c, end);
	return OUTCOME_DONE;
}

static enum outcome part_read(struct typed typed, struct part *out, struct fault *fault)
{
	const char *c = typed.start;
	const char *end = typed.start + typed.length;
	int from = 0;
	int until = 0;
	*out = (struct part){.typed = typed};
	enum outcome outcome = days_read(&c, end, out, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (c == end) {
		return refuse("shift has no hours", typed, fault);
	}
	if (!hour_scan(&c, end, &from) || !step_over(&c, end, '-') || !hour_scan(&c, end, &until) ||
	    c != end || from == DAY_MINUTES) {
		return refuse("shift has hours that are on no clock", typed, fault);
	}
	if (from == until) {
		fault_set(fault, OUTCOME_BAD, "shift is empty: %.*s", TYPED(typed));
		fault_hint(fault, "Type an end other than its beginning; a whole day is 00:00-24:00.");
		return OUTCOME_BAD;
	}
	out->shift.from = (int16_t)from;
	out->shift.until = (int16_t)(until < from ? until + DAY_MINUTES : until);
	return OUTCOME_DONE;
}

/* ---- put among the others */

static enum outcome week_hold(struct week_held *week, const struct part *part, int day,
                              struct fault *fault)
{
	for (int minute = part->shift.from; minute < part->shift.until; minute++) {
		int at = (day * DAY_MINUTES + minute) % WEEK_MINUTES;
		if (week->minutes[at] != 0) {
			fault_set(fault, OUTCOME_BAD, "shift overlaps another on %.3s: %.*s",
			          day_names[at / DAY_MINUTES], TYPED(part->typed));
			fault_hint(fault, "Type each hour of a day in one shift only.");
			return OUTCOME_BAD;
		}
		week->minutes[at] = 1;
	}
	return OUTCOME_DONE;
}

/* Takes the shift at `index` into the one before it. */
static void join_before(struct calendar *calendar, int day, size_t index)
{
	struct calendar_shift *shifts = calendar->shifts[day];
	shifts[index - 1].until = shifts[index].until;
	calendar->shift_count[day]--;
	memmove(&shifts[index], &shifts[index + 1],
	        (calendar->shift_count[day] - index) * sizeof *shifts);
}

/* Puts a shift among those of its day, in order; those that touch become one. */
static enum outcome day_add(struct calendar *calendar, const struct part *part, int day,
                            struct fault *fault)
{
	struct calendar_shift *shifts = calendar->shifts[day];
	size_t count = calendar->shift_count[day];
	size_t at = 0;
	while (at < count && shifts[at].from < part->shift.from) {
		at++;
	}
	if (at > 0 && shifts[at - 1].until == part->shift.from) {
		shifts[at - 1].until = part->shift.until;
	} else if (at < count && shifts[at].from == part->shift.until) {
		shifts[at].from = part->shift.from;
	} else if (count == CALENDAR_SHIFTS_MOST) {
		fault_set(fault, OUTCOME_BAD, "shift is one more than %d on %.3s: %.*s",
		          CALENDAR_SHIFTS_MOST, day_names[day], TYPED(part->typed));
		fault_hint(fault, "Type at most %d shifts a day.", CALENDAR_SHIFTS_MOST);
		return OUTCOME_BAD;
	} else {
		memmove(&shifts[at + 1], &shifts[at], (count - at) * sizeof *shifts);
		shifts[at] = part->shift;
		calendar->shift_count[day]++;
		return OUTCOME_DONE;
	}
	for (size_t i = 1; i < calendar->shift_count[day]; i++) {
		if (shifts[i - 1].until == shifts[i].from) {
			join_before(calendar, day, i);
		}
	}
	return OUTCOME_DONE;
}

static enum outcome part_add(struct calendar *calendar, struct week_held *week,
                             const struct part *part, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	int days = (part->last - part->first + 7) % 7 + 1;
	for (int i = 0; i < days && outcome == OUTCOME_DONE; i++) {
		int day = (part->first + i) % 7;
		outcome = week_hold(week, part, day, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = day_add(calendar, part, day, fault);
		}
	}
	return outcome;
}

enum outcome calendar_shifts_parse(const char *text, struct calendar *out, struct fault *fault)
{
	struct typed typed = typed_trim(text);
	struct typed rest = typed;
	struct part part = {.first = 0};
	struct week_held week = {.minutes = {0}};
	struct calendar made = *out;
	size_t parts = 0;
	if (typed.length == 0) {
		return number_blank_refuse("shifts", SHIFTS_SPELLING, fault);
	}
	memset(made.shifts, 0, sizeof made.shifts);
	memset(made.shift_count, 0, sizeof made.shift_count);
	if (typed_equal_fold(typed, "always")) {
		calendar_whole_week(&made);
		rest.length = 0;
		parts = 1;
	}
	while (value_list_next(&rest, &part.typed)) {
		enum outcome outcome = OUTCOME_DONE;
		if (typed_equal_fold(part.typed, "none") || typed_equal_fold(part.typed, "never")) {
			continue;
		}
		outcome = part_read(part.typed, &part, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = part_add(&made, &week, &part, fault);
		}
		if (outcome != OUTCOME_DONE) {
			return outcome;
		}
		parts++;
	}
	if (parts == 0) {
		return refuse("shifts leave no open hour", typed, fault);
	}
	calendar_settle(&made);
	*out = made;
	return OUTCOME_DONE;
}
