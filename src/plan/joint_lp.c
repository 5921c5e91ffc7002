/*
 * The whole model in CPLEX-LP, for whoever would solve it by other means: glpsol --lp, or a reader
 * of that form. One line a constraint, long ones broken, for readers of it limit the line.
 */
#include <inttypes.h>
#include <stdlib.h>

#include "joint_inside.h"

#define TERMS_A_LINE 8

/* A variable that uses a resource over a time. */
struct user {
	uint32_t resource;
	struct joint_time time;
	char kind; /* x, y, z */
	uint32_t job, option, need, last;
};
struct users {
	struct user *items;
	size_t count, room;
};

struct lp {
	struct arena *arena;
	const struct joint_model *model;
	FILE *file;
	struct users users;
	size_t constraint;
	size_t terms; /* of the constraint being written */
};

static void name_write(struct lp *lp, const struct user *user)
{
	if (lp->terms % TERMS_A_LINE == TERMS_A_LINE - 1) {
		fputs("\n  ", lp->file);
	}
	lp->terms++;
	if (user->kind == 'x') {
		fprintf(lp->file, "x_%" PRIu32 "_%" PRIu32, user->job, user->option);
	} else {
		fprintf(lp->file, "%c_%" PRIu32 "_%" PRIu32 "_%" PRIu32 "_%" PRIu32, user->kind, user->job,
		        user->option, user->need, user->last);
	}
}

static void term_write(struct lp *lp, const char *sign, const struct user *user)
{
	fprintf(lp->file, " %s ", sign);
	name_write(lp, user);
}

static void constraint_begin(struct lp *lp)
{
	lp->terms = 0;
	fprintf(lp->file, " c%zu:", ++lp->constraint);
}

static void user_add(struct lp *lp, struct user user)
{
	struct users *users = &lp->users;
	if (users->count == users->room) {
		size_t room = users->room * 2 + 1024;
		users->items =
			arena_grow(lp->arena, users->items, users->count, room, sizeof *users->items);
		users->room = room;
	}
	users->items[users->count++] = user;
}

/* ---------------------------------------------------------------- a need */

/* Each companion of any of its ways, once: by `seen`, with the number of the need. */
static size_t companions_of(struct lp *lp, const struct joint_need *need, struct joint_time time,
                            uint32_t *out)
{
	size_t count = 0;
	for (uint32_t way = 0; way < need->way_count; way++) {
		const struct joint_way *of = &need->ways[way];
		for (uint32_t i = 0; of->needs_companion && i < of->companion_count; i++) {
			bool seen = joint_busy(&lp->model->resources[of->companions[i]], time);
			for (size_t j = 0; j < count && !seen; j++) {
				seen = out[j] == of->companions[i];
			}
			if (!seen) {
				out[count++] = of->companions[i];
			}
		}
	}
	return count;
}

/* A way that needs a companion has one that goes with it. */
static void way_write(struct lp *lp, const struct joint_way *way, const struct user *self)
{
	struct user user = *self;
	if (!way->needs_companion) {
		return;
	}
	constraint_begin(lp);
	name_write(lp, self);
	user.kind = 'z';
	for (uint32_t i = 0; i < way->companion_count; i++) {
		user.last = way->companions[i];
		if (!joint_busy(&lp->model->resources[user.last], self->time)) {
			term_write(lp, "-", &user);
		}
	}
	fputs(" <= 0\n", lp->file);
}

static void need_write(struct lp *lp, const struct joint_need *need, struct user user)
{
	struct user served = user;
	size_t room = 1;
	served.kind = 'x';
	user.kind = 'y';
	constraint_begin(lp);
	name_write(lp, &served);
	for (uint32_t way = 0; way < need->way_count; way++) {
		user.last = way;
		user.resource = need->ways[way].item;
		room += need->ways[way].companion_count;
		if (joint_way_may(lp->model, &need->ways[way], user.time)) {
			term_write(lp, "-", &user);
			user_add(lp, user);
		}
	}
	fputs(" = 0\n", lp->file);
	for (uint32_t way = 0; way < need->way_count; way++) {
		user.last = way;
		if (joint_way_may(lp->model, &need->ways[way], user.time)) {
			way_write(lp, &need->ways[way], &user);
		}
	}
	uint32_t *companions = arena_take(lp->arena, room, sizeof *companions);
	size_t count = companions_of(lp, need, user.time, companions);
	user.kind = 'z';
	for (size_t i = 0; i < count; i++) {
		user.last = user.resource = companions[i];
		user_add(lp, user);
	}
	if (count > 0) {
		constraint_begin(lp);
		for (size_t i = 0; i < count; i++) {
			user.last = companions[i];
			term_write(lp, "+", &user);
		}
		term_write(lp, "-", &served);
		fputs(" <= 0\n", lp->file);
	}
}

