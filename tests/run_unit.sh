#!/bin/sh
# run_unit.sh FILE PROGRAM: runs a cmocka program, its JUnit to FILE. Shows what was said only where it failed.
# TOOTHRACK_UNIT_SECONDS says how long it may take (120).
set -u
file=$1
program=$2
rm -f "$file"
said=$(CMOCKA_MESSAGE_OUTPUT=XML CMOCKA_XML_FILE="$file" TZ=UTC timeout "${TOOTHRACK_UNIT_SECONDS:-120}" "$program" 2>&1)
status=$?
if [ "$status" -ne 0 ]; then
	echo "failed with $status: $program"
	printf '%s\n' "$said"
	[ ! -e "$file" ] || sed -n '/<failure>/,/<\/failure>/p' "$file"
fi
exit "$status"
