#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Cushions that a seam makes too narrow: the side stitches that are said to make up for it are drawn at the
sides of the chart, the repeats written where they are named, and it is planned again.

    sewn.py PROGRAM PROJECTS      prints a line a check, `ok ...` or `bad ...`
"""

import json
import os
import random
import re
import subprocess
import sys
import tempfile

NEAR, PER_IN = 0.01, 6 # fit_near_ratio; stitches to the inch of the swatch
PROJECT = """[project]
worked = flat
[swatch]
worked = flat
washed = yes
over = 4 in
stitches = 24, 24
rows = 28, 28
[measure]
width = %(width)s in
[yarn pale]
mark = .
[yarn dark]
mark = x
[edges]
selvedge = %(selvedge)d
seam = 30 in
[band front]
chart = front.chart
%(more)s"""


def plan(program, folder, words, ncols, side):
    rows = ["".join("x" if (i + row) % 3 == 0 else "." for i in range(ncols)) for row in range(3)]
    with open(os.path.join(folder, "front.chart"), "w", encoding="ascii") as file:
        for row in rows:
            file.write("|".join(["." * side, row, "." * side] if side else [row]) + "\n")
    path = os.path.join(folder, "cushion.ini")
    with open(path, "w", encoding="ascii") as file:
        file.write(PROJECT % words)
    ran = subprocess.run([program, "plan", path, "--as", "json"], capture_output=True, text=True)
    if ran.returncode != 0:
        return None, ran.stderr
    answer = json.loads(ran.stdout)
    notes = [note for note in answer["notes"] if note["code"] == "sewn-narrow"]
    return answer["bands"][0], notes[0]["todo"] if notes else ""


def main():
    program, count = sys.argv[1], int(sys.argv[2])
    random_of = random.Random(5)
    named = set()
    with tempfile.TemporaryDirectory() as folder:
        for case in range(count):
            words = {"width": "%d" % random_of.randint(9, 22), "selvedge": random_of.choice((1, 1, 2, 3, 6)),
                     "more": ""}
            ncols, side = random_of.randint(4, 24), random_of.choice((0, 0, 1, 3))
            band, todo = plan(program, folder, words, ncols, side)
            said = re.search(r"Give its chart (\d+) side stitches more, (\d+) at each side"
                             r"(?:, and write (repeats = \d+) under \[band front\])?, and it is (\d+) stitches", todo)
            if not said:
                continue
            words["more"] = said.group(3) + "\n" if said.group(3) else ""
            named.add(bool(said.group(3)))
            band, then = plan(program, folder, words, ncols, side + int(said.group(2)))
            faults = [] if 2 * int(said.group(2)) == int(said.group(1)) else ["not alike"]
            if band is None or then:
                faults.append(then)
            else:
                over = band["fit"]["sewn_inches"] - float(words["width"])
                if not -NEAR * float(words["width"]) - 1e-9 <= over <= 2 / PER_IN:
                    faults.append("%.2f in off" % over)
                if band["stitches"] + band["side_stitches"] + 2 * words["selvedge"] != int(said.group(4)):
                    faults.append("%d stitches" % band["stitches"])
            print("%s case %d: %s%s" % ("bad" if faults else "ok", case, todo, "; ".join([""] + faults)))
    if named != {False, True}:
        print("bad: with and without repeats to write: " + str(named))


main()
