/* Batches of a handheld, as the tests write, apply and look at them. */
#ifndef TOOTHRACK_TESTS_ROOM_BATCH_LINES_H
#define TOOTHRACK_TESTS_ROOM_BATCH_LINES_H

#include <sys/stat.h>

#include "shop.h"

static struct batch_report report;
static struct limits limits;

static inline enum outcome always(struct bench_verdict *out)
{
	*out = (struct bench_verdict){.yes = true, .text = "cylinder at station 1"};
	return OUTCOME_DONE;
}

static inline enum outcome serves(struct store *store, struct arena *arena, int64_t job,
                                  int64_t tool, struct moment now, struct bench_verdict *out,
                                  struct fault *fault)
{
	(void)store, (void)arena, (void)job, (void)tool, (void)now, (void)fault;
	return always(out);
}

/* No station takes K-5. */
static inline enum outcome takes(struct store *store, struct arena *arena, int64_t place,
                                 int64_t tool, struct bench_verdict *out, struct fault *fault)
{
	struct tool_state state;
	(void)place;
	enum outcome outcome = store_tool_state(store, arena, tool, &state, fault);
	always(out);
	if (outcome == OUTCOME_DONE && strcmp(state.tag, "PC000005-9") == 0) {
		*out = (struct bench_verdict){.yes = false, .text = "does not fit"};
	}
	return outcome;
}

static const struct bench_asks asks = {serves, takes};

static inline enum outcome apply_bytes(struct shop *shop, const char *bytes, size_t length)
{
	FILE *file = fopen(shop->file, "wb");
	assert_non_null(file);
	assert_int_equal(fwrite(bytes, 1, length, file), length);
	assert_int_equal(fclose(file), 0);
	fault_clear(&shop->fault);
	enum outcome outcome = room_batch(shop->store, shop->arena, shop->file, &asks, &shop->actor,
	                                  &limits, &report, &shop->fault);
	assert_false(store_in_transaction(shop->store));
	return outcome;
}

/* Lines of `minute:second code`, blanks between them, all on 2026-12-01 from 09:00 UTC. */
static inline enum outcome apply(struct shop *shop, const char *scans)
{
	struct text text = text_start(shop->arena);
	char *rest = arena_copy(shop->arena, scans);
	for (char *word = strtok(rest, " "); word != NULL; word = strtok(NULL, " ")) {
		const char *code = strtok(NULL, " ");
		text_add_format(&text, "2026-12-01T09:%sZ,%s\n", word, code);
	}
	return apply_bytes(shop, text.bytes, text.length);
}

/* `lines applied known quiet problems` */
static inline const char *sums(struct shop *shop)
{
	return arena_format(shop->arena, "%lld %lld %lld %lld %lld", (long long)report.lines,
	                    (long long)report.applied, (long long)report.known, (long long)report.quiet,
	                    (long long)report.problem_count);
}

/* `3 K-1: text` a line. */
static inline const char *problems(struct shop *shop)
{
	struct text text = text_start(shop->arena);
	for (size_t i = 0; i < report.problems_kept; i++) {
		text_add_format(&text, "%lld %s: %s\n", (long long)report.problems[i].line,
		                report.problems[i].code, report.problems[i].text);
	}
	return text.bytes;
}

static inline const char *place_of(struct shop *shop, const char *tag)
{
	return shop_value(shop, tag, "place");
}

/* `put R1 -> R2 09:00:05` and the like, latest first. */
static inline const char *ledger_of(struct shop *shop, const char *tag)
{
	struct found found;
	struct ledger_entry *entries;
	size_t count;
	struct text text = text_start(shop->arena);
	assert_int_equal(store_find(shop->store, tag, REFER_TOOL, &found, NULL), OUTCOME_DONE);
	assert_int_equal(store_ledger_of(shop->store, shop->arena, found.kind, found.id, 20, &entries,
	                                 &count, NULL),
	                 OUTCOME_DONE);
	for (size_t i = 0; i < count; i++) {
		text_add_format(&text, "%s %s %s", entries[i].word,
		                entries[i].to_code != NULL ? entries[i].to_code : "-",
		                moment_text_utc(entries[i].happened).bytes + strlen("2026-12-01T"));
		text_add_format(&text, " %s\n",
		                entries[i].operator_name != NULL ? entries[i].operator_name : "-");
	}
	return text.bytes;
}

static inline int64_t entries_of(struct shop *shop)
{
	static struct proof proof;
	fault_clear(&shop->fault);
	assert_int_equal(room_verify(shop->store, shop->arena, NULL, &proof, &shop->fault),
	                 OUTCOME_DONE);
	return proof.entries;
}

static inline void put(struct shop *shop, const char *tag, const char *place, const char *moment)
{
	struct moved moved;
	struct moment now = shop->actor.now;
	fault_clear(&shop->fault);
	shop->actor.now = shop_moment(moment);
	assert_int_equal(room_put(shop->store, shop->arena, &tag, 1, place, NULL, &shop->actor, &moved,
	                          &shop->fault),
	                 OUTCOME_DONE);
	shop->actor.now = now;
}

/* K-1 to K-6 in R1, whose home it is; it is 12:00 then. */
static inline void furnish(struct shop *shop)
{
	shop_furnish(shop);
	shop_has(shop, "place", "code=C1;sort=cart");
	shop_has(shop, "operator", "badge=N1;name=Nora Tindle;role=clerk");
	for (int i = 1; i <= 6; i++) {
		shop_has(shop, "cylinder", arena_format(shop->arena, "other_tag=K-%d;place=R1;home=R1", i));
	}
	assert_int_equal(store_limits(shop->store, &limits, &shop->fault), OUTCOME_DONE);
	shop->actor.now = shop_moment("2026-12-01T12:00:00Z");
}

#endif
