/*
 * A handheld's file: whatever bytes it holds, its lines come in order, and each is two cells, is
 * passed over or is refused in words. Then the same file goes through the whole of `scan FILE`, in
 * a shop of its own, twice: the second time nothing is recorded.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include "room/batch.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(bool holds, const char *what)
{
	if (!holds) {
		fprintf(stderr, "%s\n", what);
		abort();
	}
}

static enum outcome yes(struct bench_verdict *out)
{
	*out = (struct bench_verdict){.yes = true};
	return OUTCOME_DONE;
}

static enum outcome serves(struct store *store, struct arena *arena, int64_t job, int64_t tool,
                           struct moment now, struct bench_verdict *out, struct fault *fault)
{
	(void)store, (void)arena, (void)job, (void)tool, (void)now, (void)fault;
	return yes(out);
}

static enum outcome takes(struct store *store, struct arena *arena, int64_t place, int64_t tool,
                          struct bench_verdict *out, struct fault *fault)
{
	(void)store, (void)arena, (void)place, (void)tool, (void)fault;
	return yes(out);
}

static const struct bench_asks asks = {serves, takes};

static void read_lines(struct arena *arena, const char *path)
{
	struct batch_file *file = arena_take(arena, 1, sizeof *file);
	struct arena *each = arena_new();
	struct fault fault;
	fault_clear(&fault);
	enum outcome outcome = batch_file_open(file, path, &fault);
	must(outcome == OUTCOME_DONE || fault.sentence[0] != '\0', "refused without words");
	int64_t number = 0;
	while (outcome == OUTCOME_DONE) {
		struct batch_cells cells;
		enum batch_read read = batch_file_next(file);
		must(read != BATCH_FAILED, "a file in memory cannot be read");
		if (read == BATCH_END) {
			break;
		}
		must(file->number == ++number, "a line does not follow the one before");
		must(file->length <= BATCH_LINE_LONGEST, "longer than the longest");
		fault_clear(&fault);
		if (!file->has_nul &&
		    batch_cells_read(each, file->line, file->length, &cells, &fault) != OUTCOME_DONE) {
			must(fault.sentence[0] != '\0', "refused without words");
		}
		arena_reset(each);
	}
	batch_file_close(file);
	arena_free(each);
}

static void furnish(struct store *store, struct arena *arena, const struct actor *actor)
{
	static const char places[] = "code,sort\nR1,store\nP,press\nL,lost\n";
	static const char tools[] = "other_tag,place,home\nA,R1,R1\nB,P,R1\nC,,\n";
	static struct import_report report;
	must(room_import_text(store, arena, kind_find("place"), "", places, strlen(places), false,
	                      actor, &report, NULL) == OUTCOME_DONE,
	     "no places");
	must(room_import_text(store, arena, kind_find("gear"), "", tools, strlen(tools), false, actor,
	                      &report, NULL) == OUTCOME_DONE,
	     "no tools");
}

static void apply(struct store *store, const struct actor *actor, const char *path, bool again)
{
	struct batch_report report;
	struct limits limits;
	struct fault fault;
	struct arena *arena = arena_new();
	fault_clear(&fault);
	must(store_limits(store, &limits, &fault) == OUTCOME_DONE, fault.sentence);
	enum outcome outcome = room_batch(store, arena, path, &asks, actor, &limits, &report, &fault);
	must(outcome != OUTCOME_STORE, fault.sentence);
	must(outcome != OUTCOME_BAD || fault.sentence[0] != '\0', "refused without words");
	must((outcome == OUTCOME_NO) == (outcome != OUTCOME_BAD && report.problem_count > 0),
	     "the outcome does not say whether lines are wrong");
	must(!again || report.applied == 0, "applied twice");
	must(!store_in_transaction(store), "a transaction stays open");
	arena_free(arena);
}

/* A shop as it is before each input: made once, for that takes longer than all the rest. */
static struct {
	char directory[64], path[96];
	struct arena *arena;
	char *bytes;
	size_t length;
} shop;

static void shop_forget(void)
{
	rmdir(shop.directory);
	arena_free(shop.arena);
}

static void shop_remove(void)
{
	static const char *const endings[] = {"", "-wal", "-shm"};
	char path[120];
	for (size_t i = 0; i < COUNT_OF(endings); i++) {
		snprintf(path, sizeof path, "%s%s", shop.path, endings[i]);
		unlink(path);
	}
}

static void shop_make(struct actor *actor)
{
	struct store *store = NULL;
	struct stat about;
	snprintf(shop.directory, sizeof shop.directory, "/dev/shm/batch-XXXXXX");
	must(mkdtemp(shop.directory) != NULL, "no folder");
	atexit(shop_forget);
	snprintf(shop.path, sizeof shop.path, "%s/shop.db", shop.directory);
	shop.arena = arena_new();
	must(store_open(shop.path, STORE_MAKE, true, &store, NULL) == OUTCOME_DONE, "no shop");
	must(moment_parse("2026-12-01T08:00:00Z", &actor->now, NULL) == OUTCOME_DONE, "no moment");
	furnish(store, shop.arena, actor);
	store_close(store);
	must(stat(shop.path, &about) == 0, "no shop");
	shop.length = (size_t)about.st_size;
	shop.bytes = arena_take(shop.arena, shop.length, 1);
	FILE *file = fopen(shop.path, "rb");
	must(file != NULL && fread(shop.bytes, 1, shop.length, file) == shop.length, "no shop");
	fclose(file);
	shop_remove();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char path[64];
	struct store *store = NULL;
	struct actor actor = {.login = "clerk", .terminal = "bench"};
	int descriptor = memfd_create("batch", MFD_CLOEXEC);
	must(descriptor >= 0 && write(descriptor, data, size) == (ssize_t)size, "no file");
	snprintf(path, sizeof path, "/proc/self/fd/%d", descriptor);
	if (shop.arena == NULL) {
		shop_make(&actor);
	}
	struct arena *arena = arena_new();
	read_lines(arena, path);
	arena_free(arena);
	FILE *file = fopen(shop.path, "wb");
	must(file != NULL && fwrite(shop.bytes, 1, shop.length, file) == shop.length &&
	         fclose(file) == 0,
	     "no shop");
	must(store_open(shop.path, STORE_WRITE, true, &store, NULL) == OUTCOME_DONE, "no shop");
	must(moment_parse("2026-12-02T08:00:00Z", &actor.now, NULL) == OUTCOME_DONE, "no moment");
	apply(store, &actor, path, false);
	apply(store, &actor, path, true);
	store_close(store);
	shop_remove();
	close(descriptor);
	return 0;
}
