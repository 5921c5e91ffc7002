# shellcheck shell=sh
# To be read in by a check: writes its JUnit file, one case at a time.
#   junit_open FILE SUITE
#   junit_case NAME COMMAND [WORD...]   runs the command; it fails with what it said. Status as the command's.
#   junit_close                         1 where any case failed

junit_open()
{
	junit_file=$1
	junit_suite=$2
	junit_tests=0
	junit_failures=0
	: >"$junit_file.cases"
}

junit_escape()
{
	LC_ALL=C tr -d '\000-\010\013\014\016-\037' |
		sed -e 's/&/\&amp;/g' -e 's/</\&lt;/g' -e 's/>/\&gt;/g' -e 's/"/\&quot;/g'
}

junit_case()
{
	case $1 in # most names need no escaping, nor the processes that it takes
	*[!A-Za-z0-9_./\ -]*) junit_name=$(printf '%s' "$1" | junit_escape) ;;
	*) junit_name=$1 ;;
	esac
	shift
	junit_tests=$((junit_tests + 1))
	junit_status=0
	junit_said=$("$@" 2>&1) || junit_status=$?
	printf '\t<testcase classname="%s" name="%s"' "$junit_suite" "$junit_name" >>"$junit_file.cases"
	if [ "$junit_status" -eq 0 ]; then
		printf '/>\n' >>"$junit_file.cases"
		return 0
	fi
	junit_failures=$((junit_failures + 1))
	printf '%s\n' "$junit_said"
	{
		printf '>\n\t\t<failure message="%s">' "$junit_name"
		printf '%s\n' "$junit_said" | junit_escape
		printf '</failure>\n\t</testcase>\n'
	} >>"$junit_file.cases"
	return "$junit_status"
}

junit_close()
{
	{
		printf '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites>\n'
		printf '<testsuite name="%s" tests="%d" failures="%d" errors="0">\n' \
			"$junit_suite" "$junit_tests" "$junit_failures"
		cat "$junit_file.cases"
		printf '</testsuite>\n</testsuites>\n'
	} >"$junit_file.part"
	rm -f "$junit_file.cases"
	mv "$junit_file.part" "$junit_file"
	[ "$junit_failures" -eq 0 ]
}
