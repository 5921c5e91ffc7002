#!/bin/sh
# check_format.sh FILE SOURCE...: is every source laid out as .clang-format says? JUnit to FILE.
set -u
# shellcheck source=tests/junit.sh
. "$(dirname "$0")/junit.sh"
file=$1
shift
junit_open "$file" format
for source in "$@"; do
	junit_case "$source" clang-format --dry-run -Werror "$source"
done
junit_close || {
	echo "make format lays the code out"
	exit 1
}
