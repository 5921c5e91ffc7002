#!/bin/sh
# `make demo`: makes the demo shop anew under build/demo and shows the main job on it: a job that is ready, one that is short.
set -eu
cd "$(dirname "$0")/../.."
toothrack=${TOOTHRACK:-build/toothrack}
shop=build/demo/shop.db

show() # WORD...: one command as a person would type it, and its answer; a job that is short is an answer too
{
	printf '\n$ toothrack --db %s %s\n' "$shop" "$*"
	status=0
	"$toothrack" --db "$shop" "$@" || status=$?
	[ "$status" -le 1 ] || exit "$status"
}

rm -rf build/demo
show demo
show check J2601
show check J2610
cat <<TEXT

Now type this for the console, and in it help, check J2611, choices J2603, show AN000001:
  $toothrack --db $shop
TEXT
