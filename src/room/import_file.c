/*
 * `import KIND FILE`: the file read whole, so that no slow disk or pipe is waited for while the
 * shop is locked.
 */
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "import.h"

#define FILE_LARGEST ((size_t)256 * 1024 * 1024)
#define READ_AT_ONCE ((size_t)64 * 1024)

/* The bytes of a file; they live in an arena of their own. */
struct file_bytes {
	struct arena *arena;
	char *bytes;
	size_t length, room;
};

enum outcome file_refuse(const char *path, int error, struct fault *fault)
{
	if (error == ENOENT || error == ENOTDIR) {
		return fault_set(fault, OUTCOME_BAD, "file not found: %s", path);
	}
	if (error == EISDIR) {
		return fault_set(fault, OUTCOME_BAD, "file is a directory: %s", path);
	}
	if (error == EACCES || error == EPERM) {
		fault_set(fault, OUTCOME_BAD, "file may not be read by you: %s", path);
		fault_hint(fault, "Ask its owner, or copy it to where you may read it.");
		return OUTCOME_BAD;
	}
	if (error == EFBIG) {
		fault_set(fault, OUTCOME_BAD, "file is larger than 256 MB: %s", path);
		fault_hint(fault, "Split it, with the heading in each part.");
		return OUTCOME_BAD;
	}
	return fault_set(fault, OUTCOME_BAD, "file cannot be read, %s: %s", strerror(error), path);
}

static void make_room(struct file_bytes *file)
{
	size_t room = file->room * 2 + READ_AT_ONCE;
	struct arena *arena = arena_new();
	file->bytes = arena_grow(arena, file->bytes, file->length, room, 1);
	arena_free(file->arena);
	file->arena = arena;
	file->room = room;
}

/* All there is to read; 0, or the error. */
static int read_all(int descriptor, struct file_bytes *file)
{
	struct stat about;
	if (fstat(descriptor, &about) == 0 && S_ISREG(about.st_mode) && about.st_size > 0 &&
	    (size_t)about.st_size <= FILE_LARGEST) {
		file->room = (size_t)about.st_size + 1; /* one more, so that its end shows */
		file->bytes = arena_take(file->arena, file->room, 1);
	}
	for (;;) {
		if (file->length == file->room) {
			make_room(file);
		}
		size_t left = file->room - file->length;
		ssize_t got = read(descriptor, file->bytes + file->length, left);
		if (got < 0 && errno == EINTR) {
			continue;
		}
		if (got <= 0) {
			return got < 0 ? errno : 0;
		}
		file->length += (size_t)got;
		if (file->length > FILE_LARGEST) {
			return EFBIG;
		}
	}
}

static enum outcome file_read(const char *path, struct file_bytes *file, struct fault *fault)
{
	int descriptor = open(path, O_RDONLY | O_CLOEXEC);
	if (descriptor < 0) {
		return file_refuse(path, errno, fault);
	}
	int error = read_all(descriptor, file);
	close(descriptor);
	return error != 0 ? file_refuse(path, error, fault) : OUTCOME_DONE;
}

enum outcome room_import_file(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *path, bool update, const struct actor *actor,
                              import_progress progress, void *context, struct import_report *report,
                              struct fault *fault)
{
	struct import import = {
		.store = store,
		.arena = arena,
		.kind = kind,
		.actor = actor,
		.update = update,
		.progress = progress,
		.progress_context = context,
		.report = report,
		.fault = fault,
	};
	struct file_bytes file = {.arena = arena_new()};
	*report = (struct import_report){.added = 0};
	enum outcome outcome = file_read(path, &file, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = import_run(&import, path, file.bytes, file.length);
	}
	arena_free(file.arena);
	return outcome;
}
