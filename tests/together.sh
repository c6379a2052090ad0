#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Counts of several bands solved together, against glpsol, by tests/together.py.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=$(command -v "${PYTHON:-/usr/bin/python3}")

"$python" -B tests/together.py "$program" 40 >"$scratch/verdicts"
verdict "the referee did not end well" [ $? -eq 0 ]
tally_lines "$scratch/verdicts"
verdict "the referee judged nothing" grep -q '^ok' "$scratch/verdicts"

# The second set passed off as the best: it must be noticed.
cat >"$scratch/boast" <<END
#!/bin/sh
[ "\$1" = plan ] || exec '$program' "\$@"
'$program' "\$@" | jq 'if (.together.sets | length) > 1 then .together.sets[0] = .together.sets[1] else . end'
END
chmod +x "$scratch/boast"
"$python" -B tests/together.py "$scratch/boast" 6 >"$scratch/verdicts"
verdict "a set that is not the best is not noticed" grep -q '^bad.* told, glpsol finds' "$scratch/verdicts"

# Without the solver nothing may pass.
PATH=$scratch/none "$python" -B tests/together.py "$program" 3 >"$scratch/verdicts"
verdict "the solver is missing, and something passed" sh -c "! grep -q '^ok' '$scratch/verdicts'"
verdict "that glpk-utils is to be installed is not said" grep -q 'glpk-utils' "$scratch/verdicts"
finish together
