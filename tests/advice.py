#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts that cannot be: bands that share one and do not agree, a chart wider than the piece. Each
thing that the refusal says to write is written, and must do away with it.

    advice.py PROGRAM PROJECTS      prints a line a check, `ok ...` or `bad ...`
"""

import os
import random
import re
import subprocess
import sys
import tempfile

HEAD = """[swatch]
worked = round
washed = yes
over = 4 in
stitches = 28, 28 1/4
rows = 33, 33 1/4
"""
YARNS = "[yarn dark]\nmark = .\n[yarn light]\nmark = x\n"


def messages(program, folder, sections):
    path = os.path.join(folder, "tried.ini")
    with open(path, "w", encoding="ascii") as file:
        file.write(HEAD)
        for name, lines in sections:
            file.write("[%s]\n%s" % (name, "".join("%s = %s\n" % line for line in lines)))
        file.write(YARNS)
    ran = subprocess.run([program, "check", path], capture_output=True, text=True)
    said = re.sub(r"\s+", " ", ran.stderr)
    return said, set(re.findall(r"\[(bands-disagree|chart-wide|count-beyond|remedy-impossible)\]", said))


def written(sections, section, key, value, out=()):
    """The project with a line written under a section, and lines of other keys taken out of it."""
    result = []
    for name, lines in sections:
        if name == section:
            lines = [line for line in lines if line[0] != key and line[0] not in out]
            if value is not None:
                lines = lines + [(key, value)]
        result.append((name, lines))
    return result


def advised(said, sections):
    """(what is said, the project with it followed)"""
    counts = "count", ("around", "remedy")
    for key, value, section in re.findall(r"(repeats|stitches on needle) = (\d+) under \[((?:band|plain) \w+)\]",
                                          said):
        yield "%s = %s" % (key, value), written(sections, section, key, value, counts[1])
    for remedy, section in re.findall(r"remedy = ([\w ,]+?) under \[(band \w+)\] in place of count", said):
        yield "remedy = " + remedy, written(sections, section, "remedy", remedy, ("count",))
    for section in re.findall(r"take count = as below out of \[(band \w+)\]", said, re.I):
        yield "no shared count", written(sections, section, "count", None)
    for measure in re.findall(r"asks for a measure of ([\d/ ]+ in) \(", said):
        yield "around = " + measure, written(sections, "measure", "around", measure, ("ease",))
    for gauge in re.findall(r"or for ([\d.]+) stitches to the inch", said):
        yield "gauge " + gauge, written(sections, "swatch", "gauge", gauge)
    if "write repeats = 1 to" in said:
        yield "repeats = 1", written(sections, "band wide", "repeats", "1", ("remedy",))


def chart(folder, width):
    name = "wide%d.chart" % width
    with open(os.path.join(folder, name), "w", encoding="ascii") as file:
        file.write("".join("x" if i % 3 == 0 else "." for i in range(width)) + "\n" + "." * width + "\n")
    return name


def sections_of(random_of, folder, kind):
    measure = random_of.randint(30, 60) / 4.0
    sections = [("measure", [("around", "%s in" % measure)])]
    widths = [random_of.randint(3, 13) for _ in range(3)]
    if kind == "wide":
        per_in = 28.125 / 4
        width = int(measure * per_in * random_of.uniform(1.3, 1.9))
        return sections + [("band wide", [("chart", chart(folder, width))])]
    if kind == "plain":
        sections.append(("plain cuff", [("yarn", "dark"), ("rounds", "8"),
                                        random_of.choice((("stitches on needle", random_of.randint(40, 90)),
                                                          ("around", "%s in" % measure)))]))
    else:
        sections.append(("band one", [("chart", chart(folder, widths[0])),
                                      ("repeats", max(1, int(measure * 7 / widths[0])))]))
    for name, width in list(zip(("two", "three"), widths[1:]))[:random_of.randint(1, 2)]:
        sections.append(("band " + name, [("chart", chart(folder, width)), ("count", "as below")]))
    return sections


def main():
    program, count = sys.argv[1], int(sys.argv[2])
    random_of = random.Random(3)
    followed = {}
    with tempfile.TemporaryDirectory() as folder:
        for case in range(count):
            kind = ("repeats", "plain", "wide")[case % 3]
            sections = sections_of(random_of, folder, kind)
            said, codes = messages(program, folder, sections)
            if not codes & {"bands-disagree", "chart-wide"}:
                continue
            any_said = False
            for what, other in advised(said, sections):
                if what.startswith("gauge"):
                    continue # another swatch, not a line
                any_said = True
                then, codes_then = messages(program, folder, other)
                # Out of a shared count, the third band still shares one with the second, or cannot.
                third = what == "no shared count" and len(sections) == 4
                bad = codes_then - ({"bands-disagree", "count-beyond"} if third else set())
                key = (kind, what.split(" = ")[0])
                followed[key] = followed.get(key, 0) + 1
                print("%s case %d, %s, %s%s" % ("bad" if bad else "ok", case, kind, what,
                                                ": " + then[:300] if bad else ""))
            if not any_said:
                print("bad case %d: nothing to write is said: %s" % (case, said[:300]))
    for key in (("repeats", "repeats"), ("repeats", "remedy"), ("repeats", "no shared count"),
                ("plain", "stitches on needle"), ("wide", "around"), ("wide", "repeats")):
        if key not in followed:
            print("bad %s, %s: never said" % key)


main()
