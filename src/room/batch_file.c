/* The lines of a handheld's file, read piece by piece: no file is too large. */
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "batch.h"
#include "csv.h"
#include "import.h"

/* ---------------------------------------------------------------- lines */

/* The next bytes; false at the end, or where `error` is set. */
static bool fill(struct batch_file *file)
{
	ssize_t got;
	do {
		got = read(file->descriptor, file->bytes, sizeof file->bytes);
	} while (got < 0 && errno == EINTR);
	file->error = got < 0 ? errno : 0;
	file->at = 0;
	file->held = got > 0 ? (size_t)got : 0;
	return got > 0;
}

static enum outcome refuse_binary(const struct batch_file *file, const char *path,
                                  struct fault *fault)
{
	const char *bytes = file->bytes;
	bool wide =
		file->held >= 2 && (memcmp(bytes, "\xff\xfe", 2) == 0 || memcmp(bytes, "\xfe\xff", 2) == 0);
	if (!wide && memchr(bytes, '\0', file->held) == NULL) {
		return OUTCOME_DONE;
	}
	fault_set(fault, OUTCOME_BAD,
	          wide ? "file is in UTF-16, not in UTF-8: %s"
	               : "file is no text, it holds a NUL byte: %s",
	          path);
	fault_hint(fault, "Give lines of moment,code as text in UTF-8.");
	return OUTCOME_BAD;
}

enum outcome batch_file_open(struct batch_file *file, const char *path, struct fault *fault)
{
	static const char mark[] = "\xef\xbb\xbf";
	file->descriptor = open(path, O_RDONLY | O_CLOEXEC);
	file->error = errno;
	file->number = 0;
	file->after_cr = false;
	if (file->descriptor < 0 || (!fill(file) && file->error != 0)) {
		return file_refuse(path, file->error, fault);
	}
	if (file->held >= 3 && memcmp(file->bytes, mark, 3) == 0) {
		file->at = 3;
	}
	return refuse_binary(file, path, fault);
}

void batch_file_close(struct batch_file *file)
{
	if (file->descriptor >= 0) {
		close(file->descriptor);
	}
}

/* Adds a byte to the line; what is past the longest is read over. */
static void line_add(struct batch_file *file, char byte, bool *longer)
{
	file->has_nul = file->has_nul || byte == '\0';
	if (file->length < BATCH_LINE_LONGEST) {
		file->line[file->length++] = byte;
	} else {
		*longer = true;
	}
}

enum batch_read batch_file_next(struct batch_file *file)
{
	bool longer = false, ended = false, begun = false;
	file->length = 0;
	file->has_nul = false;
	while (!ended && (file->at < file->held || fill(file))) {
		char byte = file->bytes[file->at++];
		bool second = file->after_cr && byte == '\n';
		file->after_cr = byte == '\r';
		if (second) {
			continue;
		}
		begun = true;
		ended = byte == '\n' || byte == '\r';
		if (!ended) {
			line_add(file, byte, &longer);
		}
	}
	file->line[file->length] = '\0';
	if (file->error != 0) {
		return BATCH_FAILED;
	}
	if (!begun) {
		return BATCH_END;
	}
	file->number++;
	return longer ? BATCH_LONG : ended ? BATCH_LINE : BATCH_TORN;
}

/* ---------------------------------------------------------------- cells */

struct taking {
	struct arena *arena;
	struct batch_cells *out;
	size_t count; /* cells in which something stands, the first two always */
};

static enum outcome take_cells(const struct csv_row *row, void *context)
{
	struct taking *taking = context;
	taking->count = row->count;
	while (taking->count > 2 && row->cells[taking->count - 1][0] == '\0') {
		taking->count--;
	}
	taking->out->moment = arena_copy(taking->arena, row->cells[0]);
	taking->out->code = arena_copy(taking->arena, row->count > 1 ? row->cells[1] : "");
	return OUTCOME_DONE;
}

/* What parts the cells: no moment holds any of them. */
static char separator_of(const char *line)
{
	const char *first = strpbrk(line, csv_separators);
	return first != NULL ? *first : ',';
}

enum outcome batch_cells_read(struct arena *arena, const char *line, size_t length,
                              struct batch_cells *out, struct fault *fault)
{
	struct csv_tear tear;
	struct arena *each = arena_new();
	struct taking taking = {.arena = arena, .out = out};
	*out = (struct batch_cells){.code = ""};
	enum outcome outcome =
		csv_read(each, line, length, separator_of(line), take_cells, &taking, &tear, fault);
	arena_free(each);
	if (outcome == OUTCOME_DONE && out->moment != NULL && taking.count != 2) {
		fault_set(fault, OUTCOME_BAD, "line has %zu %s, not a moment and a code", taking.count,
		          taking.count == 1 ? "cell" : "cells");
		fault_hint(fault, "A line is like 2026-12-01T14:30:15,PC000025-1.");
		return OUTCOME_BAD;
	}
	return outcome;
}
