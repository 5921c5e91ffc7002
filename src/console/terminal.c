/* What the terminal, if there is one, can show. */
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "directories.h"
#include "terminal.h"

#define WIDTH_USUAL 80
#define HEIGHT_USUAL 24
#define SIZE_MOST 10000

bool terminal_shows(void)
{
	return isatty(STDOUT_FILENO) == 1;
}

/* What a variable says; 0 where it says nothing that can be. */
static size_t told_by(const char *variable)
{
	char *end = NULL;
	const char *told = environment_of(variable);
	unsigned long size = told == NULL ? 0 : strtoul(told, &end, 10);
	return size > 0 && size <= SIZE_MOST && *end == '\0' ? size : 0;
}

static struct winsize size_of(int stream)
{
	struct winsize size = {0};
	if (ioctl(stream, TIOCGWINSZ, &size) != 0) {
		size = (struct winsize){0};
	}
	return size;
}

size_t terminal_width_of(int stream)
{
	if (isatty(stream) != 1) {
		return 0;
	}
	size_t told = told_by("COLUMNS");
	size_t itself = told > 0 ? told : size_of(stream).ws_col;
	return itself > 0 ? itself : WIDTH_USUAL;
}

size_t terminal_width(void)
{
	return terminal_width_of(STDOUT_FILENO);
}

size_t terminal_height(void)
{
	size_t told = told_by("LINES");
	size_t itself = told > 0 ? told : size_of(STDOUT_FILENO).ws_row;
	return itself > 0 ? itself : HEIGHT_USUAL;
}

bool terminal_colour(void)
{
	const char *sort = environment_of("TERM");
	return terminal_shows() && environment_of("NO_COLOR") == NULL && sort != NULL &&
	       strcmp(sort, "dumb") != 0;
}
