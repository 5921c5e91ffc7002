#!/usr/bin/env bash
# The house rules that no compiler holds. Run it at the top of a tree that was built with gcc.
#   check_layers.sh [FILE]   says each breach; JUnit to FILE where one is named. Exit 1 where a rule is broken.
# OBJECTS names the folder of the objects looked into (build/obj).
# RULES names the rules to hold, of those below (all).
# shellcheck disable=SC2044,SC2046 # no file of ours has a blank in its name
set -u
export LC_ALL=C
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
# shellcheck source=tests/junit.sh
. "$here/junit.sh"
objects=${OBJECTS:-build/obj}
if [ ! -e migrations/RELEASED ] || [ ! -d src ] || [ ! -d include/toothrack ]; then
	echo "check_layers.sh: run it at the top of the tree" >&2
	exit 2
fi

# ---------------------------------------------------------------- the tables

# A room, and the rooms whose headers it may include and whose functions it may call. Its own is understood.
# trade and store know what a tag and a repeat are; that is as far as it goes.
rooms='
base
quantity base
tag      base
trade    base quantity tag
store    base quantity tag trade version
print    base quantity tag
room     base quantity tag trade store demo
plan     base quantity tag trade store
care     base quantity tag trade store
console  base quantity tag trade store print room plan care demo version
main     base console version
generate base console
'

# A library's header (a pattern), the room that knows it, and in how many files.
homes='
sqlite3.h    store   any
sodium.h     store   one
csv.h        room    one
glpk.h       plan    one
jansson.h    console one
readline/*   console one
zint.h       print   one
cairo*.h     print   one
cairo/*      print   one
pango/*      print   one
'

# What the arithmetic may not touch: heap, files, terminal, clock, chance, environment, store.
forbidden_in_trade='malloc|calloc|realloc|reallocarray|free|strdup|strndup|asprintf|vasprintf|aligned_alloc'
forbidden_in_trade+='|fopen|fdopen|fclose|fread|fwrite|fputs|fputc|putc|puts|putchar|printf|fprintf|vprintf|vfprintf'
forbidden_in_trade+='|__printf_chk|__fprintf_chk|perror|stdin|stdout|stderr|open|open64|read|write|close|getline'
forbidden_in_trade+='|time|clock|clock_gettime|gettimeofday|localtime|localtime_r|gmtime|gmtime_r|mktime|timegm|strftime'
forbidden_in_trade+='|rand|random|srand|srandom|getrandom|getenv|secure_getenv|setenv|setlocale|system|exit|abort'
forbidden_in_trade+='|sqlite3_[a-z0-9_]*'

# What the top level holds, besides dot-files and build/.
top_level='DEVELOPERS.md LICENSE Makefile README.md include labels migrations src tests'

# ---------------------------------------------------------------- what is in the tree

sources() # [FOLDER...]: every C file below, by name
{
	find "$@" -name '*.[ch]' | sort
}

# Every include of the tree, once: `file quote name`, quote being < or ".
read_includes()
{
	awk 'match($0, /^[ \t]*#[ \t]*include[ \t]*[<"][^>"]+/) {
		line = substr($0, RSTART, RLENGTH)
		sub(/^[ \t]*#[ \t]*include[ \t]*/, "", line)
		print FILENAME, substr(line, 1, 1), substr(line, 2)
	}' $(sources src include tests)
}

