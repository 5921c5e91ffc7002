/* `export KIND file=FILE`: the file is whole, or as it was. */
#include <errno.h>

#include "toothrack/room.h"

/* The file being written. */
struct output {
	struct whole_file whole;
	int error;
};

/* Never the shop itself. */
static enum outcome look_at(struct store *store, const char *path, struct fault *fault)
{
	if (path[0] == '\0') {
		fault_set(fault, OUTCOME_BAD, "file not given");
		fault_hint(fault, "Type file=NAME.csv.");
		return OUTCOME_BAD;
	}
	if (store_keeps_in(store, path)) {
		fault_set(fault, OUTCOME_BAD, "file is the shop's own: %s", path);
		fault_hint(fault, "Name another, such as %s.csv.", path);
		return OUTCOME_BAD;
	}
	return OUTCOME_DONE;
}

static enum outcome take_bytes(const char *bytes, size_t length, void *context)
{
	struct output *output = context;
	if (fwrite(bytes, 1, length, output->whole.file) != length) {
		output->error = errno;
		return OUTCOME_NO;
	}
	return OUTCOME_DONE;
}

enum outcome room_export_file(struct store *store, struct arena *arena, const struct kind *kind,
                              const char *path, int64_t *count, struct fault *fault)
{
	struct output output = {.error = 0};
	*count = 0;
	enum outcome outcome = look_at(store, path, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = whole_file_open(arena, path, &output.whole, fault);
	}
	if (outcome != OUTCOME_DONE) {
		fault_hint(fault, "Leave file= out and the answer can be sent anywhere.");
		return outcome;
	}
	outcome = room_export(store, kind, take_bytes, &output, count, fault);
	if (outcome != OUTCOME_DONE && output.error == 0) {
		whole_file_drop(&output.whole); /* the store failed and has said so */
		return outcome;
	}
	return whole_file_close(arena, &output.whole, output.error, fault);
}
