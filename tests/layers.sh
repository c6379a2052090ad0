#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Nothing reaches up the pipeline. A folder of src, or a room in it, calls only itself and what comes
# before it in the order below, and render calls neither read nor model: judged from the object files, so
# a call is found however it is written. Headers are included down the stages alone.
#
#   tests/layers.sh [BUILD-FOLDER]
cd "$(dirname "$0")/.." || exit 1
[ $# -eq 0 ] || B=$1
# shellcheck source=tests/tally.sh
. tests/tally.sh

# The stages and their rooms, each after all it may call. What stands in a stage's folder itself and is
# named here comes where it is named.
order="base
words/say
read/ini read/project read/chart
check
model/gauge model/catches model/yarn model/wear model/motif model/redraw model/fit
words/shaping words/remedy
plan/plan plan/builder plan/gauge plan/catches plan/wear plan/fit plan/yarn plan/motif plan/piece plan/whatif
plan/redraw plan/plan_build
words
render/render render/directions render/report render/json render/sheet render/draw render/paper
run inside strandwise
app"

# judge: lines `FROM-FILE TO-FILE WHAT` in, those against the order out.
judge() {
    awk -v order="$(echo "$order" | tr '\n' ' ')" '
        BEGIN { n = split(order, room, " "); for (i = 1; i <= n; i++) rank[room[i]] = i }
        function room_of(file) {
            while (!(file in rank) && sub("/[^/]*$", "", file)) {}
            return file in rank ? file : ""
        }
        {
            from = room_of($1); to = room_of($2)
            if (from == "" || to == "") print (from == "" ? $1 : $2) " lies in a room the order does not know"
            else if (rank[to] > rank[from] || (from ~ /^render/ && to ~ /^(read|model)/ && $3 !~ /[.]h$/))
                print $1 " uses " $3 " of " $2
        }' | sort -u
}

# calls FOLDER [SOURCES]: FROM-FILE TO-FILE SYMBOL for each symbol used, of the object files under FOLDER.
calls() {
    (cd "$1" && find . -name '*.o' | sort | while read -r object; do
        file=${object#./}
        [ -z "${2-}" ] || [ -e "$2/${file%.o}.c" ] || continue # its source is gone
        nm -P "$object" | awk -v file="${file%.o}" '{print file, $1, $2}'
    done) | awk '
        $3 ~ /^[TDBRVWCG]$/ { home[$2] = $1 }
        $3 == "U" { use[++uses] = $1 " " $2 }
        END {
            for (i = 1; i <= uses; i++) {
                split(use[i], u, " ")
                if (u[2] in home) print u[1], home[u[2]], u[2]
            }
        }'
}

# includes: FROM-FILE TO-FILE HEADER for each header of another stage that a file of src includes.
includes() {
    grep -rHo '^#include "[a-z_]*/[^"]*"' src | sed -E 's|^src/([^:]*)[.][ch]:#include "([^"]*)[.]h"|\1 \2 \2.h|' |
        awk '{ split($1, from, "/"); split($2, to, "/") } from[1] != to[1]'
}

# The check itself must be able to say no: one that reaches up, a renderer that computes, a room before
# its neighbour, one in order.
self_test() {
    made=$scratch/src
    mkdir -p "$made/base" "$made/model/gauge" "$made/model/catches" "$made/plan/gauge" "$made/render/report"
    compile() {
        printf '%s\n' "$2" | "${CC:-cc}" -x c -c -o "$made/$1.o" -
    }
    compile base/low 'int model_sum(void); int base_low(void); int base_low(void) { return model_sum(); }'
    compile model/gauge/sum 'int late(void); int model_sum(void); int model_sum(void) { return late(); }'
    compile model/catches/late 'int late(void); int late(void) { return 3; }'
    compile plan/gauge/make 'int model_sum(void); int plan_make(void); int plan_make(void) { return model_sum(); }'
    compile render/report/out 'int model_sum(void); int plan_make(void); int render_out(void); int render_out(void) { return model_sum() + plan_make(); }'
    printf '%s\n' "base/low uses model_sum of model/gauge/sum" "model/gauge/sum uses late of model/catches/late" \
        "render/report/out uses model_sum of model/gauge/sum" >"$scratch/expected"
    calls "$made" | judge | diff "$scratch/expected" - >&2
}

verdict "the check does not find what was put there to be found" self_test

objects=$(find "$B/src" -name '*.o' 2>/dev/null | wc -l)
[ "$objects" -gt 0 ] || fail "no object files in $B/src: run make first"
{ calls "$B/src" "$PWD/src"; includes; } | judge >"$scratch/offenders"
while read -r line; do
    fail "$line"
done <"$scratch/offenders"
[ -s "$scratch/offenders" ] || [ "$objects" -eq 0 ] || pass
finish layers
