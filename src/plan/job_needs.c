/* The needs of a job itself: its stations on the press, its web, its repeat, its plates. */
#include <string.h>

#include "words.h"

/* ---------------------------------------------------------------- press */

static const struct press_station *station_find(const struct press_state *press, int64_t number,
                                                bool die)
{
	int64_t counted = die ? press->die_stations_counted : press->stations_counted;
	for (size_t i = 0; i < press->station_count; i++) {
		if (press->stations[i].number == number && press->stations[i].die == die) {
			return number <= counted ? &press->stations[i] : NULL;
		}
	}
	return NULL;
}

const char *station_lack(struct arena *arena, const struct press_state *press, int64_t number,
                         const char *process)
{
	const struct press_station *station = station_find(press, number, process == NULL);
	if (station == NULL) {
		return arena_format(arena, "press %s has no %s %lld", press->press.code,
		                    process != NULL ? "station" : "die station", (long long)number);
	}
	if (station->held) {
		return words_of_hold(arena, station->code, station->since, station->reason);
	}
	if (process != NULL && station->processes != NULL && !list_has(station->processes, process)) {
		return arena_format(arena, "%s does %s, %s asked", station->code, station->processes,
		                    process);
	}
	return NULL;
}

static const char *joined(struct arena *arena, const struct remarks *remarks)
{
	struct text text = text_start(arena);
	for (size_t i = 0; i < remarks->count; i++) {
		text_join(&text, "; ", remarks->items[i].text);
	}
	return text.bytes;
}

/* Other jobs that run, or are promised their tools, on the press asked. */
static void press_taken_finding(const struct question *question, struct finding_list *list)
{
	const struct press_state *press = question->press;
	struct remarks remarks = {.count = 0};
	enum suits level = press_free(press->promises, press->promise_count, press->press.code,
	                              question->span, &remarks);
	if (level != SUITS_NOT && level != SUITS_DOUBTFUL) {
		return;
	}
	struct finding *finding =
		finding_add(list, "press", 0, 0, level == SUITS_NOT ? FINDING_SHORT : FINDING_CAUTION,
	                joined(list->arena, &remarks));
	for (size_t i = 0; i < remarks.count; i++) {
		finding->until = remarks.items[i].until.known ? remarks.items[i].until : finding->until;
	}
}

static void press_findings(const struct question *question, struct finding_list *list)
{
	const struct job *job = question->job;
	if (question->press->retired) {
		finding_add(list, "press", 0, 0, FINDING_NOTE,
		            arena_format(list->arena, "press %s is retired", question->press->press.code));
	}
	press_taken_finding(question, list);
	for (size_t i = 0; i < job->station_count; i++) {
		const struct station *station = &job->stations[i];
		const char *lack =
			station_lack(list->arena, question->press, station->number, station->process);
		if (lack != NULL) {
			finding_add(list, "press", station->number, 0, FINDING_SHORT, lack);
		}
	}
	for (size_t i = 0; i < question->cut_count; i++) {
		const char *lack =
			station_lack(list->arena, question->press, question->cuts[i].number, NULL);
		if (lack != NULL) {
			finding_add(list, "press", 0, question->cuts[i].number, FINDING_SHORT, lack);
		}
	}
}

/* No tool is on record for these: somebody has to look. */
static void untracked_findings(const struct question *question, struct finding_list *list)
{
	const struct job *job = question->job;
	for (size_t i = 0; i < job->station_count; i++) {
		const struct station *station = &job->stations[i];
		const char *tool = strcmp(station->process, "rotary_screen") == 0 ? "screen unit"
		                   : strcmp(station->process, "hot_foil") == 0    ? "hot foil tool"
		                                                                  : NULL;
		if (tool != NULL) {
			finding_add(list, "press", station->number, 0, FINDING_NOTE,
			            arena_format(list->arena,
			                         "%s: the %s is not on record, look for it by hand",
			                         station->process, tool));
		}
	}
}

/* ---------------------------------------------------------------- web, repeat, plates */

static void web_finding(const struct question *question, struct finding_list *list)
{
	struct remarks remarks = {.count = 0};
	if (web_suits(&question->layout, &question->press->press, question->limits, &remarks) ==
	    SUITS_NOT) {
		finding_add(list, "web", 0, 0, FINDING_SHORT, joined(list->arena, &remarks));
	}
}

static void repeat_finding(const struct question *question, bool judged, struct finding_list *list)
{
	struct remarks remarks = {.count = 0};
	if (!judged) {
		finding_add(list, "repeat", 0, 0, FINDING_SHORT,
		            arena_format(list->arena,
		                         "no plate cylinder on the shelf gives press %s a repeat for this"
		                         " label with a gap around in its limits",
		                         question->press->press.code));
		return;
	}
	if (repeat_suits(&question->layout, &question->press->press, question->limits, &remarks) ==
	    SUITS_NOT) {
		finding_add(list, "repeat", 0, 0, FINDING_SHORT, joined(list->arena, &remarks));
	}
}

static void plates_findings(const struct question *question, struct finding_list *list)
{
	for (size_t i = 0; i < question->printing_count; i++) {
		struct remarks remarks = {.count = 0};
		enum suits level = plates_suit(&question->printing[i], &remarks);
		if (level != SUITS_YES) {
			finding_add(list, "plates", question->printing[i].number, 0,
			            level == SUITS_NOTED ? FINDING_NOTE : FINDING_CAUTION,
			            joined(list->arena, &remarks));
		}
	}
}

void findings_of_job(const struct question *question, bool repeat_judged, struct finding_list *list)
{
	press_findings(question, list);
	web_finding(question, list);
	repeat_finding(question, repeat_judged, list);
	plates_findings(question, list);
	untracked_findings(question, list);
}
