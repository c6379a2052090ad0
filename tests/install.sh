#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `make install` puts everything where it says, and `make uninstall` takes all of it away.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
root=$scratch/root

"${MAKE:-make}" -s B="$B" DESTDIR="$root" PREFIX=/usr install >"$scratch/log" 2>&1
status=$?
if [ $status -ne 0 ]; then
    fail "make install: $(tail -n 3 "$scratch/log")"
    finish install
    exit 1
fi
for file in bin/strandwise share/man/man1/strandwise.1 share/strandwise/tables/allowances.csv \
    share/doc/strandwise/plan.schema.json share/doc/strandwise/redraw.schema.json; do
    verdict "$file is not installed" [ -s "$root/usr/$file" ]
done
for example in examples/*/; do
    verdict "$example is not installed" \
        diff -r "$example" "$root/usr/share/doc/strandwise/$example"
    project=$(find "$root/usr/share/doc/strandwise/$example" -name '*.ini' | head -n 1)
    verdict "$example cannot be planned where it is installed" \
        "$root/usr/bin/strandwise" plan "$project" -o "$scratch/plan.txt"
done
"${MAKE:-make}" -s B="$B" DESTDIR="$root" PREFIX=/usr uninstall >"$scratch/log" 2>&1
status=$?
verdict "make uninstall: $(tail -n 3 "$scratch/log")" [ $status -eq 0 ]
left=$(find "$root" -type f | wc -l)
verdict "make uninstall leaves $left files" [ "$left" -eq 0 ]
finish install
