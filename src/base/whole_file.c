/* A file that is there whole or as it was: written beside it, made lasting, then given its name. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "toothrack/base.h"

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

/* What lies there already: only a plain file is written anew; a link is followed to what it names.
 */
static enum outcome look_at(struct arena *arena, struct whole_file *out, struct fault *fault)
{
	struct stat about;
	char real[PATH_MAX];
	if (stat(out->path, &about) != 0) {
		return errno == ENOENT ? OUTCOME_DONE : refuse(out->path, errno, fault);
	}
	if (S_ISDIR(about.st_mode)) {
		return refuse(out->path, EISDIR, fault);
	}
	if (!S_ISREG(about.st_mode)) {
		return fault_set(fault, OUTCOME_BAD, "file is no plain file: %s", out->path);
	}
	if (access(out->path, W_OK) != 0) {
		return refuse(out->path, errno, fault);
	}
	if (realpath(out->path, real) != NULL) {
		out->real = arena_copy(arena, real);
	}
	return OUTCOME_DONE;
}

enum outcome whole_file_open(struct arena *arena, const char *path, struct whole_file *out,
                             struct fault *fault)
{
	*out = (struct whole_file){.path = path, .real = path};
	enum outcome outcome = look_at(arena, out, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	out->part = arena_format(arena, "%s.XXXXXX", out->real);
	int descriptor = mkostemp(out->part, O_CLOEXEC);
	if (descriptor < 0) {
		return refuse(path, errno, fault);
	}
	mode_t mask = umask(0);
	umask(mask);
	int error = fchmod(descriptor, 0666 & ~mask) != 0 ? errno : 0;
	out->file = error == 0 ? fdopen(descriptor, "wb") : NULL;
	if (out->file == NULL) {
		error = error == 0 ? errno : error;
		close(descriptor);
		unlink(out->part);
		return refuse(path, error, fault);
	}
	return OUTCOME_DONE;
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

enum outcome whole_file_close(struct arena *arena, struct whole_file *file, int error,
                              struct fault *fault)
{
	if (error == 0 && (fflush(file->file) != 0 || fsync(fileno(file->file)) != 0)) {
		error = errno;
	}
	if (fclose(file->file) != 0 && error == 0) {
		error = errno;
	}
	if (error == 0 && rename(file->part, file->real) != 0) {
		error = errno;
	}
	if (error != 0) {
		unlink(file->part);
		return refuse(file->path, error, fault);
	}
	sync_folder(arena, file->real);
	return OUTCOME_DONE;
}

void whole_file_drop(struct whole_file *file)
{
	fclose(file->file);
	unlink(file->part);
}
