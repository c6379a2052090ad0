# SPDX-License-Identifier: GPL-3.0-or-later
"""Validate redraws against their schema, and the numbers in them against each other.

python3 tests/schema_redraw.py SCHEMA REDRAW...   prints `ok WHAT` or `bad WHAT: WHY`, a line a check.
"""
import copy
import math
import sys

import jsonschema

from schema import near, strictly, undescribed, verdict


def spoilt(redraw):
    """The same with one thing wrong: each must be refused."""
    for name in redraw:
        one = dict(redraw)
        del one[name]
        yield "without " + name, one
    yield "with a name too many", dict(redraw, extra=1)
    for path, value in ((("stitches", "now"), 0), (("faults", "lost"), -1), (("ways",), []),
                        (("floats_was", "catches_piece"), 1.5), (("chart", "now"), [3]),
                        (("area", "differs_part"), 2), (("worked",), "knit")):
        one = copy.deepcopy(redraw)
        at = one
        for step in path[:-1]:
            at = at[step]
        at[path[-1]] = value
        yield "with %s %r" % (".".join(path), value), one


def unsound(redraw):
    """The same with one number that contradicts another: each must be noticed."""
    for path, by in ((("stitches", "now"), 1), (("stitches", "exact"), 0.5), (("rows", "now_inches"), 0.1),
                     (("rows", "off_part"), 0.01), (("ways", 0, "stitches"), 1),
                     (("ways", 0, "off_part"), 0.02), (("ways", 0, "repeat_off_part"), 0.02),
                     (("row_ways", 0, "rows"), 1), (("floats_now", "longest_inches"), 0.3),
                     (("floats_was", "over_limit_piece"), 1), (("area", "least_part"), 1), (("stretch_part",), 0.05)):
        one = copy.deepcopy(redraw)
        at = one
        for step in path[:-1]:
            at = at[step]
        at[path[-1]] += by
        yield ".".join(str(step) for step in path), one


def floats_of(rows):
    """Lengths of all floats of a chart in the round: gaps of each colour of a row, through the join."""
    for row in rows:
        for colour in set(row):
            at = [i for i, mark in enumerate(row) if mark == colour]
            for here, there in zip(at, at[1:] + [at[0] + len(row)]):
                if there - here > 1:
                    yield there - here - 1


