#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# How long a whole plan takes, and how that grows. Seconds depend on the machine and are only
# shown; look at the last columns, which compare sizes within this one run. Nothing is asserted.
# Columns: seconds by the clock, processor time a stitch, that against the first line of the block,
# most memory, memory a stitch (the last two after start-up). Text counts the catches, JSON lists
# each one.
#
#   tests/bench/bench.sh [LARGEST-SIDE]     4000 if not given
set -eu
cd "$(dirname "$0")/../.."
B=${B:-build}
largest=${1:-4000}
scratch=$(mktemp -d "${TMPDIR:-/tmp}/strandwise.XXXXXX")
trap 'rm -rf "$scratch"' EXIT
trap 'exit 130' INT TERM

# measure KIND WORKED COLUMNS ROWS REPEATS TIMES AS: `columns rows seconds processor kilobytes`
measure() {
    "$B/bench/make_chart" "$scratch/$1" "$1" "$2" "$3" "$4" "$5"
    echo "$3 $4 $("$B/bench/run" "$6" "$B/strandwise" plan "$scratch/$1/bench.ini" --as "$7")"
}

# The program starting up and the tables read: taken off before anything is divided by stitches.
idle=$("$B/bench/run" 20 "$B/strandwise" tables)
echo "start-up: $(echo "$idle" | awk '{ printf "%.1f ms, %.1f MB", 1000 * $1, $3 / 1024 }')"

line='%-10s %-6s %-5s %11s %9.4f s %8.1f ns/st %7.2f x %7.1f MB %7.1f B/st\n'
show() {
    awk -v kind="$1" -v worked="$2" -v as="$3" -v idle="$idle" -v base="${4:-0}" -v line="$line" '
        {
            split(idle, start, " ")
            stitches = $1 * $2
            each = ($4 - start[2]) / stitches * 1e9
            memory = ($5 - start[3]) * 1024 / stitches
            printf line, kind, worked, as, $1 " x " $2, $3, each, (base > 0 ? each / base : 1),
                $5 / 1024, memory
        }'
}

echo
echo "The whole plan (x: time a stitch against the first line of its block):"
measure geometric round 24 20 7 20 text | show geometric round text
measure geometric round 24 20 7 20 json | show geometric round json
measure blobs flat 300 400 1 5 text | show blobs flat text
measure blobs flat 300 400 1 5 json | show blobs flat json

for kind in blobs:text blobs:json geometric:json noise:json; do
    as=${kind#*:}
    kind=${kind%:*}
    echo
    echo "Growth, $kind, $as:"
    base=
    for side in 500 1000 2000 4000; do
        [ "$side" -le "$largest" ] || continue
        measure "$kind" round "$side" "$side" 1 2 "$as" >"$scratch/line"
        [ -n "$base" ] || base=$(awk -v idle="$idle" \
            '{ split(idle, s, " "); print ($4 - s[2]) / ($1 * $2) * 1e9 }' "$scratch/line")
        show "$kind" round "$as" "$base" <"$scratch/line"
    done
done
