# SPDX-License-Identifier: GPL-3.0-or-later
"""The plan worked out a second time, from the words of docs/terms.md alone.

python3 tests/recount.py PROGRAM PROJECT...    `ok WHAT` or `bad WHAT: WHY`, a line a project
python3 tests/recount.py --make FOLDER COUNT   writes COUNT small projects, always the same ones

Nothing here is taken from the program: charts are read here, floats walked stitch by stitch,
numbers kept as fractions. Of the plan's JSON only what is checked is read.
"""
import json
import math
import os
import random
import re
import struct
import subprocess
import sys
import zlib
from fractions import Fraction

NO_STITCH = None


# --- reading --------------------------------------------------------------------------------

def read_project(path):
    """[(head, {key: value})], in order."""
    sections = []
    for line in open(path, encoding="utf-8"):
        line = re.split(r"(?:^|\s);", line.rstrip("\n"))[0].strip()
        if line.startswith("["):
            sections.append((line.strip("[]").strip(), {}))
        elif "=" in line:
            key, value = line.split("=", 1)
            sections[-1][1][key.strip().lower()] = value.strip().strip('"')
    return sections


def number(text):
    """8 1/2, 21,5, -2: exactly."""
    sign = -1 if text.strip().startswith("-") else 1
    words = text.strip().lstrip("+-").replace(",", ".").split()
    return sign * sum(Fraction(word) for word in words)


def inches(text, units):
    found = re.match(r"\s*([-+]?[0-9][0-9 ./,]*)\s*(in|cm|mm|m|yd|\"|)\s*$", text)
    unit = found.group(2) or units
    each = {"in": 1, '"': 1, "cm": 1 / Fraction("2.54"), "mm": 1 / Fraction("25.4"),
            "m": 100 / Fraction("2.54"), "yd": 36}[unit]
    return number(found.group(1)) * each


def counts(text):
    return [number(word) for word in text.split(", ")]


def read_text_chart(path, marks):
    """Rows from the bottom, stitches from the right, of left side, repeat and right side."""
    rows = []
    for line in open(path, encoding="utf-8"):
        line = line.rstrip("\n")
        if line.lstrip().startswith(";") or not line.strip():
            continue
        parts = [[marks[c] for c in part if not c.isspace()][::-1] for part in line.split("|")]
        rows.append(parts if len(parts) == 3 else [[], parts[0], []])
    return rows[::-1]


def read_picture(path, across, shades):
    """An 8-bit PNG without interlace, each block to the nearest shade."""
    data = open(path, "rb").read()
    at, packed, palette, clear = 8, b"", [], b""
    while at < len(data):
        length, name = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + length]
        if name == b"IHDR":
            width, height, depth, kind, _, _, interlace = struct.unpack(">IIBBBBB", body)
        elif name == b"PLTE":
            palette = [tuple(body[i:i + 3]) for i in range(0, length, 3)]
        elif name == b"tRNS":
            clear = body
        elif name == b"IDAT":
            packed += body
        at += length + 12
    if interlace or (depth != 8 and kind != 3):
        raise ValueError("this reader does not know such a picture: %s" % path)
    pixels = unfilter(zlib.decompress(packed), width, height, depth, kind)
    block = width // across if across else 1
    rows = []
    for y in range(height - block, -1, -block):
        row = []
        for x in range(width - block, -1, -block):
            cell = pixels[y][x]
            if kind == 3:
                alpha = clear[cell[0]] if cell[0] < len(clear) else 255
                cell = palette[cell[0]] + (alpha,)
            elif kind in (0, 4):
                cell = (cell[0],) * 3 + tuple(cell[1:])
            row.append(nearest(cell, shades))
        rows.append([[], row, []])
    return rows


