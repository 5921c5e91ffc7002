#!/bin/sh
# `make demo`: shows the program at work.
set -eu
cd "$(dirname "$0")/../.."
exec "${TOOTHRACK:-build/toothrack}" "$@"
