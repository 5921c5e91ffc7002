/* The answer of `ahead` as data. */
#include "ahead_answer.h"
#include "check_answer.h"

static void moment_write(struct answer *answer, const char *key, struct known_moment moment)
{
	if (moment.known) {
		answer_moment(answer, key, moment.value);
	} else {
		answer_null(answer, key);
	}
}

static void number_write(struct answer *answer, const char *key, int64_t number)
{
	if (number != 0) {
		answer_count(answer, key, number);
	} else {
		answer_null(answer, key);
	}
}

static void tags_write(struct answer *answer, const char *key, const struct tag *tags, size_t count)
{
	answer_array_open(answer, key);
	for (size_t i = 0; i < count; i++) {
		answer_word(answer, NULL, tag_shown(tags[i]).bytes);
	}
	answer_array_close(answer);
}

static void job_figures_write(struct answer *answer, const struct ahead_job *job)
{
	answer_word(answer, "job", job->job);
	answer_word(answer, "title", job->title);
	answer_word(answer, "state", job->state);
	answer_word(answer, "press", job->press);
	moment_write(answer, "from", job->from);
	moment_write(answer, "until", job->until);
	answer_word(answer, "verdict", job->verdict_known ? verdict_word(job->verdict) : NULL);
	answer_yes_no(answer, "booked", job->booked);
	answer_yes_no(answer, "broken", job->broken);
	answer_yes_no(answer, "running", job->running);
	answer_yes_no(answer, "moved", job->moved);
	answer_word(answer, "text", job->text);
}

static void job_write(struct answer *answer, const struct ahead_job *job)
{
	answer_object_open(answer, NULL);
	job_figures_write(answer, job);
	answer_array_open(answer, "tools");
	for (size_t i = 0; i < job->tool_count; i++) {
		const struct ahead_tool *tool = &job->tools[i];
		answer_object_open(answer, NULL);
		answer_word(answer, "need", tool->need);
		number_write(answer, "station", tool->station);
		number_write(answer, "cut", tool->cut);
		answer_word(answer, "tool", tag_shown(tool->tag).bytes);
		answer_object_close(answer);
	}
	answer_array_close(answer);
	answer_object_close(answer);
}

static void cure_write(struct answer *answer, const char *key, const struct ahead_cure *cure)
{
	answer_object_open(answer, key);
	answer_word(answer, "kind", cure->kind);
	answer_word(answer, "need", cure->need);
	answer_word(answer, "job", cure->job);
	answer_word(answer, "press", cure->press);
	tags_write(answer, "tools", cure->tools, cure->tool_count);
	moment_write(answer, "from", cure->from);
	if (cure->by.known) {
		const struct value by = {.type = VALUE_DURATION, .known = true, .duration = cure->by.value};
		answer_count(answer, "by_s", value_to_stored(&by));
		answer_yes_no(answer, "earlier", cure->earlier);
	} else {
		answer_null(answer, "by_s");
		answer_null(answer, "earlier");
	}
	answer_count(answer, "cured", (int64_t)cure->cured);
	if (cure->figure_count > 0) {
		answer_object_open(answer, "data");
		for (size_t i = 0; i < cure->figure_count; i++) {
			answer_word(answer, cure->figures[i].name, cure->figures[i].value);
		}
		answer_object_close(answer);
	} else {
		answer_null(answer, "data");
	}
	answer_word(answer, "text", cure->text);
	answer_object_close(answer);
}

static void needs_write(struct answer *answer, const struct ahead_shortage *shortage)
{
	answer_array_open(answer, "needs");
	for (size_t i = 0; i < shortage->need_count; i++) {
		answer_object_open(answer, NULL);
		answer_word(answer, "job", shortage->need_jobs[i]);
		answer_word(answer, "need", shortage->needs[i].need);
		number_write(answer, "station", shortage->needs[i].station);
		number_write(answer, "cut", shortage->needs[i].cut);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

static void shortage_write(struct answer *answer, const struct ahead_shortage *shortage)
{
	answer_object_open(answer, NULL);
	answer_word(answer, "need", shortage->need);
	answer_yes_no(answer, "certain", shortage->certain);
	answer_moment(answer, "from", shortage->from);
	answer_moment(answer, "until", shortage->until);
	answer_count(answer, "wanted", shortage->wanted);
	answer_count(answer, "have", shortage->have);
	answer_array_open(answer, "jobs");
	for (size_t i = 0; i < shortage->job_count; i++) {
		answer_word(answer, NULL, shortage->jobs[i]);
	}
	answer_array_close(answer);
	needs_write(answer, shortage);
	tags_write(answer, "tools", shortage->tools, shortage->tool_count);
	answer_array_open(answer, "cures");
	for (size_t i = 0; i < shortage->cure_count; i++) {
		cure_write(answer, NULL, &shortage->cures[i]);
	}
	answer_array_close(answer);
	answer_word(answer, "text", shortage->text);
	answer_object_close(answer);
}

static void jobs_write(struct answer *answer, const struct ahead *ahead)
{
	answer_array_open(answer, NULL);
	for (size_t i = 0; i < ahead->job_count; i++) {
		answer_object_open(answer, NULL);
		job_figures_write(answer, &ahead->jobs[i]);
		answer_object_close(answer);
	}
	answer_array_close(answer);
}

void ahead_write(struct call *call, const struct ahead *ahead)
{
	struct answer *answer = call->answer;
	if (answer_form(answer) == FORM_CSV) {
		jobs_write(answer, ahead);
		return;
	}
	answer_object_open(answer, NULL);
	answer_moment(answer, "from", ahead->from);
	answer_moment(answer, "until", ahead->until);
	answer_count(answer, "planned", (int64_t)ahead->planned);
	answer_count(answer, "served", (int64_t)ahead->served);
	answer_count(answer, "bound", (int64_t)ahead->bound);
	answer_number(answer, "gap_percent", 100.0 * ahead->gap, 2);
	answer_yes_no(answer, "proven", ahead->proven);
	answer_word(answer, "proof", ahead->proof);
	answer_count(answer, "moved", (int64_t)ahead->moved);
	answer_count(answer, "parts", (int64_t)ahead->parts);
	answer_array_open(answer, "jobs");
	for (size_t i = 0; i < ahead->job_count; i++) {
		job_write(answer, &ahead->jobs[i]);
	}
	answer_array_close(answer);
	answer_array_open(answer, "shortages");
	for (size_t i = 0; i < ahead->shortage_count; i++) {
		shortage_write(answer, &ahead->shortages[i]);
	}
	answer_array_close(answer);
	if (ahead->purchase != NULL) {
		cure_write(answer, "purchase", ahead->purchase);
	} else {
		answer_null(answer, "purchase");
	}
	answer_object_close(answer);
}
