#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every test, all of them even if one fails; CUnit's summary comes last.
cd "$(dirname "$0")/.." || exit 1
B=${B:-build}
export B
failed=

for test in golden cli schema recount remedies together referee draw choices pages layers docs install; do
    sh "tests/$test.sh" || failed="$failed $test"
done
"$B/strandwise" tables --check || failed="$failed tables"
[ -z "$failed" ] || echo "FAILED:$failed"
"$B/unit" || exit 1
[ -z "$failed" ]
