/* `find [KIND] [key=value, key=range, WORD...]`: what the shop has. */
#include <inttypes.h>
#include <string.h>

#include "../question.h"
#include "../records.h"
#include "commands.h"

#define ASKED_MOST 3
#define COLUMNS_MOST (6 + ASKED_MOST)

/* An answer under way: which kinds can come, and how their records are told. */
struct finding {
	struct call *call;
	const struct question *question;
	const char *asked[ASKED_MOST]; /* attributes that rows tell because a range of them was asked */
	size_t asked_count;
	const struct kind *const *kinds;
	size_t kind_count;
	bool tools; /* nothing else can come */
	bool open;
};

/* ---------------------------------------------------------------- a record in a row */

/* What the shop calls it beside its tag. */
static const char *called_attribute(const struct kind *kind)
{
	static const char *const names[] = {"other_tag", "code", "number", "badge"};
	for (size_t i = 0; i < COUNT_OF(names); i++) {
		if (kind->tagged && kind_attribute_find(kind, names[i]) != SIZE_MAX) {
			return names[i];
		}
	}
	return NULL;
}

static const char *words_of(const struct record *record, const char *attribute)
{
	return attribute != NULL ? record_words(record, attribute) : NULL;
}

/* Where a kind's records are: a tool in its place, a place within another; NULL: it is not said. */
static const char *place_attribute(const struct kind *kind)
{
	return kind->tool ? "place" : kind->id == KIND_PLACE ? "within" : NULL;
}

/* Only what stands in the way: that a thing is ready goes without saying. */
static const char *condition_of(const struct record *record)
{
	const char *condition = words_of(record, "condition");
	const struct value *retired = record_known(record, "retired");
	if (retired != NULL && retired->yes) {
		return "retired";
	}
	return condition != NULL && strcmp(condition, "ready") != 0 ? condition : NULL;
}

static const char *called_heading(const struct finding *finding)
{
	const char *first = called_attribute(finding->kinds[0]);
	for (size_t i = 1; i < finding->kind_count; i++) {
		if (strcmp(called_attribute(finding->kinds[i]), first) != 0) {
			return "code or number";
		}
	}
	return first;
}

/* Of the column that says where they are, and on which presses a job runs; NULL: there is none. */
static const char *place_heading(const struct finding *finding)
{
	if (finding->kind_count == 1 && finding->kinds[0]->id == KIND_JOB) {
		return "press";
	}
	return finding->kind_count == 1 ? place_attribute(finding->kinds[0]) : "place";
}

static const char *place_of(const struct finding *finding, const struct record *record)
{
	bool job = finding->kind_count == 1 && record->kind->id == KIND_JOB;
	return words_of(record, job ? "press" : place_attribute(record->kind));
}

/* ---------------------------------------------------------------- text */

static bool is_told(const struct finding *finding, const char *attribute)
{
	for (size_t i = 0; i < finding->kind_count; i++) {
		if (!room_summary_tells(finding->kinds[i], attribute)) {
			return false;
		}
	}
	return true;
}

/* What was asked as a range differs from row to row: each tells it, where its words do not. */
static void choose_asked(struct finding *finding)
{
	const struct question *question = finding->question;
	for (size_t i = 0; i < question->pair_count && finding->asked_count < ASKED_MOST; i++) {
		const struct pair *pair = &question->pairs[i];
		if (strstr(pair->value, "..") != NULL && !is_told(finding, pair->key)) {
			finding->asked[finding->asked_count++] = pair->key;
		}
	}
}

/* The columns of this answer, into `out` as what a row's function gives; returns how many. */
static size_t columns_of(const struct finding *finding, const char *out[COLUMNS_MOST])
{
	size_t count = 0;
	bool tagged = finding->kinds[0]->tagged;
	if (tagged) {
		out[count++] = "tag";
	}
	out[count++] = "what it is";
	for (size_t i = 0; i < finding->asked_count; i++) {
		out[count++] = arena_format(finding->call->arena, ">%s", finding->asked[i]);
	}
	if (place_heading(finding) != NULL) {
		out[count++] = place_heading(finding);
	}
	if (tagged) {
		out[count++] = "condition";
		out[count++] = called_heading(finding);
	}
	return count;
}

