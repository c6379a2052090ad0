#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every way round a repeat, picked in the project file, against another way to the same plan: the
chart changed here, by a definition of its own, and planned as a chart of so many repeats. And each
cost that was said before against the plan that came of it.

    remedies.py PROGRAM CHARTS      prints a line a check, `ok ...` or `bad ...`
"""

import json
import os
import random
import subprocess
import sys
import tempfile

GAUGE = """[swatch]
worked = %(worked)s
washed = yes
over = 4 in
stitches = %(stitches)s
rows = 38, 38 1/4
[measure]
%(across)s = %(measure)s in
%(pass)s"""
YARNS = """[yarn pale]
mark = .
ball = 50 g, 210 m
[yarn dark]
mark = x
ball = 50 g, 210 m
[yarn berry]
mark = o
duplicate over = dark
"""


class Chart:
    """Rows from the bottom, stitches from the right."""

    def __init__(self, repeat, right=None, left=None):
        self.repeat = repeat
        self.right = right or [""] * len(repeat)
        self.left = left or [""] * len(repeat)

    def text(self):
        lines = []
        for right, repeat, left in zip(self.right, self.repeat, self.left):
            row = left[::-1] + "|" + repeat[::-1] + "|" + right[::-1]
            lines.append(row if left or right else repeat[::-1])
        return "\n".join(reversed(lines)) + "\n"


def knitted(row):
    return row.replace("o", "x")


def ground_of(chart, row):
    """What is knitted most in the chart, where the row has it; else what the row has most of."""
    whole = knitted("".join(chart.repeat))
    ground = max(".x", key=whole.count)
    return ground if ground in knitted(row) else max(".x", key=knitted(row).count)


def changed(chart, remedy, edgeless):
    """The chart a remedy stands for, and how many repeats of it."""
    repeat, right, left = list(chart.repeat), list(chart.right), list(chart.left)
    repeats = remedy["repeats"]
    for i, row in enumerate(chart.repeat):
        ground = ground_of(chart, row)
        if remedy["kind"] == "plain columns":
            at = remedy["plain_after_column"]
            repeat[i] = row[:at] + ground * remedy["plain_columns"] + row[at:]
        elif remedy["kind"] == "trim or pad":
            repeat[i] = "".join((2 if remedy["columns_twice"] else 0) * mark
                                if column in remedy["columns"] else mark
                                for column, mark in enumerate(row, 1))
        elif remedy["kind"] == "part repeats":
            over = remedy["left_over_stitches"]
            first, last = over - over // 2, over // 2
            before = ground * first if remedy["left_over_plain"] else row[len(row) - first:]
            after = ground * last if remedy["left_over_plain"] else row[:last]
            if edgeless:
                repeat[i] = before + row * repeats + after
            else:
                right[i], left[i] = right[i] + before, after + left[i]
    if remedy["kind"] == "part repeats" and edgeless:
        repeats = 1
    return Chart(repeat, right, left), repeats


def one_and_one(row):
    return all(one != next_one for one, next_one in zip(knitted(row), knitted(row[1:] + row[:1])))


def cut_rows(chart, after):
    """Rows in which the pattern goes on over the place, level or from stitch to stitch aslant."""
    sides = []
    for row in chart.repeat:
        ground = ground_of(chart, row)
        pair = [knitted(row)[after - 1], knitted(row)[after % len(row)]]
        sides.append([None if one_and_one(row) or mark == ground else mark for mark in pair])
    level = [one is not None and one == other for one, other in sides]
    cut = set(row for row, through in enumerate(level, 1) if through)
    for row in range(len(sides) - 1):
        (right, left), (next_right, next_left) = sides[row], sides[row + 1]
        aslant = (right is not None and right == next_left) or (left is not None and left == next_right)
        if aslant and not level[row] and not level[row + 1]:
            cut |= {row + 1, row + 2}
    return sorted(cut)


def rows_losing(chart, columns):
    """Rows in which a run of one colour, looked at round the ring, has all its stitches in the columns."""
    lost = []
    for number, row in enumerate(chart.repeat, 1):
        row, width = knitted(row), len(row)
        starts = [at for at in range(width) if row[at] != row[at - 1]]
        runs = [[(at + step) % width for step in range((starts[(i + 1) % len(starts)] - at - 1) % width + 1)]
                for i, at in enumerate(starts)]
        if not one_and_one(row) and any(all(at + 1 in columns for at in run) for run in runs):
            lost.append(number)
    return lost


def plan(program, folder, name, chart, words, band):
    with open(os.path.join(folder, name + ".chart"), "w", encoding="ascii") as file:
        file.write(chart.text())
    path = os.path.join(folder, name + ".ini")
    with open(path, "w", encoding="ascii") as file:
        file.write(words["before"] + "[band tried]\nchart = %s.chart\n" % name + band + words["band"] +
                   words["after"])
    ran = subprocess.run([program, "plan", path, "--as", "json"], capture_output=True, text=True)
    return (json.loads(ran.stdout) if ran.returncode == 0 and ran.stdout else None), ran.stderr


def worked(answer):
    """All that must not depend on which way it came about. Of a try, only what the band is."""
    band = {key: value for key, value in answer["bands"][0].items()
            if key not in ("fit", "chart", "repeats_given")}
    if band["centre"]: # what to write for a start goes by the chart as drawn, which is another
        starts = [band["centre"]["now"]] + band["centre"]["starts"]
        starts = [dict(start, begin_with=None) for start in starts]
        band["centre"] = dict(band["centre"], now=starts[0], starts=starts[1:])
    return {"band": band, "yarn": answer["yarn"], "steps": answer["steps"],
            "cast_on": answer["cast_on"], "piece": answer["piece"]}


def sums(answer):
    return {"longest": answer["piece"]["longest_stitches"],
            "fewest": answer["piece"]["catches_fewest"],
            "yarn": [[yarn["yarn"], yarn["stitches"], yarn["stitch_m"], yarn["float_m"]]
                     for yarn in answer["yarn"]]}


def faults_of_shape(plain, picked, remedy):
    """Its words are the rounds of the plan that comes of it, and its cost theirs against the plan
    without it."""
    faults, steps = [], picked["steps"]
    at = next(i for i, step in enumerate(steps) if step["kind"] == "band")
    beside = [step for step in steps[max(0, at - 2):at + 3] if step["kind"] == "shape"]
    if not beside:
        faults.append("nothing is shaped")
    told = remedy["line"]
    for step in beside:
        words = "crease %s %s" % ("before" if steps.index(step) < at else "after",
                                  "the band" if step is beside[0] else "it")
        if ": %s (%s)" % (step["shaping"]["line"], step["shaping"]["sum"]) not in told or words not in told:
            faults.append("said otherwise than done: " + step["shaping"]["sum"])
    if told.count(" = ") != len(beside):
        faults.append("more is said than done")
    rows = [sum(step["rows"] for step in answer["steps"]) for answer in (picked, plain)]
    if rows[0] - rows[1] != remedy["extra_rounds"]:
        faults.append("%d rounds more, not %d" % (rows[0] - rows[1], remedy["extra_rounds"]))
    return faults


def beside(random_of, flat):
    """Parts beside the band, with counts of their own or not, and plain rounds; or none."""
    purl = random_of.choice((1, 2))
    before = random_of.choice(("", "[cast-on]\nrib = knit 2 purl %d, 6 rounds\nrib stitches = %s\n" %
                               (purl, random_of.choice(("80 %", "90 %")) if flat else
                                random_of.choice(("90 %", "%d" % (24 * (purl + 2)))))))
    band = "".join("plain %s = %d rounds pale\n" % (where, random_of.randint(1, 2))
                   for where in ("before", "after") if random_of.random() < 0.5)
    after = random_of.choice(("", "[plain leg]\nyarn = pale\nrounds = 9\n",
                              "[plain leg]\nyarn = pale\nrounds = 9\nstitches on needle = 61\n"))
    return before, band, after


def faults_of(program, folder, chart, words, remedy, open_rows, plain):
    upwards = "upwards = 2\n"
    picked, error = plan(program, folder, "picked", chart, words,
                         upwards + "remedy = %s\n" % remedy["choice"])
    if remedy["kind"] == "redraw":
        return [] if picked is None and "[remedy-impossible]" in error else ["it was not refused"]
    if picked is None:
        return ["refused: " + error.split("\n")[0]]
    band, faults = picked["bands"][0], []
    if band["fit"]["picked"] != remedy["choice"]:
        faults.append("it is not said")
    if not remedy["choice"].startswith(remedy["word"] + ", "):
        faults.append("its word is not what is written")
    if remedy["kind"] == "plain columns" and \
            remedy["rows_cut"] != cut_rows(chart, remedy["plain_after_column"]):
        faults.append("rows %s are cut" % cut_rows(chart, remedy["plain_after_column"]))
    if remedy["kind"] == "trim or pad":
        lost = [] if remedy["columns_twice"] else rows_losing(chart, remedy["columns"])
        if remedy["rows_cut"] != lost:
            faults.append("rows %s lose a run" % lost)
        if (" cuts a line" in remedy["line"]) != (lost != []):
            faults.append("what is cut is not said")
    if remedy["kind"] in ("plain columns", "trim or pad", "part repeats", "another count"):
        other, repeats = changed(chart, remedy, open_rows != "flat")
        uneven = [row for row, (was, now) in enumerate(zip(chart.repeat, other.repeat), 1)
                  if one_and_one(was) and not one_and_one(now)]
        if open_rows == "steek" and remedy["kind"] == "part repeats":
            uneven = [] # cut open beside them
        if remedy["rows_no_longer_one_and_one"] != uneven:
            faults.append("rows %s are no longer one and one" % uneven)
        direct, error = plan(program, folder, "direct", other, words,
                             upwards + "repeats = %d\n" % repeats)
        if direct is None:
            return faults + ["the chart changed by hand is refused: " + error]
        # A tube cut open has its part repeats beside the repeats: there the sums are compared.
        look = sums if open_rows == "steek" and remedy["kind"] == "part repeats" else worked
        for key, value in look(direct).items():
            if value != look(picked)[key]:
                faults.append("%s differs" % key)
    if remedy["kind"] == "another gauge":
        if abs(picked["gauge"]["stitches_per_inch"] - remedy["stitches_per_inch"]) > 1e-6:
            faults.append("the gauge is another")
        if not any(note["code"] == "gauge-wanted" for note in picked["notes"]):
            faults.append("that a swatch is wanted is not said")
    if remedy["kind"] == "shape":
        faults += faults_of_shape(plain, picked, remedy)
    edges = 2 if open_rows == "flat" else 0
    if band["stitches"] + band["side_stitches"] + edges != remedy["stitches"]:
        faults.append("%d stitches" % band["stitches"])
    if picked["piece"]["catches_fewest"] != remedy["catches_fewest"]:
        faults.append("%d catches, %s said" % (picked["piece"]["catches_fewest"],
                                               remedy["catches_fewest"]))
    if picked["piece"]["longest_stitches"] != remedy["longest_stitches"]:
        faults.append("a float of %d, %s said" % (picked["piece"]["longest_stitches"],
                                                  remedy["longest_stitches"]))
    if open_rows == "ring" and [band["stretch"]["passes"], round(band["stretch"]["pulls_to_inches"], 6)] != \
            [remedy["passes"], round(remedy["pulls_to_inches"], 6)]:
        faults.append("it pulls to %s, %s said" % (band["stretch"]["pulls_to_inches"],
                                                   remedy["pulls_to_inches"]))
    if picked["piece"]["over_limit"] != remedy["over_limit"]:
        faults.append("floats over the limit")
    return faults


def draw(random_of, width, rows, mirrored):
    lines = []
    for _ in range(rows):
        if width % 2 == 0 and random_of.random() < 0.4:
            lines.append(".x" * (width // 2))
            continue
        half = "".join(random_of.choice("....xxxo") for _ in range(width))
        lines.append((half[:(width + 1) // 2] + half[:width // 2][::-1]) if mirrored else half)
    return lines


def main():
    program, count = sys.argv[1], int(sys.argv[2])
    random_of = random.Random(7)
    seen = {}
    with tempfile.TemporaryDirectory() as folder:
        for case in range(count):
            open_rows = ("ring", "flat", "steek")[case % 3]
            width, rows = random_of.randint(7, 13), random_of.randint(2, 5)
            sides = random_of.randint(0, 2) if open_rows == "flat" else 0
            chart = Chart(draw(random_of, width, rows, case % 2 == 0),
                          ["." * sides] * rows, ["x" * sides] * rows)
            words = {"before": "[project]\nworked = %s\n" % ("flat" if open_rows == "flat" else "round") +
                     GAUGE % {"worked": "flat" if open_rows == "flat" else "round",
                              "across": "width" if open_rows == "flat" else "around",
                              "measure": random_of.randint(9, 16), "pass": "must pass = %d in\n" % (12 + case % 5)
                              if open_rows == "ring" else "",
                              "stitches": random_of.choice(
                                  ("19, 19 1/4", "20 1/2, 20", "22 1/4, 22"))},
                     "after": YARNS + "[float]\nleave up to = 3/4 in\n" +
                     {"ring": "", "flat": "[edges]\nselvedge = 1\n", "steek": "[edges]\nsteek = 5\n"}
                     [open_rows]}
            before, words["band"], after = beside(random_of, open_rows == "flat") if case > 8 else ("", "", "")
            words["before"] += before
            words["after"] = after + words["after"]
            answer, error = plan(program, folder, "plain", chart, words, "upwards = 2\n")
            if answer is None:
                print("bad case %d is not planned: %s" % (case, error))
                continue
            for remedy in answer["bands"][0]["fit"]["remedies"]:
                faults = faults_of(program, folder, chart, words, remedy, open_rows, answer)
                key = (remedy["kind"], open_rows)
                seen[key] = seen.get(key, 0) + 1
                print("%s case %d, %s, %s%s" % ("bad" if faults else "ok", case, open_rows,
                                                remedy["choice"],
                                                ": " + "; ".join(faults) if faults else ""))
    for kind in ("another count", "shape", "plain columns", "trim or pad", "part repeats",
                 "another gauge", "redraw"):
        for open_rows in ("ring", "flat", "steek"):
            if (kind, open_rows) not in seen:
                print("bad %s, %s: never tried" % (kind, open_rows))


main()
