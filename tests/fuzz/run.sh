#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every fuzz target for FUZZ_SECONDS each (30), from the examples. A crash is left in
# BUILD/crashes; make it a test before mending what it shows.
#
#   tests/fuzz/run.sh BUILD-FOLDER [TARGET...]
set -eu
cd "$(dirname "$0")/../.."
build=$1
shift
[ $# -gt 0 ] || set -- number ini chart_text chart_png run
sh tests/fuzz/seeds.sh "$build/corpus"
mkdir -p "$build/crashes"
bad=0
for target; do
    echo "fuzz $target, ${FUZZ_SECONDS:-30} s"
    if "$build/fuzz/fuzz_$target" -max_total_time="${FUZZ_SECONDS:-30}" -timeout=10 \
        -rss_limit_mb=2048 -max_len=4096 -artifact_prefix="$build/crashes/$target-" \
        -print_final_stats=1 "$build/corpus/$target" 2>"$build/$target.log"; then
        grep -E '^stat::(number_of_executed_units|average_exec_per_sec)|^#.*DONE' "$build/$target.log"
    else
        bad=$((bad + 1))
        tail -n 40 "$build/$target.log"
    fi
done
echo "fuzz: $(($# - bad)) passed, $bad failed"
[ "$bad" -eq 0 ]
