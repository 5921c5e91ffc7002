/*
 * Answers as CSV (RFC 4180): a heading, then a row an object. The table is the answer where that
 * is an array, else the first array of objects in it; an answer that holds none is one row. Of an
 * array that goes out piece by piece the first piece makes the columns.
 */
#include <string.h>

#include "answer.h"

#define LINE_END "\r\n"

static void heading_add(struct headings *headings, const char *name)
{
	for (size_t i = 0; i < headings->count; i++) {
		if (strcmp(headings->names[i], name) == 0) {
			return;
		}
	}
	if (headings->count == headings->room) {
		size_t room = headings->room == 0 ? 16 : headings->room * 2;
		headings->names = arena_grow(headings->arena, headings->names, headings->count, room,
		                             sizeof *headings->names);
		headings->room = room;
	}
	headings->names[headings->count++] = arena_copy(headings->arena, name);
}

static bool holds_objects(const struct node *node)
{
	return node->sort == NODE_ARRAY && node->first != NULL && node->first->sort == NODE_OBJECT;
}

/* A cell is a figure, or a list of figures; a list of objects has no place in a row. */
static bool is_cell(const struct node *node)
{
	return node->sort != NODE_OBJECT && !holds_objects(node);
}

static void headings_of(struct headings *headings, const struct node *row)
{
	for (const struct node *cell = row->first; cell != NULL; cell = cell->next) {
		if (is_cell(cell)) {
			heading_add(headings, cell->key);
		}
	}
}

static void cell_add(struct text *out, const char *cell)
{
	size_t length = strlen(cell);
	bool blanks = length > 0 && (cell[0] == ' ' || cell[length - 1] == ' ');
	if (!blanks && strpbrk(cell, "\",\r\n") == NULL) {
		text_add(out, cell);
		return;
	}
	text_add(out, "\"");
	for (const char *c = cell; *c != '\0'; c++) {
		text_add_bytes(out, c, 1);
		if (*c == '"') {
			text_add(out, "\"");
		}
	}
	text_add(out, "\"");
}

static const char *cell_text(struct arena *arena, const struct node *node)
{
	struct text list = text_start(arena);
	switch (node->sort) {
	case NODE_WORD:
		return node->text;
	case NODE_COUNT:
		return arena_format(arena, "%lld", (long long)node->count);
	case NODE_NUMBER:
		return answer_digits(arena, node->number);
	case NODE_YES_NO:
		return node->yes ? "yes" : "no";
	case NODE_ARRAY:
		for (const struct node *one = node->first; one != NULL; one = one->next) {
			text_join(&list, ",", cell_text(arena, one));
		}
		return list.bytes;
	case NODE_OBJECT:
	case NODE_NULL:
		break;
	}
	return "";
}

static void row_add(struct arena *arena, struct text *out, const struct headings *headings,
                    const struct node *row)
{
	for (size_t i = 0; i < headings->count; i++) {
		text_add(out, i == 0 ? "" : ",");
		for (const struct node *cell = row->first; cell != NULL; cell = cell->next) {
			if (is_cell(cell) && strcmp(cell->key, headings->names[i]) == 0) {
				cell_add(out, cell_text(arena, cell));
				break;
			}
		}
	}
	text_add(out, LINE_END);
}

/* The array whose objects are the rows, or NULL where the answer itself is the one row. */
static const struct node *table_of(const struct node *root)
{
	if (root->sort == NODE_ARRAY) {
		return root;
	}
	for (const struct node *child = root->first; child != NULL; child = child->next) {
		if (holds_objects(child)) {
			return child;
		}
	}
	return NULL;
}

static void heading_write(struct text *out, struct headings *headings, const struct node *rows)
{
	for (const struct node *row = rows; row != NULL; row = row->next) {
		if (row->sort == NODE_OBJECT) {
			headings_of(headings, row);
		}
	}
	for (size_t i = 0; i < headings->count; i++) {
		text_add(out, i == 0 ? "" : ",");
		cell_add(out, headings->names[i]);
	}
	text_add(out, headings->count == 0 ? "" : LINE_END);
	headings->written = true;
}

const char *answer_csv(struct arena *arena, const struct node *root, struct headings *headings)
{
	struct text out = text_start(arena);
	const struct node *table = table_of(root);
	const struct node *rows = table == NULL ? root : table->first;

	if (!headings->written) {
		heading_write(&out, headings, rows);
	}
	for (const struct node *row = rows; row != NULL && headings->count > 0; row = row->next) {
		if (row->sort == NODE_OBJECT) {
			row_add(arena, &out, headings, row);
		}
	}
	return out.bytes;
}
