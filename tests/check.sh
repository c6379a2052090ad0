#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every test, all of them even if one fails; CUnit's summary comes last. The two slowest run beside
# the others, one after the other.
cd "$(dirname "$0")/.." || exit 1
B=${B:-build}
export B
failed=
said=$(mktemp -d "${TMPDIR:-/tmp}/strandwise.XXXXXX") || exit 1
trap 'rm -rf "$said"' EXIT
trap 'exit 130' INT TERM

beside() {
    sh tests/pages.sh >"$said/pages" 2>&1 || : >"$said/pages-failed"
    "$B/unit" >"$said/unit" 2>&1
}
beside &
unit=$!
for test in golden cli schema recount remedies begin advice together referee draw choices layers core docs install; do
    sh "tests/$test.sh" || failed="$failed $test"
done
sh tests/tables.sh || failed="$failed tables"
wait "$unit"
unit=$?
cat "$said/pages"
[ ! -e "$said/pages-failed" ] || failed="$failed pages"
[ -z "$failed" ] || echo "FAILED:$failed"
cat "$said/unit"
[ "$unit" -eq 0 ] || exit 1
[ -z "$failed" ]
