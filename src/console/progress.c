/* How far a long work is, on the terminal. */
#include <inttypes.h>
#include <unistd.h>

#include "progress.h"

#define QUIET_MS 300 /* work that is done sooner says nothing */

static bool is_long(const struct progress *progress)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	int64_t ms = (int64_t)(now.tv_sec - progress->began.tv_sec) * 1000 +
	             (now.tv_nsec - progress->began.tv_nsec) / 1000000;
	return ms >= QUIET_MS;
}

static void say(const char *doing, int64_t done, int64_t all, void *context)
{
	struct progress *progress = context;
	int64_t percent = all > 0 ? (int64_t)(100.0 * (double)done / (double)all) : -1;
	/* What cannot be counted is told before it begins: it may take long by itself. */
	bool told = doing == progress->doing && percent == progress->percent;
	if (told || (all > 0 && !is_long(progress))) {
		return;
	}
	progress->doing = doing;
	progress->percent = percent;
	progress_clear(progress);
	progress->columns =
		all > 0 ? fprintf(stderr, "%s: %s %" PRId64 "%%", progress->what, doing, percent)
				: fprintf(stderr, "%s: %s", progress->what, doing);
	fflush(stderr);
}

struct watch progress_watch(struct progress *progress, const struct call *call)
{
	bool watched = answer_form(call->answer) == FORM_TEXT && isatty(STDERR_FILENO) == 1;
	*progress = (struct progress){.what = call->command->name};
	clock_gettime(CLOCK_MONOTONIC, &progress->began);
	return (struct watch){.tell = watched ? say : NULL, .context = progress};
}

void progress_clear(const struct progress *progress)
{
	if (progress->columns > 0) {
		fprintf(stderr, "\r%*s\r", progress->columns, "");
	}
}

const char *size_said(struct arena *arena, int64_t bytes)
{
	static const char *const units[] = {"bytes", "kB", "MB", "GB", "TB"};
	double size = (double)bytes;
	size_t unit = 0;
	while (size >= 999.5 && unit + 1 < COUNT_OF(units)) {
		size /= 1000;
		unit++;
	}
	return arena_format(arena, size < 9.95 && unit > 0 ? "%.1f %s" : "%.0f %s", size, units[unit]);
}
