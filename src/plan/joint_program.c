/*
 * Integer programs by GLPK. The only file that knows it. It is loaded when it is first asked for,
 * and stands behind its error hook: what it aborts for ends one program, never a shift. Where it is
 * not there or gives up, the caller goes on with what it knows.
 */
#include <dlfcn.h>
#include <setjmp.h>
#include <string.h>

#include <glpk.h>

#include "joint_inside.h"

#define LIBRARY "libglpk.so.40"

/* clang-format off */
#define CALLS(CALL) \
	CALL(glp_add_cols) CALL(glp_add_rows) CALL(glp_create_prob) CALL(glp_delete_prob) \
	CALL(glp_error_hook) CALL(glp_free_env) CALL(glp_init_iocp) CALL(glp_intopt) \
	CALL(glp_ios_best_node) CALL(glp_ios_node_bound) CALL(glp_mip_col_val) CALL(glp_mip_obj_val) \
	CALL(glp_mip_status) CALL(glp_set_col_kind) CALL(glp_set_mat_row) CALL(glp_set_obj_coef) \
	CALL(glp_set_obj_dir) CALL(glp_set_row_bnds) CALL(glp_term_hook)
/* clang-format on */

/* The calls, typed by the header. */
#define MEMBER(name) __typeof__(name) *name; /* NOLINT(bugprone-macro-parentheses): a member */
static struct {
	CALLS(MEMBER)
} lib;
#undef MEMBER

static bool library_load(void)
{
#define ROW(name) {#name, &lib.name, sizeof lib.name},
	static const struct {
		const char *name;
		void *call;
		size_t size;
	} rows[] = {CALLS(ROW)};
	static bool loaded, tried;
	if (tried) {
		return loaded;
	}
	tried = true;
	void *handle = dlopen(LIBRARY, RTLD_LAZY | RTLD_LOCAL);
	loaded = handle != NULL;
	for (size_t i = 0; i < COUNT_OF(rows) && loaded; i++) {
		void *call = dlsym(handle, rows[i].name);
		loaded = call != NULL;
		memcpy(rows[i].call, &call, rows[i].size);
	}
	return loaded;
}

/* Where to go on when the library gives up. */
struct guard {
	jmp_buf back;
	double bound; /* the best that the open branches still promise */
	bool bound_known;
	bool gave_up;
};

__attribute__((noreturn)) static void give_up(void *info)
{
	struct guard *guard = info;
	longjmp(guard->back, 1);
}

static void see_bound(glp_tree *tree, void *info)
{
	struct guard *guard = info;
	int node = lib.glp_ios_best_node(tree);
	if (node != 0) {
		guard->bound = lib.glp_ios_node_bound(tree, node);
		guard->bound_known = true;
	}
}

static void program_write(const struct program *program, glp_prob *problem)
{
	struct arena *arena = arena_new();
	int *columns = arena_take(arena, program->column_count + 1, sizeof *columns);
	double *factors = arena_take(arena, program->column_count + 1, sizeof *factors);
	lib.glp_set_obj_dir(problem, GLP_MAX);
	lib.glp_add_cols(problem, (int)program->column_count);
	for (uint32_t i = 0; i < program->column_count; i++) {
		lib.glp_set_col_kind(problem, (int)i + 1, GLP_BV);
		lib.glp_set_obj_coef(problem, (int)i + 1, program->gain[i]);
	}
	lib.glp_add_rows(problem, (int)program->row_count);
	for (uint32_t i = 0; i < program->row_count; i++) {
		const struct program_row *row = &program->rows[i];
		for (uint32_t j = 0; j < row->count; j++) {
			columns[j + 1] = (int)row->columns[j] + 1;
			factors[j + 1] = row->factors[j];
		}
		lib.glp_set_row_bnds(problem, (int)i + 1, row->exactly ? GLP_FX : GLP_UP, row->most,
		                     row->most);
		lib.glp_set_mat_row(problem, (int)i + 1, (int)row->count, columns, factors);
	}
	arena_free(arena);
}

static enum program_end program_run(const struct program *program, int cuts, struct guard *guard,
                                    glp_prob *problem, uint8_t *taken, double *bound)
{
	glp_iocp how;
	lib.glp_init_iocp(&how);
	how.presolve = GLP_ON;
	how.msg_lev = GLP_MSG_OFF;
	/* No cover cuts: their maker gives up on a program without a row that has factors. */
	how.gmi_cuts = how.mir_cuts = how.clq_cuts = cuts;
	how.tm_lim = program->seconds * 1000 < 10 ? 10 : (int)(program->seconds * 1000);
	how.cb_func = see_bound;
	how.cb_info = guard;
	int end = lib.glp_intopt(problem, &how);
	int status = lib.glp_mip_status(problem);
	if (end == GLP_ENOPFS || (end == 0 && status == GLP_NOFEAS)) {
		return PROGRAM_NONE;
	}
	if ((end != 0 && end != GLP_ETMLIM) || (status != GLP_OPT && status != GLP_FEAS)) {
		if (guard->bound_known && guard->bound < *bound) {
			*bound = guard->bound;
		}
		return PROGRAM_LEFT;
	}
	for (uint32_t i = 0; i < program->column_count; i++) {
		taken[i] = lib.glp_mip_col_val(problem, (int)i + 1) > 0.5;
	}
	double found = lib.glp_mip_obj_val(problem);
	if (status == GLP_OPT) {
		*bound = found;
	} else if (guard->bound_known) {
		*bound = guard->bound > found ? guard->bound : found;
	}
	return PROGRAM_FOUND;
}

/* What the library would print is nobody's to read. */
static int say_nothing(void *info, const char *text)
{
	(void)info;
	(void)text;
	return 1;
}

static enum program_end program_try(const struct program *program, int cuts, uint8_t *taken,
                                    double *bound)
{
	struct guard guard = {.bound_known = false};
	volatile enum program_end end = PROGRAM_LEFT;
	lib.glp_term_hook(say_nothing, NULL);
	if (setjmp(guard.back) == 0) { /* NOLINT(cert-err52-cpp): the library's only way out */
		lib.glp_error_hook(give_up, &guard);
		glp_prob *problem = lib.glp_create_prob();
		program_write(program, problem);
		end = program_run(program, cuts, &guard, problem, taken, bound);
		lib.glp_delete_prob(problem);
		lib.glp_error_hook(NULL, NULL);
	} else {
		guard.gave_up = true;
	}
	lib.glp_free_env();
	/* Where the makers of cuts give up, plain branching goes on. */
	return guard.gave_up && cuts == GLP_ON ? program_try(program, GLP_OFF, taken, bound) : end;
}

enum program_end program_solve(const struct program *program, uint8_t *taken, double *bound)
{
	*bound = 0;
	for (uint32_t i = 0; i < program->column_count; i++) {
		*bound += program->gain[i] > 0 ? program->gain[i] : 0;
	}
	return library_load() ? program_try(program, GLP_ON, taken, bound) : PROGRAM_LEFT;
}
