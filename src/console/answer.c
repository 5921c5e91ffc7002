/* The data of an answer: a tree, filled from the top. The texts for people are in answer_text.c. */
#include <assert.h>
#include <float.h>
#include <math.h>
#include <string.h>

#include "answer.h"

struct answer *answer_new(struct arena *arena, enum answer_form form, enum units units)
{
	struct answer *answer = arena_take(arena, 1, sizeof *answer);
	answer->lasting = arena;
	answer->arena = arena;
	answer->headings.arena = arena;
	answer->form = form;
	answer->units = units;
	answer->out = text_start(arena);
	return answer;
}

void answer_stream(struct answer *answer, struct arena *held, const struct answer_sink *sink)
{
	arena_reset(held);
	answer->arena = held;
	answer->sink = sink;
	answer->out = text_start(held);
}

enum answer_form answer_form(const struct answer *answer)
{
	return answer->form;
}

bool answer_is_wanted(const struct answer *answer)
{
	return !answer->unwanted;
}

bool answer_is_whole(const struct answer *answer)
{
	return answer->open == NULL && !answer->table.open;
}

/* What the sink has not had, where it had some. */
static const char *rest_of(struct answer *answer)
{
	struct node *root = answer->root;
	if (answer->form == FORM_CSV) {
		return root->first == NULL ? "" : answer_csv(answer->arena, root, &answer->headings);
	}
	const char *elements = root->first == NULL
	                           ? ""
	                           : answer_json_elements(answer->arena, root, answer->indented, true);
	return arena_format(answer->arena, "%s%s]\n", elements, answer->indented ? "\n" : "");
}

const char *answer_finish(struct answer *answer)
{
	assert(answer_is_whole(answer));
	if (answer->unwanted) {
		return "";
	}
	if (answer->form == FORM_TEXT) {
		return answer->out.bytes;
	}
	if (answer->root == NULL) {
		return "";
	}
	if (answer->begun) {
		return rest_of(answer);
	}
	return answer->form == FORM_JSON ? answer_json(answer->arena, answer->root, answer->indented)
	                                 : answer_csv(answer->arena, answer->root, &answer->headings);
}

/* ---------------------------------------------------------------- piece by piece */

/* The elements held, as bytes; they are given up. */
static const char *elements_of(struct answer *answer)
{
	struct node *root = answer->root;
	if (answer->form == FORM_CSV) {
		return answer_csv(answer->arena, root, &answer->headings);
	}
	const char *elements =
		answer_json_elements(answer->arena, root, answer->indented, answer->begun);
	return arena_format(answer->arena, "%s%s", answer->begun ? "" : "[", elements);
}

/* What is laid out goes to the sink, with `end` behind it, and is given up here. */
static void hand_on(struct answer *answer, const char *end)
{
	if (answer->table.open) {
		table_lay_out(answer);
	}
	if (!answer->unwanted) {
		const char *bytes = answer->form == FORM_TEXT ? answer->out.bytes : elements_of(answer);
		const char *whole =
			end[0] == '\0' ? bytes : arena_format(answer->arena, "%s%s", bytes, end);
		answer->unwanted = !answer->sink->take(answer->sink->context, whole);
	}
	answer->begun = true;
	if (answer->root != NULL) {
		answer->root->first = NULL;
		answer->root->last = NULL;
	}
	arena_reset(answer->arena);
	answer->out = text_start(answer->arena);
}

void answer_flow(struct answer *answer)
{
	if (answer->sink != NULL && arena_bytes(answer->arena) >= ANSWER_BYTES_HELD) {
		hand_on(answer, "");
	}
}

void answer_flush(struct answer *answer)
{
	bool held = answer->form == FORM_TEXT ? answer->out.length > 0
	                                      : answer->root != NULL && answer->root->first != NULL;
	assert(answer->sink != NULL && answer->open == answer->root && !answer->table.open);
	if (held) {
		hand_on(answer, answer->form == FORM_JSON ? "\n" : "");
	}
}

