#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Ground and pattern exchanged, against another way to the same: the project with the marks of its two
# yarns exchanged, planned from the start. And the yarn of a swatch against its size.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh

# The marks of the first two yarns with one, each in the other's place.
exchange_marks() {
    awk '/^\[/ { yarn = /^\[yarn / }
        yarn && /^mark *=/ { n++; mark[n] = $0; line[n] = NR }
        { all[NR] = $0 }
        END { all[line[1]] = mark[2]; all[line[2]] = mark[1]; for (i = 1; i <= NR; i++) print all[i] }'
}

# Two yarns, or the same two of three in every band: both the first of the file.
first_two() {
    "$program" plan "$1" --as json 2>"$scratch/err" |
        jq -e '[.yarn[0, 1].yarn] as $two | .exchanged.pairs | length > 0 and
            all(([.ground, .pattern] | sort) == ($two | sort))' >"$scratch/pairs"
}

tried=0
three=0
for project in tests/projects/*.ini examples/*/*.ini; do
    yarns=$(grep -c '^\[yarn ' "$project")
    [ "$yarns" -ge 2 ] || continue
    [ "$(grep -c '^duplicate over' "$project")" -eq 0 ] || continue
    ! grep -q '\.png' "$project" || continue
    [ "$yarns" -eq 2 ] || first_two "$project" || continue
    name=$(basename "$project" .ini)
    mkdir -p "$scratch/$name"
    cp "$(dirname "$project")"/*.chart "$scratch/$name"
    exchange_marks <"$project" >"$scratch/$name/$name.ini"
    "$program" plan "$project" --as json 2>"$scratch/err" |
        jq -S '[.exchanged.yarn[] | {yarn, length_m, balls, catches}]' >"$scratch/$name/exchanged"
    "$program" plan "$scratch/$name/$name.ini" --as json 2>"$scratch/err" |
        jq -S '[.yarn[] | {yarn, length_m, balls, catches}]' >"$scratch/$name/planned"
    verdict "$project: nothing exchanged" [ "$(jq length "$scratch/$name/exchanged")" -eq "$yarns" ]
    verdict "$project: exchanged is not what a new plan says: \
$(diff "$scratch/$name/exchanged" "$scratch/$name/planned" | head -n 8)" \
        cmp -s "$scratch/$name/exchanged" "$scratch/$name/planned"
    tried=$((tried + 1))
    [ "$yarns" -eq 2 ] || three=$((three + 1))
done
verdict "no project of three yarns" [ "$three" -ge 1 ]
verdict "fewer than four projects of two yarns" [ "$tried" -ge 4 ]

# Strand or sew on, against two whole plans: one with the berry stranded, one with it sewn on over
# slate. All the yarn, waits, tails and edges with it; the berry's own, catches, and the same figures seen
# from the other side (band by band the waits are not: the other band is as it is).
all_m() {
    jq '[.yarn[].length_m] | add' "$1"
}
berry_m() {
    jq '.yarn[] | select(.yarn == "berry") | .length_m' "$1"
}
near() { # A B: the same to a tenth of a millimetre
    awk "BEGIN { d = $1 - $2; exit !(d < 0.0001 && d > -0.0001) }"
}
sewing_on() { # NAME SED-SCRIPT
    mkdir -p "$scratch/$1"
    cp tests/projects/choices*.chart "$scratch/$1"
    sed "s/^slack = .*/&\nspare catches = no/; $2" tests/projects/choices.ini >"$scratch/$1/stranded.ini"
    sed '/^mark = o/a duplicate over = slate' "$scratch/$1/stranded.ini" >"$scratch/$1/sewn.ini"
    for way in stranded sewn; do
        "$program" plan "$scratch/$1/$way.ini" --as json >"$scratch/$1/$way" 2>"$scratch/err"
        jq -S '[.duplicate[] | {band, yarn, rows, spots}], [.duplicate_yarns[] | {yarn, stranded, sewn, saved}]' \
            "$scratch/$1/$way" >"$scratch/$1/$way.both"
    done
    said=$(jq '.duplicate_yarns[0].saved.yarn_m' "$scratch/$1/stranded")
    stranded=$(all_m "$scratch/$1/stranded")
    sewn=$(all_m "$scratch/$1/sewn")
    verdict "$1: two plans lie $stranded - $sewn m apart, said is $said" \
        near "$said" "$(awk "BEGIN { printf \"%.9f\", $stranded - $sewn }")"
    said=$(jq '.duplicate_yarns[0] | .stranded.own_m - .sewn.own_m' "$scratch/$1/stranded")
    stranded=$(berry_m "$scratch/$1/stranded")
    sewn=$(berry_m "$scratch/$1/sewn")
    verdict "$1: of berry two plans lie $stranded - $sewn m apart, said is $said" \
        near "$said" "$(awk "BEGIN { printf \"%.9f\", $stranded - $sewn }")"
    said=$(jq '[.duplicate[].saved.catches] | add' "$scratch/$1/stranded")
    stranded=$(jq '.piece.catches * .make' "$scratch/$1/stranded")
    verdict "$1: two plans differ in other catches than the $said said" \
        [ "$said" -eq $((stranded - $(jq '.piece.catches * .make' "$scratch/$1/sewn"))) ]
    verdict "$1: seen from the stranded and from the sewn plan it is not the same" \
        cmp -s "$scratch/$1/stranded.both" "$scratch/$1/sewn.both"
}
sewing_on round ''
sewing_on twice 's/^repeats = .*/&\nupwards = 2/'
# Berry waits through slate too long to be carried: it is cut and joined again.
sewing_on cut 's/^chart = choices-tall.*/&\nplain before = 40 rounds slate/'
sewing_on steek 's/^\[buy\]/[edges]\nsteek = 5\n&/'
sewing_on selvedge 's/^worked = round/worked = flat/; s/^title.*/&\nworked = flat/; s/^around/width/; s/^\[buy\]/[edges]\nselvedge = 2\n&/'
sewing_on flat 's/^worked = round/worked = flat/; s/^title.*/&\nworked = flat/; s/^around/width/'
sewing_on turned 's/^worked = round/worked = flat/; s/^title.*/&\nworked = flat/; s/^around/width/; s/^\[buy\]/[edges]\nedges = turn\n&/'

