/*
 * The manual page, made from the tables while building: man(7) macros, nothing but ASCII, so that
 * every formatter takes it.
 */
#include "arguments.h"
#include "calc.h"
#include "options.h"
#include "toothrack/version.h"

/* ---------------------------------------------------------------- text within macros */

/* A text as a formatter shows it letter by letter. */
static void plain_add(struct text *page, const char *text)
{
	/* A line that began so would be a request. */
	text_add(page, text[0] == '.' || text[0] == '\'' ? "\\&" : "");
	for (const char *c = text; *c != '\0'; c++) {
		switch (*c) {
		case '\\':
			text_add(page, "\\e");
			break;
		case '-':
			text_add(page, "\\-");
			break;
		case '\'':
			text_add(page, "\\(aq");
			break;
		case '`':
			text_add(page, "\\(ga");
			break;
		case '^':
			text_add(page, "\\(ha");
			break;
		case '~':
			text_add(page, "\\(ti");
			break;
		case '"':
			text_add(page, "\\(dq");
			break;
		default:
			text_add_bytes(page, c, 1);
			break;
		}
	}
}

static void section(struct text *page, const char *name)
{
	text_add_format(page, ".SH %s\n", name);
}

static void paragraph(struct text *page, const char *text)
{
	text_add(page, ".PP\n");
	plain_add(page, text);
	text_add(page, "\n");
}

/* What is typed, and what it means further in. */
static void item(struct text *page, const char *typed, const char *meaning)
{
	text_add(page, ".TP\n\\fB");
	plain_add(page, typed);
	text_add(page, "\\fR\n");
	plain_add(page, meaning);
	text_add(page, "\n");
}

/* A line as it is typed, which stays whole. */
static void typed_add(struct text *page, const char *line)
{
	text_add(page, ".nf\ntoothrack ");
	plain_add(page, line);
	text_add(page, "\n.fi\n");
}

/* ---------------------------------------------------------------- what stands in no table */

struct row {
	const char *name, *text;
};

static const char *const description[] = {
	("toothrack keeps the inventory of a narrow-web label shop's tool room: plate cylinders, "
     "gears, anilox rolls, doctor blade assemblies, dies and magnetic cylinders; where each is, "
     "in what condition, and whether what a job needs can be met."),
	("With a COMMAND it runs that one and stops. Without one it opens the console on a terminal, "
     "with line editing, a history and Tab; where standard input is no terminal it reads commands "
     "from there, one a line, # starting a comment, and stops at the first that ends with 2 or 3; "
     "a refusal names its line. A tag, code or number alone shows what it names."),
	("Text is for people. --json and --csv give the same answer to programs, with quantities in "
     "fixed units."),
};

static const struct row exits[] = {
	{"0", "done, or the answer is yes"},
	{"1", "the answer is no: short, none found, refused by the tool's state"},
	{"2", "the request is wrong: unknown word, bad value, missing file"},
	{"3", "the store cannot serve: locked, full, damaged, no permission"},
};

static const struct row variables[] = {
	{"TOOTHRACK_DB", "the shop's file, where --db does not name it"},
	{"TOOTHRACK_NOW", "a moment at which the clock stands, to ask what if it were; commands that "
                      "write are then refused unless the file was made so"},
	{"XDG_DATA_HOME", "where the shop's file lies otherwise; else .local/share under HOME"},
	{"XDG_STATE_HOME", "where the history lies; else .local/state under HOME"},
	{"PAGER", "shows an answer that is longer than the screen; not set or empty: nothing does"},
	{"LESS",
     "set to R for the pager where it is not set, so that colours come through; more gets none"},
	{"NO_COLOR", "not empty: no colours"},
	{"COLUMNS, LINES", "the size of the terminal, where it is not as it says itself"},
	{"INPUTRC", "the settings of line editing; what stands between $if toothrack and $endif is "
                "for toothrack alone"},
	{"LC_ALL, LC_CTYPE, LANG", "the characters of the terminal; files and pipes are always UTF-8"},
};

static const struct row files[] = {
	{"$XDG_DATA_HOME/toothrack/shop.db", "the shop; -wal and -shm beside it while it is open"},
	{"$XDG_STATE_HOME/toothrack/history", "the lines typed in the console, without scans"},
	{"~/.inputrc", "the settings of line editing"},
};