/* ---------------------------------------------------------------- data */

/* A new node where the answer stands; NULL in text, which has no use for data. */
static struct node *node_add(struct answer *answer, enum node_sort sort, const char *key)
{
	if (answer->form == FORM_TEXT) {
		return NULL;
	}
	struct node *parent = answer->open;
	if (parent != NULL && parent == answer->root && parent->sort == NODE_ARRAY) {
		/* All its elements are whole: they may go. */
		answer_flow(answer);
	}
	struct node *node =
		arena_take(parent == NULL ? answer->lasting : answer->arena, 1, sizeof *node);
	node->sort = sort;
	node->parent = parent;
	if (parent == NULL) {
		assert(answer->root == NULL && (sort == NODE_OBJECT || sort == NODE_ARRAY));
		answer->root = node;
		return node;
	}
	assert((parent->sort == NODE_OBJECT) == (key != NULL));
	node->key = arena_copy(answer->arena, key);
	if (parent->last == NULL) {
		parent->first = node;
	} else {
		parent->last->next = node;
	}
	parent->last = node;
	return node;
}

static void container_open(struct answer *answer, enum node_sort sort, const char *key)
{
	struct node *node = node_add(answer, sort, key);
	if (node != NULL) {
		answer->open = node;
	}
}

static void container_close(struct answer *answer, enum node_sort sort)
{
	if (answer->form != FORM_TEXT) {
		assert(answer->open != NULL && answer->open->sort == sort);
		answer->open = answer->open->parent;
	}
	(void)sort;
}

void answer_object_open(struct answer *answer, const char *key)
{
	container_open(answer, NODE_OBJECT, key);
}

void answer_object_close(struct answer *answer)
{
	container_close(answer, NODE_OBJECT);
}

void answer_array_open(struct answer *answer, const char *key)
{
	container_open(answer, NODE_ARRAY, key);
}

void answer_array_close(struct answer *answer)
{
	container_close(answer, NODE_ARRAY);
}

void answer_null(struct answer *answer, const char *key)
{
	node_add(answer, NODE_NULL, key);
}

void answer_word(struct answer *answer, const char *key, const char *text)
{
	struct node *node = node_add(answer, text == NULL ? NODE_NULL : NODE_WORD, key);
	if (node != NULL) {
		node->text = arena_copy(answer->arena, text);
	}
}

void answer_count(struct answer *answer, const char *key, int64_t count)
{
	struct node *node = node_add(answer, NODE_COUNT, key);
	if (node != NULL) {
		node->count = count;
	}
}

/*
 * Half away from zero. A decimal half is seldom a binary one: what lies as near to a half as
 * doubles tell apart counts as one.
 */
double answer_rounded(double number, int decimals)
{
	double scale = pow(10, decimals);
	double scaled = fabs(number) * scale;
	/* A half may come out a hair below; so much that it is no half any more it never is. */
	double hair = fmin(4 * DBL_EPSILON * scaled, 0.125);
	double whole = floor(scaled + hair + 0.5);
	if (!isfinite(whole) || whole >= 1 / DBL_EPSILON) {
		return number;
	}
	return whole <= 0 ? 0 : copysign(whole / scale, number);
}

void answer_number(struct answer *answer, const char *key, double number, int decimals)
{
	struct node *node = node_add(answer, isfinite(number) ? NODE_NUMBER : NODE_NULL, key);
	if (node != NULL) {
		node->number = answer_rounded(number, decimals);
	}
}

void answer_yes_no(struct answer *answer, const char *key, bool yes)
{
	struct node *node = node_add(answer, NODE_YES_NO, key);
	if (node != NULL) {
		node->yes = yes;
	}
}

void answer_moment(struct answer *answer, const char *key, struct moment moment)
{
	/* A day has no hour: as UTC it would be the day before or after, by the reader's clock. */
	answer_word(answer, key,
	            moment.date ? moment_text(moment).bytes : moment_text_utc(moment).bytes);
}
