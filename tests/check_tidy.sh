#!/bin/sh
# check_tidy.sh FILE SOURCE OPTION...: what clang-tidy says of one source. JUnit to FILE.
set -u
# shellcheck source=tests/junit.sh
. "$(dirname "$0")/junit.sh"
file=$1
source=$2
shift 2
junit_open "$file" tidy
junit_case "$source" clang-tidy --quiet "$source" -- "$@"
junit_close
