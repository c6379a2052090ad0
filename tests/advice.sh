#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Projects whose counts cannot be, by tests/advice.py: what the refusal says to write must work.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=$(command -v "${PYTHON:-/usr/bin/python3}")

"$python" -B tests/advice.py "$program" 60 >"$scratch/verdicts"
verdict "the advice did not end well" [ $? -eq 0 ]
tally_lines "$scratch/verdicts"
"$python" -B tests/sewn.py "$program" 90 >"$scratch/sewn"
verdict "the cushions did not end well" [ $? -eq 0 ]
tally_lines "$scratch/sewn"
verdict "no advice was followed" grep -q '^ok' "$scratch/verdicts"

# Advice that is off by one must be noticed.
cat >"$scratch/boast" <<END
#!/bin/sh
'$program' "\$@" 2>"$scratch/said"
status=\$?
sed 's/repeats = [0-9]*/repeats = 1001/; s/on needle = [0-9]*/on needle = 1001/' "$scratch/said" >&2
exit \$status
END
chmod +x "$scratch/boast"
"$python" -B tests/advice.py "$scratch/boast" 12 >"$scratch/verdicts"
verdict "wrong advice is not noticed" grep -q '^bad' "$scratch/verdicts"
# So must side stitches that are too few.
cat >"$scratch/few" <<END
#!/bin/sh
'$program' "\$@" | sed 's/[0-9]* side stitches more, [0-9]* at each/2 side stitches more, 1 at each/'
END
chmod +x "$scratch/few"
"$python" -B tests/sewn.py "$scratch/few" 30 >"$scratch/sewn"
verdict "too few side stitches are not noticed" grep -q '^bad' "$scratch/sewn"
finish advice
