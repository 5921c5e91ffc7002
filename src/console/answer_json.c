/*
 * Answers as JSON (RFC 8259): one line, or laid out for people. The only file that knows jansson.
 */
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "columns.h"

/* As many digits as a double surely holds: 304.8 stays 304.8. */
#define DIGITS 15

static json_t *tree_of(struct arena *arena, const struct node *node);

static json_t *object_of(struct arena *arena, const struct node *node)
{
	json_t *object = json_object();
	for (const struct node *child = node->first; child != NULL; child = child->next) {
		json_object_set_new(object, child->key, tree_of(arena, child));
	}
	return object;
}

static json_t *array_of(struct arena *arena, const struct node *node)
{
	json_t *array = json_array();
	for (const struct node *child = node->first; child != NULL; child = child->next) {
		json_array_append_new(array, tree_of(arena, child));
	}
	return array;
}

static json_t *tree_of(struct arena *arena, const struct node *node)
{
	switch (node->sort) {
	case NODE_OBJECT:
		return object_of(arena, node);
	case NODE_ARRAY:
		return array_of(arena, node);
	case NODE_WORD:
		return json_string(text_valid(arena, node->text));
	case NODE_COUNT:
		return json_integer(node->count);
	case NODE_NUMBER:
		return json_real(node->number);
	case NODE_YES_NO:
		return json_boolean(node->yes);
	case NODE_NULL:
		break;
	}
	return json_null();
}

/* Text of a tree, which is given up. */
static const char *text_of(struct arena *arena, json_t *tree, size_t flags)
{
	char *text = json_dumps(tree, flags | JSON_ENCODE_ANY | JSON_REAL_PRECISION(DIGITS));
	const char *kept = text == NULL ? "" : arena_copy(arena, text);
	free(text);
	json_decref(tree);
	return kept;
}

const char *answer_json(struct arena *arena, const struct node *root, bool indented)
{
	size_t flags = indented ? JSON_INDENT(2) : 0;
	return arena_format(arena, "%s\n", text_of(arena, tree_of(arena, root), flags));
}

const char *answer_json_elements(struct arena *arena, const struct node *root, bool indented,
                                 bool more)
{
	size_t flags = indented ? JSON_INDENT(2) : 0;
	const char *array = text_of(arena, tree_of(arena, root), flags);
	size_t around = indented ? strlen("\n]") : strlen("]");
	const char *elements =
		arena_copy_bytes(arena, array + strlen("["), strlen(array) - strlen("[") - around);
	const char *between = indented ? "," : ", ";
	return arena_format(arena, "%s%s", more ? between : "", elements);
}

const char *answer_digits(struct arena *arena, double number)
{
	return text_of(arena, json_real(number), 0);
}
