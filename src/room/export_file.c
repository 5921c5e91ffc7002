/*
 * `export KIND file=FILE`: written beside it under another name, made lasting, then given its name,
 * so that the file is whole or as it was.
 */
#include <errno.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "toothrack/room.h"

/* The file being written. */
struct output {
	const char *path; /* as typed, for messages */
	char *real;       /* where it lies: a link is followed */
	char *part;       /* what is written meanwhile */
	FILE *file;
	int error;
};

static enum outcome refuse(const struct output *output, int error, struct fault *fault)
{
	switch (error) {
	case ENOENT:
	case ENOTDIR:
		fault_set(fault, OUTCOME_BAD, "folder of the file not found: %s", output->path);
		fault_hint(fault, "Make the folder first, or name the file elsewhere.");
		return OUTCOME_BAD;
	case EISDIR:
		fault_set(fault, OUTCOME_BAD, "file is a directory: %s", output->path);
		fault_hint(fault, "Name a file in it.");
		return OUTCOME_BAD;
	case EACCES:
	case EPERM:
	case EROFS:
		fault_set(fault, OUTCOME_BAD, "file may not be written by you: %s", output->path);
		fault_hint(fault, "Ask the owner of its folder, or name the file elsewhere.");
		return OUTCOME_BAD;
	case ENOSPC:
	case EDQUOT:
	case EFBIG:
		fault_set(fault, OUTCOME_STORE, "disk is full, the file was not written: %s", output->path);
		fault_hint(fault, "Make room there, or name the file elsewhere.");
		return OUTCOME_STORE;
	default:
		return fault_set(fault, OUTCOME_BAD, "file cannot be written, %s: %s", strerror(error),
		                 output->path);
	}
}

/* What lies there already: only a plain file is written anew, and never the shop itself. */
static enum outcome look_at(struct store *store, struct arena *arena, struct output *output,
                            struct fault *fault)
{
	struct stat about;
	char real[PATH_MAX];
	output->real = arena_copy(arena, output->path);
	if (output->path[0] == '\0') {
		fault_set(fault, OUTCOME_BAD, "file not given");
		fault_hint(fault, "Type file=NAME.csv.");
		return OUTCOME_BAD;
	}
	if (stat(output->path, &about) != 0) {
		return errno == ENOENT ? OUTCOME_DONE : refuse(output, errno, fault);
	}
	if (S_ISDIR(about.st_mode)) {
		return refuse(output, EISDIR, fault);
	}
	if (!S_ISREG(about.st_mode)) {
		fault_set(fault, OUTCOME_BAD, "file is no plain file: %s", output->path);
		fault_hint(fault, "Leave file= out and the answer can be sent anywhere.");
		return OUTCOME_BAD;
	}
	if (store_keeps_in(store, output->path)) {
		fault_set(fault, OUTCOME_BAD, "file is the shop's own: %s", output->path);
		fault_hint(fault, "Name another, such as %s.csv.", output->path);
		return OUTCOME_BAD;
	}
	if (access(output->path, W_OK) != 0) {
		return refuse(output, errno, fault);
	}
	if (realpath(output->path, real) != NULL) {
		output->real = arena_copy(arena, real);
	}
	return OUTCOME_DONE;
}

static enum outcome open_part(struct arena *arena, struct output *output, struct fault *fault)
{
	output->part = arena_format(arena, "%s.XXXXXX", output->real);
	int descriptor = mkstemp(output->part);
	if (descriptor < 0) {
		return refuse(output, errno, fault);
	}
	mode_t mask = umask(0);
	umask(mask);
	output->file = fdopen(descriptor, "wb");
	if (output->file == NULL || fchmod(descriptor, 0666 & ~mask) != 0) {
		output->error = errno;
	}
	if (output->file == NULL) {
		close(descriptor);
	}
	return OUTCOME_DONE;
}

static enum outcome take_bytes(const char *bytes, size_t length, void *context)
{
	struct output *output = context;
	if (fwrite(bytes, 1, length, output->file) != length) {
		output->error = errno;
		return OUTCOME_NO;
	}
	return OUTCOME_DONE;
}

/* The folder as well, so that the name lasts. */
static void sync_folder(struct arena *arena, const struct output *output)
{
	char *folder = arena_copy(arena, output->real);
	char *slash = strrchr(folder, '/');
	if (slash != NULL) {
		slash[slash == folder ? 1 : 0] = '\0';
	}
	FILE *opened = fopen(slash != NULL ? folder : ".", "rb");
	if (opened != NULL) {
		fsync(fileno(opened));
		fclose(opened);
	}
}

static void close_part(struct arena *arena, struct output *output)
{
	if (output->file == NULL) {
		return;
	}
	if (output->error == 0 && (fflush(output->file) != 0 || fsync(fileno(output->file)) != 0)) {
		output->error = errno;
	}
	if (fclose(output->file) != 0 && output->error == 0) {
		output->error = errno;
	}
	if (output->error == 0 && rename(output->part, output->real) != 0) {
		output->error = errno;
	}
	if (output->error == 0) {
		sync_folder(arena, output);
	}
}

enum outcome room_export_file(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *path, int64_t *count, struct fault *fault)
{
	struct output output = {.path = path};
	*count = 0;
	enum outcome outcome = look_at(store, arena, &output, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = open_part(arena, &output, fault);
	}
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	if (output.error == 0) {
		outcome = room_export(store, kind, take_bytes, &output, count, fault);
	}
	if (outcome != OUTCOME_DONE && output.error == 0) {
		output.error = EIO; /* the store failed and has said so: only what was begun goes */
	}
	close_part(arena, &output);
	if (output.error == 0) {
		return OUTCOME_DONE;
	}
	unlink(output.part);
	return outcome >= OUTCOME_BAD ? outcome : refuse(&output, output.error, fault);
}
