/* A file that is there whole or not at all: written beside, made lasting, then given its name. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "internal.h"

static enum outcome refuse(const char *path, int error, struct fault *fault)
{
	switch (error) {
	case ENOENT:
	case ENOTDIR:
		fault_set(fault, OUTCOME_BAD, "folder of the file not found: %s", path);
		fault_hint(fault, "Make the folder first, or name the file elsewhere.");
		return OUTCOME_BAD;
	case EISDIR:
		fault_set(fault, OUTCOME_BAD, "file is a directory: %s", path);
		fault_hint(fault, "Name a file in it.");
		return OUTCOME_BAD;
	case EACCES:
	case EPERM:
	case EROFS:
		fault_set(fault, OUTCOME_BAD, "file may not be written by you: %s", path);
		fault_hint(fault, "Ask the owner of its folder, or name the file elsewhere.");
		return OUTCOME_BAD;
	case ENOSPC:
	case EDQUOT:
	case EFBIG:
		fault_set(fault, OUTCOME_STORE, "disk is full, the file was not written: %s", path);
		fault_hint(fault, "Make room there, or name the file elsewhere.");
		return OUTCOME_STORE;
	default:
		return fault_set(fault, OUTCOME_BAD, "file cannot be written, %s: %s", strerror(error),
		                 path);
	}
}

/* What lies there already: only a plain file is written anew; a link is followed to what it
   names. */
static enum outcome look_at(struct arena *arena, const char *path, const char **real,
                            struct fault *fault)
{
	struct stat about;
	char resolved[PATH_MAX];
	*real = path;
	if (stat(path, &about) != 0) {
		return errno == ENOENT ? OUTCOME_DONE : refuse(path, errno, fault);
	}
	if (S_ISDIR(about.st_mode)) {
		return refuse(path, EISDIR, fault);
	}
	if (!S_ISREG(about.st_mode)) {
		fault_set(fault, OUTCOME_BAD, "file is no plain file: %s", path);
		fault_hint(fault, "Name another.");
		return OUTCOME_BAD;
	}
	if (access(path, W_OK) != 0) {
		return refuse(path, errno, fault);
	}
	if (realpath(path, resolved) != NULL) {
		*real = arena_copy(arena, resolved);
	}
	return OUTCOME_DONE;
}

static int write_all(int descriptor, const char *bytes, size_t length)
{
	while (length > 0) {
		ssize_t written = write(descriptor, bytes, length);
		if (written < 0 && errno != EINTR) {
			return errno;
		}
		bytes += written > 0 ? written : 0;
		length -= written > 0 ? (size_t)written : 0;
	}
	return fsync(descriptor) != 0 ? errno : 0;
}

/* The folder as well, so that the name lasts. */
static void sync_folder(struct arena *arena, const char *real)
{
	char *folder = arena_copy(arena, real);
	char *slash = strrchr(folder, '/');
	if (slash != NULL) {
		slash[slash == folder ? 1 : 0] = '\0';
	}
	int opened = open(slash != NULL ? folder : ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (opened >= 0) {
		fsync(opened);
		close(opened);
	}
}

enum outcome file_write(struct arena *arena, const char *path, const char *bytes, size_t length,
                        struct fault *fault)
{
	const char *real = NULL;
	enum outcome outcome = look_at(arena, path, &real, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	char *part = arena_format(arena, "%s.XXXXXX", real);
	int descriptor = mkostemp(part, O_CLOEXEC);
	if (descriptor < 0) {
		return refuse(path, errno, fault);
	}
	mode_t mask = umask(0);
	umask(mask);
	int error = fchmod(descriptor, 0666 & ~mask) != 0 ? errno : 0;
	error = error == 0 ? write_all(descriptor, bytes, length) : error;
	error = close(descriptor) != 0 && error == 0 ? errno : error;
	error = error == 0 && rename(part, real) != 0 ? errno : error;
	if (error != 0) {
		unlink(part);
		return refuse(path, error, fault);
	}
	sync_folder(arena, real);
	return OUTCOME_DONE;
}
