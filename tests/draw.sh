#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Charts drawn: well-formed, on pages of the right size, nothing half-written.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh

has_size() { # FILE: a PNG that says 300, 150 or 72 dots to the inch
    od -An -tx1 -N 400 "$1" | tr -d ' \n' | grep -Eq '70485973(00002e23){2}01|70485973(00001712){2}01|70485973(00000b13){2}01'
}

plain() { # FILE: no control characters but the ends of lines
    ! tr -d '\n' <"$1" | LC_ALL=C grep -q '[[:cntrl:]]'
}

for project in examples/*/*.ini; do
    name=$scratch/$(basename "$project" .ini)
    for side in right wrong; do
        "$program" draw "$project" --side "$side" --as svg >"$name.svg" 2>"$scratch/err"
        verdict "$project, $side side: the SVG is not well-formed" xmllint --noout "$name.svg"
        "$program" draw "$project" --side "$side" --as svg >"$name.again" 2>"$scratch/err"
        verdict "$project, $side side: drawn twice, not the same" cmp -s "$name.svg" "$name.again"
        "$program" draw "$project" --side "$side" >"$name.text" 2>"$scratch/err"
        verdict "$project, $side side: no chart in characters" grep -qF ' | ' "$name.text"
        verdict "$project, $side side: colours or other control characters in a pipe" \
            plain "$name.text"
        verdict "$project, $side side: lines wider than 80" \
            [ "$(awk 'length > 80' "$name.text" | wc -l)" -eq 0 ]
        NO_COLOR='' COLORTERM=truecolor TERM=xterm COLUMNS=40 "$program" draw "$project" \
            --side "$side" >"$name.again" 2>"$scratch/err"
        verdict "$project, $side side: the environment changes what goes into a pipe" \
            cmp -s "$name.text" "$name.again"
        "$program" draw "$project" --side "$side" -o "$name.txt" 2>"$scratch/err"
        verdict "$project, $side side: -o .txt is not the text" cmp -s "$name.text" "$name.txt"
    done
    "$program" draw "$project" --show dents --as svg >"$name.svg" 2>"$scratch/err"
    verdict "$project, dents: the SVG is not well-formed" xmllint --noout "$name.svg"
    "$program" draw "$project" --show dents --as svg >"$name.again" 2>"$scratch/err"
    verdict "$project, dents: drawn twice, not the same" cmp -s "$name.svg" "$name.again"
    "$program" draw "$project" --show dents -o "$name.pdf" 2>"$scratch/err"
    pdfinfo "$name.pdf" >"$scratch/info" 2>&1
    verdict "$project, dents: the PDF is not on A4" grep -q '(A4)' "$scratch/info"
    "$program" draw "$project" --show dents --as png 2>"$scratch/err" >"$name.png"
    verdict "$project, dents: the PNG does not say how large it is" has_size "$name.png"
    "$program" draw "$project" --show changes --as svg >"$name.svg" 2>"$scratch/err"
    verdict "$project, changes: the SVG is not well-formed" xmllint --noout "$name.svg"
    "$program" draw "$project" --show changes --as svg >"$name.again" 2>"$scratch/err"
    verdict "$project, changes: drawn twice, not the same" cmp -s "$name.svg" "$name.again"
    "$program" plan "$project" --as json >"$name.json" 2>"$scratch/err"
    # one on each stitch of the single changes, and one for each of them in the legend
    verdict "$project, changes: not as many marks as stitches" [ "$(grep -c '"to change"' "$name.svg")" -eq \
        "$(jq '[.bands[].stitch_changes | select(. != null) | .one[] | 1 + (.stitches | length)] | add // 0' "$name.json")" ]
    "$program" draw "$project" --show changes >"$name.text" 2>"$scratch/err"
    verdict "$project, changes: lines wider than 80" [ "$(awk 'length > 80' "$name.text" | wc -l)" -eq 0 ]
    "$program" draw "$project" --show changes -o "$name.pdf" 2>"$scratch/err"
    pdfinfo "$name.pdf" >"$scratch/info" 2>&1
    verdict "$project, changes: the PDF is not on A4" grep -q '(A4)' "$scratch/info"
    "$program" draw "$project" -o "$name.pdf" 2>"$scratch/err"
    pdfinfo "$name.pdf" >"$scratch/info" 2>&1
    verdict "$project: the PDF is not on A4" grep -q '(A4)' "$scratch/info"
    "$program" draw "$project" --as png 2>"$scratch/err" >"$name.png"
    verdict "$project: the PNG does not say how large it is" has_size "$name.png"
done

# Old beside new: strandwise resize --draw.
for project in examples/*/*.ini; do
    band=$(sed -n 's/^\[band \(.*\)\].*/\1/p' "$project" | head -n 1)
    name=$scratch/redrawn-$band
    "$program" resize "$project" --band "$band" --gauge '24 sts, 30 rows' --over '4 in' --draw "$name.svg" \
        --as json >"$name.json" 2>"$scratch/err"
    verdict "$project, redrawn: the SVG is not well-formed" xmllint --noout "$name.svg"
    "$program" resize "$project" --band "$band" --gauge '24 sts, 30 rows' --over '4 in' --draw "$name-again.svg" \
        >"$scratch/out" 2>"$scratch/err"
    verdict "$project, redrawn: drawn twice, not the same" cmp -s "$name.svg" "$name-again.svg"
    verdict "$project, redrawn: the words do not name the drawing" grep -qF "Drew $name-again.svg" "$scratch/out"
    # one on each of them, and one in the legend
    changed=$(jq '.changed | if length > 0 then length + 1 else 0 end' "$name.json")
    verdict "$project, redrawn: not as many marks as changed stitches" \
        [ "$(grep -c '"changed"' "$name.svg")" -eq "$changed" ]
    verdict "$project, redrawn: not two outlines of a repeat" [ "$(grep -c '"one repeat"' "$name.svg")" -eq 2 ]
    # Both to one scale: all four sides of the outlines are as many times the finished sizes.
    sed -n 's/.*"one repeat" d="M[0-9.]* [0-9.]*h\([0-9.]*\)v\([0-9.]*\)h.*/\1 \2/p' "$name.svg" >"$scratch/sides"
    jq -r '"\(.stitches.was_inches) \(.rows.was_inches) \(.stitches.now_inches) \(.rows.now_inches)"' "$name.json" |
        cat "$scratch/sides" - | awk '
            NR == 1 { wide[1] = $1; high[1] = $2 } NR == 2 { wide[2] = $1; high[2] = $2 }
            NR == 3 { scale = wide[1] / $1
                      for (i = 1; i <= 2; i++) {
                          off[1] = wide[i] / $(2 * i - 1) / scale - 1; off[2] = high[i] / $(2 * i) / scale - 1
                          for (k = 1; k <= 2; k++) if (off[k] < -0.002 || off[k] > 0.002) bad = 1
                      } }
            END { exit bad || NR != 3 }'
    verdict "$project, redrawn: the two charts are not to one scale" [ $? -eq 0 ]
    "$program" resize "$project" --band "$band" --gauge '24 sts, 30 rows' --over '4 in' --draw "$name.pdf" \
        >"$scratch/out" 2>"$scratch/err"
    pdfinfo "$name.pdf" >"$scratch/info" 2>&1
    verdict "$project, redrawn: the PDF is not on A4" grep -q '(A4)' "$scratch/info"
    verdict "$project, redrawn: more than a page for each chart" \
        [ "$(sed -n 's/^Pages: *//p' "$scratch/info")" -le 2 ]
    "$program" resize "$project" --band "$band" --gauge '24 sts, 30 rows' --over '4 in' --draw "$name.png" \
        >"$scratch/out" 2>"$scratch/err"
    verdict "$project, redrawn: the PNG does not say how large it is" has_size "$name.png"
