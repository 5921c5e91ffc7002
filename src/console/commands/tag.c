/* `tag TAG... [stock=NAME] [file=FILE] [printer=QUEUE]`: barcode tags. */
#include <inttypes.h>
#include <string.h>

#include "../arguments.h"
#include "../question.h"
#include "../tag_print.h"
#include "commands.h"

static const char *const words[] = {"find", "changed", "unprinted", "actions", NULL};
static const char *const symbols[] = {"code128", "datamatrix", "qr", NULL};

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
	enum outcome outcome = OUTCOME_DONE;
	*out = (struct tag_keys){
		.first_cell = 1,
		.cell_given = cell != NULL,
		.symbol = call_value(call, "symbol"),
	};
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
		if (outcome == OUTCOME_DONE && length_to_nm(out->carrier) == 0) {
			fault_set(call->fault, OUTCOME_BAD, "carrier is not more than nothing: %s", carrier);
			fault_hint(call->fault,
			           "Type its diameter, such as carrier=40mm, or leave it out for a "
			           "flat place.");
			outcome = OUTCOME_BAD;
		}
	}
	return outcome;
}

/* ---------------------------------------------------------------- the command */

static enum outcome run(struct call *call)
{
	struct tags_asked asked;
	struct tag_keys keys;
	enum outcome outcome = asked_read(call, &asked);
	if (outcome == OUTCOME_DONE) {
		outcome = keys_read(call, &keys);
	}
	return outcome == OUTCOME_DONE ? tags_print(call, &asked, &keys) : outcome;
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
		"there. tag changed prints on the stock, with the symbol and for the carrier of the time "
		"before, where none is named. Where set tag_content or company_prefix is changed, tags "
		"printed before stay valid: nothing is due.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_WRITE,
	.examples = examples,
	.run = run,
	.writes_with = writes_with,
	.asks_as_find = "find",
};
