#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What comes out is what came out when somebody last looked: every example as text, as JSON and as a chart in
# characters, its first chart redrawn as text and as JSON, every project of tests/projects/ as JSON, of tests/bad/ and
# tests/cautions/ with its messages. Stored outputs are `regression`: they say that something changed, never that it
# was right.
#
#   tests/golden.sh            compare with tests/golden/
#   tests/golden.sh --update   store what comes out now; look at the difference before committing
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
update=false
[ "${1-}" != --update ] || update=true
golden=tests/golden
mkdir -p "$scratch/golden"

# compare NAME: what was made in the scratch folder against what is stored.
compare() {
    touch "$scratch/stored"
    echo "$1" >>"$scratch/stored"
    if $update; then
        mkdir -p $golden
        cp "$scratch/golden/$1" "$golden/$1"
    fi
    if [ ! -f "$golden/$1" ]; then
        fail "$golden/$1 is not there; make golden-update stores it"
    elif ! diff -u "$golden/$1" "$scratch/golden/$1" >"$scratch/diff"; then
        fail "$golden/$1 has changed:"
        head -n 40 "$scratch/diff"
    else
        pass
    fi
}

# A name for examples/sock/sock.ini: sock; for a second project there: sock-other.
name_of() {
    folder=$(basename "$(dirname "$1")")
    file=$(basename "$1" .ini)
    if [ "$folder" = "$file" ] || [ "$(find "$(dirname "$1")" -name '*.ini' | wc -l)" -eq 1 ]; then
        echo "$folder"
    else
        echo "$folder-$file"
    fi
}

example() {
    name=$(name_of "$1")
    "$program" plan "$1" >"$scratch/golden/$name.txt" 2>"$scratch/messages"
    status=$?
    verdict "$1 is not planned: $(head -n 5 "$scratch/messages")" [ $status -eq 0 ]
    compare "$name.txt"
    "$program" plan "$1" --as json >"$scratch/golden/$name.json" 2>"$scratch/messages"
    verdict "$1 is not planned as JSON" [ $? -eq 0 ]
    compare "$name.json"
    "$program" draw "$1" >"$scratch/golden/$name-chart.txt" 2>"$scratch/messages"
    verdict "$1: its chart is not shown" [ $? -eq 0 ]
    compare "$name-chart.txt"
    for band in $(sed -n 's/^\[band \(.*\)\].*/\1/p' "$1" | head -n 1); do
        for form in text json; do
            "$program" resize "$1" --band "$band" --gauge '24 sts, 30 rows' --over '4 in' --as $form \
                >"$scratch/golden/$name-resize-$form.txt" 2>"$scratch/messages"
            verdict "$1: its chart is not redrawn: $(tail -n 3 "$scratch/messages")" [ $? -eq 0 ]
            compare "$name-resize-$form.txt"
        done
        words=$(sed '/^Old:/,$d' "$scratch/golden/$name-resize-text.txt" | awk 'length > 80' | wc -l)
        verdict "$1: $words lines of the redraw are wider than 80 columns" [ "$words" -eq 0 ]
    done
    wide=$(awk '{ gsub(/[\200-\277]/, "") } length > 80' "$scratch/golden/$name.txt" | wc -l)
    verdict "$1: $wide lines are wider than 80 columns" [ "$wide" -eq 0 ]
}

# expected PROJECT OUTPUT: the codes that its remark `; expects: code code` says it is for.
expected() {
    codes=$(sed -n 's/^; expects: *//p' "$1" | tr ',' ' ')
    verdict "$1 does not say which code it is for: ; expects: code" [ -n "$codes" ]
    for code in $codes; do
        verdict "$1 does not say [$code]" grep -qF "[$code]" "$2"
    done
}

# A project that needs mending: its messages and exit status stored, nothing written.
bad() {
    name=bad-$(basename "$1" .ini)
    "$program" plan "$1" -o "$scratch/written" >"$scratch/out" 2>"$scratch/golden/$name.txt"
    status=$?
    verdict "$1 ends with $status, not with 1 or 3" [ $status -eq 1 -o $status -eq 3 ]
    verdict "$1 is no good, yet something was written" [ ! -e "$scratch/written" ]
    verdict "$1 is no good, yet something was printed" [ ! -s "$scratch/out" ]
    verdict "$1: no message with its file" grep -q '^tests/bad/[^:]*:' "$scratch/golden/$name.txt"
    verdict "$1: a message without its code" \
        grep -qE '\[[a-z]+(-[a-z]+)*\]$' "$scratch/golden/$name.txt"
    expected "$1" "$scratch/golden/$name.txt"
    echo "exit $status" >>"$scratch/golden/$name.txt"
    compare "$name.txt"
    rm -f "$scratch/written"
}

# A project that is planned all the same: what is said on the way. Its name is the code it is for.
caution() {
    code=$(basename "$1" .ini)
    name=caution-$code.txt
    "$program" plan "$1" --as json >/dev/null 2>"$scratch/golden/$name"
    status=$?
    verdict "$1 ends with $status, not with 0" [ $status -eq 0 ]
    verdict "$1 does not say [$code]" grep -qF "[$code]" "$scratch/golden/$name"
    expected "$1" "$scratch/golden/$name"
    compare "$name"
}

# A project worked by hand elsewhere: all that is computed of it.
worked() {
    name=worked-$(basename "$1" .ini).json
    "$program" plan "$1" --as json >"$scratch/golden/$name" 2>/dev/null
    verdict "$1 is not planned as JSON" [ $? -eq 0 ]
    compare "$name"
}

for project in examples/*/*.ini; do
    [ ! -f "$project" ] || example "$project"
done
verdict "examples/ holds no project" [ "$passed" -gt 0 ]
before=$passed
for project in tests/bad/*.ini; do
    [ ! -f "$project" ] || bad "$project"
done
verdict "tests/bad/ holds no project" [ "$passed" -gt "$before" ]
before=$passed
for project in tests/cautions/*.ini; do
    [ ! -f "$project" ] || caution "$project"
done
verdict "tests/cautions/ holds no project" [ "$passed" -gt "$before" ]
before=$passed
for project in tests/projects/*.ini; do
    [ ! -f "$project" ] || worked "$project"
done
verdict "tests/projects/ holds no project" [ "$passed" -gt "$before" ]

# What is stored for something that is no longer there would never be looked at again.
for stored in "$golden"/*; do
    [ -f "$stored" ] || continue
    name=$(basename "$stored")
    if grep -qxF "$name" "$scratch/stored" 2>/dev/null; then
        continue
    elif $update; then
        rm -f "$stored"
    else
        fail "$stored belongs to no project"
    fi
done
finish golden