done
barley=examples/barley-socks/barley-socks.ini
"$program" resize "$barley" --columns 12 --draw "$scratch/missing/a.svg" >"$scratch/out" 2>"$scratch/err"
verdict "redrawn into a missing folder does not end with 3" [ $? -eq 3 ]
for name in a.txt a.gif a -; do
    "$program" resize "$barley" --columns 12 --draw "$scratch/$name" >"$scratch/out" 2>"$scratch/err"
    verdict "--draw $name does not end with 2" [ $? -eq 2 ]
    verdict "--draw $name: not said what to name" grep -qF '.svg, .pdf or .png' "$scratch/err"
    verdict "--draw $name draws something" [ ! -e "$scratch/$name" ]
done
: >"$scratch/there.chart"
"$program" resize "$barley" --columns 12 -o "$scratch/there.chart" --draw "$scratch/half.svg" >"$scratch/out" 2>"$scratch/err"
verdict "a chart that is there does not end with 3" [ $? -eq 3 ]
verdict "the chart could not be written, yet its drawing was" [ ! -e "$scratch/half.svg" ]
cp -R examples/toadstool-hat "$scratch/hat"
"$program" resize "$scratch/hat/toadstool-hat.ini" --band toadstools --columns 10 --draw "$scratch/hat/toadstool.png" \
    --replace >"$scratch/out" 2>"$scratch/err"
verdict "a drawing over the chart that was read does not end with 3" [ $? -eq 3 ]
verdict "the chart that was read was drawn over" cmp -s "$scratch/hat/toadstool.png" examples/toadstool-hat/toadstool.png
"$program" resize examples/skep-mittens/skep-mittens.ini --gauge '40 sts, 44 rows' --over '4 in' \
    --draw "$scratch/two.pdf" >"$scratch/out" 2>"$scratch/err"