def float_faults(redraw, which):
    """One band in the round without steek or stitches sewn on, floats left up to the limit."""
    gauge, floats = redraw["gauge_" + which], redraw["floats_" + which]
    lengths = list(floats_of(redraw["chart"][which]))
    leave = math.floor(redraw["float_limit_inches"] * gauge["stitches_per_inch"] + 1e-9)
    over = sum(length > leave for length in lengths)
    catches = sum(length // (leave + 1) for length in lengths)
    if max(lengths, default=0) != floats["longest_stitches"]:
        yield "floats_%s: longest" % which
    if floats["catches_repeat"] < catches:
        yield "floats_%s: fewer catches than floats need" % which
    if which == "now" and over * redraw["ways"][0]["repeats"] * redraw["upwards"] != floats["over_limit_piece"]:
        yield "floats_now: over the limit"
    if over and floats["over_limit_piece"] % over or not over and floats["over_limit_piece"]:
        yield "floats_%s: over the limit in whole repeats" % which


def disagreements(redraw, plain_round):
    """What one number says of another."""
    for key, gauge in (("stitches", "stitches_per_inch"), ("rows", "rows_per_inch")):
        line = redraw[key]
        was, now = redraw["gauge_was"][gauge], redraw["gauge_now"][gauge]
        for name, value in (("exact", line["was"] * now / was), ("was_inches", line["was"] / was),
                            ("now_inches", line["now"] / now),
                            ("off_part", line["now_inches"] / line["was_inches"] - 1)):
            if not near(line[name], value):
                yield "%s.%s" % (key, name)
    if not near((1 + redraw["stretch_part"]) * (1 + redraw["rows"]["off_part"]), 1 + redraw["stitches"]["off_part"]):
        yield "stretch_part"
        if line["nearer"] and not near(line["nearer"]["off_part"], line["nearer"]["count"] / line["exact"] - 1):
            yield "%s.nearer" % key
    up = redraw["all_upwards"]
    best = min((abs(n * redraw["rows"]["now_inches"] - up["was_inches"]) for n in range(1, 2000)))
    if (not near(up["was_inches"], redraw["upwards"] * redraw["rows"]["was_inches"])
            or not near(up["now_inches"], redraw["upwards"] * redraw["rows"]["now_inches"])
            or not near(abs(up["nearest_inches"] - up["was_inches"]), best)
            or not near(up["nearest_inches"], up["nearest_upwards"] * redraw["rows"]["now_inches"])
            or not near(up["nearest_off_part"], up["nearest_inches"] / up["was_inches"] - 1)):
        yield "all_upwards"
    for which in ("was", "now"):
        rows = redraw["chart"][which]
        if len(rows) != redraw["rows"][which] or any(len(row) != redraw["stitches"][which] for row in rows):
            yield "chart.%s is not of that size" % which
    sides = sum(len(redraw["chart"][side][0]) for side in ("left_now", "right_now") if redraw["chart"][side])
    per_in = redraw["gauge_now"]["stitches_per_inch"]
    plus = {way["stitches"] - way["repeats"] * way["repeat_stitches"] for way in redraw["ways"]}
    if len(plus) != 1 or min(plus) < sides:
        yield "ways: stitches beside the repeats"
    for way in redraw["ways"]:
        for name, value in (("finished_inches", way["stitches"] / per_in),
                            ("off_part", way["finished_inches"] / redraw["target_inches"] - 1),
                            ("repeat_off_part", way["repeat_stitches"] / redraw["stitches"]["exact"] - 1)):
            if not near(way[name], value):
                yield "ways.%s of %d" % (name, way["repeat_stitches"])
    for way in redraw["row_ways"]:
        if not near(way["off_part"], way["finished_inches"] / redraw["rows"]["was_inches"] - 1):
            yield "row_ways.off_part of %d" % way["rows"]
        if not near(way["finished_inches"] * redraw["gauge_now"]["rows_per_inch"], way["rows"]):
            yield "row_ways.finished_inches of %d" % way["rows"]
    for key, name, count in (("ways", "repeat_stitches", "stitches"), ("row_ways", "rows", "rows")):
        if [way["taken"] for way in redraw[key]] != [True] + [False] * (len(redraw[key]) - 1):
            yield "%s: taken" % key
        if redraw[key][0][name] != redraw[count]["now"]:
            yield "%s: the first is not the chart's" % key
        if len({way[name] for way in redraw[key]}) != len(redraw[key]):
            yield "%s: one twice" % key
    if redraw["area"]["least_part"] > redraw["area"]["differs_part"] + 1e-9:
        yield "area: less than the least"
    for stitch in redraw["changed"]:
        if stitch["row"] > redraw["rows"]["now"] or stitch["column"] > redraw["stitches"]["now"]:
            yield "a changed stitch outside the chart"
    for which in ("was", "now"):
        floats = redraw["floats_" + which]
        if not floats:
            continue
        if not near(floats["longest_inches"] * redraw["gauge_" + which]["stitches_per_inch"],
                    floats["longest_stitches"]):
            yield "floats_%s.longest_inches" % which
        if plain_round:
            yield from float_faults(redraw, which)


def main(schema_path, paths):
    schema = strictly(schema_path)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    missing = undescribed(schema)
    verdict(not missing, "every member is described, required and alone", ", ".join(missing))
    sound = None
    for path in paths:
        name = path.rsplit("/", 1)[-1]
        plain_round = name.startswith("round-")
        try:
            redraw = strictly(path)
        except ValueError as fault:
            verdict(False, name, str(fault))
            continue
        faults = ["%s: %s" % (fault.json_path, fault.message[:120]) for fault in validator.iter_errors(redraw)]
        verdict(not faults, name, "; ".join(faults[:5]))
        if faults:
            continue
        faults = list(disagreements(redraw, plain_round))
        verdict(not faults, name + " agrees with itself", "; ".join(faults[:5]))
        sound = redraw if plain_round else sound
    verdict(sound is not None, "a redraw in the round", "there was none")
    if sound:
        for what, wrong in spoilt(sound):
            verdict(not validator.is_valid(wrong), "a redraw %s is refused" % what, "it was not")
        for what, wrong in unsound(sound):
            verdict(any(disagreements(wrong, True)), "a false %s is noticed" % what, "it was not")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
