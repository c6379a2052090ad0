#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every test, all of them even if one fails; CUnit's summary comes last. The slowest runs beside the
# others.
cd "$(dirname "$0")/.." || exit 1
B=${B:-build}
export B
failed=
said=$(mktemp "${TMPDIR:-/tmp}/strandwise.XXXXXX") || exit 1
trap 'rm -f "$said"' EXIT
trap 'exit 130' INT TERM

sh tests/pages.sh >"$said" 2>&1 &
pages=$!
for test in golden cli schema recount remedies begin advice together referee draw choices layers docs install; do
    sh "tests/$test.sh" || failed="$failed $test"
done
wait "$pages" || failed="$failed pages"
cat "$said"
"$B/strandwise" tables --check || failed="$failed tables"
[ -z "$failed" ] || echo "FAILED:$failed"
"$B/unit" || exit 1
[ -z "$failed" ]
