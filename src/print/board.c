/* A week on a page into a file: as large as fits, drawn in memory, then written whole. */
#include <assert.h>

#include "board.h"

/*
 * The largest letters, with room to spare; else sizes from the largest down, the first that fits
 * one page, or as few as the least would take.
 */
static void size_choose(struct flow *flow, struct pen *pen, const struct board_face *face)
{
	size_t least = text_step(LETTERS_LEAST), most = text_step(LETTERS_MOST);
	least += text_em(least) < LETTERS_LEAST;
	flow_fill(flow, pen, face, most, true);
	if (flow->pages == 1) {
		return;
	}
	flow_fill(flow, pen, face, least, false);
	int64_t pages = flow->pages;
	if (pages > 1 && pen->form == FILE_SVG) {
		flow_fill_one(flow, pen, face, least);
		return;
	}
	for (size_t step = most; step >= least; step--) {
		flow_fill(flow, pen, face, step, false);
		if (flow->pages == pages) {
			return;
		}
	}
}

static void draw_page(struct pen *pen, int64_t page, void *context)
{
	const struct flow *flow = context;
	(void)pen;
	board_draw_page(flow, page);
}

static enum outcome draw_bytes(struct pen *pen, const struct board_face *face, struct text *bytes,
                               struct board_drawn *out, struct fault *fault)
{
	struct flow flow;
	size_choose(&flow, pen, face);
	*out = (struct board_drawn){.pages = flow.pages,
	                            .boxes_left = flow.boxes_left,
	                            .notes_left = flow.notes_left};
	return page_bytes(pen, &sheet_across, flow.pages, draw_page, &flow, "board", bytes, fault);
}

enum outcome print_board(struct arena *arena, const struct board_face *face, enum file_form form,
                         const char *path, struct board_drawn *out, struct fault *fault)
{
	assert(form != FILE_PNG);
	struct text bytes = text_start(arena);
	enum outcome outcome = draw_load(NULL, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	struct pen *pen = pen_take_up(arena, NULL, form);
	outcome = text_begin(pen, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = draw_bytes(pen, face, &bytes, out, fault);
	}
	pen_lay_down(pen);
	return outcome == OUTCOME_DONE ? print_write(arena, path, &bytes, fault) : outcome;
}
