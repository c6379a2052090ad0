#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Nothing reaches up the pipeline: a folder of src uses only itself and the folders before it,
# and render uses neither read nor model. Judged from the object files, so a call is found
# however it is written.
#
#   tests/layers.sh [BUILD-FOLDER]
cd "$(dirname "$0")/.." || exit 1
[ $# -eq 0 ] || B=$1
# shellcheck source=tests/tally.sh
. tests/tally.sh

# offenders FOLDER: one line for each symbol used against the order, from FOLDER/*/*.o.
offenders() {
    for object in "$1"/*/*.o; do
        [ -f "$object" ] || continue
        layer=$(basename "$(dirname "$object")")
        nm -P "$object" | awk -v object="$layer/$(basename "$object" .o)" '{print object, $1, $2}'
    done | awk '
        BEGIN {
            n = split("base read check model plan render app", order, " ")
            for (i = 1; i <= n; i++) rank[order[i]] = i
        }
        { split($1, at, "/"); layer = at[1] }
        !(layer in rank) { print $1 " lies in a folder the order does not know"; next }
        $3 ~ /^[TDBRVWCG]$/ { home[$2] = layer; file[$2] = $1; next }
        $3 == "U" { use[++uses] = $1 " " $2 }
        END {
            for (i = 1; i <= uses; i++) {
                split(use[i], u, " ")
                split(u[1], at, "/")
                if (!(u[2] in home)) continue
                from = at[1]; to = home[u[2]]
                if (rank[to] > rank[from] ||
                    (from == "render" && (to == "read" || to == "model")))
                    print u[1] " uses " u[2] " of " file[u[2]]
            }
        }' | sort -u
}

# The check itself must be able to say no: one pair that reaches up, one renderer that computes,
# one that is in order.
self_test() {
    made=$scratch/src
    mkdir -p "$made/base" "$made/model" "$made/plan" "$made/render"
    compile() {
        printf '%s\n' "$2" | "${CC:-cc}" -x c -c -o "$made/$1.o" -
    }
    compile base/low 'int model_sum(void); int base_low(void); int base_low(void) { return model_sum(); }'
    compile model/sum 'int model_sum(void); int model_sum(void) { return 3; }'
    compile plan/make 'int model_sum(void); int plan_make(void); int plan_make(void) { return model_sum(); }'
    compile render/out 'int model_sum(void); int plan_make(void); int render_out(void); int render_out(void) { return model_sum() + plan_make(); }'
    printf '%s\n' "base/low uses model_sum of model/sum" "render/out uses model_sum of model/sum" \
        >"$scratch/expected"
    offenders "$made" | diff "$scratch/expected" - >&2
}

verdict "the check does not find what was put there to be found" self_test

objects=$(find "$B/src" -name '*.o' 2>/dev/null | wc -l)
[ "$objects" -gt 0 ] || fail "no object files in $B/src: run make first"
offenders "$B/src" >"$scratch/offenders"
while read -r line; do
    fail "$line"
done <"$scratch/offenders"
[ -s "$scratch/offenders" ] || [ "$objects" -eq 0 ] || pass
finish layers
