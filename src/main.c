/* toothrack: the tool room's inventory. The console does everything. */
#include "toothrack/console.h"

int main(int argument_count, char **arguments)
{
	return console_main(argument_count, arguments);
}