# INCLUDE: sets `file`, `quote` and `name`.
split()
{
	file=${1%% *}
	name=${1##* }
	quote=${1#* }
	quote=${quote%% *}
}

# FILE: sets `room` to the room it belongs to. include/toothrack/store.h is store's, tests/store/test_open.c too.
find_room()
{
	room=${1#include/toothrack/}
	room=${room#src/}
	room=${room#tests/}
	case $room in
	*/*) room=${room%%/*} ;;
	*) room=${room%.*} ;;
	esac
}

mapfile -t includes < <(read_includes)

declare -A known_rooms allowed
while read -r one others; do
	[ -n "$one" ] || continue
	known_rooms[$one]=yes
	for other in $one $others; do
		allowed["$one $other"]=yes
	done
done <<<"$rooms"

# ---------------------------------------------------------------- the rules

rule_every_folder_is_a_room()
{
	local status=0 folder
	for folder in src/*/; do
		folder=$(basename "$folder")
		[ "$folder" = demo ] || [ -n "${known_rooms[$folder]:-}" ] || {
			echo "src/$folder is no room of the house"
			status=1
		}
	done
	return $status
}

# Headers of the house: by the table. A public header is held to its room's row too.
rule_includes_go_down()
{
	local status=0 include file quote name room
	for include in "${includes[@]}"; do
		split "$include"
		[[ $name == toothrack/* && $file != tests/* ]] || continue
		find_room "$file"
		name=${name#toothrack/}
		[ -n "${allowed["$room ${name%.h}"]:-}" ] || {
			echo "$file: $room may not include toothrack/$name"
			status=1
		}
	done
	return $status
}

# What lies beside the .c files of a room is for that room, and for its tests.
rule_private_headers_stay_home()
{
	local status=0 include file quote name path room
	for include in "${includes[@]}"; do
		split "$include"
		[[ $quote == '"' && $name != toothrack/* ]] || continue
		find_room "$file"
		path=${file%/*}/$name
		[[ $name != *..* ]] || path=$(realpath -m --relative-to=. "$path")
		if [[ $file == tests/* ]]; then
			[[ $path == tests/* && -e $path ]] && continue
			# A fuzzer is of whatever room its parser is.
			[[ $file == tests/fuzz/* && -e src/$name ]] && continue
			[[ $path == tests/* ]] && path=src/$name # by -Isrc
		fi
		[[ $path == src/$room/* ]] || {
			echo "$file: $name is another room's own"
			status=1
		}
	done
	return $status
}

rule_one_home_a_library()
{
	local status=0 include pattern home count file quote name found room
	while read -r pattern home count; do
		[ -n "$pattern" ] || continue
		found=' '
		for include in "${includes[@]}"; do
			split "$include"
			# A library stands in angle brackets; a header of ours may share its name.
			# shellcheck disable=SC2053 # a pattern is meant
			[[ $name == $pattern && $file != tests/* && $quote == '<' ]] || continue
			find_room "$file"
			if [ "$room" != "$home" ] || [[ $file == include/* ]]; then
				echo "$file: $name belongs inside src/$home"
				status=1
			fi
			[[ $found == *" $file "* ]] || found="$found$file "
		done
		if [ "$count" = one ] && [[ $found == *' '*' '*' '* ]]; then
			echo "$pattern is known to more than one file:$found"
			status=1
		fi
	done <<<"$homes"
	return $status
}

objects_are_there()
{
	local source
	for source in $(find src -mindepth 2 -name '*.c'); do
		[ -e "$objects/${source%.c}.o" ] || {
			echo "no object to look into: $objects/${source%.c}.o"
			return 1
		}
	done
}

# By what the objects ask for, whatever the headers say.
rule_calls_go_down()
{
	local status=0 symbol caller callee
	objects_are_there || return 1
	while read -r symbol caller callee; do
		[ -n "${allowed["$caller $callee"]:-}" ] || {
			echo "$caller may not call $callee: $symbol"
			status=1
		}
	done < <(find src -mindepth 2 -name '*.c' -printf "$objects/src/%P\n" | sed 's/c$/o/' |
		xargs -r nm -g -A | awk -v prefix="$objects/src/" '
			{
				room = substr($1, length(prefix) + 1)
				sub(/\/.*/, "", room)
				if ($(NF - 1) == "U") asks[$NF " " room] = 1
				else home[$NF] = room
			}
			END {
				for (one in asks) {
					split(one, part, " ")
					if (part[1] in home && home[part[1]] != part[2])
						print part[1], part[2], home[part[1]]
				}
			}' | sort)
	return $status
}

rule_trade_is_pure()
{
	local found
	objects_are_there || return 1
	found=$(find src/trade -name '*.c' -printf "$objects/src/trade/%P\n" | sed 's/c$/o/' | xargs -r nm -u -A |
		awk '{ print $1, $NF }' | grep -E " ($forbidden_in_trade)\$")
	[ -z "$found" ] || {
		echo "the arithmetic asks for:"
		echo "$found"
		return 1
	}
}

# Texts of a C file, one a line as `file:line: text`; comments do not count.
texts()
{
	awk '
	FNR == 1 { inside = 0 }
	{
		line = $0; out = ""
		while (line != "") {
			if (inside) {
				end = index(line, "*/")
				if (end == 0) { line = ""; break }
				line = substr(line, end + 2); inside = 0
			} else if (match(line, /^[^"\047\/]+/)) {
				line = substr(line, RLENGTH + 1)
			} else if (substr(line, 1, 2) == "/*") {
				line = substr(line, 3); inside = 1
			} else if (substr(line, 1, 2) == "//") {
				line = ""
			} else if (match(line, /^"([^"\\]|\\.)*"/) || match(line, /^\047([^\047\\]|\\.)*\047/)) {
				if (substr(line, 1, 1) == "\"") print FILENAME ":" FNR ": " substr(line, 1, RLENGTH)
				line = substr(line, RLENGTH + 1)
			} else line = substr(line, 2)
		}
	}' "$@"
}

sql='SELECT |INSERT (OR [A-Z]+ )?INTO |UPDATE [a-z_]+ SET |DELETE FROM |CREATE (TABLE|INDEX|UNIQUE|TRIGGER|VIEW)|PRAGMA |'
sql+='BEGIN IMMEDIATE|ROLLBACK|SAVEPOINT|ATTACH DATABASE|VACUUM|ORDER BY |'
sql+='insert into |delete from |create table |pragma |begin immediate'

rule_sql_only_in_the_store()
{
	local found
	found=$(texts $(sources src include | grep -v '^src/store/') | grep -E ": \".*($sql)")
	[ -z "$found" ] || {
		echo "SQL outside src/store and migrations:"
		echo "$found"
		return 1
	}
}

# Values are bound; only a PRAGMA, which takes no parameter, is printed.
rule_sql_is_bound()
{
	local found
	found=$(texts $(sources src/store) | grep -E ": \".*($sql)" | grep -vE 'PRAGMA |pragma ' |
		grep -E '%[-+ #0-9.*]*(l|ll|z|j|h)?[sdiucxfgqQwn]')
	[ -z "$found" ] || {
		echo "SQL put together by printing:"
		echo "$found"
		return 1
	}
}

# It works, and it refuses: shown as typed.
rule_every_command_has_its_dialogue()
{
	local status=0 command dialogue
	for command in src/console/commands/*.c; do
		[ -e "$command" ] || continue
		dialogue=tests/dialogues/$(basename "$command" .c).txt
		if [ ! -e "$dialogue" ]; then
			echo "$command has no $dialogue"
			status=1
		elif ! grep -qx '\[exit [123]\]' "$dialogue"; then
			echo "$dialogue shows no refusal"
			status=1
		elif [ "$(grep -c '^> ' "$dialogue")" -le "$(grep -cx '\[exit [0-9]*\]' "$dialogue")" ]; then
			echo "$dialogue does not show it working"
			status=1
		fi
	done
	return $status
}

rule_top_level_is_tidy()
{
	local status=0 name
	for name in *; do
		[ "$name" = build ] || [[ " $top_level " == *" $name "* ]] || {
			echo "top level holds what it should not: $name"
			status=1
		}
	done
	for name in $top_level; do
		[ -e "$name" ] || {
			echo "top level lacks: $name"
			status=1
		}
	done
	return $status
}

rule_released_steps_are_unchanged()
{
	local status=0 number sum file
	while read -r number sum; do
		case $number in
		'' | '#'*) continue ;;
		esac
		file=$(find migrations -name "$number"'_*.sql')
		if [ -z "$file" ]; then
			echo "released step is gone: $number"
			status=1
		elif [ "$(sha256sum <"$file" | cut -d' ' -f1)" != "$sum" ]; then
			echo "released step was changed: $file; put the change in a new step"
			status=1
		fi
	done < <(awk '/^#/ { next } NF == 2 { print; next } NF { print $1, "unreadable" }' migrations/RELEASED)
	return $status
}

# A test that nothing runs proves nothing.
rule_every_test_is_run()
{
	local status=0 file room
	for file in tests/*/test_*.c; do
		[ -e "$file" ] || continue
		room=$(basename "$(dirname "$file")")
		[ -n "${known_rooms[$room]:-}" ] || {
			echo "$file is in no room's folder and is never run"
			status=1
		}
	done
	for file in $(find tests -name 'test_*.py' -not -path 'tests/*/*' -o -path 'tests/*/*/test_*.[cp]*'); do
		echo "$file is not in a folder of tests/ and is never run"
		status=1
	done
	return $status
}

# ---------------------------------------------------------------- all of them

scratch=
file=${1:-}
if [ -z "$file" ]; then
	scratch=$(mktemp -d)
	trap 'rm -rf "$scratch"' EXIT
	file=$scratch/layers.xml
fi
junit_open "$file" layers
for rule in ${RULES:-$(declare -F | awk '$3 ~ /^rule_/ { print substr($3, 6) }')}; do
	junit_case "$rule" "rule_$rule"
done
junit_close
