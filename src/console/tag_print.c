/* `tag`: what goes on which stock, said first and printed then. */
#include "answer.h"
#include "tag_print.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "spooler.h"
#include "tag_answer.h"

/* A call under way. */
struct printing {
	struct call *call;
	struct tag_keys keys;
	struct tag_habits habits;
	struct stocks stocks;
	struct tags_to_print tags;
	struct tag_group *groups;
	size_t group_count;
};

/* ---------------------------------------------------------------- what goes on which stock */

static struct tag_group *group_of(struct printing *printing, const struct stock *stock)
{
	for (size_t i = 0; i < printing->group_count; i++) {
		if (printing->groups[i].stock == stock) {
			return &printing->groups[i];
		}
	}
	struct tag_group *group = &printing->groups[printing->group_count++];
	*group = (struct tag_group){
		.stock = stock,
		.tags = arena_take(printing->call->arena, printing->tags.count, sizeof(void *)),
	};
	return group;
}

static void request_fill(struct printing *printing, struct tag_group *group)
{
	struct tag_face *faces = arena_take(printing->call->arena, group->count, sizeof *faces);
	for (size_t i = 0; i < group->count; i++) {
		faces[i] = (struct tag_face){
			.code = group->tags[i]->tag,
			.content = group->tags[i]->content,
			.gs1 = group->tags[i]->gs1,
			.lines = group->tags[i]->lines,
			.carrier = printing->keys.carrier,
		};
	}
	group->request = (struct print_request){
		.stock = group->stock,
		.faces = faces,
		.count = group->count,
		.first_cell = printing->keys.first_cell,
		.x_least = printing->habits.x_least,
		.symbology = printing->keys.symbology_given ? &printing->keys.symbology : NULL,
	};
}

static enum outcome cell_check(struct printing *printing, const struct stock *stock)
{
	int64_t cells = stock->across * stock->down;
	if (printing->keys.first_cell <= cells) {
		return OUTCOME_DONE;
	}
	fault_set(printing->call->fault, OUTCOME_BAD, "cell is not on a page of %s: %" PRId64,
	          stock->name, printing->keys.first_cell);
	if (cells == 1) {
		fault_hint(printing->call->fault, "Leave cell= out: there is one tag on it.");
	} else {
		fault_hint(printing->call->fault, "Type a cell from 1 to %" PRId64 ".", cells);
	}
	return OUTCOME_BAD;
}

/* A tag longer than the way around would cover its own end: its symbol, or what it says. */
static enum outcome carrier_check(struct printing *printing, const struct stock *stock)
{
	const double pi = 3.14159265358979;
	struct call *call = printing->call;
	struct length diameter = printing->keys.carrier;
	bool wide = length_compare(stock->width, stock->height) >= 0;
	struct length around = wide ? stock->height : stock->width;
	struct length way = length_from_mm(floor(length_to_mm(diameter) * pi * 10) / 10);
	if (length_to_nm(diameter) == 0 || length_compare(around, way) <= 0) {
		return OUTCOME_DONE;
	}
	fault_set(call->fault, OUTCOME_NO,
	          "tag on %s would cover its own end: it takes %s around, the diameter %s gives %s",
	          stock->name, length_text(around, LENGTH_TOOLING, UNITS_METRIC).bytes,
	          length_text(diameter, LENGTH_TOOLING, UNITS_METRIC).bytes,
	          length_text(way, LENGTH_TOOLING, UNITS_METRIC).bytes);
	fault_hint(call->fault,
	           "It needs a diameter of at least %s; or type stock= with a smaller tag.",
	           length_text(length_from_mm(ceil(length_to_mm(around) / pi * 10 + 1e-6) / 10),
	                       LENGTH_TOOLING, UNITS_METRIC)
	               .bytes);
	return OUTCOME_NO;
}

