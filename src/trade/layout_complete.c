/* A job as printed at one repeat: what its figures come to. */
#include "toothrack/trade.h"

static struct known_length web_of(const struct layout *layout)
{
	bool lanes = layout->number_across.known && layout->label_across.known;
	bool gap = layout->gap_across.known || (lanes && layout->number_across.value == 1);
	struct known_length web = {.known = lanes && gap && layout->trim.known};
	if (web.known) {
		web.value = web_needed(layout->label_across.value, layout->number_across.value,
		                       layout->gap_across.value, layout->trim.value);
	}
	return web;
}

static struct known_length run_of(const struct layout *layout, struct known_count quantity,
                                  struct percent overs)
{
	struct known_length run = {
		.known = layout->repeat.known && layout->number_around.known &&
	             layout->number_across.known && quantity.known,
	};
	if (run.known) {
		int64_t repeats = repeats_to_run(quantity.value, layout->number_across.value,
		                                 layout->number_around.value, overs);
		struct real_length length = real_times(repeat_length(layout->repeat), (long double)repeats);
		run.value = real_round(length);
	}
	return run;
}

void layout_complete(struct layout *layout, struct known_count quantity, struct percent overs)
{
	layout->web_needed = web_of(layout);
	layout->printed_width = layout->web_needed;
	if (layout->web_needed.known) {
		layout->printed_width.value =
			length_subtract(layout->web_needed.value, length_times(layout->trim.value, 2));
	}
	layout->run = run_of(layout, quantity, overs);
}

/* More than three repeats of any cylinder: what rounding up to whole labels and repeats may add. */
#define ROUNDED_UP_M 1000

struct known_length layout_run_most(const struct layout *layout, struct known_count quantity,
                                    struct percent overs)
{
	struct known_length most = {.known = true, .value = length_from_nm(0)};
	if (!quantity.known || !layout->number_across.known) {
		return most;
	}
	if (!layout->gap_around_max.known || !layout->label_around.known) {
		return (struct known_length){.known = false};
	}
	/* n around: ceil((1 + overs) ceil(q / n)) n shares < (1 + overs) q shares + (2 + overs) R */
	int64_t shares = repeats_to_run(quantity.value, layout->number_across.value, 1, overs);
	struct length share = length_add(layout->label_around.value, layout->gap_around_max.value);
	most.value = real_round(real_add(real_times(real_from_length(share), (long double)shares),
	                                 real_from_length(length_from_mm(ROUNDED_UP_M * 1000.0))));
	/* A repeat order may stand on a repeat whose gap is not in its limits. */
	if (layout->run.known && length_compare(layout->run.value, most.value) > 0) {
		most = layout->run;
	}
	return most;
}