def unfilter(raw, width, height, depth, kind):
    samples = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[kind]
    stride = (width * samples * depth + 7) // 8
    step = max(1, samples * depth // 8)
    before, rows = bytearray(stride), []
    for y in range(height):
        how = raw[y * (stride + 1)]
        line = bytearray(raw[y * (stride + 1) + 1:(y + 1) * (stride + 1)])
        for i in range(stride):
            a = line[i - step] if i >= step else 0
            b, c = before[i], before[i - step] if i >= step else 0
            p = a + b - c
            paeth = min((a, b, c), key=lambda v: abs(p - v))
            line[i] = (line[i] + (0, a, b, (a + b) // 2, paeth)[how]) & 255
        if depth == 8:
            rows.append([tuple(line[i:i + samples]) for i in range(0, stride, samples)])
        else:
            per = 8 // depth
            rows.append([(line[x // per] >> (8 - depth * (x % per + 1)) & ((1 << depth) - 1),)
                         for x in range(width)])
        before = line
    return rows


def nearest(cell, shades):
    if len(cell) == 4 and cell[3] == 0:
        return NO_STITCH
    return min(shades, key=lambda yarn: sum((a - b) ** 2 for a, b in zip(cell, shades[yarn])))


def read_band(folder, band, marks, shades):
    """One chart, or several side by side in knitting order: the first at the right."""
    whole = None
    for name in band["chart"].split(", "):
        path = next(p for p in (os.path.join(folder, name + end) for end in ("", ".chart", ".png"))
                    if os.path.isfile(p))
        if path.endswith(".png"):
            across = int(band["across"].split()[0]) if "across" in band else 0
            rows = read_picture(path, across, shades)
        else:
            rows = read_text_chart(path, marks)
        whole = [[a[0] + b[0], a[1] + b[1], a[2] + b[2]] for a, b in zip(whole, rows)] \
            if whole else rows
    first = int(band.get("begin with", "1").split()[-1]) - 1
    return [[row[0], row[1][first:] + row[1][:first], row[2]] for row in whole]


# --- floats, from their definition ----------------------------------------------------------

def ring_floats(yarns, yarn):
    """(stitch before, length): runs not in yarn between two of its stitches, round a ring."""
    width = len(yarns)
    own = [i for i in range(width) if yarns[i] == yarn]
    found = []
    for k, i in enumerate(own):
        gap = (own[(k + 1) % len(own)] - i - 1) % width
        if len(own) == 1:
            gap = width - 1
        if gap:
            found.append((i, gap))
    return found


def row_floats(yarns, yarn, anchored):
    """The same between two ends: inner runs, and with anchored edges those from each edge."""
    own = [i for i in range(len(yarns)) if yarns[i] == yarn]
    if not own:
        return []
    stops = ([-1] if anchored else []) + own + ([len(yarns)] if anchored else [])
    return [(a, b - a - 1) for a, b in zip(stops, stops[1:]) if b - a > 1]


def fewest(span, leave):
    return span // (leave + 1)


def judge_float(span, positions, leave, spare):
    """What is wrong with catches on these stitches (from 1) of a float."""
    stops = [0] + sorted(positions) + [span + 1]
    if len(set(positions)) != len(positions):
        return "caught twice on a stitch"
    if max(b - a - 1 for a, b in zip(stops, stops[1:])) > leave:
        return "a piece of over %d stitches left in a float of %d, caught on %s" % (
            leave, span, positions)
    if span >= 3 and (1 in positions or span in positions):
        return "caught on the first or last stitch of %d" % span
    k = fewest(span, leave)
    allowed = {k} | ({k + 1} if spare and k >= 1 and k + 1 <= span - 2 else set())
    if len(positions) not in allowed:
        return "%d catches in a float of %d" % (len(positions), span)
    return None


# --- one plan -------------------------------------------------------------------------------

class Recount:
    def __init__(self, path, plan):
        self.plan = plan
        self.faults = []
        self.folder = os.path.dirname(path)
        sections = read_project(path)
        self.of = {}
        for head, keys in sections:
            self.of.setdefault(head, {}).update(keys)
        self.project = self.of.get("project", {})
        self.units = self.project.get("units", "in")
        self.float = self.of.get("float", {})
        self.edges = self.of.get("edges", {})
        self.yarns = {h[5:]: k for h, k in sections if h.startswith("yarn ")}
        self.bands = [(h[5:], k) for h, k in sections if h.startswith("band ")]
        self.marks = {k["mark"]: y for y, k in self.yarns.items() if "mark" in k}
        self.marks[self.project.get("no stitch", "-")] = NO_STITCH
        self.shades = {y: tuple(bytes.fromhex(k["shade"][1:])) for y, k in self.yarns.items()
                       if re.match("#[0-9a-f]{6}$", k.get("shade", ""))}
        self.round = self.project.get("worked", "round") == "round"
        self.steek = int(self.edges.get("steek", "0").split()[0])
        self.open = not self.round or self.steek > 0
        self.anchored = self.edges.get("edges", "anchor") == "anchor"
        self.make = int(self.project.get("make", "1"))
        self.spare = self.float.get("spare catches", "yes") == "yes"

    def same(self, what, ours, theirs, exact=True):
        good = ours == theirs if exact else \
            (ours is None) == (theirs is None) and \
            (ours is None or math.isclose(float(ours), float(theirs), rel_tol=2e-8, abs_tol=1e-9))
        if not good:
            self.faults.append("%s is %s here, %s in the plan" % (what, ours, theirs))

    def knitted(self, yarn):
        """A yarn sewn on is not knitted: what lies under it is."""
        return self.yarns[yarn].get("duplicate over", yarn) if yarn is not NO_STITCH else yarn

    def gauge(self):
        swatch = self.of["swatch"]
        over = inches(swatch["over"], self.units)
        self.per_in, self.rows_per_in = (
            sum(counts(swatch[key])) / (len(counts(swatch[key])) * over)
            for key in ("stitches", "rows"))
        self.same("stitches_per_inch", self.per_in, self.plan["gauge"]["stitches_per_inch"], False)
        self.same("rows_per_inch", self.rows_per_in, self.plan["gauge"]["rows_per_inch"], False)
        if "catch at" in self.float:
            self.leave = math.ceil(inches(self.float["catch at"], self.units) * self.per_in) - 1
            return
        limit = Fraction(3, 4) if self.of.get("wearer", {}).get("child") == "yes" else Fraction(1)
        if "leave up to" in self.float:
            limit = inches(self.float["leave up to"], self.units)
        self.leave = math.floor(limit * self.per_in)

    def target(self, keys):
        """Exact stitches for the measure with its ease; None without a measure."""
        measure = self.of.get("measure", {})
        name = "around" if self.round else "width"
        text = keys.get(name) or measure.get(name)
        if not text:
            return None
        share = number(text[:-1]) / 100 if text.endswith("%") else None
        wanted = inches(text if share is None else measure[name], self.units)
        share = 1 if share is None else share
        ease = keys.get("ease") or measure.get("ease") or "0 %"
        if ease.endswith("%"):
            wanted *= share * (1 + number(ease[:-1]) / 100)
        elif "ease" in keys:  # its own: on top of its share
            wanted = wanted * share + inches(ease, self.units)
        else:
            wanted = share * (wanted + inches(ease, self.units))
        return wanted * self.per_in

    def band(self, name, keys, plan):
        rows = read_band(self.folder, keys, self.marks, self.shades)
        if self.round:
            rows = [[[], row[1], []] for row in rows]
        drawn = rows
        rows = [[[self.knitted(y) for y in part] for part in row] for row in rows]
        width, sides = len(rows[0][1]), len(rows[0][0]) + len(rows[0][2])
        selvedge = 2 * int(self.edges.get("selvedge", "0").split()[0])
        target = self.target(keys)
        repeats = keys.get("repeats", "fit")
        if repeats != "fit":
            repeats = int(repeats)
        else:  # the multiple, flat with sides and selvedge, nearest the target; a tie to the larger
            plus = 0 if self.round else sides + selvedge
            repeats = max(1, math.floor((target - plus) / width + Fraction(1, 2)))
        upwards = int(keys.get("upwards", "1"))
        edge = selvedge + self.steek
        self.same(name + " target", target, plan["fit"]["target_stitches"], False)
        for what, ours in (("repeat_stitches", width), ("rows", len(rows)), ("upwards", upwards),
                           ("repeats", repeats), ("stitches", repeats * width),
                           ("side_stitches", sides), ("leave_stitches", self.leave),
                           ("stitches_on_needle", repeats * width + sides + edge)):
            self.same("%s %s" % (name, what), ours, plan[what])
        self.colours(name, [row[1] for row in rows], plan)
        self.catches(name, [row[1] for row in rows], plan)
        self.pairs(name, width, len(rows), upwards, plan)
        self.changes(name, rows, repeats, upwards, plan)
        self.as_worked(name, rows, repeats, upwards, plan)
        for row in drawn:
            for part, times in ((row[0], 1), (row[1], repeats), (row[2], 1)):
                for yarn in part:
                    if yarn is not NO_STITCH and self.knitted(yarn) != yarn:
                        self.sewn[yarn] = self.sewn.get(yarn, 0) + times * upwards * self.make

    def colours(self, name, repeat, plan):
        """One repeat as a closed ring."""
        for colour in plan["colours"]:
            yarn = colour["yarn"]
            spans, stitches = [], 0
            for row in repeat:
                row = [y for y in row if y is not NO_STITCH]
                stitches += row.count(yarn)
                spans += [span for _, span in ring_floats(row, yarn)]
            what = "%s %s " % (name, yarn)
            self.same(what + "stitches", stitches, colour["stitches"])
            self.same(what + "float_stitches", sum(spans), colour["float_stitches"])
            self.same(what + "floats", len(spans), colour["floats"])
            self.same(what + "longest", max(spans, default=0), colour["longest_stitches"])
            self.same(what + "over_limit", sum(s > self.leave for s in spans), colour["over_limit"])
            self.same(what + "catches_fewest", sum(fewest(s, self.leave) for s in spans),
                      colour["catches_fewest"])
        named = {c["yarn"] for c in plan["colours"]}
        missing = {y for row in repeat for y in row if y is not NO_STITCH} - named
        self.same(name + " yarns left out", set(), missing)

    def catches(self, name, repeat, plan):
        """Every catch lies on a float of its strand, and every float is caught as it should be."""
        left = {}
        for catch in plan["catches"]:
            cell = repeat[catch["row"] - 1][catch["column"] - 1]
            self.same("%s behind row %d column %d" % (name, catch["row"], catch["column"]), cell,
                      catch["behind"])
            left.setdefault((catch["row"], catch["strand"]), []).append(catch["column"] - 1)
        for r, cells in enumerate(repeat, 1):
            columns = [c for c, y in enumerate(cells) if y is not NO_STITCH]
            row = [cells[c] for c in columns]
            for yarn in set(row):
                caught = left.pop((r, yarn), [])
                for start, span in ring_floats(row, yarn):
                    under = [(start + p) % len(row) for p in range(1, span + 1)]
                    positions = [p for p, i in enumerate(under, 1) if columns[i] in caught]
                    fault = judge_float(span, positions, self.leave, self.spare)
                    if fault:
                        self.faults.append("%s row %d %s: %s" % (name, r, yarn, fault))
                    for p in positions:
                        caught.remove(columns[under[p - 1]])
                if caught:
                    self.faults.append("%s row %d %s: caught off its floats" % (name, r, yarn))
        if left:
            self.faults.append("%s: a strand caught that is not in the row" % name)

    def changes(self, name, rows, repeats, upwards, plan):
        """Stitches in another yarn: the fewest catches before and after, of a repeat and of the piece."""
        def fewest_of(rows):
            spans = [span for row in rows for yarn in set(row[1]) for _, span in
                     ring_floats([y for y in row[1] if y is not NO_STITCH], yarn)]
            return sum(fewest(span, self.leave) for span in spans)

        def fewest_worked(rows):
            total = 0
            for left, middle, right in rows:
                row = [y for y in right + middle * repeats + left if y is not NO_STITCH]
                for yarn in set(row):
                    floats = row_floats(row, yarn, self.anchored) if self.open else ring_floats(row, yarn)
                    total += sum(fewest(span, self.leave) for _, span in floats)
            return total * upwards

        found = plan["stitch_changes"]
        for change in found["one"] + ([found["two"]] if found["two"] else []):
            after = [[list(part) for part in row] for row in rows]
            for cell in change["stitches"]:
                after[cell["row"] - 1][1][cell["column"] - 1] = cell["becomes"]
            self.same(name + " saved, repeat", fewest_of(rows) - fewest_of(after), change["catches_saved_repeat"])
            self.same(name + " saved, piece", fewest_worked(rows) - fewest_worked(after), change["catches_saved_piece"])

    def pairs(self, name, width, height, upwards, plan):
        """Catches of one repeat above or beside each other, over its joins too."""
        at = {}
        for catch in plan["catches"]:
            place = (catch["row"] - 1, catch["column"] - 1)
            at[place] = at.get(place, 0) + 1
        stacked = touching = 0
        for (row, column), count in at.items():
            above = (row + 1) % height
            if above == row + 1 or upwards > 1:
                stacked += count * at.get((above, column), 0)
                for step in (-1, 1):
                    touching += count * at.get((above, (column + step) % width), 0)
        self.same(name + " stacked", stacked, plan["stacked"])
        self.same(name + " doubled", sum(n * (n - 1) // 2 for n in at.values()), plan["doubled"])
        self.same(name + " touching", touching, plan["touching"])

    def as_worked(self, name, rows, repeats, upwards, plan):
        """A whole piece: every row with its edges if it has any."""
        inner = {}
        for catch in plan["catches"]:
            inner.setdefault((catch["row"], catch["strand"]), set()).add(catch["column"] - 1)
        outer = {}
        for catch in plan["edge_catches"]:
            outer.setdefault((catch["row"], catch["strand"]), set()).add(catch["column"] - 1)
        totals = {c["yarn"]: [0, 0, 0, 0] for c in plan["colours"]}
        for r, (left, middle, right) in enumerate(rows, 1):
            cells = right + middle * repeats + left
            columns = [c for c, y in enumerate(cells) if y is not NO_STITCH]
            row = [cells[c] for c in columns]
            in_repeats = [len(right) <= c < len(right) + len(middle) * repeats for c in columns]
            for yarn in set(row):
                total = totals[yarn]
                total[0] += row.count(yarn)
                floats = row_floats(row, yarn, self.anchored) if self.open \
                    else ring_floats(row, yarn)
                for start, span in floats:
                    total[1] += span
                    total[3] = max(total[3], span)
                    under = [(start + p) % len(row) for p in range(1, span + 1)]
                    if not self.open:
                        total[2] += sum((columns[i] % len(middle)) in inner.get((r, yarn), ())
                                        for i in under)
                        continue
                    ends = (start, start + span + 1)
                    inside = all(0 <= i < len(row) and in_repeats[i] for i in ends)
                    positions = [p for p, i in enumerate(under, 1) if (
                        (columns[i] - len(right)) % len(middle) in inner.get((r, yarn), ())
                        if inside else columns[i] in outer.get((r, yarn), ()))]
                    total[2] += len(positions)
                    fault = judge_float(span, positions, self.leave, self.spare)
                    if fault:
                        self.faults.append("%s row %d %s, whole row: %s" % (name, r, yarn, fault))
        for colour in plan["colours"]:
            what = "%s %s, one piece: " % (name, colour["yarn"])
            ours = totals[colour["yarn"]]
            piece = colour["piece"]
            self.same(what + "stitches", ours[0] * upwards, piece["stitches"])
            self.same(what + "float_stitches", ours[1] * upwards, piece["float_stitches"])
            self.same(what + "catches", ours[2] * upwards, piece["catches"])
            self.same(what + "longest", ours[3], piece["longest_stitches"])
            sums = self.worked.setdefault(colour["yarn"], [0, 0, 0])
            for i in range(3):
                sums[i] += ours[i] * upwards * self.make

    def yarn(self):
        """Metres, by the formulas of docs/formulas.md."""
        loop = self.plan["yarn_in_a_stitch"]
        width_mm = Fraction("25.4") / self.per_in
        if loop["method"] == "gauge":
            washed = self.of["swatch"].get("washed") == "yes"
            density = self.per_in * self.rows_per_in / Fraction("25.4") ** 2
            self.same("yarn in a stitch", math.sqrt((21.6 if washed else 19.0) / density),
                      loop["stitch_mm"], False)
        if "slack" in self.float:
            self.same("slack", 1 + number(self.float["slack"].rstrip("% ")) / 100,
                      loop["slack_ratio"], False)
        apart = len({yarn["loop_mm"] for yarn in self.plan["yarn"]}) > 1
        if apart and " of " not in " ".join(self.of["swatch"].values()):
            self.faults.append("yarns apart in their stitch that were not measured apart")
        for yarn in self.plan["yarn"]:
            loop_mm = yarn["loop_mm"] if apart else loop["stitch_mm"]
            stitches, floats, catches = self.worked.get(yarn["yarn"], [0, 0, 0])
            what = yarn["yarn"] + " "
            self.same(what + "stitches", stitches, yarn["stitches"])
            self.same(what + "float_stitches", floats, yarn["float_stitches"])
            self.same(what + "catches", catches, yarn["catches"])
            self.same(what + "duplicate_stitches", self.sewn.get(yarn["yarn"], 0),
                      yarn["duplicate_stitches"])
            self.same(what + "stitch_m", stitches * loop_mm / 1000, yarn["stitch_m"], False)
            self.same(what + "float_m", floats * float(width_mm) * loop["slack_ratio"] / 1000,
                      yarn["float_m"], False)

    def run(self):
        self.worked, self.sewn = {}, {}
        self.gauge()
        for (name, keys), band in zip(self.bands, self.plan["bands"]):
            self.same("name", name, band["name"])
            self.band(name, keys, band)
        self.yarn()
        return self.faults


# --- projects made up -----------------------------------------------------------------------

def make_project(folder, seed):
    draw = random.Random(seed)
    marks = ".xo"[:draw.choice((2, 2, 3))]
    width, height = draw.randint(2, 17), draw.randint(1, 9)
    flat = draw.random() < 0.3
    steek = 0 if flat or draw.random() < 0.8 else 7
    run = draw.choice((1, 3, 6))  # lengthens the runs, and with them the floats
    empty = draw.random() < 0.25

    def cells(count):
        line = "".join(draw.choice(marks) * draw.randint(1, run) for _ in range(count))[:count]
        if empty:
            line = "".join("-" if draw.random() < 0.15 else c for c in line)
        return line if line.strip("-") else marks[0] + line[1:]

    sides = (draw.randint(1, 4), draw.randint(1, 4)) if flat and draw.random() < 0.6 else None
    rows = []
    for _ in range(height):
        row = cells(width)
        rows.append("%s | %s | %s" % (cells(sides[0]), row, cells(sides[1])) if sides else row)
    with open(os.path.join(folder, "c%d.chart" % seed), "w") as file:
        file.write("\n".join(rows) + "\n")
    per_4_in = Fraction(draw.randint(60, 140), 4)
    text = ["[project]", "worked = " + ("flat" if flat else "round"), "make = %d" % draw.randint(1, 3),
            "[swatch]", "washed = " + draw.choice(("yes", "no")), "over = 4 in",
            "stitches = %s, %s" % (mixed(per_4_in), mixed(per_4_in + Fraction(1, 4))),
            "rows = %s" % mixed(per_4_in + 6)]
    repeats = draw.randint(1, 6)
    wanted = (repeats * width + 12 + Fraction(draw.randint(0, 8 * width), 8)) * 4 / per_4_in
    if draw.random() < 0.7:
        text += ["[measure]", "%s = %s in" % ("width" if flat else "around", mixed(wanted, 8)),
                 "ease = %d %%" % draw.randint(0, 9)]
    fixed = text[-1].startswith("rows")
    text += ["[band all]", "chart = c%d.chart" % seed, "upwards = %d" % draw.randint(1, 2)]
    text += ["repeats = %d" % repeats] if fixed else []
    text += ["begin with = stitch %d" % draw.randint(1, width)] if draw.random() < 0.3 and not sides else []
    text += ["[yarn cream]", "mark = .", "ball = 50 g, 210 m", "[yarn slate]", "mark = x"]
    text += ["[yarn berry]", "mark = o"] if len(marks) == 3 else []
    text += ["[float]", draw.choice(("leave up to = 1 in", "catch at = 3/4 in", "leave up to = 1/2 in")),
             "spare catches = " + draw.choice(("yes", "no")),
             "clear ends = %d" % draw.randint(1, 2), "stagger = %d" % draw.randint(1, 3)]
    edges = draw.choice(("anchor", "turn"))
    text += ["[edges]", "edges = " + edges] if flat or steek else []
    text += ["steek = %d" % steek] if steek else []
    text += ["selvedge = 1"] if flat else []
    path = os.path.join(folder, "p%d.ini" % seed)
    with open(path, "w") as file:
        file.write("\n".join(text) + "\n")


def mixed(value, per=None):
    value = Fraction(math.floor(value * per), per) if per else value
    whole, rest = divmod(value, 1)
    return "%d %s" % (whole, rest) if rest else "%d" % whole


def judge(program, path):
    made = subprocess.run([program, "plan", path, "--as", "json"], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False)
    if made.returncode:
        return "not planned: " + " ".join(made.stderr.decode().split())[-300:]
    return "; ".join(Recount(path, json.loads(made.stdout)).run()[:4])


def main(words):
    if words[0] == "--make":
        for seed in range(int(words[2])):
            make_project(words[1], seed)
        return
    for path in words[1:]:
        why = judge(words[0], path)
        print("bad %s: %s" % (path, why) if why else "ok %s" % path)


if __name__ == "__main__":
    main(sys.argv[1:])
