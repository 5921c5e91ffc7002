/* The data of an answer: a tree, filled from the top. The texts for people are in answer_text.c. */
#include <assert.h>
#include <float.h>
#include <math.h>
#include <string.h>

#include "answer.h"

struct answer *answer_new(struct arena *arena, enum answer_form form, enum units units)
{
	struct answer *answer = arena_take(arena, 1, sizeof *answer);
	answer->arena = arena;
	answer->form = form;
	answer->units = units;
	answer->out = text_start(arena);
	return answer;
}

enum answer_form answer_form(const struct answer *answer)
{
	return answer->form;
}

bool answer_is_whole(const struct answer *answer)
{
	return answer->open == NULL && !answer->table.open;
}

const char *answer_finish(struct answer *answer)
{
	assert(answer_is_whole(answer));
	if (answer->form == FORM_TEXT) {
		return answer->out.bytes;
	}
	if (answer->root == NULL) {
		return "";
	}
	return answer->form == FORM_JSON ? answer_json(answer->arena, answer->root, answer->indented)
	                                 : answer_csv(answer->arena, answer->root);
}

/* A new node where the answer stands; NULL in text, which has no use for data. */
static struct node *node_add(struct answer *answer, enum node_sort sort, const char *key)
{
	if (answer->form == FORM_TEXT) {
		return NULL;
	}
	struct node *node = arena_take(answer->arena, 1, sizeof *node);
	struct node *parent = answer->open;
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
	double whole = floor(scaled * (1 + 4 * DBL_EPSILON) + 0.5);
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
	answer_word(answer, key, moment_text_utc(moment).bytes);
}
