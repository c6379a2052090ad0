#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The JSON of every project is what docs/plan.schema.json says it is. The validator is Debian's
# python3-jsonschema; where it is missing nothing was checked, so that is a failure.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=${PYTHON:-/usr/bin/python3}

if ! "$python" -c 'import jsonschema' 2>/dev/null; then
    fail "no validator: install python3-jsonschema"
    finish schema
    exit 1
fi

for project in examples/*/*.ini tests/projects/*.ini; do
    [ -f "$project" ] || continue
    name=$(printf '%s' "$project" | tr '/' '-').json
    if "$program" plan "$project" --as json >"$scratch/$name" 2>"$scratch/messages"; then
        verdict "$name cannot be read by jq" jq -e '.format == 1' "$scratch/$name" >/dev/null
    else
        fail "$project is not planned: $(head -n 3 "$scratch/messages")"
        rm -f "$scratch/$name"
    fi
done

set -- "$scratch"/*.json
[ -f "$1" ] || shift
"$python" tests/schema.py docs/plan.schema.json "$@" >"$scratch/verdicts"
verdict "the validator did not come to its end" [ $? -eq 0 ]
while read -r word rest; do
    if [ "$word" = ok ]; then pass; else fail "$rest"; fi
done <"$scratch/verdicts"
verdict "the validator judged nothing" [ -s "$scratch/verdicts" ]

# Redraws, by docs/redraw.schema.json: every band of the examples at a coarser and a finer gauge. In those named
# round- floats are counted again: no steek, nothing sewn on, a limit below which they are left.
mkdir "$scratch/redraws"
for project in examples/*/*.ini; do
    bands=$(sed -n 's/^\[band \(.*\)\].*/\1/p' "$project")
    for band in $bands; do
        for gauge in '18 sts, 22 rows' '36 sts, 44 rows'; do
            case $band in
            barley | pines | cones | snow | toadstools) kind=round ;;
            *) kind=other ;;
            esac
            name=$kind-$band-${gauge%% *}.json
            "$program" resize "$project" --band "$band" --gauge "$gauge" --over '4 in' --as json \
                >"$scratch/redraws/$name" 2>"$scratch/messages"
            verdict "$project, $band is not redrawn for $gauge: $(head -n 3 "$scratch/messages")" [ $? -eq 0 ]
        done
    done
done
"$python" tests/schema_redraw.py docs/redraw.schema.json "$scratch"/redraws/*.json >"$scratch/verdicts"
verdict "the validator of redraws did not come to its end" [ $? -eq 0 ]
verdict "the validator of redraws judged nothing" [ -s "$scratch/verdicts" ]
tally_lines "$scratch/verdicts"

# A plan of a project that has the new chart and gauge finds the same floats and catches.
cp examples/barley-socks/* "$scratch"
"$program" resize "$scratch/barley-socks.ini" --gauge '26 sts, 34 rows' --over '4 in' --as json \
    -o "$scratch/new.chart" >"$scratch/redraw.json" 2>"$scratch/messages"
sed -e '/^\[swatch\]/,/^\[/ { s/^over .*/over = 4 in/; s/^stitches .*/stitches = 26/; s/^rows .*/rows = 34/; }' \
    -e '/^\[swatch plain\]/,/^$/d' -e 's/= barley.chart/= new.chart/' "$scratch/barley-socks.ini" >"$scratch/new.ini"
"$program" plan "$scratch/new.ini" --as json >"$scratch/new.json" 2>"$scratch/messages"
for figure in 'gauge_now.stitches_per_inch .gauge.stitches_per_inch' 'ways[0].repeats .bands[0].repeats' \
    'floats_now.longest_stitches .piece.longest_stitches' 'floats_now.over_limit_piece .piece.over_limit' \
    'floats_now.catches_repeat .bands[0].catches_repeat' 'floats_now.catches_piece .bands[0].catches_piece'; do
    here=$(jq ".${figure% *}" "$scratch/redraw.json")
    there=$(jq "${figure#* }" "$scratch/new.json")
    verdict "redrawn: .${figure% *} is $here, and ${figure#* } of a plan with that chart $there" [ "$here" = "$there" ]
done
finish schema