static const char caution[] =
	"toothrack tells what is on record. It permits nothing, and it cannot see the tool in your "
	"hand. Know the weight of a cylinder or die and use two people or a hoist; wear cut-resistant "
	"gloves for blades and die edges; stop and lock out the press before you reach in, and mind "
	"the nip points; read the safety data sheet of a wash. Always follow the press maker's manual, "
	"local rules and the trained person in charge.";

static void rows_add(struct text *page, const char *name, const struct row *rows, size_t count)
{
	section(page, name);
	for (size_t i = 0; i < count; i++) {
		item(page, rows[i].name, rows[i].text);
	}
}

/* ---------------------------------------------------------------- what does */

static void options_add(struct arena *arena, struct text *page)
{
	section(page, "OPTIONS");
	paragraph(page, "They stand before the command or behind it.");
	for (size_t i = 0; i < option_row_count; i++) {
		const struct option_row *row = &option_rows[i];
		item(page,
		     row->value == NULL ? row->name : arena_format(arena, "%s %s", row->name, row->value),
		     row->meaning);
	}
}

static void topics_add(struct text *page)
{
	paragraph(page, "Topics, each with its example:");
	for (size_t i = 0; i < calc_topic_count; i++) {
		item(page, calc_topics[i]->name, calc_topics[i]->summary);
		typed_add(page, calc_topics[i]->example);
	}
}

/* The words that an argument can be, where those are in a table of their own. */
static void lists_add(struct text *page, const struct command *command)
{
	for (size_t i = 0; i < command->argument_count; i++) {
		if (command->arguments[i].type == ARGUMENT_TOPIC) {
			topics_add(page);
		} else if (command->arguments[i].type == ARGUMENT_SETTING) {
			paragraph(page, "Keys, each with its default:");
			for (size_t j = 0; j < setting_count; j++) {
				item(page, settings[j].name, settings[j].meaning);
				text_add(page, ".br\ndefault ");
				plain_add(page, settings[j].fallback);
				text_add(page, "\n");
			}
		}
	}
}

static void command_add(struct arena *arena, struct text *page, const struct command *command)
{
	text_add_format(page, ".SS %s\n\\fB", command->name);
	plain_add(page, command_usage(arena, command));
	text_add(page, "\\fR\n.br\n");
	plain_add(page, command->summary);
	text_add(page, "\n");
	for (size_t i = 0; i < command->argument_count; i++) {
		const struct argument *argument = &command->arguments[i];
		item(page, argument_usage(arena, argument), argument->meaning);
	}
	if (command->more != NULL) {
		paragraph(page, command->more);
	}
	lists_add(page, command);
}

static void kinds_add(struct text *page)
{
	section(page, "KINDS OF RECORD");
	paragraph(page, "help KIND says what is known of each.");
	for (size_t i = 0; i < KIND_COUNT; i++) {
		item(page, kinds[i].name, kinds[i].title);
	}
}

static void examples_add(struct text *page)
{
	section(page, "EXAMPLES");
	paragraph(page, "On the demo shop, which toothrack --db demo.db demo makes:");
	text_add(page, ".PP\n");
	for (size_t i = 0; i < command_count; i++) {
		for (size_t j = 0; commands[i]->examples != NULL && commands[i]->examples[j] != NULL; j++) {
			typed_add(page, commands[i]->examples[j]);
		}
	}
}

const char *manual_page(struct arena *arena)
{
	struct text page = text_start(arena);
	text_add_format(&page, ".TH TOOTHRACK 1 \"\" \"toothrack %s\"\n", toothrack_version);
	section(&page, "NAME");
	text_add(&page, "toothrack \\- the tool room's inventory of a label shop\n");
	section(&page, "SYNOPSIS");
	text_add(&page, "\\fBtoothrack\\fR [\\fIoptions\\fR] "
	                "[\\fICOMMAND\\fR [\\fIWORD\\fR | \\fIkey\\fR=\\fIvalue\\fR]...]\n");
	section(&page, "DESCRIPTION");
	for (size_t i = 0; i < COUNT_OF(description); i++) {
		paragraph(&page, description[i]);
	}
	options_add(arena, &page);
	section(&page, "COMMANDS");
	for (size_t i = 0; i < command_count; i++) {
		command_add(arena, &page, commands[i]);
	}
	kinds_add(&page);
	rows_add(&page, "EXIT STATUS", exits, COUNT_OF(exits));
	rows_add(&page, "ENVIRONMENT", variables, COUNT_OF(variables));
	rows_add(&page, "FILES", files, COUNT_OF(files));
	examples_add(&page);
	section(&page, "CAUTIONS");
	paragraph(&page, caution);
	return page.bytes;
}
