#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A band begun with another stitch, against the plan of its chart turned by tests/begin.py.
cd "$(dirname "$0")/.." || exit 1
# shellcheck source=tests/tally.sh
. tests/tally.sh
python=$(command -v "${PYTHON:-/usr/bin/python3}")

"$python" -B tests/begin.py "$program" 30 >"$scratch/verdicts"
verdict "the charts turned did not end well" [ $? -eq 0 ]
tally_lines "$scratch/verdicts"
verdict "no chart was turned" grep -q '^ok' "$scratch/verdicts"

# The key passed over: it must be noticed.
cat >"$scratch/boast" <<END
#!/bin/sh
for file; do
    case \$file in *.ini) sed -i '/^begin with/d' "\$file" ;; esac
done
exec '$program' "\$@"
END
chmod +x "$scratch/boast"
"$python" -B tests/begin.py "$scratch/boast" 6 >"$scratch/verdicts"
verdict "a key passed over is not noticed" grep -q '^bad' "$scratch/verdicts"
finish begin
