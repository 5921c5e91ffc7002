/* Places that lie within others further down in the file. */
#include "import.h"

void waiting_add(struct waiting_list *list, const struct csv_row *row, const char *name,
                 const char *within)
{
	if (list->arena == NULL) {
		list->arena = arena_new();
	}
	if (list->count == list->room) {
		size_t room = list->room * 2 + 16;
		list->items = arena_grow(list->arena, list->items, list->count, room, sizeof *list->items);
		list->room = room;
	}
	struct waiting *item = &list->items[list->count++];
	*item = (struct waiting){
		.row = *row,
		.name = name != NULL ? seen_key(name) : 0,
		.within = within != NULL ? seen_key(within) : 0,
	};
	item->row.cells = arena_take(list->arena, row->count, sizeof *item->row.cells);
	for (size_t i = 0; i < row->count; i++) {
		item->row.cells[i] = arena_copy(list->arena, row->cells[i]);
	}
}

static const struct waiting *waiting_named(const struct waiting_list *list, uint64_t name)
{
	for (size_t i = 0; i < list->count; i++) {
		if (!list->items[i].settled && list->items[i].name == name) {
			return &list->items[i];
		}
	}
	return NULL;
}

bool waiting_in_circle(const struct waiting_list *list, const struct waiting *item)
{
	const struct waiting *outer = item;
	for (int depth = 0; depth < PLACES_DEEPEST; depth++) {
		outer = outer->within != 0 ? waiting_named(list, outer->within) : NULL;
		if (outer == NULL || outer == item) {
			return outer != NULL;
		}
	}
	return false;
}

void waiting_free(struct waiting_list *list)
{
	arena_free(list->arena);
	*list = (struct waiting_list){.arena = NULL};
}
