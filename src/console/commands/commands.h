/* The commands, one file each; table.c puts them in the order that help shows. */
#ifndef TOOTHRACK_CONSOLE_COMMANDS_H
#define TOOTHRACK_CONSOLE_COMMANDS_H

#include "toothrack/console.h"

extern const struct command command_ahead;
extern const struct command command_at_risk;
extern const struct command command_backup;
extern const struct command command_book;
extern const struct command command_calc;
extern const struct command command_check;
extern const struct command command_choices;
extern const struct command command_cleaned;
extern const struct command command_clear;
extern const struct command command_count_place;
extern const struct command command_demo;
extern const struct command command_dirty;
extern const struct command command_due;
extern const struct command command_earliest;
extern const struct command command_edit;
extern const struct command command_export;
extern const struct command command_find_records;
extern const struct command command_finish;
extern const struct command command_gauge;
extern const struct command command_help;
extern const struct command command_history;
extern const struct command command_hold;
extern const struct command command_import;
extern const struct command command_new;
extern const struct command command_put;
extern const struct command command_quit;
extern const struct command command_reading;
extern const struct command command_reblade;
extern const struct command command_receive;
extern const struct command command_regrind;
extern const struct command command_remove;
extern const struct command command_restore;
extern const struct command command_scan;
extern const struct command command_scrap;
extern const struct command command_send;
extern const struct command command_set;
extern const struct command command_show;
extern const struct command command_start;
extern const struct command command_tag;
extern const struct command command_take;
extern const struct command command_unbook;
extern const struct command command_undo;
extern const struct command command_verify;
extern const struct command command_wear;

#endif
