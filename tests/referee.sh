#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The best placement of catches against two integer-programming solvers, by tests/referee.py: small
# charts of every kind, and every example. Larger ones: make bench-referee.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=$(command -v "${PYTHON:-/usr/bin/python3}")

"$python" -B tests/referee.py --small "$program" examples/*/*.ini tests/projects/*.ini \
    >"$scratch/verdicts"
verdict "the referee did not end well" [ $? -eq 0 ]
while IFS= read -r line; do
    case $line in
        ok*) pass ;;
        "#"*) echo "$line" ;;
        *) fail "${line#bad }" ;;
    esac
done <"$scratch/verdicts"
verdict "the referee judged nothing" grep -q '^ok' "$scratch/verdicts"

# Placed row by row and passed off as the best and proven: it must be noticed.
cat >"$scratch/boast" <<END
#!/bin/sh
sed 's/^placement = best/placement = quick/' "\$2" >"\$2.quick.ini"
'$program' plan "\$2.quick.ini" --as json | jq '.bands[] |= (.placement = "best" | .proven = true |
    .at_least = {stacks: (.stacked + .doubled), catches: .catches_repeat, near: .touching})'
END
chmod +x "$scratch/boast"
"$python" -B tests/referee.py --small "$scratch/boast" --only 'blobs 12x10 m=2 spares' \
    >"$scratch/verdicts"
verdict "a placing that is not the best is not noticed" \
    grep -q '^bad.* in the plan, proven: True; glpsol finds' "$scratch/verdicts"

# Without a solver nothing may pass.
PATH=$scratch/none "$python" -B tests/referee.py --small "$program" >"$scratch/verdicts"
verdict "solvers are missing, and it did not fail" [ $? -ne 0 ]
for package in glpk-utils coinor-cbc; do
    verdict "that $package is to be installed is not said" \
        grep -q "^bad .*: install the package $package" "$scratch/verdicts"
done
verdict "solvers are missing, and something passed" sh -c "! grep -q '^ok' '$scratch/verdicts'"
finish referee
