/* Where the bytes of an answer go: standard output, or the user's pager before it. */
#include "output.h"

#include "charset.h"
#include "directories.h"
#include "terminal.h"

static bool print(struct output *output, const char *bytes)
{
	output->outcome = console_print(output->console, bytes, output->fault);
	return output->outcome == OUTCOME_DONE && !output->console->reader_gone;
}

static void say_not_run(struct output *output)
{
	struct fault fault;
	fault_clear(&fault);
	fault_set(&fault, OUTCOME_BAD, "pager cannot be run: %s", environment_of("PAGER"));
	console_refuse(output->console, &fault);
}

/* Ends the pager. What it was given is printed where it could not run. */
static bool pager_over(struct output *output)
{
	const char *unseen = pager_end(&output->pager);
	if (unseen == NULL) {
		return false;
	}
	say_not_run(output);
	return print(output, unseen);
}

bool output_take(struct output *output, const char *bytes)
{
	struct console *console = output->console;
	const char *charset = terminal_shows() ? charset_local() : NULL;
	const char *shown = charset_write(console->held, charset, bytes);
	const char *command = output->begun ? NULL : pager_wanted(shown);
	output->begun = true;
	if (command != NULL && !pager_start(&output->pager, console->arena, command)) {
		say_not_run(output);
	}
	if (output->pager.child == 0) {
		return print(output, shown);
	}
	return pager_give(&output->pager, console->held, shown) || pager_over(output);
}

void output_end(struct output *output)
{
	if (output->pager.child != 0) {
		pager_over(output);
	}
}
