#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tables are in order (strandwise tables --check), and the program reads each: every row of
# tables/allowances.csv by its key, every other table by its name. A row nothing reads is dead; one that is asked for and not
# there would be no number.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh

verdict "strandwise tables --check finds faults" "$program" tables --check
# Names in the code: "tail_in", or {tail_in} as a default of keys.h.
find src -name '*.[ch]' -exec grep -ohE '"[a-z_]+"|\{[a-z_]+[ }]' {} + | tr -d '"{} ' | sort -u >"$scratch/named"
sed -n 's/^\([a-z_]*\),[0-9].*/\1/p' tables/allowances.csv >"$scratch/rows"
verdict "no rows found in tables/allowances.csv" [ -s "$scratch/rows" ]
while read -r row; do
    verdict "tables/allowances.csv: nothing reads $row" grep -qx "$row" "$scratch/named"
done <"$scratch/rows"
# And the other way round: a row that is asked for is there.
find src -name '*.c' -exec cat {} + | tr '\n' ' ' |
    grep -oE '(builder_(value|threshold|exact|may_be_out)\([a-z_>-]+|tables_value\([a-z_>.-]+), *"[a-z_]+"' |
    sed 's/.*"\(.*\)"/\1/' | sort -u >"$scratch/asked"
verdict "no row of tables/allowances.csv is asked for" [ -s "$scratch/asked" ]
while read -r row; do
    verdict "tables/allowances.csv has no row $row, and the program asks for it" grep -qx "$row" "$scratch/rows"
done <"$scratch/asked"
for table in tables/*.csv; do
    name=$(basename "$table" .csv)
    verdict "$table: nothing reads it" grep -qx "$name" "$scratch/named"
done
finish tables
