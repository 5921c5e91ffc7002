/*
 * Stocks: whatever a file holds, it is read or refused with a sentence that names the file; and
 * what was read is one whose grid fits its page.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "toothrack/print.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool holds, const char *what, const char *said)
{
	if (!holds) {
		fprintf(stderr, "%s: %s\n", what, said);
		abort();
	}
}

static void look_at(const struct stock *stock)
{
	struct length across =
		length_add(stock->margin_left,
	               length_add(stock->width, length_times(stock->pitch_across, stock->across - 1)));
	struct length down =
		length_add(stock->margin_top,
	               length_add(stock->height, length_times(stock->pitch_down, stock->down - 1)));
	require(length_compare(across, stock->page_width) <= 0, "tags wider than the page",
	        stock->title);
	require(length_compare(down, stock->page_height) <= 0, "tags higher than the page",
	        stock->title);
	require(stock->uses != 0 || stock->title != NULL, "no use and no title", "");
	require(stock->line_count >= 1 && stock->line_count <= STOCK_LINES_MOST, "lines", stock->title);
	for (size_t i = 0; i < stock->line_count; i++) {
		require(stock->lines[i].attribute_count >= 1, "line without attributes", stock->title);
	}
}

/* That a stock of any size can be planned on, or is refused. */
static void plan_on(struct arena *arena, const struct stock *stock)
{
	const char *lines[STOCK_LINES_MOST];
	struct print_plan plan;
	struct fault fault = {0};
	for (size_t i = 0; i < STOCK_LINES_MOST; i++) {
		lines[i] = "PC000123-Y";
	}
	const struct tag_face face = {
		.code = "PC000123-Y",
		.content = "PC000123Y",
		.lines = lines,
		.carrier = length_from_nm(stock->dots_per_inch % 2 == 0 ? 0 : 40000000),
	};
	const struct print_request request = {
		.stock = stock,
		.faces = &face,
		.count = 1,
		.first_cell = 1,
		.x_least = length_from_nm(190000),
	};
	enum outcome outcome = print_plan(arena, &request, &plan, &fault);
	require(outcome == OUTCOME_DONE || fault.sentence[0] != '\0', "no sentence", stock->title);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct arena *arena = arena_new();
	struct stock stock;
	struct fault fault = {0};
	char *bytes = malloc(size > 0 ? size : 1); /* of just that size: nothing is read beyond it */
	if (bytes != NULL) {
		if (size > 0) {
			memcpy(bytes, data, size);
		}
		if (stock_read(arena, "own.stock", bytes, size, &stock, &fault) == OUTCOME_DONE) {
			look_at(&stock);
			plan_on(arena, &stock);
		} else {
			require(strncmp(fault.sentence, "own.stock", 9) == 0, "file not named", fault.sentence);
			require(fault.hint[0] != '\0', "no hint", fault.sentence);
		}
		free(bytes);
	}
	arena_free(arena);
	return 0;
}
