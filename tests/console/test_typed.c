/* A line as a scanner that types sends it, or a hand. */
#include "common.h"
#include "console/typed.h"

static struct typed typed;
static struct text echo;

/* All lines that bytes give, each in [ ], with what is left of the last behind them. */
static const char *lines_of(const char *bytes, size_t length)
{
	struct text out = text_start(arena);
	typed = (struct typed){.room = 60};
	echo = text_start(arena);
	for (size_t i = 0; i < length; i++) {
		switch (typed_take(&typed, bytes[i], &echo)) {
		case TYPED_LINE:
			text_add(&out, "[");
			text_add_bytes(&out, typed.bytes, typed.length);
			text_add(&out, "]");
			break;
		case TYPED_LEAVE:
			text_add(&out, "leave");
			break;
		case TYPED_AGAIN:
			text_add(&out, "again");
			break;
		case TYPED_MORE:
			break;
		}
	}
	if (!typed.whole) {
		text_add_bytes(&out, typed.bytes, typed.length);
	}
	return out.bytes;
}

#define LINES(text) lines_of(text, sizeof(text) - 1)

static void typed__each_suffix__ends_a_line_once(void **state)
{
	(void)state;
	assert_string_equal(LINES("A\rB\nC\r\nD\tE"), "[A][B][C][D]E");
	assert_string_equal(LINES("A\r\n\r\nB\r\t"), "[A][][B][]");
	assert_string_equal(LINES("\n\r\nA\n"), "[][][A]");
}

static void typed__gs_and_identifier__are_data(void **state)
{
	(void)state;
	assert_string_equal(LINES("]d2\x1d"
	                          "8004952110\x1c\r"),
	                    "[]d2\x1d"
	                    "8004952110\x1c]");
	assert_string_equal(echo.bytes, "]d28004952110");
}

static void typed__nul_within__stays(void **state)
{
	(void)state;
	static const char bytes[] = "A\0B\r";
	assert_string_equal(LINES("A\0B\r"), "[A");
	assert_int_equal(typed.length, 3);
	assert_memory_equal(typed.bytes, bytes, 3);
}

static void typed__backspace__takes_a_sign(void **state)
{
	(void)state;
	assert_string_equal(LINES("AB\x7f"
	                          "C\x08\x08\x08\x08"
	                          "D"),
	                    "D");
	assert_string_equal(echo.bytes, "AB\b \bC\b \b\b \bD");
	/* A sign of two bytes, and one that is broken. */
	assert_string_equal(LINES("A\xc3\xa9\x7f"), "againA");
	assert_string_equal(LINES("A\xa9\x7f"), "againA");
}

static void typed__backspace_over_gs__wipes_nothing(void **state)
{
	(void)state;
	assert_string_equal(LINES("A\x1d\x7f"), "A");
	assert_string_equal(echo.bytes, "A");
}

static void typed__ctrl_u__gives_the_line_up(void **state)
{
	(void)state;
	assert_string_equal(LINES("ABC\x15"
	                          "D\r"),
	                    "[D]");
	assert_string_equal(echo.bytes, "ABC\b \b\b \b\b \bD");
}

static void typed__more_than_the_room__shown_anew(void **state)
{
	(void)state;
	typed = (struct typed){.room = 3};
	echo = text_start(arena);
	for (size_t i = 0; i < 4; i++) {
		assert_int_equal(typed_take(&typed, 'A', &echo), TYPED_MORE);
	}
	assert_int_equal(typed_take(&typed, 0x7f, &echo), TYPED_AGAIN);
	struct text shown = text_start(arena);
	typed_show(&typed, &shown);
	assert_string_equal(shown.bytes, "AAA");
	assert_int_equal(typed_take(&typed, 0x7f, &echo), TYPED_MORE);
}

static void typed__ctrl_d__leaves_an_empty_line_alone(void **state)
{
	(void)state;
	assert_string_equal(LINES("A\r\x04"), "[A]leave");
	assert_string_equal(LINES("A\x04\r"), "[A\x04]");
}

static void typed__keys_that_send_several__passed_over(void **state)
{
	(void)state;
	assert_string_equal(LINES("A\x1b[A\x1b[1;5CB\x1b[200~\r"), "[AB]");
	/* Escape alone takes nothing of what is scanned next. */
	assert_string_equal(LINES("\x1bPC0000251\r"), "[PC0000251]");
	assert_string_equal(LINES("\x1b\x1b[AP\r"), "[P]");
	assert_string_equal(LINES("\x1b[\rP\r"), "[][P]");
}

static void typed__longer_than_any_code__said_and_over_with_the_line(void **state)
{
	(void)state;
	typed = (struct typed){.room = 60};
	echo = text_start(arena);
	for (size_t i = 0; i < TYPED_MOST; i++) {
		assert_int_equal(typed_take(&typed, 'A', &echo), TYPED_MORE);
	}
	assert_false(typed.too_long);
	assert_int_equal(typed_take(&typed, 'A', &echo), TYPED_MORE);
	assert_true(typed.too_long);
	/* What was taken off is not what was sent last. */
	typed_take(&typed, 0x7f, &echo);
	assert_true(typed.too_long);
	assert_int_equal(typed_take(&typed, '\r', &echo), TYPED_LINE);
	assert_true(typed.too_long);
	typed_take(&typed, 'B', &echo);
	assert_false(typed.too_long);
	assert_int_equal(typed.length, 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		WITH_ARENA(typed__each_suffix__ends_a_line_once),
		WITH_ARENA(typed__gs_and_identifier__are_data),
		WITH_ARENA(typed__nul_within__stays),
		WITH_ARENA(typed__backspace__takes_a_sign),
		WITH_ARENA(typed__backspace_over_gs__wipes_nothing),
		WITH_ARENA(typed__ctrl_u__gives_the_line_up),
		WITH_ARENA(typed__more_than_the_room__shown_anew),
		WITH_ARENA(typed__ctrl_d__leaves_an_empty_line_alone),
		WITH_ARENA(typed__keys_that_send_several__passed_over),
		WITH_ARENA(typed__longer_than_any_code__said_and_over_with_the_line),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
