/* Where a person's files lie, and what the system calls that person. */
#include <errno.h>
#include <pwd.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "directories.h"

static const struct passwd *person(void)
{
	return getpwuid(geteuid());
}

const char *environment_of(const char *variable)
{
	const char *value = getenv(variable);
	return value != NULL && value[0] != '\0' ? value : NULL;
}

const char *directory_of(struct arena *arena, const char *variable, const char *fallback)
{
	const char *named = environment_of(variable);
	if (named != NULL && named[0] == '/') {
		return arena_copy(arena, named);
	}
	const char *home = environment_of("HOME");
	if (home == NULL) {
		const struct passwd *entry = person();
		home = entry == NULL ? NULL : entry->pw_dir;
	}
	return home == NULL ? NULL : arena_format(arena, "%s/%s", home, fallback);
}

bool directory_make(const char *path)
{
	struct arena *arena = arena_new();
	char *part = arena_copy(arena, path);
	for (char *slash = strchr(part + 1, '/'); slash != NULL; slash = strchr(slash + 1, '/')) {
		*slash = '\0';
		mkdir(part, S_IRWXU);
		*slash = '/';
	}
	struct stat status;
	bool made = mkdir(part, S_IRWXU) == 0 || errno == EEXIST;
	made = made && stat(part, &status) == 0 && S_ISDIR(status.st_mode);
	arena_free(arena);
	return made;
}

/* Printable ASCII without blanks: what the ledger can keep of a name that anybody may set. */
static bool is_plain(const char *name)
{
	for (; *name != '\0'; name++) {
		if (*name <= ' ' || *name > '~') {
			return false;
		}
	}
	return true;
}

const char *login_name(struct arena *arena)
{
	const char *name = environment_of("LOGNAME");
	if (name != NULL && is_plain(name)) {
		return arena_copy(arena, name);
	}
	const struct passwd *entry = person();
	return entry != NULL ? arena_copy(arena, entry->pw_name)
	                     : arena_format(arena, "uid %lu", (unsigned long)geteuid());
}
