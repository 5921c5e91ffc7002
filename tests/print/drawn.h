/*
 * What the tests of drawn pages share: a folder, what other programs read from a file, and a disk
 * that is full.
 */
#ifndef TOOTHRACK_TESTS_PRINT_DRAWN_H
#define TOOTHRACK_TESTS_PRINT_DRAWN_H

#include <signal.h>
#include <sys/resource.h>
#include <unistd.h>

#include "shop.h"

static struct arena *arena;
static char folder[] = "/tmp/toothrack_drawn_XXXXXX";

static int set_up(void **state)
{
	(void)state;
	arena = arena_new();
	return mkdtemp(folder) == NULL;
}

static int take_down(void **state)
{
	(void)state;
	arena_free(arena);
	return rmdir(folder); /* fails where a test or a print left something behind */
}

static inline const char *path_of(const char *name)
{
	return arena_format(arena, "%s/%s", folder, name);
}

/* All that a command says. */
static inline const char *said_by(const char *command)
{
	struct text said = text_start(arena);
	char bytes[4096];
	FILE *pipe = popen(command, "r");
	assert_non_null(pipe);
	for (size_t count = 0; (count = fread(bytes, 1, sizeof bytes, pipe)) > 0;) {
		text_add_bytes(&said, bytes, count);
	}
	assert_int_equal(pclose(pipe), 0);
	return said.bytes;
}

/* The number behind a name in a line of what `pdftotext -bbox` says, or of an SVG. */
static inline double figure(const char *line, const char *name)
{
	const char *at = strstr(line, name);
	assert_non_null(at);
	return strtod(at + strlen(name) + 2, NULL);
}

/* ---------------------------------------------------------------- words of a page */

struct word {
	double left, top, right, bottom; /* points */
	const char *text;
};
struct words {
	struct word *words;
	size_t count;
};

/* The words of a PDF of one page, as large as it should be. */
static inline struct words words_of(const char *path, double width, double height)
{
	const char *said = said_by(arena_format(arena, "pdftotext -bbox %s -", path));
	struct words out = {0};
	size_t count = 0;
	const char *page = strstr(said, "<page ");
	assert_non_null(page);
	assert_null(strstr(page + 1, "<page "));
	assert_true(figure(page, " width") > width - 0.2 && figure(page, " width") < width + 0.2);
	assert_true(figure(page, " height") > height - 0.2 && figure(page, " height") < height + 0.2);
	for (const char *at = strstr(said, "<word "); at != NULL; at = strstr(at + 1, "<word ")) {
		count++;
	}
	out.words = arena_take(arena, count, sizeof *out.words);
	for (const char *at = strstr(said, "<word "); at != NULL; at = strstr(at + 1, "<word ")) {
		const char *text = strchr(at, '>') + 1;
		out.words[out.count++] = (struct word){
			.left = figure(at, " xMin"),
			.top = figure(at, " yMin"),
			.right = figure(at, " xMax"),
			.bottom = figure(at, " yMax"),
			.text = arena_copy_bytes(arena, text, (size_t)(strstr(text, "</word>") - text)),
		};
	}
	return out;
}

static inline const struct word *word_find(const struct words *words, const char *text)
{
	for (size_t i = 0; i < words->count; i++) {
		if (strcmp(words->words[i].text, text) == 0) {
			return &words->words[i];
		}
	}
	return NULL;
}

/* Each word of a name stands there. */
static inline void assert_has_words(const struct words *words, const char *name)
{
	char *rest = NULL;
	for (char *word = strtok_r(arena_copy(arena, name), " ", &rest); word != NULL;
	     word = strtok_r(NULL, " ", &rest)) {
		if (word_find(words, word) == NULL) {
			fail_msg("not on the page: %s", word);
		}
	}
}

/*
 * 5 mm of the page are left free all around, a printer's own margin; no letter is smaller than 8
 * points (the box of DejaVu Sans is 1.164 em high), and no word stands upon another.
 */
