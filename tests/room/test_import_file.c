/* Files: those that cannot be read, and how far a long one is. */
#include <fcntl.h>
#include <sys/stat.h>

#include "shop.h"

static enum outcome import_file(struct shop *shop, const char *path, import_progress progress,
                                void *context)
{
	fault_clear(&shop->fault);
	return room_import_file(shop->store, shop->arena, kind_find("place"), path, false, &shop->actor,
	                        progress, context, &shop->report, &shop->fault);
}

static void write_file(const struct shop *shop, const char *bytes, size_t length)
{
	FILE *file = fopen(shop->file, "w");
	assert_non_null(file);
	assert_int_equal(fwrite(bytes, 1, length, file), length);
	assert_int_equal(fclose(file), 0);
}

static void import_file__there__imported(void **state)
{
	static const char text[] = "code,sort\nR1,store\nR2,store\n";
	struct shop *shop = *state;
	write_file(shop, text, sizeof text - 1);
	assert_int_equal(import_file(shop, shop->file, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->report.added, 2);
}

static void import_file__not_there_or_a_directory__refused(void **state)
{
	struct shop *shop = *state;
	char path[400];
	snprintf(path, sizeof path, "%s/nowhere.csv", shop->directory);
	assert_int_equal(import_file(shop, path, NULL, NULL), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, arena_format(shop->arena, "file not found: %s", path), "");
	snprintf(path, sizeof path, "%s/x.csv", shop->path);
	assert_int_equal(import_file(shop, path, NULL, NULL), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, arena_format(shop->arena, "file not found: %s", path), "");
	assert_int_equal(import_file(shop, shop->directory, NULL, NULL), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            arena_format(shop->arena, "file is a directory: %s", shop->directory), "");
}

static void import_file__without_permission__refused(void **state)
{
	struct shop *shop = *state;
	const uid_t nobody = 65534;
	bool is_root = geteuid() == 0;
	write_file(shop, "code\n", 5);
	assert_int_equal(chmod(shop->file, 0), 0);
	/* Root may read everything: it is tried as somebody else. */
	assert_int_equal(is_root ? seteuid(nobody) : 0, 0);
	enum outcome outcome = import_file(shop, shop->file, NULL, NULL);
	assert_int_equal(is_root ? seteuid(0) : 0, 0);
	assert_int_equal(outcome, OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD,
	            arena_format(shop->arena, "file may not be read by you: %s", shop->file),
	            "Ask its owner, or copy it to where you may read it.");
}

static void import_file__empty__refused(void **state)
{
	static const char *const texts[] = {"", "\xef\xbb\xbf", "\r\n\r\n"};
	struct shop *shop = *state;
	for (size_t i = 0; i < COUNT_OF(texts); i++) {
		write_file(shop, texts[i], strlen(texts[i]));
		assert_int_equal(import_file(shop, shop->file, NULL, NULL), OUTCOME_BAD);
		shop_faults(shop, OUTCOME_BAD,
		            arena_format(shop->arena, "file is empty, its first line names the columns: %s",
		                         shop->file),
		            "");
	}
}

static void import_file__without_end__refused(void **state)
{
#ifdef __SANITIZE_ADDRESS__
	/* It reads 256 MB until it is enough: too slow there, and the same without. */
	(void)state;
	skip();
#endif
	struct shop *shop = *state;
	assert_int_equal(import_file(shop, "/dev/zero", NULL, NULL), OUTCOME_BAD);
	shop_faults(shop, OUTCOME_BAD, "file is larger than 256 MB: /dev/zero",
	            "Split it, with the heading in each part.");
}

static void import_file__pipe__read_to_its_end(void **state)
{
	static const char text[] = "code,sort\nR1,store\n";
	struct shop *shop = *state;
	int ends[2];
	assert_int_equal(pipe(ends), 0);
	assert_int_equal(write(ends[1], text, sizeof text - 1), sizeof text - 1);
	close(ends[1]);
	assert_int_equal(import_file(shop, arena_format(shop->arena, "/dev/fd/%d", ends[0]), NULL,
	                             NULL),
	                 OUTCOME_DONE);
	close(ends[0]);
	assert_int_equal(shop->report.added, 1);
}

/* ---------------------------------------------------------------- a long one */

struct told {
	int64_t bytes_read, bytes, rows, times;
};

static void take_progress(int64_t bytes_read, int64_t bytes, int64_t rows, void *context)
{
	struct told *told = context;
	assert_true(bytes_read > told->bytes_read && bytes_read <= bytes && rows > told->rows);
	*told = (struct told){bytes_read, bytes, rows, told->times + 1};
}

static void import_file__long__told_how_far_and_undone_whole(void **state)
{
	struct shop *shop = *state;
	struct text text = text_start(shop->arena);
	struct told told = {0};
	text_add(&text, "code,sort,name\n");
	for (int i = 0; i < 3000; i++) {
		text_add_format(&text, "R%d,store,\"shelf %d, by the window\"\n", i, i);
	}
	size_t good = text.length;
	text_add(&text, "R17,store,\n");
	write_file(shop, text.bytes, text.length);
	assert_int_equal(import_file(shop, shop->file, take_progress, &told), OUTCOME_BAD);
	assert_string_equal(shop_problems(shop), "3002: code R17 stands in line 19 already\n");
	assert_true(told.times >= 10);
	assert_int_equal(told.bytes, text.length);
	assert_null(shop_value(shop, "R0", "sort"));
	write_file(shop, text.bytes, good);
	assert_int_equal(import_file(shop, shop->file, NULL, NULL), OUTCOME_DONE);
	assert_int_equal(shop->report.added, 3000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(import_file__there__imported),
		SHOP_TEST(import_file__not_there_or_a_directory__refused),
		SHOP_TEST(import_file__without_permission__refused),
		SHOP_TEST(import_file__empty__refused),
		SHOP_TEST(import_file__without_end__refused),
		SHOP_TEST(import_file__pipe__read_to_its_end),
		SHOP_TEST(import_file__long__told_how_far_and_undone_whole),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
