/* Which stock is meant: a file of the shop's own, or one that the program carries. */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "internal.h"

#define BYTES_MOST 65536

static enum outcome refuse_file(const char *path, int error, struct fault *fault)
{
	switch (error) {
	case ENOENT:
	case ENOTDIR:
		fault_set(fault, OUTCOME_BAD, "stock file not found: %s", path);
		fault_hint(fault, "Name a file that is there, or a stock by its name alone.");
		return OUTCOME_BAD;
	case EACCES:
	case EPERM:
		fault_set(fault, OUTCOME_BAD, "stock file may not be read by you: %s", path);
		fault_hint(fault, "Ask its owner, or name another.");
		return OUTCOME_BAD;
	case EISDIR:
		fault_set(fault, OUTCOME_BAD, "stock file is a directory: %s", path);
		fault_hint(fault, "Name a file in it.");
		return OUTCOME_BAD;
	case EFBIG:
		fault_set(fault, OUTCOME_BAD, "stock file is longer than %d bytes: %s", BYTES_MOST, path);
		fault_hint(fault, "A stock has lines such as tag_width = 50mm.");
		return OUTCOME_BAD;
	default:
		return fault_set(fault, OUTCOME_BAD, "stock file cannot be read, %s: %s", strerror(error),
		                 path);
	}
}

static enum outcome read_file(struct arena *arena, const char *path, struct stock *out,
                              struct fault *fault)
{
	struct stat about;
	FILE *file = fopen(path, "rbe");
	if (file == NULL) {
		return refuse_file(path, errno, fault);
	}
	int error = fstat(fileno(file), &about) != 0 ? errno
	            : S_ISDIR(about.st_mode)         ? EISDIR
	            : about.st_size > BYTES_MOST     ? EFBIG
	                                             : 0;
	char *bytes = arena_take(arena, BYTES_MOST + 1, 1);
	size_t length = error == 0 ? fread(bytes, 1, BYTES_MOST + 1, file) : 0;
	if (error == 0 && ferror(file) != 0) {
		error = errno;
	} else if (length > BYTES_MOST) {
		error = EFBIG;
	}
	fclose(file);
	if (error != 0) {
		return refuse_file(path, error, fault);
	}
	return stock_read(arena, path, bytes, length, out, fault);
}

static bool names_file(const char *name)
{
	size_t length = strlen(name);
	return strchr(name, '/') != NULL || (length > 6 && strcmp(name + length - 6, ".stock") == 0);
}

static enum outcome refuse_name(struct arena *arena, const char *name, struct fault *fault)
{
	size_t count = 0;
	while (stock_files[count].name != NULL) {
		count++;
	}
	const char **names = arena_take(arena, count + 1, sizeof *names);
	struct text all = text_start(arena);
	for (size_t i = 0; i < count; i++) {
		names[i] = stock_files[i].name;
		text_join(&all, ", ", names[i]);
	}
	const char *near = text_nearest(name, names);
	fault_set(fault, OUTCOME_BAD, "stock not known: %s", name);
	fault_hint(fault, "%s%s%sThere are %s.", near != NULL ? "Did you mean " : "",
	           near != NULL ? near : "", near != NULL ? "? " : "", all.bytes);
	return OUTCOME_BAD;
}

enum outcome stock_find(struct arena *arena, const char *folder, const char *name,
                        struct stock *out, struct fault *fault)
{
	struct stat about;
	if (names_file(name)) {
		return read_file(arena, name, out, fault);
	}
	if (folder != NULL && name[0] != '\0') {
		const char *path = arena_format(arena, "%s/%s.stock", folder, name);
		if (stat(path, &about) == 0) {
			return read_file(arena, path, out, fault);
		}
	}
	for (const struct stock_file *file = stock_files; file->name != NULL; file++) {
		if (strcmp(file->name, name) == 0) {
			const char *path = arena_format(arena, "labels/%s.stock", name);
			return stock_read(arena, path, file->text, strlen(file->text), out, fault);
		}
	}
	return refuse_name(arena, name, fault);
}
