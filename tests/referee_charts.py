# SPDX-License-Identifier: GPL-3.0-or-later
"""Charts for tests/referee.py, always the same ones, each written as a small project."""
import os
from fractions import Fraction


class Draw:
    """Numbers by x -> a x + c mod 2^64 (the constants of Knuth's MMIX), its upper half."""

    def __init__(self, seed):
        self.state = seed
        self.below(1)

    def below(self, n):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % (1 << 64)
        return (self.state >> 32) * n >> 32


def hills(draw, width, height):
    """Heights that change slowly; the edges meet."""
    field = [[draw.below(1000) for _ in range(width)] for _ in range(height)]
    for _ in range(3):
        field = [[sum(field[(y + b) % height][(x + a) % width] for a in (-2, -1, 0, 1, 2)
                      for b in (-1, 0, 1)) // 15 for x in range(width)] for y in range(height)]
    return field


def make_blobs(draw, width, height):
    field = hills(draw, width, height)
    middle = sorted(sum(field, []))[width * height * 45 // 100]
    return [[int(cell > middle) for cell in row] for row in field]


def make_solid(draw, width, height):
    """One rectangle in another, and a heart-like lump that leans on them."""
    rows = [[0] * width for _ in range(height)]
    inset, step = 1, 2 + draw.below(2)
    colour = 1
    while 2 * inset < min(width, height) - 2:
        for y in range(inset, height - inset):
            for x in range(inset, width - inset):
                rows[y][x] = colour
        colour, inset = 1 - colour, inset + step + draw.below(4)
    cx, cy, size = draw.below(width), height // 2, max(2, height // 3)
    for y in range(height):
        half = size - abs(y - cy) - (y > cy) * (abs(y - cy) // 2)
        for x in range(cx - half, cx + half + 1):
            rows[y][x % width] = 1 - (abs(x - cx) + y) % 7 // 6
    return rows


def make_dots(draw, width, height):
    """Bands of one colour with a dot of the other here and there."""
    every, deep = 6 + draw.below(6), 3 + draw.below(3)
    shift = draw.below(every)
    return [[int((y // deep) % 2 != ((x + shift * (y // 2)) % every < 1 + (y % 5 == 0)))
             for x in range(width)] for y in range(height)]


def make_geometric(draw, width, height):
    """Diamonds in a half-drop all over, each with a dot in the middle."""
    across = next(p for p in (18, 16, 14, 12, 10, 8, 9, 7, 5, 3, width) if width % p == 0)
    up = 10 + 2 * draw.below(3)
    rows = []
    for y in range(height):
        row = []
        for x in range(width):
            far = abs(2 * (x % across) - across) * up + abs(2 * (y % up) - up) * across
            fifths = far * 5 // (across * up)
            row.append(int(fifths >= 5) ^ (fifths in (0, 9)))
        rows.append(row)
    return rows


def make_three(draw, width, height):
    """Three colours in every row, in patches."""
    fields = [hills(draw, width, height) for _ in range(3)]
    rows = [[max((0, 1, 2), key=lambda i: (fields[i][y][x], i)) for x in range(width)]
            for y in range(height)]
    for y, row in enumerate(rows):
        for colour in range(3):
            row[(7 * colour + 5 * y + draw.below(2)) % width] = colour
    return rows


def make_runs(draw, width, height, colours=2):
    """Runs of any length up to a third of the row, each row for itself."""
    rows = []
    for _ in range(height):
        row = []
        while len(row) < width:
            row += [draw.below(colours)] * (1 + draw.below(max(2, width // 2)))
        rows.append(row[:width])
    return rows


def make_runs_three(draw, width, height):
    return make_runs(draw, width, height, 3)


KINDS = ("blobs", "solid", "dots", "geometric", "three")  # those of the bench
MAKERS = {"blobs": make_blobs, "solid": make_solid, "dots": make_dots,
          "geometric": make_geometric, "three": make_three, "runs": make_runs,
          "runs-three": make_runs_three}


class Case:
    """A chart with its rules. Rows from the bottom, stitches from the right."""

    def __init__(self, name, rows, leave, spare, stagger=2, upwards=1, clear_ends=1):
        self.name, self.rows = name, rows
        self.leave, self.spare, self.stagger = leave, spare, stagger
        self.upwards, self.clear_ends = upwards, clear_ends

    def picture(self):
        """As a chart is written; empty squares as -."""
        mark = {None: "-", "cream": ".", "slate": "x", "berry": "o"}
        lines = ["".join(mark.get(y, str(y)[0]) for y in row[::-1]) for row in self.rows[::-1]]
        return "\n".join(lines)


def made_case(kind, width, height, leave, spare, seed=1, **rules):
    draw = Draw(seed * 1000003 + sum(map(ord, kind)) * 8191 + width * 127 + height)
    rows = [[".xo"[cell] for cell in row] for row in MAKERS[kind](draw, width, height)]
    name = "%s %dx%d m=%d %s" % (kind, width, height, leave, "spares" if spare else "no-spares")
    if rules:
        name += "".join(" %s=%d" % (key, rules[key]) for key in sorted(rules))
    return Case("%s seed=%d" % (name, seed), rows, leave, spare, **rules)


def mixed(value):
    whole, rest = divmod(value, 1)
    return " ".join(str(part) for part in (whole, rest) if part)


def write_project(folder, case):
    """8 stitches to the inch, so the limit is the m wanted in eighths of an inch."""
    used = {y for row in case.rows for y in row}
    names = {".": "cream", "x": "slate", "o": "berry"}
    text = ["[project]", "worked = round", "[swatch]", "over = 4 in", "stitches = 32, 32",
            "rows = 40, 40", "[band all]", "chart = a.chart", "repeats = 3",
            "upwards = %d" % case.upwards]
    for mark in sorted(used):
        text += ["[yarn %s]" % names[mark], "mark = %s" % mark]
    text += ["[float]", "leave up to = %s in" % mixed(Fraction(case.leave, 8)),
             "spare catches = %s" % ("yes" if case.spare else "no"), "placement = best",
             "stagger = %d" % case.stagger, "clear ends = %d" % case.clear_ends]
    with open(os.path.join(folder, "a.chart"), "w", encoding="utf-8") as file:
        file.write("\n".join("".join(row[::-1]) for row in case.rows[::-1]) + "\n")
    path = os.path.join(folder, "a.ini")
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(text) + "\n")
    case.rows = [[names[y] for y in row] for row in case.rows]
    return path
