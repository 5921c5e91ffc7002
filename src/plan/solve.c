/*
 * One question, one answer: tools chosen for all needs, findings, figures, and where the answer
 * stands among others.
 */
#include <math.h>
#include <string.h>

#include "internal.h"
#include "words.h"

/* ---------------------------------------------------------------- where an answer stands */

static int compare_counts(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

static int compare_figures(const struct standing *a, const struct standing *b)
{
	int order = compare_counts(b->waste_known, a->waste_known);
	if (order == 0 && a->waste_known) {
		order = compare_counts(a->waste_whole, b->waste_whole);
	}
	if (order == 0) {
		order = (a->plate_area > b->plate_area) - (a->plate_area < b->plate_area);
	}
	return order != 0 ? order : compare_counts(a->run_mm, b->run_mm);
}

int standing_compare_presses(const struct standing *a, const struct standing *b)
{
	int order = compare_counts(a->verdict, b->verdict);
	return order != 0 ? order : compare_figures(a, b);
}

int standing_compare_repeats(const struct standing *a, const struct standing *b)
{
	int order = compare_counts(a->verdict, b->verdict);
	if (order == 0) {
		order = compare_counts(b->die_suits, a->die_suits);
	}
	return order != 0 ? order : compare_figures(a, b);
}

bool standing_improves(const struct standing *after, const struct standing *before)
{
	return after->verdict < before->verdict ||
	       (after->verdict == before->verdict && after->unmet < before->unmet);
}

/* Is there for every cut a die that suits, in the shop or not? */
static bool dies_suit(const struct question *question)
{
	for (size_t row = 0; row < question->cut_count; row++) {
		bool suits = false;
		for (size_t item = 0; item < question->shelf->die_count && !suits; item++) {
			suits = die_rules.item_suits(question, row, item, NULL) != SUITS_NOT;
		}
		if (!suits) {
			return false;
		}
	}
	return true;
}

static double plate_area(const struct question *question)
{
	const struct layout *layout = &question->layout;
	if (!layout->repeat.known || !layout->printed_width.known) {
		return 0;
	}
	return (double)question->printing_count * real_to_mm(repeat_length(layout->repeat)) *
	       length_to_mm(layout->printed_width.value);
}

static int64_t chosen_run(const struct group *group)
{
	int64_t sum = 0;
	for (size_t row = 0; row < group->rows; row++) {
		size_t item = group->chosen.item[row], companion = group->chosen.companion[row];
		if (item != ASSIGNED_NONE) {
			sum += group->item_cost[row * group->items + item].part[COST_RUN];
		}
		if (companion != ASSIGNED_NONE) {
			sum += group->companion_cost[companion].part[COST_RUN];
		}
	}
	return sum;
}

/* Verdict and needs unmet, by the findings so far. */
static void take_verdict(const struct finding_list *list, struct standing *standing)
{
	standing->verdict = VERDICT_READY;
	standing->unmet = 0;
	for (size_t i = 0; i < list->count; i++) {
		switch (list->items[i].level) {
		case FINDING_SHORT:
			standing->verdict = VERDICT_SHORT;
			standing->unmet++;
			break;
		case FINDING_CAUTION:
			if (standing->verdict == VERDICT_READY) {
				standing->verdict = VERDICT_CAUTION;
			}
			break;
		case FINDING_NOTE:
			break;
		}
	}
}

/* ---------------------------------------------------------------- choosing */

/* Can a trial no longer come out better than what it must improve on? Findings only add up. */
static bool is_hopeless(const struct question *question, const struct finding_list *list)
{
	struct standing so_far;
	if (question->bar == NULL) {
		return false;
	}
	take_verdict(list, &so_far);
	return !standing_improves(&so_far, question->bar);
}

/* How a row fares at best, whatever the others take. */
static enum suits best_of_row(const struct question *question, const struct group_rules *rules,
                              size_t row)
{
	enum suits best = SUITS_NOT;
	size_t count = rules->item_count(question);
	for (size_t item = 0; item < count && best > SUITS_NOTED; item++) {
		enum suits level = group_item_remarks(question, rules, row, item, NULL);
		best = level < best ? level : best;
	}
	return best;
}

static void look_out(const struct question *question, const struct group_rules *const *rules,
                     size_t count, struct standing *outlook)
{
	for (size_t i = 0; i < count; i++) {
		size_t rows = rules[i]->row_count(question);
		for (size_t row = 0; row < rows && standing_improves(outlook, question->bar); row++) {
			enum suits best = best_of_row(question, rules[i], row);
			if (best == SUITS_NOT) {
				outlook->verdict = VERDICT_SHORT;
				outlook->unmet++;
			} else if (best == SUITS_DOUBTFUL && outlook->verdict == VERDICT_READY) {
				outlook->verdict = VERDICT_CAUTION;
			}
		}
	}
}

/*
 * Can a trial not improve on what it must, even if no two needs shared a tool? Told from the first
 * need that settles it, in `outlook`.
 */
static bool trial_is_hopeless(const struct question *question, bool repeat_judged,
                              const struct finding_list *list, struct standing *outlook)
{
	const struct group_rules *rules[] = {&roll_rules, &die_rules, &cylinder_rules};
	take_verdict(list, outlook);
	look_out(question, rules, repeat_judged ? COUNT_OF(rules) : 1, outlook);
	return !standing_improves(outlook, question->bar);
}

bool question_is_hopeless(const struct question *question, bool any_repeat)
{
	const struct group_rules *rules[] = {&roll_rules, &die_rules};
	struct finding_list list = {.arena = question->arena};
	struct standing outlook = {0};
	size_t count = 0;
	findings_of_job(question, true, &list);
	for (size_t i = 0; i < list.count; i++) {
		if (!any_repeat || strcmp(list.items[i].need, "repeat") != 0) {
			list.items[count++] = list.items[i];
		}
	}
	list.count = count;
	take_verdict(&list, &outlook);
	look_out(question, rules, any_repeat ? 1 : COUNT_OF(rules), &outlook);
	return !standing_improves(&outlook, question->bar);
}

static void choose_group(const struct question *question, const struct group_rules *rules,
                         struct group *out)
{
	group_judge(question, rules, out);
	if (rules == &cylinder_rules) {
		cylinders_choose(question, out);
	} else {
		group_choose(question, out, NULL, &out->chosen);
	}
}

/* A trial that must improve on something: what is cheap to choose first, and no further than it
 * may. */
static void choose_while_hopeful(const struct question *question, bool repeat_judged,
                                 struct solution *out, struct finding_list *list)
{
	struct group *groups[] = {&out->rolls, &out->dies, &out->cylinders};
	const struct group_rules *rules[] = {&roll_rules, &die_rules, &cylinder_rules};
	for (size_t i = 0; i < COUNT_OF(groups) && !is_hopeless(question, list); i++) {
		if (repeat_judged || rules[i] == &roll_rules) {
			choose_group(question, rules[i], groups[i]);
			findings_of_group(question, groups[i], list);
		}
	}
}

static void choose_tools(const struct question *question, bool repeat_judged, struct solution *out,
                         struct finding_list *list)
{
	/*
	 * Without a repeat nobody can say which cylinder, gear or die would do: nothing is asked of
	 * them.
	 */
	struct shelf no_tools = {.cylinder_count = 0};
	struct question unasked = *question;
	if (question->bar != NULL) {
		choose_while_hopeful(question, repeat_judged, out, list);
		return;
	}
	if (!repeat_judged) {
		unasked.shelf = &no_tools;
	}
	choose_group(&unasked, &cylinder_rules, &out->cylinders);
	choose_group(question, &roll_rules, &out->rolls);
	choose_group(&unasked, &die_rules, &out->dies);
	if (repeat_judged) {
		findings_of_group(question, &out->cylinders, list);
	}
	findings_of_group(question, &out->rolls, list);
	if (repeat_judged) {
		findings_of_group(question, &out->dies, list);
	}
}

/* The one doubt that is of no station: how far the printed diameters lie apart. */
static void spread_finding(const struct question *question, const struct group *cylinders,
                           struct finding_list *list)
{
	struct real_length spread;
	enum units units = question->limits->units;
	if (!cylinders_spread(question, &cylinders->chosen, &spread) ||
	    real_at_most(spread, real_from_length(question->limits->spread))) {
		return;
	}
	struct finding *finding = finding_add(
		list, "cylinder", 0, 0, FINDING_CAUTION,
		arena_format(list->arena, "printed diameters lie %s apart, %s at most",
	                 words_of_length(list->arena, spread, units),
	                 length_text(question->limits->spread, LENGTH_TOOLING, units).bytes));
	finding->tools = arena_take(list->arena, cylinders->rows, sizeof *finding->tools);
	finding->stations = arena_take(list->arena, cylinders->rows, sizeof *finding->stations);
	for (size_t row = 0; row < cylinders->rows; row++) {
		size_t item = cylinders->chosen.item[row];
		if (item != ASSIGNED_NONE && question->printing[row].registered) {
			finding->tools[finding->tool_count++] = question->shelf->cylinders[item].tool.tag;
			finding->stations[finding->station_count++] = question->printing[row].number;
		}
	}
	finding->wanted = finding->have = (int64_t)finding->tool_count;
}

/* ---------------------------------------------------------------- the answer */

static struct chosen chosen_tool(const struct tool *tool, const char *what)
{
	return (struct chosen){.known = true, .tag = tool->tag, .place = tool->place, .what = what};
}

static void answer_cylinder(const struct question *question, const struct group *group, size_t row,
                            struct station_answer *out)
{
	struct arena *arena = question->arena;
	size_t item = group->chosen.item[row], companion = group->chosen.companion[row];
	struct real_length printed;
	if (item == ASSIGNED_NONE) {
		return;
	}
	const struct cylinder *cylinder = &question->shelf->cylinders[item];
	out->cylinder =
		chosen_tool(&cylinder->tool, words_of_cylinder(arena, cylinder, question->limits->units));
	if (companion != ASSIGNED_NONE) {
		const struct gear *gear = &question->shelf->gears[companion];
		out->gear = chosen_tool(&gear->tool, words_of_gear(arena, gear));
	}
	out->buildup_known = printed_diameter_of(cylinder, &question->printing[row], &printed);
	if (out->buildup_known) {
		out->buildup_error = real_subtract(length_around(printed), repeat_length(cylinder->own));
	}
}

static void answer_roll(const struct question *question, const struct group *group, size_t row,
                        struct station_answer *out)
{
	struct arena *arena = question->arena;
	size_t item = group->chosen.item[row], companion = group->chosen.companion[row];
	enum units units = question->limits->units;
	if (item == ASSIGNED_NONE) {
		return;
	}
	const struct anilox *roll = &question->shelf->rolls[item];
	out->anilox = chosen_tool(&roll->tool, words_of_roll(arena, roll, question->layout.run, units));
	out->volume = volume_at_end(roll, question->layout.run);
	if (companion != ASSIGNED_NONE) {
		const struct blade *blade = &question->shelf->blades[companion];
		out->blade = chosen_tool(&blade->tool, words_of_blade(arena, blade, units));
	}
}

static void answer_plate(const struct question *question, const struct station *station,
                         struct station_answer *out)
{
	struct distortion distortion;
	const struct layout *layout = &question->layout;
	if (layout->repeat.known && station->plate.known && station->base.known &&
	    distortion_of(repeat_length(layout->repeat), station->plate.value, station->base.value,
	                  &distortion)) {
		out->factor_known = true;
		out->factor_percent = distortion.factor_percent;
		out->flat_length = distortion.flat_length;
	}
}

static void answer_stations(const struct question *question, struct solution *out)
{
	const struct job *job = question->job;
	struct check *check = &out->check;
	size_t row = 0;
	check->station_count = job->station_count;
	check->stations = arena_take(question->arena, job->station_count, sizeof *check->stations);
	for (size_t i = 0; i < job->station_count; i++) {
		const struct station *station = &job->stations[i];
		struct station_answer *answer = &check->stations[i];
		answer->station = station->number;
		answer->ink = station->ink;
		answer->process = station->process;
		answer->plates = station->plates;
		if (row < question->printing_count && question->printing[row].number == station->number) {
			answer_cylinder(question, &out->cylinders, row, answer);
			answer_roll(question, &out->rolls, row, answer);
			answer_plate(question, station, answer);
			row++;
		}
	}
}

static void answer_cuts(const struct question *question, struct solution *out)
{
	struct arena *arena = question->arena;
	struct check *check = &out->check;
	enum units units = question->limits->units;
	check->cut_count = question->cut_count;
	check->cuts = arena_take(arena, question->cut_count, sizeof *check->cuts);
	for (size_t row = 0; row < question->cut_count; row++) {
		size_t item = out->dies.chosen.item[row], companion = out->dies.chosen.companion[row];
		struct cut_answer *answer = &check->cuts[row];
		answer->cut = question->cuts[row].number;
		if (item != ASSIGNED_NONE) {
			const struct die *die = &question->shelf->dies[item];
			answer->die = chosen_tool(&die->tool, words_of_die(arena, die, units));
		}
		if (companion != ASSIGNED_NONE) {
			const struct magnetic_cylinder *cylinder =
				&question->shelf->magnetic_cylinders[companion];
			answer->magnetic_cylinder =
				chosen_tool(&cylinder->tool, words_of_magnetic_cylinder(arena, cylinder, units));
		}
	}
}

static void answer_figures(const struct question *question, struct check *check)
{
	const struct layout *layout = &question->layout;
	struct known_length web = layout->web.known ? layout->web : layout->web_needed;
	check->job = question->job->number;
	check->title = question->job->title;
	check->state = question->job->state;
	check->press = question->press->press.code;
	check->from = question->span.from;
	check->until = question->span.until;
	check->repeat = layout->repeat;
	check->number_around = layout->number_around;
	check->number_across = layout->number_across;
	check->web_needed = layout->web_needed;
	check->printed_width = layout->printed_width;
	check->run = layout->run;
	check->gap_known =
		layout->repeat.known && layout->number_around.known && layout->label_around.known;
	if (check->gap_known) {
		check->gap_around =
			gap_around(layout->repeat, layout->number_around.value, layout->label_around.value);
	}
	check->waste_known =
		check->gap_known && web.known && layout->label_across.known && layout->number_across.known;
	if (check->waste_known) {
		check->waste = waste_of(layout->label_across.value, layout->label_around.value,
		                        layout->number_across.value, layout->number_around.value, web.value,
		                        layout->repeat);
	}
}

static struct standing outlook_of(const struct question *question, const struct check *check)
{
	return (struct standing){
		.verdict = VERDICT_READY,
		.die_suits = check->repeat.known && dies_suit(question),
		.waste_known = check->waste_known,
		.waste_whole = check->waste_known ? (int64_t)llround(check->waste * 100) : 0,
		.plate_area = plate_area(question),
	};
}

struct standing question_outlook(const struct question *question)
{
	struct check check = {.job = question->job->number};
	answer_figures(question, &check);
	return outlook_of(question, &check);
}

static void take_standing(const struct question *question, const struct finding_list *list,
                          struct solution *solution)
{
	struct check *check = &solution->check;
	struct standing *standing = &solution->standing;
	*standing = outlook_of(question, check);
	standing->run_mm = chosen_run(&solution->cylinders) + chosen_run(&solution->rolls) +
	                   chosen_run(&solution->dies);
	take_verdict(list, standing);
	check->verdict = standing->verdict;
}

static void solve(const struct question *question, bool repeat_judged, struct solution *out,
                  struct finding_list *list)
{
	answer_figures(question, &out->check);
	choose_tools(question, repeat_judged, out, list);
	if (repeat_judged && out->cylinders.rows > 0) {
		spread_finding(question, &out->cylinders, list);
	}
	if (!question->trial) {
		answer_stations(question, out);
		answer_cuts(question, out);
	}
	out->check.findings = list->items;
	out->check.finding_count = list->count;
	take_standing(question, list, out);
}

void question_solve(const struct question *question, bool repeat_judged, struct solution *out)
{
	struct finding_list list = {.arena = question->arena};
	*out = (struct solution){.check = {.job = question->job->number}};
	findings_of_job(question, repeat_judged, &list);
	if (question->bar == NULL) {
		solve(question, repeat_judged, out, &list);
	} else if (!trial_is_hopeless(question, repeat_judged, &list, &out->standing)) {
		struct question hopeful = *question;
		if (question->shelf == question->whole) {
			question_narrow(&hopeful, repeat_judged);
		}
		solve(&hopeful, repeat_judged, out, &list);
	}
}