static inline void assert_words_apart(const struct words *words, double width, double height)
{
	const double edge = 5 * 72 / 25.4, overlap = 0.3;
	for (size_t i = 0; i < words->count; i++) {
		const struct word *word = &words->words[i];
		if (word->left < edge || word->right > width - edge || word->top < edge ||
		    word->bottom > height - edge) {
			fail_msg("beyond the margin: %s", word->text);
		}
		if (word->bottom - word->top < 8 * 1.164) {
			fail_msg("smaller than 8 points: %s", word->text);
		}
		for (size_t j = 0; j < i; j++) {
			const struct word *other = &words->words[j];
			if (word->left < other->right - overlap && other->left < word->right - overlap &&
			    word->top < other->bottom - overlap && other->top < word->bottom - overlap) {
				fail_msg("one upon the other: %s, %s", word->text, other->text);
			}
		}
	}
}

/* ---------------------------------------------------------------- what stands around words */

#define DOTS_A_POINT 2
struct grey {
	int width, height;
	unsigned char *dots;
};

static inline struct grey grey_of(const char *path)
{
	struct grey grey;
	int most = 0;
	said_by(arena_format(arena, "pdftoppm -singlefile -gray -r %d %s %s/grey", 72 * DOTS_A_POINT,
	                     path, folder));
	const char *name = path_of("grey.pgm");
	FILE *file = fopen(name, "rb");
	assert_non_null(file);
	assert_int_equal(fscanf(file, "P5 %d %d %d", &grey.width, &grey.height, &most), 3);
	fgetc(file);
	size_t count = (size_t)grey.width * (size_t)grey.height;
	grey.dots = arena_take(arena, count, 1);
	assert_int_equal(fread(grey.dots, 1, count, file), count);
	fclose(file);
	assert_int_equal(remove(name), 0);
	return grey;
}

static inline bool is_dark(const struct grey *grey, int x, int y)
{
	return x >= 0 && y >= 0 && x < grey->width && y < grey->height &&
	       grey->dots[y * grey->width + x] < 110;
}

/* Nothing black runs up to a word or through its edge: no frame, tick, mark or line. */
static inline void assert_words_free(const char *path, const struct words *words)
{
	struct grey grey = grey_of(path);
	for (size_t i = 0; i < words->count; i++) {
		const struct word *word = &words->words[i];
		int left = (int)(word->left * DOTS_A_POINT) - 1, top = (int)(word->top * DOTS_A_POINT) - 1;
		int right = (int)(word->right * DOTS_A_POINT) + 2;
		int bottom = (int)(word->bottom * DOTS_A_POINT) + 1;
		bool touched = false;
		for (int x = left; x <= right; x++) {
			touched = touched || is_dark(&grey, x, top) || is_dark(&grey, x, bottom);
		}
		for (int y = top; y <= bottom; y++) {
			touched = touched || is_dark(&grey, left, y) || is_dark(&grey, right, y);
		}
		if (touched) {
			fail_msg("something touches: %s", word->text);
		}
	}
}

/* ---------------------------------------------------------------- a full disk */

static struct rlimit disk_before;

/* A file that is there, and a limit on the size of files, which stands for the disk. */
static inline void disk_fill(const char *path)
{
	struct rlimit little = {1000, RLIM_INFINITY};
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	fputs("as it was", file);
	fclose(file);
	signal(SIGXFSZ, SIG_IGN);
	assert_int_equal(getrlimit(RLIMIT_FSIZE, &disk_before), 0);
	little.rlim_max = disk_before.rlim_max;
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &little), 0);
}

/* Gives it room again: what was drawn onto it was refused, and the file is as it was. */
static inline void disk_clear(const char *path, enum outcome outcome, const struct fault *fault)
{
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &disk_before), 0);
	assert_int_equal(outcome, OUTCOME_STORE);
	assert_string_equal(fault->sentence,
	                    arena_format(arena, "disk is full, the file was not written: %s", path));
	assert_string_equal(said_by(arena_format(arena, "cat %s", path)), "as it was");
	assert_int_equal(remove(path), 0);
}

#endif