static void job_write(struct lp *lp, uint32_t job)
{
	const struct joint_job *of = &lp->model->jobs[job];
	struct user user = {.kind = 'x', .job = job};
	if (of->option_count > 0) {
		constraint_begin(lp);
		for (user.option = 0; user.option < of->option_count; user.option++) {
			term_write(lp, "+", &user);
		}
		fputs(" <= 1\n", lp->file);
	}
	for (uint32_t option = 0; option < of->option_count; option++) {
		const struct joint_option *taken = &of->options[option];
		user = (struct user){.kind = 'x', .job = job, .option = option, .time = of->time};
		user.resource = taken->press;
		if (taken->press != JOINT_NONE &&
		    joint_busy(&lp->model->resources[taken->press], of->time)) {
			constraint_begin(lp);
			name_write(lp, &user);
			fputs(" = 0\n", lp->file);
		}
		if (taken->press != JOINT_NONE) {
			user_add(lp, user);
		}
		user.time = joint_tool_time(of);
		for (user.need = 0; user.need < of->need_count; user.need++) {
			need_write(lp, &taken->needs[user.need], user);
		}
	}
}

/* ---------------------------------------------------------------- a resource */

static int user_order(const void *a, const void *b)
{
	const struct user *x = a, *y = b;
	if (x->resource != y->resource) {
		return x->resource < y->resource ? -1 : 1;
	}
	return x->time.from < y->time.from ? -1 : x->time.from > y->time.from;
}

/*
 * Of those that use one resource, all that hold it when one of them begins: of times that meet in
 * pairs there is always such a moment that all share.
 */
static void resource_write(struct lp *lp, const struct user *users, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		size_t open = 0;
		if (i + 1 < count && users[i + 1].time.from == users[i].time.from) {
			continue;
		}
		for (size_t j = 0; j <= i; j++) {
			open += users[j].time.until > users[i].time.from;
		}
		if (open < 2) {
			continue;
		}
		constraint_begin(lp);
		for (size_t j = 0; j <= i; j++) {
			if (users[j].time.until > users[i].time.from) {
				term_write(lp, "+", &users[j]);
			}
		}
		fputs(" <= 1\n", lp->file);
	}
}

static void resources_write(struct lp *lp)
{
	const struct users *users = &lp->users;
	if (users->count > 1) {
		qsort(users->items, users->count, sizeof *users->items, user_order);
	}
	for (size_t first = 0, next; first < users->count; first = next) {
		next = first + 1;
		while (next < users->count && users->items[next].resource == users->items[first].resource) {
			next++;
		}
		resource_write(lp, &users->items[first], next - first);
	}
}

/* ---------------------------------------------------------------- the file */

static void each_served(struct lp *lp, const char *sign)
{
	struct user user = {.kind = 'x'};
	lp->terms = 0;
	for (user.job = 0; user.job < lp->model->job_count; user.job++) {
		for (user.option = 0; user.option < lp->model->jobs[user.job].option_count; user.option++) {
			term_write(lp, sign, &user);
		}
	}
}

bool joint_write_lp(const struct joint_model *model, FILE *file)
{
	struct lp lp = {.arena = arena_new(), .model = model, .file = file};
	fputs("\\ jobs planned together: x_JOB_OPTION, y_JOB_OPTION_NEED_WAY, "
	      "z_JOB_OPTION_NEED_RESOURCE\n"
	      "Maximize\n served:",
	      file);
	each_served(&lp, "+");
	/* A model of no job is one too: its form asks for a variable and a constraint. */
	fputs(" + 0 none\nSubject To\n none_is_none: none = 0\n", file);
	for (uint32_t job = 0; job < model->job_count; job++) {
		job_write(&lp, job);
	}
	resources_write(&lp);
	fputs("Binary\n none", file);
	each_served(&lp, "");
	for (size_t i = 0; i < lp.users.count; i++) {
		if (lp.users.items[i].kind != 'x') {
			term_write(&lp, "", &lp.users.items[i]);
		}
	}
	fputs("\nEnd\n", file);
	arena_free(lp.arena);
	return ferror(file) == 0;
}
