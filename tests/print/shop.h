/* What the tests of print share: stocks, faces and requests of an invented shop. */
#ifndef TOOTHRACK_TESTS_PRINT_SHOP_H
#define TOOTHRACK_TESTS_PRINT_SHOP_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "print/internal.h"
#include "toothrack/tag.h"

/* What a symbol may carry. */
enum carried { CARRIED_PLAIN, CARRIED_GIAI, CARRIED_OWN };
#define CARRIED_COUNT 3
#define COMPANY_PREFIX "4012345"

static inline struct stock stock_named(struct arena *arena, const char *name)
{
	struct stock stock;
	struct fault fault = {0};
	if (stock_find(arena, NULL, name, &stock, &fault) != OUTCOME_DONE) {
		fail_msg("%s", fault.sentence);
	}
	return stock;
}

static inline struct stock stock_of(struct arena *arena, const char *text)
{
	struct stock stock;
	struct fault fault = {0};
	if (stock_read(arena, "labels/own.stock", text, strlen(text), &stock, &fault) != OUTCOME_DONE) {
		fail_msg("%s", fault.sentence);
	}
	return stock;
}

/* A face whose lines tell what a tool of that number could be. */
static inline struct tag_face face_of(struct arena *arena, const struct stock *stock,
                                      struct tag tag, enum carried carried)
{
	static const char *const words[] = {"96 teeth 1/8cp, repeat 304.8mm", "bearer 60, journal 40",
	                                    "360lpi 4.3bcm", "Walze f\u00fcr Deckwei\u00df, \u0394 2"};
	struct tag_face face = {0};
	const char *stored = arena_copy(arena, tag_stored(tag).bytes);
	const char **lines = arena_take(arena, STOCK_LINES_MOST, sizeof *lines);
	face.code = arena_copy(arena, tag_shown(tag).bytes);
	face.gs1 = carried != CARRIED_PLAIN;
	face.content = carried == CARRIED_PLAIN ? stored
	               : carried == CARRIED_GIAI
	                   ? arena_format(arena, "[8004]" COMPANY_PREFIX "%s", stored)
	                   : arena_format(arena, "[91]%s", stored);
	for (size_t i = 0; i < stock->line_count; i++) {
		lines[i] = words[(i + (size_t)tag.serial) % COUNT_OF(words)];
		for (size_t j = 0; j < stock->lines[i].attribute_count; j++) {
			if (strcmp(stock->lines[i].attributes[j], "tag") == 0) {
				lines[i] = face.code;
			}
		}
	}
	face.lines = lines;
	return face;
}

static inline struct print_request request_of(const struct stock *stock,
                                              const struct tag_face *faces, size_t count)
{
	return (struct print_request){
		.stock = stock,
		.faces = faces,
		.count = count,
		.first_cell = 1,
		.x_least = length_from_mm(0.19),
	};
}

/*
 * For the sanitizer: what fontconfig keeps until the end it does not give back. Not of the house's
 * style, but the sanitizer asks for this name.
 */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
	return "leak:libfontconfig.so";
}

#endif
