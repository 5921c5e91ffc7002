#!/bin/sh
# Writes a C file that holds other files as texts, for the build.
#   embed.sh migrations FILE...   NNNN_name.sql, numbered from 1 without a gap: see src/store/migrations.h
#   embed.sh demo FILE...         KIND.csv: see include/toothrack/demo.h
#   embed.sh stocks FILE...       NAME.stock: see include/toothrack/print.h
# A last line without its newline is given one.
set -eu
LC_ALL=C
export LC_ALL

# One C string literal a line. `?` is escaped for the sake of trigraphs.
literal()
{
	awk '{
		gsub(/\\/, "&&")
		gsub(/"/, "\\\"")
		gsub(/[?]/, "\\?")
		gsub(/\t/, "\\t")
		gsub(/\r/, "\\r")
		printf "\t\"%s\\n\"\n", $0
	} END { if (NR == 0) print "\t\"\"" }' "$1"
}

fail()
{
	echo "embed.sh: $*" >&2
	exit 2
}

embed_migrations()
{
	expected=1
	rows=
	for file in "$@"; do
		base=$(basename "$file" .sql)
		number=$(expr "X$base" : 'X\([0-9]\{4\}\)_[a-z0-9_]\{1,\}$') || fail "name is not NNNN_name.sql: $file"
		name=${base#*_}
		plain=$(echo "$number" | sed "s/^0*//")
		[ "$plain" -eq "$expected" ] || fail "step $expected is missing before: $file"
		expected=$((expected + 1))
		printf 'static const char sql_%s[] =\n' "$number"
		literal "$file"
		printf '\t;\n\n'
		rows="$rows	{$plain, \"$name\", sql_$number},
"
	done
	[ "$expected" -gt 1 ] || fail "no step of the schema given"
	printf 'const struct migration migrations[] = {\n%s};\n' "$rows"
	printf 'const size_t migration_count = sizeof migrations / sizeof migrations[0];\n'
}

embed_demo()
{
	count=0
	rows=
	for file in "$@"; do
		kind=$(basename "$file" .csv)
		expr "X$kind" : 'X[a-z_]\{1,\}$' >/dev/null || fail "name is not KIND.csv: $file"
		count=$((count + 1))
		printf 'static const char csv_%s[] =\n' "$kind"
		literal "$file"
		printf '\t;\n\n'
		rows="$rows	{\"$kind\", csv_$kind, sizeof csv_$kind - 1},
"
	done
	# C has no empty array: an entry without a name ends it.
	printf 'const struct demo_file demo_files[] = {\n%s	{NULL, NULL, 0},\n};\n' "$rows"
	printf 'const size_t demo_file_count = %d;\n' "$count"
}

embed_stocks()
{
	rows=
	count=0
	for file in "$@"; do
		name=$(basename "$file" .stock)
		expr "X$name" : 'X[a-z0-9][a-z0-9-]*$' >/dev/null || fail "name is not NAME.stock: $file"
		count=$((count + 1))
		printf 'static const char stock_%s[] =\n' "$count"
		literal "$file"
		printf '\t;\n\n'
		rows="$rows	{\"$name\", stock_$count},
"
	done
	printf 'const struct stock_file stock_files[] = {\n%s	{NULL, NULL},\n};\n' "$rows"
}

[ $# -ge 1 ] || fail "say what: migrations, demo or stocks"
what=$1
shift
printf '/* Made by src/embed.sh. */\n'
case $what in
migrations)
	printf '#include "store/migrations.h"\n\n'
	embed_migrations "$@"
	;;
demo)
	printf '#include "toothrack/demo.h"\n\n'
	embed_demo "$@"
	;;
stocks)
	printf '#include "toothrack/print.h"\n\n'
	embed_stocks "$@"
	;;
*) fail "not known: $what" ;;
esac