# The columns of the printed yarn table add up as printed.
columns_that_miss() {
    awk '/^YARN, WHERE/ { on = 1 }
        /^(STRAND|THE OTHER|WHAT IF|CAUTIONS)/ { on = 0 }
        !on || /^$/ { delete sum; next }
        { for (i = 0; i < 4; i++) {
            cell = substr($0, 28 + 13 * i, 13)
            if (cell !~ /^ *[0-9.,]+ (yd|m)$/) continue
            gsub(/[ ,ydm]/, "", cell)
            if (/^  in all/) {
                seen++
                if (cell - sum[i] > 0.001 || sum[i] - cell > 0.001) print "column", i, cell, sum[i]
            } else sum[i] += cell
        } }
        END { if (!seen) print "no column" }'
}
for project in tests/projects/*.ini examples/*/*.ini; do
    "$program" plan "$project" 2>"$scratch/err" | columns_that_miss >"$scratch/missed"
    verdict "$project: the yarn table does not add up: $(cat "$scratch/missed")" [ ! -s "$scratch/missed" ]
done

# A swatch twice as wide and as tall takes four times the yarn; it is counted where it is kept alone.
swatch_m() {
    "$program" plan "$1" --as json 2>"$scratch/err" | jq '[.yarn[].parts.swatch_m] | add'
}
cp tests/projects/ripple.chart "$scratch"
{ cat tests/projects/ripple.ini && printf '[buy]\nswatch = keep\n'; } >"$scratch/plain.ini"
sed '/^over/a size = 5 in' "$scratch/plain.ini" >"$scratch/small.ini"
sed '/^over/a size = 10 in' "$scratch/plain.ini" >"$scratch/large.ini"
sed '/^over/a size = 6 in' "$scratch/plain.ini" >"$scratch/six.ini"
sed '/^swatch = keep/d' "$scratch/plain.ini" >"$scratch/left-out.ini"
sed 's/^swatch = keep/swatch = rip/' "$scratch/plain.ini" >"$scratch/rip.ini"
for how in left-out rip; do
    "$program" plan "$scratch/$how.ini" --as json 2>"$scratch/err" |
        jq .yarn >"$scratch/$how.json"
done
small=$(swatch_m "$scratch/small.ini")
large=$(swatch_m "$scratch/large.ini")
verdict "a swatch of 5 in takes $small m, one of 10 in $large m" \
    awk "BEGIN { exit !($small > 1 && $large / $small > 3.9999 && $large / $small < 4.0001) }"
verdict "4 in counted, an inch all round: not as size = 6 in" \
    [ "$(swatch_m "$scratch/plain.ini")" = "$(swatch_m "$scratch/six.ini")" ]
verdict "a swatch that is ripped is counted" [ "$(swatch_m "$scratch/rip.ini")" = 0 ]
verdict "left out it is not as swatch = rip" cmp -s "$scratch/left-out.json" "$scratch/rip.json"
verdict "ripped and kept a swatch does not take the same" [ "$(jq -c '[.[].swatch_m]' "$scratch/rip.json")" = \
    "$("$program" plan "$scratch/plain.ini" --as json 2>"$scratch/err" | jq -c '[.yarn[].parts.swatch_m]')" ]

# What is said of them: one or two, of what size, and whether she said so.
swatches_say() { # FILE WORDS
    "$program" plan "$1" 2>"$scratch/err" | tr -s '\n ' '  ' >"$scratch/said"
    verdict "$(basename "$1"): not said: $2" grep -qF "$2" "$scratch/said"
}
swatches_say "$scratch/rip.ini" "The two swatches, taken as 6 in (15.2 cm) square each,"
swatches_say "$scratch/six.ini" "The two swatches, 6 in (15.2 cm) square each, are counted,"
sed '/^\[swatch plain\]/,/^over/s/^over.*/&\nsize = 5 in/' "$scratch/plain.ini" >"$scratch/uneven.ini"
swatches_say "$scratch/uneven.ini" \
    "the stranded one taken as 6 in (15.2 cm) square and the plain one 5 in (12.7 cm) square, are counted,"
sed '/^\[swatch plain\]/,/^rows/d' "$scratch/rip.ini" >"$scratch/single.ini"
swatches_say "$scratch/single.ini" "The swatch, taken as 6 in (15.2 cm) square,"
sed 's/^unravelled.*/weight = 6 g: 40 stitches, 40 rows/' "$scratch/single.ini" >"$scratch/heavy.ini"
swatches_say "$scratch/heavy.ini" "The swatch, of the stitches you weighed,"
finish choices