verdict "two charts too large for one page are not on two" [ "$(pdfinfo "$scratch/two.pdf" | sed -n 's/^Pages: *//p')" -eq 2 ]
for page in 1 2; do
    pdftotext -f $page -l $page "$scratch/two.pdf" "$scratch/text"
    verdict "page $page of two charts does not say which" grep -qE '(Old|New): [0-9]+ stitches by [0-9]+ rounds' "$scratch/text"
done


project=$(find examples -name '*.ini' | sort | head -n 1)
"$program" draw "$project" -o "$scratch/missing/a.pdf" 2>"$scratch/err"
verdict "a missing folder does not end with 3" [ $? -eq 3 ]
"$program" draw "$project" --as gif 2>"$scratch/err" >"$scratch/out"
verdict "--as gif does not end with 2" [ $? -eq 2 ]
for form in .svg .other ''; do
    "$program" draw "$project" -o "$scratch/chart$form" 2>"$scratch/err"
    verdict "-o chart$form is not SVG" xmllint --noout "$scratch/chart$form"
done
"$program" draw "$project" --cell 5 2>"$scratch/err" >"$scratch/out"
verdict "--cell for a chart in characters does not end with 2" [ $? -eq 2 ]
"$program" draw "$project" --band nowhere 2>"$scratch/err" >"$scratch/out"
verdict "an unknown band does not end with 2" [ $? -eq 2 ]
verdict "an unknown band draws something" [ ! -s "$scratch/out" ]
"$program" draw "$project" --show both 2>"$scratch/err" >"$scratch/out"
verdict "--show both does not end with 2" [ $? -eq 2 ]
"$program" draw "$project" --show dents --side wrong 2>"$scratch/err" >"$scratch/out"
verdict "dents from the wrong side do not end with 2" [ $? -eq 2 ]
verdict "dents from the wrong side: not said what to leave out" grep -q 'leave --side wrong out' "$scratch/err"
"$program" draw "$project" --show changes --side wrong 2>"$scratch/err" >"$scratch/out"
verdict "changes from the wrong side do not end with 2" [ $? -eq 2 ]
"$program" draw "$project" --show dents 2>"$scratch/err" >"$scratch/out"
verdict "dents in characters do not end with 2" [ $? -eq 2 ]
"$program" draw "$project" --show dents --side right --as svg >"$scratch/right.svg" 2>"$scratch/err"
verdict "dents from the right side are refused" [ $? -eq 0 ]
"$program" draw tests/projects/crowded-flat.ini --show dents --as svg >"$scratch/crowded.svg" 2>"$scratch/err"
for words in 'one stands on the other' 'two strands behind one stitch' 'one column apart' 'hollow:'; do
    verdict "crowded-flat: the legend lacks: $words" grep -q "$words" "$scratch/crowded.svg"
done
# Larger than a page: the key on the first page alone, numbers of stitches and rows on all others.
"$program" draw tests/projects/crowded-flat.ini --cell 25 -o "$scratch/large.pdf" 2>"$scratch/err"
pages=$(pdfinfo "$scratch/large.pdf" | sed -n 's/^Pages: *//p')
verdict "a chart of large stitches: $pages pages" [ "$pages" -gt 3 ]
pdftotext -l 1 "$scratch/large.pdf" "$scratch/text"
verdict "a chart of large stitches: no key on its first page" grep -q 'behind this stitch' "$scratch/text"
page=2
while [ "$page" -le "$pages" ]; do
    pdftotext -f "$page" -l "$page" "$scratch/large.pdf" "$scratch/text"
    verdict "a chart of large stitches, page $page: the key again" \
        [ "$(grep -c 'behind this stitch' "$scratch/text")" -eq 0 ]
    pdftotext -f "$page" -l "$page" -bbox "$scratch/large.pdf" "$scratch/boxes"
    # numbers that stand below each other are of rows, side by side of stitches
    awk -F'"' '/<word .*>[0-9]+</ { below[int($6 / 6)]++; beside[int($8 / 6)]++ }
        END { for (i in below) if (below[i] > 1) rows = 1
              for (i in beside) if (beside[i] > 2) stitches = 1
              exit !(rows && stitches) }' "$scratch/boxes"
    verdict "a chart of large stitches, page $page: no numbers of its stitches and rows" [ $? -eq 0 ]
    page=$((page + 1))
done
# The plan says there is no room: the map sends nobody to look for some.
verdict "crowded-flat: the map does not say there is no room" \
    grep -q 'No room to stagger' "$scratch/crowded.svg"
verdict "crowded-flat: the map sends her to catch elsewhere" \
    [ "$(grep -Ec 'elsewhere|by hand|a stitch further' "$scratch/crowded.svg")" -eq 0 ]
if [ -w /dev/full ]; then
    "$program" draw "$project" --as pdf 2>"$scratch/err" >/dev/full
    verdict "a full disk does not end with 3" [ $? -eq 3 ]
fi
finish draw