static enum outcome groups_make(struct printing *printing)
{
	struct call *call = printing->call;
	enum outcome outcome = OUTCOME_DONE;
	printing->groups = arena_take(call->arena, printing->tags.count, sizeof *printing->groups);
	for (size_t i = 0; i < printing->tags.count; i++) {
		const struct tag_to_print *tag = &printing->tags.tags[i];
		struct tag_group *group = group_of(printing, stocks_of(&printing->stocks, tag->stock));
		group->tags[group->count++] = tag;
	}
	for (size_t i = 0; i < printing->group_count && outcome == OUTCOME_DONE; i++) {
		struct tag_group *group = &printing->groups[i];
		request_fill(printing, group);
		outcome = cell_check(printing, group->stock);
		if (outcome == OUTCOME_DONE) {
			outcome = carrier_check(printing, group->stock);
		}
		if (outcome == OUTCOME_DONE) {
			outcome = print_plan(call->arena, &group->request, &group->plan, call->fault);
			group->request.plan = &group->plan;
		}
		if (outcome == OUTCOME_DONE) {
			outcome = print_find_cut(call->arena, &group->request, &group->plan, call->fault);
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- printing */

/* Refused before anything is said: what could not be printed to anyway. */
static enum outcome target_check(struct call *call, enum file_form *form)
{
	const char *file = call_value(call, "file"), *printer = call_value(call, "printer");
	*form = FILE_PDF;
	if (printer != NULL) {
		return spooler_check(printer, call->fault);
	}
	if (file == NULL) {
		return OUTCOME_DONE;
	}
	enum outcome outcome = file_form_of(file, form, call->fault);
	if (outcome == OUTCOME_DONE && store_keeps_in(call->store, file)) {
		fault_set(call->fault, OUTCOME_BAD, "file is the shop's own: %s", file);
		fault_hint(call->fault, "Name another, such as tags.pdf.");
		return OUTCOME_BAD;
	}
	return outcome;
}

/* One file, one printer queue: one size of tag. */
static enum outcome refuse_several(struct printing *printing)
{
	struct call *call = printing->call;
	struct text names = text_start(call->arena);
	for (size_t i = 0; i < printing->group_count; i++) {
		text_join(&names, ", ", printing->groups[i].stock->name);
	}
	const char *which = call_bare(call, 0);
	bool due = text_equal_fold(which, "changed") || text_equal_fold(which, "unprinted");
	fault_set(call->fault, OUTCOME_BAD, "tags go on several stocks: %s", names.bytes);
	fault_hint(call->fault,
	           due ? "Print one kind at a time, such as tag %s place; or type "
	                 "stock=NAME for one that takes all."
	               : "Print them one kind at a time, or type stock=NAME for one that "
	                 "takes all.",
	           which);
	return OUTCOME_BAD;
}

static enum outcome to_printer(struct printing *printing, struct tag_group *group,
                               const char *queue)
{
	struct call *call = printing->call;
	struct spooled spooled;
	const char *said = "";
	enum outcome outcome = spooled_make(call->arena, &spooled, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	outcome =
		print_tags(call->arena, &group->request, FILE_PDF, spooled.file, &group->plan, call->fault);
	if (outcome == OUTCOME_DONE) {
		outcome = spooler_print(call->arena, queue, spooled.file, &said, call->fault);
	}
	spooled_remove(&spooled);
	if (outcome == OUTCOME_DONE) {
		answer_line(call->answer, MARK_GOOD, "%zu tag%s handed to printer %s%s%s", group->count,
		            group->count == 1 ? "" : "s", queue, said[0] != '\0' ? "; lp says: " : "",
		            said);
	}
	return outcome;
}

static enum outcome to_file(struct printing *printing, struct tag_group *group, enum file_form form,
                            const char *file)
{
	struct call *call = printing->call;
	enum outcome outcome =
		print_tags(call->arena, &group->request, form, file, &group->plan, call->fault);
	if (outcome == OUTCOME_DONE) {
		answer_line(call->answer, MARK_GOOD, "%zu tag%s written to %s", group->count,
		            group->count == 1 ? "" : "s", file);
	}
	return outcome;
}

static void nothing_say(struct printing *printing)
{
	if (printing->group_count > 1) {
		answer_line(printing->call->answer, MARK_DIM,
		            "Nothing is printed yet: print one kind at a time, or type stock=NAME for one "
		            "that takes all.");
		return;
	}
	answer_line(printing->call->answer, MARK_DIM,
	            "Nothing is printed yet: type file=tags.pdf behind it, or printer=QUEUE.");
}

/* What is to be printed is said, and seen, before the file or the spooler is touched. */
static enum outcome print_all(struct printing *printing, enum file_form form)
{
	struct call *call = printing->call;
	const char *file = call_value(call, "file"), *printer = call_value(call, "printer");
	if (file == NULL && printer == NULL) {
		nothing_say(printing);
		return OUTCOME_DONE;
	}
	if (answer_form(call->answer) == FORM_TEXT) {
		answer_flush(call->answer);
	}
	enum outcome outcome = printer != NULL ? to_printer(printing, &printing->groups[0], printer)
	                                       : to_file(printing, &printing->groups[0], form, file);
	return outcome == OUTCOME_DONE
	           ? room_tags_printed(call->store, &printing->tags, call->now, call->fault)
	           : outcome;
}

/* ---------------------------------------------------------------- all of it */

static enum outcome none_say(struct call *call, enum tags_which which)
{
	answer_array_open(call->answer, NULL);
	answer_array_close(call->answer);
	answer_line(call->answer, MARK_PLAIN, "%s",
	            which == TAGS_CHANGED     ? "no tag says otherwise now than when it was printed"
	            : which == TAGS_UNPRINTED ? "none is without a printed tag"
	                                      : "none found");
	return OUTCOME_NO;
}

static enum outcome run_asked(struct printing *printing, const struct tags_asked *asked)
{
	struct call *call = printing->call;
	const struct tag_stocks ways = {.find = stocks_find, .context = &printing->stocks};
	enum file_form form;
	enum outcome outcome = target_check(call, &form);
	if (outcome == OUTCOME_DONE) {
		outcome = room_tags(call->store, call->arena, asked, &printing->habits, &ways,
		                    &printing->tags, call->fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (printing->tags.count == 0) {
		return none_say(call, asked->which);
	}
	outcome = groups_make(printing);
	bool prints = call_value(call, "file") != NULL || call_value(call, "printer") != NULL;
	if (outcome == OUTCOME_DONE && prints && printing->group_count > 1) {
		return refuse_several(printing);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	for (size_t i = 0; i < printing->group_count; i++) {
		tag_group_say(call, &printing->groups[i]);
		if (i + 1 < printing->group_count) {
			answer_blank(call->answer);
		}
	}
	tag_cut_say(call, printing->groups, printing->group_count);
	tag_cautions_say(call, &printing->tags);
	outcome = print_all(printing, form);
	if (outcome == OUTCOME_DONE) {
		tag_groups_write(call, printing->groups, printing->group_count);
	}
	return outcome;
}

enum outcome tags_print(struct call *call, const struct tags_asked *asked,
                        const struct tag_keys *keys)
{
	struct printing printing = {.call = call, .keys = *keys};
	printing.stocks = (struct stocks){.call = call,
	                                  .habits = &printing.habits,
	                                  .forced = call_value(call, "stock")};
	enum outcome outcome = room_tag_habits(call->store, call->arena, &printing.habits, call->fault);
	return outcome == OUTCOME_DONE ? run_asked(&printing, asked) : outcome;
}
