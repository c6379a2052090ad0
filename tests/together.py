#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts of several bands solved together, against an integer-programming solver (glpsol, of the
package glpk-utils): random yokes and tubes, in the round and flat, with ribs, side stitches, bands
that share a count and parts whose count stands. Every term must be equal: rounds of shaping, then
stitches off the measures, then stitches made or taken away.

    together.py PROGRAM INSTANCES [SEED]     prints a line an instance, `ok ...` or `bad ...`
"""

import fractions
import json
import os
import random
import re
import subprocess
import sys
import tempfile

S = fractions.Fraction(5)  # stitches to the inch


class Stage:
    def __init__(self):
        self.rules, self.targets, self.least, self.fixed = [], [], 1, 0

    def allowed(self, count):
        return count >= self.least and all(count % rule[0] in rule[1] for rule in self.rules)

    def off(self, count):
        return sum(abs(count - target) for target in self.targets)

    beyond = False # there are counts, and none that anybody would wear

    def counts(self, reach, most):
        if self.fixed:
            return [self.fixed]
        near = [n for n in range(1, 1200) if self.allowed(n) and
                all(abs(n - target) <= reach * target for target in self.targets)]
        if near:
            return near
        middle = sum(self.targets) / len(self.targets)
        below = [n for n in range(1, 1200) if self.allowed(n) and n <= middle]
        above = [n for n in range(1, 12000) if self.allowed(n) and n > middle]
        nearest = below[-1:] + above[:1]
        self.beyond = bool(nearest)
        return [n for n in nearest if all(abs(n - target) <= most * target for target in self.targets)]


def rounds_between(count, to):
    """A round at most doubles, or leaves half, the odd stitch over."""
    rounds = 0
    while count != to:
        count = min(to, 2 * count) if to > count else max(to, count - count // 2)
        rounds += 1
    return rounds


# --- an instance -------------------------------------------------------------------------------

def chart_text(width, left, right, edge):
    row = "." * (width - width // 2) + "x" * (width // 2)
    return ("." * left + "|" + row + "|" + "." * right if edge else row) + "\n"


def make(folder, rand, number):
    flat = rand.random() < 0.3
    measure = "width" if flat else "around"
    words = ["[project]", "worked = %s" % ("flat" if flat else "round"), "[swatch]",
             "worked = %s" % ("flat" if flat else "round"), "over = 4 in", "stitches = 20", "rows = 26",
             "[measure]", "%s = 50 in" % measure, "counts = together"]
    stages = []
    rib = rand.random() < 0.4
    if rib:
        knit, purl = rand.randint(1, 3), rand.randint(1, 3)
        words += ["[cast-on]", "rib = knit %d purl %d, 10 rounds" % (knit, purl)]
    tenths = rand.randint(80, 500)
    for i in range(rand.randint(2, 5)):
        if i > 0 and rand.random() < 0.15:
            stage = Stage()
            stage.fixed = max(4, tenths // 2 + rand.randint(-5, 5))
            stages.append(stage)
            words += ["[plain p%d]" % i, "yarn = pale", "rounds = 9", "stitches on needle = %d" % stage.fixed]
        if i > 0 and rand.random() < 0.6:
            tenths = max(40, tenths * rand.choice((60, 66, 75, 80, 95, 100)) // 100)
        width = rand.choice((4, 5, 6, 8, 8, 10, 12, 12, 15, 16, 18, 20, 24))
        left, right = (rand.randint(0, 2), rand.randint(0, 2)) if flat else (0, 0)
        below = i > 0 and not stages[-1].fixed and rand.random() < 0.2
        stage = stages[-1] if below else Stage()
        with open(os.path.join(folder, "c%d.chart" % i), "w", encoding="ascii") as file:
            file.write(chart_text(width, left, right, flat))
        words += ["[band b%d]" % i, "chart = c%d.chart" % i, "%s = %d/10 in" % (measure, tenths)]
        words += ["count = as below"] if below else []
        sides = left + right
        stage.rules.append((width, {sides % width}))
        stage.targets.append(S * fractions.Fraction(tenths, 10))
        stage.least = max(stage.least, width + sides)
        if rib and i == 0:
            stage.rules.append((knit + purl, {0, knit % (knit + purl)} if flat else {0}))
        if not below:
            stages.append(stage)
    words += ["[yarn pale]", "mark = .", "[yarn dark]", "mark = x"]
    path = os.path.join(folder, "project.ini")
    with open(path, "w", encoding="ascii") as file:
        file.write("\n".join(words) + "\n")
    return path, stages, "instance %d, %s" % (number, " ".join(
        "%s/%s" % ("+".join(str(rule[0]) for rule in stage.rules) or stage.fixed,
                   "+".join("%.1f" % target for target in stage.targets)) for stage in stages))


# --- the solver ----------------------------------------------------------------------------------

def programme(stages, counts, term, bounds):
    """x_i_j: stage i has its count j. y: it and the next. s_i: stitches between them, doubled offs."""
    rounds, off, shaped, rows, binary = [], [], [], [], []
    for i, stage in enumerate(stages):
        names = ["x_%d_%d" % (i, j) for j in range(len(counts[i]))]
        binary += names
        rows.append(" + ".join(names) + " = 1")
        off += ["%d %s" % (int(2 * stage.off(n)), name) for n, name in zip(counts[i], names)
                if stage.off(n)]
        if i + 1 == len(stages):
            continue
        shaped.append("s_%d" % i)
        difference = " ".join("%+d x_%d_%d" % (n, k, j) if sign > 0 else "%+d x_%d_%d" % (-n, k, j)
                              for k, sign in ((i, 1), (i + 1, -1)) for j, n in enumerate(counts[k]))
        turned = re.sub(r"([+-])(\d)", lambda m: ("-" if m[1] == "+" else "+") + m[2], difference)
        rows += ["s_%d %s >= 0" % (i, turned), "s_%d %s >= 0" % (i, difference)]
        for j, n in enumerate(counts[i]):
            for k, m in enumerate(counts[i + 1]):
                if rounds_between(n, m):
                    rounds.append("%d y_%d_%d_%d" % (rounds_between(n, m), i, j, k))
                    rows.append("y_%d_%d_%d - x_%d_%d - x_%d_%d >= -1" % (i, j, k, i, j, i + 1, k))
    terms = {"rounds": rounds, "off": off, "shaped": shaped}
    goal = " + ".join(terms[term]) or "0 x_0_0"
    for name, value in bounds.items():
        if terms[name]:
            rows.append("%s <= %d" % (" + ".join(terms[name]), value))
    return "Minimize\n goal: %s\nSubject To\n%s\nBinary\n%s\nEnd\n" % (
        goal.replace(" + ", "\n + "),
        "\n".join(" r%d: %s" % (i, row.replace(" + x", "\n + x")) for i, row in enumerate(rows)),
        "\n".join(" " + name for name in binary))


def referee(folder, stages, counts):
    bounds = {}
    for term in ("rounds", "off", "shaped"):
        path, answer = os.path.join(folder, "a.lp"), os.path.join(folder, "a.sol")
        with open(path, "w", encoding="ascii") as file:
            file.write(programme(stages, counts, term, bounds))
        ran = subprocess.run(["glpsol", "--lp", path, "--tmlim", "60", "-o", answer],
                             stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        found = open(answer, encoding="ascii").read() if ran.returncode == 0 else ""
        if not re.search(r"^Status: +INTEGER OPTIMAL", found, re.M):
            return None
        bounds[term] = round(float(re.search(r"^Objective: +goal = (\S+)", found, re.M)[1]))
    return bounds


# --- both ------------------------------------------------------------------------------------------

def faults_of(program, folder, path, stages, reach, most):
    ran = subprocess.run([program, "plan", path, "--as", "json"], capture_output=True, text=True)
    counts = [stage.counts(reach, most) for stage in stages]
    if any(not some and stage.beyond for some, stage in zip(counts, stages)):
        said = "[count-beyond]" in ran.stderr or "[bands-disagree]" in ran.stderr
        return ([] if said and ran.returncode else ["far off, and it is not refused"]), True
    if any(not some for some in counts):
        return ([] if "[bands-disagree]" in ran.stderr else ["no count at all, and it is not said"]), True
    window = [stage for stage in stages if stage.targets and not stage.fixed and
              min(stage.targets) * (1 + reach) < max(stage.targets) * (1 - reach)]
    if window:
        return ([] if "[bands-disagree]" in ran.stderr else ["measures clash, and it is not said"]), True
    if ran.returncode != 0:
        return [ran.stderr.split("\n")[0]], False
    answer = json.loads(ran.stdout)
    best = answer["together"]["sets"][0]
    told = {"rounds": best["shaping_rounds"], "off": round(best["off_inches"] * float(S) * 2),
            "shaped": best["shaped_stitches"]}
    expected = referee(folder, stages, counts)
    faults = ["%s told, glpsol finds %s" % (told, expected)] if told != expected else []
    if any(count not in some for count, some in zip(best["stitches"], counts)):
        faults.append("%s is not what may be" % best["stitches"])
    planned = {band["name"]: band["stitches"] + band["side_stitches"] for band in answer["bands"]}
    for stage, count in zip(answer["together"]["stages"], best["stitches"]):
        if any(planned[name] != count for name in stage["bands"]):
            faults.append("the plan does not follow it")
    return faults, False


def main():
    program, instances = sys.argv[1], int(sys.argv[2])
    rand = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 11)
    table = subprocess.run([program, "tables", "allowances"], capture_output=True, text=True).stdout
    reach = fractions.Fraction(re.search(r"^together_reach_ratio,([0-9.]+)", table, re.M)[1])
    most = fractions.Fraction(re.search(r"^together_most_ratio,([0-9.]+)", table, re.M)[1])
    try:
        subprocess.run(["glpsol", "--version"], stdout=subprocess.DEVNULL, check=True)
    except (OSError, subprocess.CalledProcessError):
        print("bad glpsol does not run: install the package glpk-utils")
        return
    solved = refused = 0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(instances):
            path, stages, what = make(folder, rand, number)
            faults, no = faults_of(program, folder, path, stages, reach, most)
            refused += no
            solved += not no
            print("%s %s%s" % ("bad" if faults else "ok", what,
                               ": " + "; ".join(faults) if faults else ""))
    if solved < instances // 2 or (instances >= 40 and refused == 0):
        print("bad %d solved and %d refused: too few" % (solved, refused))


main()
