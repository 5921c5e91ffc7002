#!/bin/sh
# check_format.sh FILE SOURCE...: is every source laid out as .clang-format says? JUnit to FILE.
set -u
# shellcheck source=tests/junit.sh
. "$(dirname "$0")/junit.sh"
file=$1
shift
junit_open "$file" format
# All at once takes a second; one by one, to tell which, only where that fails.
laid_out()
{
	[ "$all" = yes ] || clang-format --dry-run -Werror "$1"
}
all=yes
clang-format --dry-run -Werror "$@" >/dev/null 2>&1 || all=no
for source in "$@"; do
	junit_case "$source" laid_out "$source"
done
junit_close || {
	echo "make format lays the code out"
	exit 1
}
