/* `tag`: what goes on which stock, said first and printed then. */
#include "answer.h"
#include "tag_print.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "drawn_file.h"
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

static bool same_symbol(const char *a, const char *b)
{
	return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

static enum symbology symbology_named(const char *name)
{
	enum symbology found = 0;
	while (found < SYMBOLOGY_NONE && strcmp(symbology_name(found), name) != 0) {
		found++;
	}
	return found;
}

static struct tag_group *group_of(struct printing *printing, const struct tag_to_print *tag)
{
	const struct stock *stock = stocks_of(&printing->stocks, tag->stock);
	for (size_t i = 0; i < printing->group_count; i++) {
		struct tag_group *group = &printing->groups[i];
		if (group->stock == stock && same_symbol(group->symbol, tag->symbol)) {
			return group;
		}
	}
	struct tag_group *group = &printing->groups[printing->group_count++];
	*group = (struct tag_group){
		.stock = stock,
		.symbol = tag->symbol,
		.symbology = tag->symbol != NULL ? symbology_named(tag->symbol) : stock->symbology,
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
			.carrier = group->tags[i]->carrier,
		};
	}
	group->request = (struct print_request){
		.stock = group->stock,
		.faces = faces,
		.count = group->count,
		.first_cell = printing->keys.first_cell,
		.x_least = printing->habits.x_least,
		.symbology = &group->symbology,
		.units = printing->call->units,
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

/* Of a length, what is sure to be there, or upward what must be: tenths of a millimetre, or
   hundredths of an inch. */
static struct quantity_text rounded(struct call *call, double mm, bool up)
{
	double step = call->units == UNITS_INCH ? 0.254 : 0.1;
	double steps = up ? ceil(mm / step - 1e-6) : floor(mm / step);
	return length_text(length_from_mm(steps * step), LENGTH_TOOLING, call->units);
}

/* A tag longer than the way around would cover its own end: its symbol, or what it says. */
static enum outcome carrier_check(struct call *call, const struct stock *stock,
                                  struct length diameter)
{
	const double pi = 3.14159265358979;
	bool wide = length_compare(stock->width, stock->height) >= 0;
	double around = length_to_mm(wide ? stock->height : stock->width);
	double way = length_to_mm(diameter) * pi;
	if (length_to_nm(diameter) == 0 || around <= way) {
		return OUTCOME_DONE;
	}
	fault_set(call->fault, OUTCOME_NO,
	          "tag on %s would cover its own end: it takes %s around, the diameter %s gives %s",
	          stock->name, rounded(call, around, true).bytes,
	          length_text(diameter, LENGTH_TOOLING, call->units).bytes,
	          rounded(call, way, false).bytes);
	fault_hint(call->fault,
	           "It needs a diameter of at least %s; or type stock= with a smaller tag.",
	           rounded(call, around / pi, true).bytes);
	return OUTCOME_NO;
}

static enum outcome carriers_check(struct call *call, const struct tag_group *group)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < group->count && outcome == OUTCOME_DONE; i++) {
		outcome = carrier_check(call, group->stock, group->tags[i]->carrier);
	}
	return outcome;
}

/* What is named in the call outweighs what it was printed with before. */
static void form_take(const struct tag_keys *keys, struct tag_to_print *tag)
{
	if (keys->symbol != NULL) {
		tag->symbol = keys->symbol;
	}
	if (length_to_nm(keys->carrier) > 0) {
		tag->carrier = keys->carrier;
	}
}

