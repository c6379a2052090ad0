#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Charts redrawn for gauges from 0.6 to 1.6 of the old, and what general image scaling makes of them.
#
# A line each: chart, gauge against the old, old and new size; in per cent of the motif's area the
# least that can differ without any condition, and what differs; their ratio, `far` where it is over
# 1.15 and more than one in a hundred of the motif over the bound; symmetries kept of those there
# were; links of lines broken, parts split, joined, lost; floats over the limit that were not.
# The charts called fresh are drawn by dice and were not looked at while the search was made.
# Then, of all charts: how many are within the aim, their drawing whole, every symmetry kept, no new
# long float, and all of that; and the faults together. Nothing is asserted.
#
#   tests/bench/resize.sh [demo|fresh]     both if not said
set -eu
cd "$(dirname "$0")/../.."
B=${B:-build}
scratch=$(mktemp -d "${TMPDIR:-/tmp}/strandwise.XXXXXX")
trap 'rm -rf "$scratch"' EXIT
trap 'exit 130' INT TERM

command -v convert >/dev/null 2>&1 || echo "Image scaling left out: ImageMagick's convert is not there."
for charts in ${1:-demo fresh}; do
    if command -v convert >/dev/null 2>&1; then
        "$B/bench/resize" "$charts" "$scratch" point box Lanczos
    else
        "$B/bench/resize" "$charts"
    fi
    echo
done
