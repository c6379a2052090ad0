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
finish schema
