#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A corpus to start fuzzing from, made of the examples and the projects of the tests.
#
#   tests/fuzz/seeds.sh FOLDER
set -eu
cd "$(dirname "$0")/../.."
corpus=$1
for target in number ini chart_text chart_png run; do
    mkdir -p "$corpus/$target"
done

flat_name() {
    printf '%s' "$1" | tr '/' '-'
}

for project in examples/*/*.ini tests/projects/*.ini tests/bad/*.ini tests/cautions/*.ini; do
    [ -f "$project" ] || continue
    name=$(flat_name "$project")
    cp "$project" "$corpus/ini/$name"
    # The chart of the first band, under the one name the whole-run target writes.
    chart=$(sed -n 's/^chart *= *\([^ ,;]*\).*/\1/p' "$project" | head -n 1)
    chart=$(dirname "$project")/$chart
    {
        sed 's/^chart *=.*/chart = c.chart/' "$project"
        printf '\f'
        case $chart in
        *.png) printf '..xx\nxx..\n' ;;
        *) [ ! -f "$chart" ] || cat "$chart" ;;
        esac
    } >"$corpus/run/$name"
done
for chart in examples/*/*.chart tests/*/*.chart; do
    [ ! -f "$chart" ] || cp "$chart" "$corpus/chart_text/$(flat_name "$chart")"
done
for picture in examples/*/*.png tests/*/*.png; do
    [ -f "$picture" ] || continue
    { printf '\0'; cat "$picture"; } >"$corpus/chart_png/$(flat_name "$picture")"
    { printf '\030'; cat "$picture"; } >"$corpus/chart_png/blocks-$(flat_name "$picture")"
done
i=0
for text in '12' '8 1/2 in' '21,5 cm' '8½ in' '-2 %' '31 1/2, 32, 32 1/4' '50 g, 210 m' '1/1000' \
    '2.75 mm' '8.5"' '1e3' '31,32' '8-1/2' '9999999.999999 yd'; do
    i=$((i + 1))
    printf '%s' "$text" >"$corpus/number/$i"
done
