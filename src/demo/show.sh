#!/bin/sh
# `make demo`: makes the demo shop anew under build/demo and shows the main job on it: a job that is ready, one that is short; then what the
# maintenance lead sees: what is due, and a roll that nears its limit.
set -eu
cd "$(dirname "$0")/../.."
toothrack=${TOOTHRACK:-build/toothrack}
folder=${TOOTHRACK_DEMO:-build/demo}
shop=$folder/shop.db

show() # WORD...: one command as a person would type it, and its answer; a job that is short is an answer too
{
	printf '\n$ toothrack --db %s %s\n' "$shop" "$*"
	status=0
	"$toothrack" --db "$shop" "$@" || status=$?
	[ "$status" -le 1 ] || exit "$status"
}

rm -rf "$folder"
show demo
show check J2601
show check J2608
show due
show wear AN000005-J
cat <<TEXT

Now type this for the console, and in it: help, check J2611, choices J2603, earliest J2601, wear anilox, show PC000025-1, tag PC000025-1
  $toothrack --db $shop
and this for the scanning bench, where a scanner types: E011, C1, PC000025-1, DONE
  $toothrack --db $shop scan
TEXT
