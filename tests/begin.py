#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`begin with`: a chart turned here, in its file, must give the plan that the key gives: the same but
for the names of the stitches. And what the plan says to write for a better start must give that start.

    begin.py PROGRAM CHARTS      prints a line a check, `ok ...` or `bad ...`
"""

import json
import os
import random
import re
import subprocess
import sys
import tempfile

PROJECT = """[project]
worked = %(worked)s
[swatch]
worked = %(worked)s
washed = yes
over = 4 in
stitches = 22, 22 1/4
rows = 28, 28 1/4
[measure]
%(across)s = %(measure)d in
[band tried]
chart = %(chart)s
%(band)s
[yarn pale]
mark = .
ball = 50 g, 210 m
[yarn dark]
mark = x
ball = 50 g, 210 m
[yarn berry]
mark = o
duplicate over = dark
[float]
leave up to = 3/4 in
%(edges)s
"""


def ran(program, *arguments):
    """In the folder of the project, so that no path is in the words."""
    path = next(word for word in arguments if word.endswith(".ini"))
    words = [os.path.basename(word) if word == path else word for word in arguments]
    done = subprocess.run([os.path.abspath(program), *words], capture_output=True, text=True,
                          cwd=os.path.dirname(path))
    return done.stdout, done.stderr, done.returncode


def write(folder, name, rows, facts, band, charts=1):
    """The rows, bottom up and from the right, as so many charts side by side."""
    names, width = [], len(rows[0])
    folder = os.path.join(folder, name)
    os.makedirs(folder, exist_ok=True)
    cuts = [width * i // charts for i in range(charts + 1)]
    for i in range(charts):
        names.append("part%d.chart" % i)
        with open(os.path.join(folder, names[-1]), "w", encoding="ascii") as file:
            for row in reversed(rows):
                file.write(row[cuts[i]:cuts[i + 1]][::-1] + "\n")
    path = os.path.join(folder, "tried.ini")
    with open(path, "w", encoding="ascii") as file:
        file.write(PROJECT % dict(facts, chart=", ".join(names), band=band))
    return path


def bare(answer):
    """A plan without the numbers that name stitches of the chart as drawn, and the names of files."""
    answer = json.loads(json.dumps(answer))
    for key in ("notes", "project", "project_file", "source"):
        answer.pop(key, None)
    for band in answer["bands"]:
        for key in ("begins_with", "chart"):
            band.pop(key)
        if band["centre"]:
            # Equal starts are told in the order of the chart as drawn: what they come to is the same.
            for start in [band["centre"]["now"]] + band["centre"]["starts"]:
                start.pop("begin_with")
            for start in band["centre"]["starts"]:
                for key in ("stitch", "strand_yarn", "strand_row", "front", "back"):
                    start.pop(key)
            band["centre"].pop("motif_at_front")
    return answer


def unlike(one, other, path=""):
    """Where two answers differ first; None: nowhere."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        for key in one:
            found = unlike(one[key], other[key], path + "." + key)
            if found:
                return found
        return None
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for i, (a, b) in enumerate(zip(one, other)):
            found = unlike(a, b, "%s[%d]" % (path, i))
            if found:
                return found
        return None
    return None if one == other else "%s: %s and %s" % (path, str(one)[:60], str(other)[:60])


def starts_faults(program, folder, rows, facts, answer, band):
    """Each start that is told, written as it says, is the start that it was told to be; and the list
    of the best stays the same whichever is planned."""
    faults = []
    centre = answer["bands"][0]["centre"]
    for start in centre["starts"]:
        path = write(folder, "told", rows, facts, band + "begin with = stitch %d\n" % start["begin_with"])
        out, error, status = ran(program, "plan", path, "--as", "json")
        if status != 0:
            return ["what it says to write is refused: " + error]
        there = json.loads(out)["bands"][0]["centre"]
        told = {key: value for key, value in start.items() if key != "stitch"}
        got = {key: value for key, value in there["now"].items() if key != "stitch"}
        if there["now"]["stitch"] != 1 or told != got:
            faults.append("stitch %d: %s" % (start["begin_with"], unlike(told, got)))
        if [one["begin_with"] for one in there["starts"]] != [one["begin_with"] for one in centre["starts"]]:
            faults.append("from stitch %d others are the best" % start["begin_with"])
    return faults


def main():
    program, count = sys.argv[1], int(sys.argv[2])
    random_of = random.Random(11)
    with tempfile.TemporaryDirectory() as folder:
        for case in range(count):
            kind = ("ring", "flat", "steek")[case % 3]
            width, height = random_of.randint(5, 14), random_of.randint(2, 7)
            begin = random_of.randint(2, width)
            rows = ["".join(random_of.choice("...xxo") for _ in range(width)) for _ in range(height)]
            turned = [row[begin - 1:] + row[:begin - 1] for row in rows]
            facts = {"worked": "flat" if kind == "flat" else "round",
                     "across": "width" if kind == "flat" else "around",
                     "measure": random_of.randint(9, 16),
                     "edges": {"ring": "", "flat": "[edges]\nselvedge = 1\n",
                               "steek": "[edges]\nsteek = 5\n"}[kind]}
            band = "upwards = %d\n" % random_of.randint(1, 2)
            charts = random_of.randint(1, 2)
            key = write(folder, "key", rows, facts, band + "begin with = stitch %d\n" % begin, charts)
            file = write(folder, "file", turned, facts, band)
            faults = []
            plans = [ran(program, "plan", path, "--as", "json") for path in (key, file)]
            if any(status != 0 for _, _, status in plans):
                print("bad case %d: %s" % (case, plans[0][1] + plans[1][1]))
                continue
            one, other = (json.loads(out) for out, _, _ in plans)
            remedies = [remedy["choice"] for remedy in one["bands"][0]["fit"]["remedies"]]
            for found in (unlike(bare(one), bare(other)),):
                if found:
                    faults.append(found)
            if one["bands"][0]["begins_with"] != begin or other["bands"][0]["begins_with"] != 1:
                faults.append("the stitch it begins with is not said")
            for words in (("directions",), ("draw",), ("draw", "--side", "wrong")):
                texts = [ran(program, *words, path)[0] for path in (key, file)]
                begun = re.compile(r"(,\s+begun\s+with\s+stitch|\n *The chart is begun with its stitch)\s+%d\." % begin)
                if not begun.search(texts[0]):
                    faults.append("%s: where it begins is not said" % " ".join(words))
                texts[0] = begun.sub(lambda said: "." if said.group(0).startswith(",") else "", texts[0])
                if texts[0] != texts[1] or not texts[0]:
                    faults.append("%s differ" % " ".join(words))
            for remedy in remedies[:2]:
                if remedy.startswith("redraw"):
                    continue
                way = "remedy = %s\n" % remedy
                plans = [ran(program, "plan", write(folder, name, lines, facts, band + way + more), "--as",
                             "json")[0]
                         for name, lines, more in (("key", rows, "begin with = %d\n" % begin),
                                                   ("file", turned, ""))]
                found = unlike(*(bare(json.loads(out)) for out in plans)) if all(plans) else "refused"
                if found:
                    faults.append("%s: %s" % (remedy, found))
            if kind == "ring":
                faults += starts_faults(program, folder, rows, facts, one, band)
            print("%s case %d, %s, stitch %d of %d%s" % ("bad" if faults else "ok", case, kind, begin, width,
                                                        ": " + "; ".join(faults) if faults else ""))


main()
