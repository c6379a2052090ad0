# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# Read by every shell test: counts, a scratch folder, the program under test.
#
# A test that found nothing to test has failed, so nothing passes by being empty.

B=${B:-build}
# shellcheck disable=SC2034 # used by the tests that read this
program=$B/strandwise
passed=0
failed=0
scratch=$(mktemp -d "${TMPDIR:-/tmp}/strandwise.XXXXXX") || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 130' INT TERM

# Results must not depend on where they are made.
LC_ALL=C
NO_COLOR=1
export LC_ALL NO_COLOR
unset COLUMNS

pass() {
    passed=$((passed + 1))
}

# STOP_AT_FIRST set: nothing after the first failure is of interest.
fail() {
    failed=$((failed + 1))
    printf 'FAIL %s\n' "$*"
    [ -z "${STOP_AT_FIRST-}" ] || exit 1
}

# verdict WHAT COMMAND...: passes if the command does.
verdict() {
    what=$1
    shift
    if "$@"; then pass; else fail "$what"; fi
}

# finish NAME: the summary, and the exit status of the whole test.
finish() {
    [ "$((passed + failed))" -gt 0 ] || fail "$1: nothing was there to test"
    printf '%s: %d passed, %d failed\n' "$1" "$passed" "$failed"
    [ "$failed" -eq 0 ]
}

# tally_lines FILE: a verdict a line, `ok ...`, `bad ...`, `# ...` to be seen.
tally_lines() {
    while IFS= read -r line; do
        case $line in
            ok*) pass ;;
            "#"*) echo "$line" ;;
            *) fail "${line#bad }" ;;
        esac
    done <"$1"
}