/* What was asked of a record: of what runs round, its run in revolutions too. */
static const char *asked_cell(const struct finding *finding, struct arena *arena,
                              const struct record *record, const char *attribute)
{
	const struct value *value = record_known(record, attribute);
	const char *text = value != NULL ? value_text(arena, value, finding->call->units) : NULL;
	int64_t revolutions;
	if (text != NULL && strcmp(attribute, "run") == 0 && room_revolutions(record, &revolutions)) {
		return arena_format(arena, "%s, %lld revolutions", text, (long long)revolutions);
	}
	return text;
}

static void row_say(struct finding *finding, struct arena *arena, const struct record *record)
{
	const char *cells[COLUMNS_MOST];
	size_t count = 0;
	const char *condition = condition_of(record);
	if (record->kind->tagged) {
		cells[count++] = record_words(record, "tag");
	}
	cells[count++] = room_summary(arena, record, finding->call->units);
	for (size_t i = 0; i < finding->asked_count; i++) {
		cells[count++] = asked_cell(finding, arena, record, finding->asked[i]);
	}
	if (place_heading(finding) != NULL) {
		cells[count++] = place_of(finding, record);
	}
	if (record->kind->tagged) {
		cells[count++] = condition;
		cells[count++] = words_of(record, called_attribute(record->kind));
	}
	answer_table_row(finding->call->answer, condition != NULL ? MARK_CAUTION : MARK_PLAIN, cells);
}

/* Below a record, what must be seen of it. */
static enum outcome remark_say(struct finding *finding, struct arena *arena,
                               const struct record *record)
{
	const char *cells[COLUMNS_MOST] = {NULL};
	enum outcome outcome =
		room_remark(finding->call->store, arena, record, &cells[1], finding->call->fault);
	if (outcome == OUTCOME_DONE && cells[1] != NULL) {
		answer_table_row(finding->call->answer, MARK_CAUTION, cells);
	}
	return outcome;
}

/* ---------------------------------------------------------------- data */

/* CSV of several kinds: what they have in common, or what the table for people says. */
static void row_write_common(struct finding *finding, struct arena *arena,
                             const struct record *record)
{
	struct answer *answer = finding->call->answer;
	const struct kind *kind = finding->kinds[0];
	answer_word(answer, "kind", record->kind->name);
	if (finding->tools) {
		for (size_t i = 0; i < kind_attribute_count(kind) - kind->own_count; i++) {
			answer_value(answer, kind_attribute(kind, i)->name, &record->values[i]);
		}
		return;
	}
	answer_word(answer, "tag", record_words(record, "tag"));
	answer_word(answer, "called", words_of(record, called_attribute(record->kind)));
	answer_word(answer, "what", room_summary(arena, record, finding->call->units));
	answer_word(answer, "place", place_of(finding, record));
	answer_word(answer, "condition", condition_of(record));
}

/* In JSON alone: CSV has the attributes that `import` takes. */
static void revolutions_write(struct answer *answer, const struct record *record)
{
	int64_t revolutions;
	if (room_revolutions(record, &revolutions)) {
		answer_count(answer, "revolutions", revolutions);
	} else if (record->kind->id == KIND_CYLINDER || record->kind->id == KIND_DIE ||
	           record->kind->id == KIND_MAGNETIC_CYLINDER) {
		answer_null(answer, "revolutions");
	}
}

