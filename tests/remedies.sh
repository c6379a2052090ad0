#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every way round a repeat, picked, against a plan of the chart changed by tests/remedies.py.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=$(command -v "${PYTHON:-/usr/bin/python3}")

"$python" -B tests/remedies.py "$program" 42 >"$scratch/verdicts"
verdict "the remedies did not end well" [ $? -eq 0 ]
tally_lines "$scratch/verdicts"
verdict "no remedy was judged" grep -q '^ok' "$scratch/verdicts"

# A cost that is wrong must be noticed.
cat >"$scratch/boast" <<END
#!/bin/sh
'$program' "\$@" | jq '.bands[0].fit.remedies[].catches_fewest |= (. // 0) + 1'
END
chmod +x "$scratch/boast"
"$python" -B tests/remedies.py "$scratch/boast" 1 >"$scratch/verdicts"
verdict "a wrong cost is not noticed" grep -q '^bad.* catches, .* said' "$scratch/verdicts"
finish remedies
