/* What the terminal, if there is one, can show. */
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "directories.h"
#include "terminal.h"

#define WIDTH_USUAL 80
#define WIDTH_MOST 10000

bool terminal_shows(void)
{
	return isatty(STDOUT_FILENO) == 1;
}

size_t terminal_width(void)
{
	struct winsize size = {0};
	char *end = NULL;
	if (!terminal_shows()) {
		return 0;
	}
	const char *told = environment_of("COLUMNS");
	unsigned long columns = told == NULL ? 0 : strtoul(told, &end, 10);
	if (columns > 0 && columns <= WIDTH_MOST && *end == '\0') {
		return columns;
	}
	if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
		return size.ws_col;
	}
	return WIDTH_USUAL;
}

bool terminal_colour(void)
{
	const char *sort = environment_of("TERM");
	return terminal_shows() && environment_of("NO_COLOR") == NULL && sort != NULL &&
	       strcmp(sort, "dumb") != 0;
}
