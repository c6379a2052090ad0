#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The plan worked out a second time by tests/recount.py, which shares nothing with the program:
# for every example, and for small projects made up at random (always the same ones).
#
#   tests/recount.sh [HOW-MANY]     200 if not given
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=${PYTHON:-/usr/bin/python3}

"$python" tests/recount.py --make "$scratch" "${1:-200}"
"$python" tests/recount.py "$program" examples/*/*.ini tests/projects/*.ini "$scratch"/*.ini \
    >"$scratch/verdicts"
verdict "the recount did not end well" [ $? -eq 0 ]
while read -r word rest; do
    if [ "$word" = ok ]; then pass; else fail "$rest"; fi
done <"$scratch/verdicts"
verdict "the recount judged nothing" [ -s "$scratch/verdicts" ]

# One stitch of a chart changed behind the program's back must be noticed.
cp -R examples "$scratch/changed"
for chart in "$scratch"/changed/*/*.chart; do
    awk '!done && /^[^;]/ && sub(/\.[^.|; ]/, "..") { done = 1 } { print }' "$chart" >"$scratch/new"
    cmp -s "$chart" "$scratch/new" || altered=$chart
    [ -z "${altered-}" ] || break
done
cat >"$scratch/stale" <<END
#!/bin/sh
exec '$PWD/$program' plan "\$(echo "\$2" | sed 's|.*/changed/|examples/|')" --as json
END
case $program in /*) sed -i "s|'$PWD/|'|" "$scratch/stale" ;; esac
chmod +x "$scratch/stale"
cp "$scratch/new" "${altered:?no chart to alter}"
project=$(find "$(dirname "$altered")" -name '*.ini' | head -n 1)
verdict "a stitch changed behind the program's back is not noticed" \
    sh -c "'$python' tests/recount.py '$scratch/stale' '$project' | grep -q '^bad'"
finish recount
