/* Out for a job, from the inside: what `take` and the bench share. */
#ifndef TOOTHRACK_ROOM_TAKE_H
#define TOOTHRACK_ROOM_TAKE_H

#include "toothrack/room.h"

struct taking {
	struct store *store;
	struct arena *arena;
	const struct bench_asks *asks;
	const struct actor *actor;
	int64_t job;
	const char *number; /* of the job */
	struct taken *taken;
	size_t count; /* taken so far */
	bool refused; /* the job has no need of it: `verdict` says why */
	struct bench_verdict verdict;
};
/* Takes one more, in the caller's transaction; its fault tells a refusal too. */
enum outcome take_tool(struct taking *taking, int64_t tool, struct fault *fault);

#endif