static void row_write(struct finding *finding, struct arena *arena, const struct record *record)
{
	struct answer *answer = finding->call->answer;
	answer_object_open(answer, NULL);
	if (answer_form(answer) == FORM_JSON) {
		record_write(answer, record);
		revolutions_write(answer, record);
	} else if (finding->kind_count > 1) {
		row_write_common(finding, arena, record);
	} else {
		for (size_t i = 0; i < kind_attribute_count(record->kind); i++) {
			answer_value(answer, kind_attribute(record->kind, i)->name, &record->values[i]);
		}
	}
	answer_object_close(answer);
}

/* ---------------------------------------------------------------- the command */

static void begin(const struct kind *const *kinds_found, size_t count, void *context)
{
	struct finding *finding = context;
	const char *columns[COLUMNS_MOST];
	finding->kinds = kinds_found;
	finding->kind_count = count;
	finding->tools = true;
	for (size_t i = 0; i < count; i++) {
		finding->tools = finding->tools && kinds_found[i]->tool;
	}
	choose_asked(finding);
	finding->open = true;
	answer_array_open(finding->call->answer, NULL);
	answer_table_open(finding->call->answer, columns, columns_of(finding, columns));
}

static enum outcome take(struct arena *arena, struct record *record, void *context)
{
	struct finding *finding = context;
	if (answer_form(finding->call->answer) == FORM_TEXT) {
		row_say(finding, arena, record);
		return remark_say(finding, arena, record);
	}
	row_write(finding, arena, record);
	return OUTCOME_DONE;
}

/* A first word that is nearly a kind's name was perhaps meant as one. */
static void none_say(struct call *call, const struct question *question)
{
	const char *names[KIND_COUNT + 1] = {NULL};
	for (size_t i = 0; i < KIND_COUNT; i++) {
		names[i] = kinds[i].name;
	}
	const char *nearest = question->kind == NULL && question->word_count > 0
	                          ? text_nearest(question->words[0], names)
	                          : NULL;
	answer_line(call->answer, MARK_PLAIN, "none found");
	if (nearest != NULL) {
		answer_line(call->answer, MARK_DIM, "All of a kind: type find %s.", nearest);
	}
}

static enum outcome run(struct call *call)
{
	struct question question;
	struct finding finding = {.call = call, .question = &question};
	int64_t count = 0;
	question_read(call, 0, &question);
	enum outcome outcome =
		room_find(call->store, call->arena, &question, begin, take, &finding, &count, call->fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	answer_table_close(call->answer);
	answer_array_close(call->answer);
	if (count == 0) {
		none_say(call, &question);
		return OUTCOME_NO;
	}
	answer_line(call->answer, MARK_PLAIN, "%" PRId64 " found", count);
	return OUTCOME_DONE;
}

static const struct argument arguments[] = {
	{.name = "kind",
     .type = ARGUMENT_KIND_OR_WORD,
     .meaning = "what it is; without it every kind that has all the keys"},
	{.name = "attributes",
     .type = ARGUMENT_ATTRIBUTES,
     .repeated = true,
     .meaning = "what it has: a value, a range 330mm.. or 90..100, nothing for not known"},
	{.name = "word",
     .type = ARGUMENT_TEXT,
     .repeated = true,
     .meaning = "beginning of a word of its name, note, tag or number"},
};

static const char *const examples[] = {
	"find cylinder teeth=90..100 condition=ready",
	"find anilox place=ROOM volume=4bcm..6bcm",
	"find cider",
	"find cylinder diameter=",
	NULL,
};

const struct command command_find_records = {
	.name = "find",
	.summary = "what the shop has: by kind, attribute, range, place and word",
	.more = "Place and home take in all that lies within. Names, notes and other free text are "
			"found by any part, fit and other lists by one of their words. Where a range is asked "
			"each row tells what it has. All are listed, scrapped "
			"and retired ones too, unless condition= or retired= asks otherwise.",
	.arguments = arguments,
	.argument_count = COUNT_OF(arguments),
	.needs = NEEDS_READ,
	.examples = examples,
	.run = run,
};
