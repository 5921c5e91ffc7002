/* The table of commands: help, Tab and the dispatcher read it. */
#include <string.h>

#include "commands/commands.h"

/*
 * In the order that help shows: the shelf, movements, condition, planning, care, the shop, the
 * program.
 */
const struct command *const commands[] = {
	&command_new,          &command_edit,     &command_remove,  &command_show,
	&command_find_records, &command_import,   &command_export,  &command_put,
	&command_take,         &command_send,     &command_receive, &command_hold,
	&command_clear,        &command_scrap,    &command_undo,    &command_scan,
	&command_count_place,  &command_history,  &command_tag,     &command_check,
	&command_choices,      &command_earliest, &command_ahead,   &command_book,
	&command_unbook,       &command_at_risk,  &command_start,   &command_finish,
	&command_reading,      &command_gauge,    &command_cleaned, &command_dirty,
	&command_reblade,      &command_regrind,  &command_wear,    &command_due,
	&command_calc,         &command_set,      &command_backup,  &command_restore,
	&command_verify,       &command_demo,     &command_help,    &command_quit,
};
const size_t command_count = COUNT_OF(commands);

const struct command *command_find(const char *name)
{
	for (size_t i = 0; i < command_count; i++) {
		if (strcmp(commands[i]->name, name) == 0) {
			return commands[i];
		}
	}
	return NULL;
}