static enum outcome groups_make(struct printing *printing)
{
	struct call *call = printing->call;
	enum outcome outcome = OUTCOME_DONE;
	printing->groups = arena_take(call->arena, printing->tags.count, sizeof *printing->groups);
	for (size_t i = 0; i < printing->tags.count; i++) {
		struct tag_to_print *tag = &printing->tags.tags[i];
		form_take(&printing->keys, tag);
		struct tag_group *group = group_of(printing, tag);
		group->tags[group->count++] = tag;
	}
	for (size_t i = 0; i < printing->group_count && outcome == OUTCOME_DONE; i++) {
		struct tag_group *group = &printing->groups[i];
		request_fill(printing, group);
		outcome = cell_check(printing, group->stock);
		if (outcome == OUTCOME_DONE) {
			outcome = carriers_check(call, group);
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
	return file == NULL ? OUTCOME_DONE : drawn_file_check(call, file, "tags.pdf", form);
}

static bool groups_differ_in_stock(const struct printing *printing)
{
	for (size_t i = 1; i < printing->group_count; i++) {
		if (printing->groups[i].stock != printing->groups[0].stock) {
			return true;
		}
	}
	return false;
}

/* What the tags are for, as bits of enum stock_use. */
static unsigned uses_of(const struct printing *printing)
{
	unsigned uses = 0;
	for (size_t i = 0; i < printing->tags.count; i++) {
		uses |= (unsigned)stocks_use(room_tag_use(printing->tags.tags[i].kind));
	}
	return uses;
}

/* One that takes all: of those that the tags go on, else one that the program carries; or NULL. */
static const char *stock_for_all(const struct printing *printing)
{
	struct call *call = printing->call;
	unsigned uses = uses_of(printing);
	for (size_t i = 0; i < printing->group_count; i++) {
		if ((uses & ~printing->groups[i].stock->uses) == 0) {
			return printing->groups[i].stock->name;
		}
	}
	for (const struct stock_file *file = stock_files; file->name != NULL; file++) {
		struct stock stock;
		if (stock_find(call->arena, NULL, file->name, &stock, NULL) == OUTCOME_DONE &&
		    (uses & ~stock.uses) == 0) {
			return file->name;
		}
	}
	return NULL;
}

/* The words of a call that prints the first of several groups. */
static const char *words_for_some(const struct printing *printing)
{
	struct call *call = printing->call;
	const char *first = call_bare(call, 0), *printer = call_value(call, "printer");
	const char *file = call_value(call, "file");
	const struct tag_to_print *tag = printing->groups[0].tags[0];
	bool due = text_equal_fold(first, "changed") || text_equal_fold(first, "unprinted");
	bool kind = due && call_bare(call, 1) == NULL;
	const char *where = printer != NULL ? printer : file;
	if (where == NULL || strpbrk(where, " \t\"'\\") != NULL) { /* would have to be quoted */
		where = printer != NULL ? "QUEUE" : "tags.pdf";
	}
	return arena_format(call->arena, "tag %s%s%s %s=%s", kind ? first : "", kind ? " " : "",
	                    kind ? tag->kind->name : tag->tag, printer != NULL ? "printer" : "file",
	                    where);
}

/* One file, one printer queue: one size of tag, one symbol. How to get there, in one sentence. */
static const char *several_hint(const struct printing *printing)
{
	struct arena *arena = printing->call->arena;
	const char *some = words_for_some(printing);
	if (!groups_differ_in_stock(printing)) {
		const struct tag_group *group = &printing->groups[0];
		return arena_format(arena, "type symbol=%s for all of them, or print some at a time: %s",
		                    symbology_name(group->symbology), some);
	}
	const char *all = stock_for_all(printing);
	return all != NULL ? arena_format(arena,
	                                  "type stock=%s, which takes all of them, or print some at a "
	                                  "time: %s",
	                                  all, some)
	                   : arena_format(arena, "print kind by kind, no stock takes all: %s", some);
}

static enum outcome refuse_several(struct printing *printing)
{
	struct call *call = printing->call;
	bool stocks_differ = groups_differ_in_stock(printing);
	struct text names = text_start(call->arena);
	for (size_t i = 0; i < printing->group_count; i++) {
		const struct tag_group *group = &printing->groups[i];
		const char *name = stocks_differ ? group->stock->name : symbology_name(group->symbology);
		bool again = false;
		for (size_t j = 0; j < i; j++) {
			again = again || (stocks_differ && printing->groups[j].stock == group->stock);
		}
		if (!again) {
			text_join(&names, ", ", name);
		}
	}
	fault_set(call->fault, OUTCOME_BAD, "tags %s: %s",
	          stocks_differ ? "go on several stocks" : "have several symbols", names.bytes);
	char *hint = arena_copy(call->arena, several_hint(printing));
	hint[0] = (char)(hint[0] - 'a' + 'A');
	fault_hint(call->fault, "%s", hint);
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
		outcome =
			spooler_print(call->arena, queue, spooled.file, SPOOLER_SECONDS, &said, call->fault);
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
		answer_line(printing->call->answer, MARK_DIM, "Nothing is printed yet: %s",
		            several_hint(printing));
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
