/* A job as `show` tells it: what is printed, on what, and the figures of its layout. */
#include <string.h>

#include "show.h"

/* ---------------------------------------------------------------- figures of the layout */

/* `290mm, 286mm needed` */
static void tell_web(struct telling *telling, const struct layout *layout)
{
	struct known_length needed = layout->web_needed;
	const char *web = attribute_words(telling, "web");
	const char *said = web;
	if (needed.known) {
		said = arena_format(telling->arena, "%s, %s needed", web != NULL ? web : "not known",
		                    tooling_words(telling, needed.value));
	}
	tell_words(telling, "web", "web", said);
	tell_data(telling, "web_needed", value_of_length(VALUE_TOOLING, needed.known, needed.value));
	tell_figure(telling, "printed_width", NULL,
	            value_of_length(VALUE_TOOLING, layout->printed_width.known,
	                            layout->printed_width.value),
	            NULL);
	if (needed.known && layout->web.known && length_compare(needed.value, layout->web.value) > 0) {
		tell_caution(telling, arena_format(telling->arena, "web %s, %s needed", web,
		                                   tooling_words(telling, needed.value)));
	}
}

/* `2mm to 4mm asked`, or one of the two. */
static const char *asked_words(struct telling *telling)
{
	const char *least = attribute_words(telling, "gap_around_min");
	const char *most = attribute_words(telling, "gap_around_max");
	if (least != NULL && most != NULL) {
		return arena_format(telling->arena, "%s to %s asked", least, most);
	}
	if (least != NULL || most != NULL) {
		return arena_format(telling->arena, "%s %s asked", least != NULL ? least : most,
		                    least != NULL ? "at least" : "at most");
	}
	return NULL;
}

/* `3mm, 2mm to 4mm asked` */
static void tell_gap_around(struct telling *telling, const struct layout *layout)
{
	bool known = layout->repeat.known && layout->number_around.known && layout->label_around.known;
	struct length gap = length_from_nm(0);
	const char *asked = asked_words(telling);
	struct text text = text_start(telling->arena);
	if (known) {
		gap = real_round(
			gap_around(layout->repeat, layout->number_around.value, layout->label_around.value));
		text_add(&text, tooling_words(telling, gap));
	}
	if (asked != NULL) {
		text_join(&text, ", ", asked);
	}
	tell_words(telling, "gap_around", "gap_around_min gap_around_max",
	           text.length > 0 ? text.bytes : NULL);
	tell_data(telling, "gap_around", value_of_length(VALUE_TOOLING, known, gap));
	const struct length *least =
		layout->gap_around_min.known ? &layout->gap_around_min.value : NULL;
	const struct length *most = layout->gap_around_max.known ? &layout->gap_around_max.value : NULL;
	if (known && !gap_around_within(layout->repeat, layout->number_around.value,
	                                layout->label_around.value, least, most)) {
		tell_caution(telling,
		             arena_format(telling->arena, "gap around %s, %s", tooling_words(telling, gap),
		                          asked != NULL ? asked : "the labels overlap"));
	}
}

static void tell_layout(struct telling *telling, const struct layout *layout)
{
	tell_label(telling);
	tell_repeat(telling, layout->repeat);
	tell_attribute(telling, "number_across");
	tell_attribute(telling, "number_around");
	tell_attribute(telling, "gap_across");
	tell_gap_around(telling, layout);
	tell_web(telling, layout);
	tell_attribute(telling, "trim");
	tell_figure(telling, "run", NULL,
	            value_of_length(VALUE_WEB, layout->run.known, layout->run.value),
	            layout->run.known ? web_words(telling, layout->run.value) : NULL);
}

/* What it took when it ran last, beside what its quantity takes. */
static enum outcome tell_ran(struct telling *telling, int64_t job, struct fault *fault)
{
	struct known_length ran;
	const char *by;
	enum outcome outcome = store_ran_of_job(telling->store, telling->arena, job, &ran, &by, fault);
	if (outcome == OUTCOME_DONE) {
		bool counted = ran.known && strcmp(by, "quantity") == 0;
		struct value value = value_of_length(VALUE_WEB, ran.known, ran.value);
		tell_figure(telling, "ran", NULL, value,
		            ran.known
		                ? arena_format(telling->arena, "%s, %s",
		                               counted ? web_words(telling, ran.value)
		                                       : value_text(telling->arena, &value, telling->units),
		                               counted ? "by its quantity" : "as given")
		                : NULL);
	}
	return outcome;
}

/* ---------------------------------------------------------------- stations and cuts */

static enum outcome show_rows(struct telling *telling, const struct job *job, enum kind_id kind,
                              size_t count, struct fault *fault)
{
	enum outcome outcome = OUTCOME_DONE;
	for (size_t i = 0; i < count && outcome == OUTCOME_DONE; i++) {
		int64_t id;
		int64_t number = kind == KIND_CUT ? job->cuts[i].number : job->stations[i].number;
		outcome = store_job_row_find(telling->store, &kinds[kind], job->id, number, &id, fault);
		if (outcome == OUTCOME_DONE) {
			outcome = show_row(telling, kind, id, fault);
		}
	}
	return outcome;
}

enum outcome show_job(struct telling *telling, struct fault *fault)
{
	struct job job;
	enum outcome outcome =
		store_job_read(telling->store, telling->arena, telling->out->record->id, &job, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	layout_complete(&job.layout, job.quantity, telling->limits.overs);
	tell_attribute(telling, "state");
	tell_attribute(telling, "from");
	tell_attribute(telling, "until");
	tell_attribute(telling, "press");
	tell_attribute(telling, "quantity");
	tell_layout(telling, &job.layout);
	outcome = tell_ran(telling, job.id, fault);
	if (outcome != OUTCOME_DONE) {
		return outcome;
	}
	telling->out->rows =
		arena_take(telling->arena, job.station_count + job.cut_count, sizeof(struct record *));
	outcome = show_rows(telling, &job, KIND_STATION, job.station_count, fault);
	if (outcome == OUTCOME_DONE) {
		outcome = show_rows(telling, &job, KIND_CUT, job.cut_count, fault);
	}
	return outcome == OUTCOME_DONE ? tell_promise(telling, job.id, fault) : outcome;
}
