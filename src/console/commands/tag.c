/* `tag TAG... [stock=NAME] [file=FILE] [printer=QUEUE]`: barcode tags. */
#include <inttypes.h>
#include <string.h>

#include "../arguments.h"
#include "../question.h"
#include "../session.h"
#include "../spooler.h"
#include "../tag_answer.h"
#include "commands.h"

static const char *const words[] = {"find", "changed", "unprinted", "actions", NULL};
static const char *const symbols[] = {"code128", "datamatrix", "qr", NULL};

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

/* ---------------------------------------------------------------- what is asked */

/* Behind `changed` and `unprinted`: a kind, or nothing. */
static enum outcome kind_read(struct call *call, const struct kind **out)
{
	const char *word = call_bare(call, 1);
	const char *names[KIND_COUNT + 1] = {NULL};
	size_t count = 0;
	*out = word != NULL ? kind_find(word) : NULL;
	if (call_bare_count(call) > 2) {
		fault_set(call->fault, OUTCOME_BAD, "word not expected: %s", call_bare(call, 2));
		fault_hint(call->fault, "Type: tag %s KIND", call_bare(call, 0));
		return OUTCOME_BAD;
	}
	if (word == NULL || *out != NULL) {
		return OUTCOME_DONE;
	}
	for (size_t i = 0; i < KIND_COUNT; i++) {
		if (kinds[i].tagged) {
			names[count++] = kinds[i].name;
		}
	}
	return refuse_word(call->arena, "kind", word, names, call->fault);
}

static enum outcome asked_read(struct call *call, struct tags_asked *out)
{
	static const enum tags_which which[] = {TAGS_FOUND, TAGS_CHANGED, TAGS_UNPRINTED, TAGS_CARDS};
	const char *first = call_bare(call, 0);
	const char **names = arena_take(call->arena, call->word_count + 1, sizeof *names);
	*out = (struct tags_asked){.which = TAGS_NAMED, .names = names, .units = call->units};
	for (size_t i = 0; i < COUNT_OF(which); i++) {
		out->which = text_equal_fold(first, words[i]) ? which[i] : out->which;
	}
	if (out->which == TAGS_FOUND) {
		struct question *question = arena_take(call->arena, 1, sizeof *question);
		question_read(call, 1, question);
		out->question = question;
	}
	if (out->which == TAGS_CHANGED || out->which == TAGS_UNPRINTED) {
		return kind_read(call, &out->kind);
	}
	if (out->which == TAGS_CARDS && call_bare_count(call) > 1) {
		fault_set(call->fault, OUTCOME_BAD, "word not expected: %s", call_bare(call, 1));
		fault_hint(call->fault, "Type: tag actions");
		return OUTCOME_BAD;
	}
	for (const char *name; (name = call_bare(call, out->name_count)) != NULL;) {
		names[out->name_count++] = name;
	}
	return OUTCOME_DONE;
}

static enum outcome keys_read(struct call *call, struct tag_keys *out)
{
	const char *cell = call_value(call, "cell"), *carrier = call_value(call, "carrier");
	const char *symbol = call_value(call, "symbol");
	enum outcome outcome = OUTCOME_DONE;
	*out = (struct tag_keys){.first_cell = 1, .cell_given = cell != NULL};
	if (call_value(call, "file") != NULL && call_value(call, "printer") != NULL) {
		fault_set(call->fault, OUTCOME_BAD, "file and printer are both given");
		fault_hint(call->fault, "Type one of them: tags are printed once.");
		return OUTCOME_BAD;
	}
	if (cell != NULL) {
		outcome = count_parse("cell", cell, 1, 10000, &out->first_cell, call->fault);
	}
	if (outcome == OUTCOME_DONE && carrier != NULL) {
		outcome = length_parse_positive("carrier", carrier, &out->carrier, call->fault);
	}
	for (int i = 0; symbol != NULL && i < SYMBOLOGY_COUNT; i++) {
		if (strcmp(symbology_name((enum symbology)i), symbol) == 0) {
			out->symbology = (enum symbology)i;
			out->symbology_given = true;
		}
	}
	return outcome;
}

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
		.tags = arena_take(printing->call->arena, printing->tags.count, sizeof *group->tags),
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
			outcome = print_plan(call->arena, &group->request, &group->plan, call->fault);
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
	answer_send(call->answer);
	enum outcome outcome = printer != NULL ? to_printer(printing, &printing->groups[0], printer)
	                                       : to_file(printing, &printing->groups[0], form, file);
	return outcome == OUTCOME_DONE
	           ? room_tags_printed(call->store, &printing->tags, call->now, call->fault)
	           : outcome;
}

/* ---------------------------------------------------------------- the command */

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
	tag_cautions_say(call, &printing->tags);
	outcome = print_all(printing, form);
	if (outcome == OUTCOME_DONE) {
		tag_groups_write(call, printing->groups, printing->group_count);
	}
	return outcome;
}

static enum outcome run(struct call *call)
{
	struct printing printing = {.call = call};
	struct tags_asked asked;
	printing.stocks = (struct stocks){.call = call,
	                                  .habits = &printing.habits,
	                                  .forced = call_value(call, "stock")};
	enum outcome outcome = asked_read(call, &asked);
	if (outcome == OUTCOME_DONE) {
		outcome = keys_read(call, &printing.keys);
	}
	if (outcome == OUTCOME_DONE) {
		outcome = room_tag_habits(call->store, call->arena, &printing.habits, call->fault);
	}
	return outcome == OUTCOME_DONE ? run_asked(&printing, &asked) : outcome;
}

static const struct argument arguments[] = {
	{.name = "tag",
     .type = ARGUMENT_TAG_OR_CHOICE,
     .choices = words,
     .required = true,
     .repeated = true,
     .meaning = "of any record that has one; or find, changed, unprinted or actions"},
	{.name = "stock",
     .type = ARGUMENT_STOCK,
     .keyed = true,
     .meaning = "what it goes on; without it as set stock_tool and the like say"},
	{.name = "file",
     .type = ARGUMENT_FILE,
     .keyed = true,
     .meaning = "where to: a .pdf, .svg or .png"},
	{.name = "printer",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "queue of the system's print spooler",
     .usage = "QUEUE"},
	{.name = "cell",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "first free cell of a half-used sheet, counted row by row",
     .usage = "N"},
	{.name = "symbol",
     .type = ARGUMENT_CHOICE,
     .keyed = true,
     .choices = symbols,
     .meaning = "another than the stock's"},
	{.name = "carrier",
     .type = ARGUMENT_TEXT,
     .keyed = true,
     .meaning = "diameter of the round thing that it goes around, such as a journal",
     .usage = "DIAMETER"},
};

static const char *const examples[] = {
	"tag PC000025-1",       "tag find cylinder teeth=90..100 file=tags.pdf",
	"tag unprinted anilox", "tag PC000025-1 carrier=60mm",
	"tag actions",          NULL,
};

static const char *const writes_with[] = {"file", "printer", NULL};

const struct command command_tag = {
	.name = "tag",
	.summary = "barcode tags for tools, places, presses, jobs and badges, and the bench's cards",
	.more =
		"It says what it would print; with file= or printer= it prints. tag find with what find takes "
		"prints all that is found, tag changed what reads otherwise now than on its printed tag, tag "
		"unprinted what never had one (both may name a kind), tag actions the action and reason cards "
		"of the bench. A stock is one that the program carries, NAME.stock in the folder labels beside "
		"the shop's file, or a file. A file is written whole or not at all, in place of one that is "
		"there.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
	.writes_with = writes_with,
	.asks_as_find = "find",
};
