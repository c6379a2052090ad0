# SPDX-License-Identifier: GPL-3.0-or-later
"""Validate plans against the schema, and the numbers in them against each other.

python3 tests/schema.py SCHEMA PLAN...   prints `ok WHAT` or `bad WHAT: WHY`, a line a check.
"""
import copy
import json
import math
import sys

import jsonschema


# Only where the project has something for it: without it the plan is to the byte what it was.
SOMETIMES = {"weighed"}


def strictly(path):
    """JSON as RFC 8259 has it: no NaN, no name twice."""
    def once(pairs):
        names = [name for name, _ in pairs]
        if len(set(names)) != len(names):
            raise ValueError("a name twice: %s" % names)
        return dict(pairs)

    def never(word):
        raise ValueError("%s is no JSON" % word)

    with open(path, encoding="utf-8") as file:
        return json.load(file, object_pairs_hook=once, parse_constant=never)


def verdict(good, what, why=""):
    print("ok %s" % what if good else "bad %s: %s" % (what, why))


def undescribed(schema, path=""):
    """Members of the schema that nobody described."""
    found = []
    for name, member in schema.get("properties", {}).items():
        if not member.get("description"):
            found.append(path + "." + name)
        found += undescribed(member, path + "." + name)
        found += undescribed(member.get("items", {}), path + "." + name + "[]")
    if "properties" in schema:
        if schema.get("additionalProperties") is not False:
            found.append(path + " (other names allowed)")
        if sorted(schema.get("required", [])) != sorted(
                set(schema["properties"]) - (SOMETIMES if not path else set())):
            found.append(path + " (not all required)")
    for name, member in schema.get("$defs", {}).items():
        found += undescribed(member, "$defs." + name)
    return found


def spoilt(plan):
    """The same plan with one thing wrong: each must be refused."""
    wrong = []
    for name in plan:
        if name in SOMETIMES:
            continue
        one = dict(plan)
        del one[name]
        wrong.append(("without " + name, one))
    wrong.append(("with a name too many", dict(plan, extra=1)))
    wrong.append(("make 0", dict(plan, make=0)))
    wrong.append(("a count in words", dict(plan, make="two")))
    for name, value in (("repeats", 3.5), ("stitches", -7), ("name", None)):
        if plan["bands"]:
            one = copy.deepcopy(plan)
            one["bands"][0][name] = value
            wrong.append(("bands[0].%s = %r" % (name, value), one))
    if plan["yarn"]:
        one = copy.deepcopy(plan)
        del one["yarn"][0]["parts"]["rib_m"]
        wrong.append(("a part of the metres missing", one))
    return wrong


def unsound(plan):
    """The same plan with one number that contradicts another: each must be noticed."""
    for path, by in ((("bands", 0, "stacked"), 1), (("bands", 0, "touching"), 2),
                     (("bands", 0, "stitches"), 3), (("yarn", 0, "length_m"), 0.125),
                     (("yarn", 0, "parts", "stitches_m"), 0.25), (("piece", "catches"), 4),
                     (("yarn", 0, "parts_each", "plain_m"), 0.5), (("yarn", 0, "each_m"), 0.75),
                     (("bands", 0, "colours", 0, "catches_fewest"), 1),
                     (("bands", 0, "colours", 0, "longest_inches"), 0.5)):
        one = copy.deepcopy(plan)
        at = one
        for step in path[:-1]:
            at = at[step]
        at[path[-1]] += by
        yield ".".join(str(step) for step in path), one


def near(a, b):
    return math.isclose(a, b, rel_tol=1e-7, abs_tol=1e-6)


def disagreements(plan):
    """What one number says of another. The definitions are those of docs/terms.md."""
    for band in plan["bands"]:
        where = band["name"]
        caught = {}
        for catch in band["catches"]:
            caught[catch["strand"]] = caught.get(catch["strand"], 0) + 1
            if not (1 <= catch["row"] <= band["rows"] and
                    1 <= catch["column"] <= band["repeat_stitches"]):
                yield "%s: a catch outside the repeat" % where
            if catch["strand"] == catch["behind"]:
                yield "%s: a strand caught behind its own stitch" % where
        order = [(c["row"], c["column"]) for c in band["catches"]]
        if order != sorted(order):
            yield "%s: catches out of order" % where
        if band["stitches"] != band["repeats"] * band["repeat_stitches"]:
            yield "%s: stitches are not repeats x repeat_stitches" % where
        for colour in band["colours"]:
            if colour["catches"] != caught.get(colour["yarn"], 0):
                yield "%s: catches of %s do not add up" % (where, colour["yarn"])
            if colour["catches"] != colour["catches_fewest"] + colour["spares"]:
                yield "%s: fewest and spares of %s do not add up" % (where, colour["yarn"])
            if (colour["longest_stitches"] > band["leave_stitches"]) != (colour["over_limit"] > 0):
                yield "%s: over_limit of %s" % (where, colour["yarn"])
            if not near(colour["longest_inches"] * plan["gauge"]["stitches_per_inch"],
                        colour["longest_stitches"]):
                yield "%s: longest_inches of %s" % (where, colour["yarn"])
            if sum(h["floats"] for h in colour["histogram"]) != colour["floats"]:
                yield "%s: histogram of %s" % (where, colour["yarn"])
        for key, total in (("catches", "catches_repeat"), ("over_limit", "over_limit"),
                           ("catches_fewest", "catches_fewest_repeat")):
            if sum(c[key] for c in band["colours"]) != band[total]:
                yield "%s: %s" % (where, total)
        stacked, touching, doubled = pairs(plan, band)
        if (stacked, touching, doubled) != (band["stacked"], band["touching"], band["doubled"]):
            yield "%s: pairs counted here %s, there %s" % (
                where, (stacked, touching, doubled),
                (band["stacked"], band["touching"], band["doubled"]))
    for yarn in plan["yarn"]:
        four = yarn["stitch_m"] + yarn["float_m"] + yarn["catch_m"] + yarn["other_m"]
        if not near(four, yarn["length_m"]):
            yield "%s: length_m is not the sum of its four" % yarn["yarn"]
        if not near(sum(yarn["parts"].values()), yarn["length_m"]):
            yield "%s: length_m is not the sum of its parts" % yarn["yarn"]
        if not near(sum(yarn["parts_each"].values()), yarn["each_m"]):
            yield "%s: each_m is not the sum of its parts" % yarn["yarn"]
        for part, metres in yarn["parts"].items():
            each = yarn["parts_each"][part]
            if part == "swatch_m":
                if each != 0:
                    yield "%s: a swatch in every piece" % yarn["yarn"]
            elif not near(each * plan["make"], metres):
                yield "%s: %s is not that of each piece times the pieces" % (yarn["yarn"], part)
        if yarn["buy"]:
            buy = yarn["buy"]
            if not near(yarn["grams"] * buy["ball_m"], yarn["length_m"] * buy["ball_g"]):
                yield "%s: grams" % yarn["yarn"]
            if not near(yarn["balls"] * buy["ball_m"] - buy["need_m"], buy["left_m"]):
                yield "%s: left_m" % yarn["yarn"]
            if buy["need_m"] < (yarn["length_m"] * (1 + yarn["margin_part"]) -
                                buy["have_m"] - 1e-6):
                yield "%s: the margin is not in need_m" % yarn["yarn"]
    for choice in plan["duplicate"]:
        where = "%s of %s" % (choice["yarn"], choice["band"])
        if sum(r["stitches"] for r in choice["rows"]) != choice["stitches"]:
            yield "%s: stitches of the rows do not add up" % where
        for way in ("stranded", "sewn"):
            for key in ("catches", "rows_three_colours"):
                if sum(r[way][key] for r in choice["rows"]) != choice[way][key]:
                    yield "%s: %s %s do not add up" % (where, way, key)
        for key, of in (("own_m", None), ("all_m", "yarn_m"), ("hours", "hours")):
            if not near(sum(r["stranded"][key] for r in choice["rows"]), choice["stranded"][key]):
                yield "%s: stranded %s does not add up" % (where, key)
            if of and not near(choice["stranded"][key] - choice["sewn"][key], choice["saved"][of]):
                yield "%s: saved %s" % (where, of)
    if plan["exchanged"]:
        names = [y["yarn"] for y in plan["yarn"]]
        other = plan["exchanged"]["yarn"]
        if [y["yarn"] for y in other] != names:
            yield "exchanged: other yarns"
        if sum(y["catches"] for y in other) != sum(y["catches"] for y in plan["yarn"]):
            yield "exchanged: other catches in all"
        more = sum(y["length_m"] for y in other) - sum(y["length_m"] for y in plan["yarn"])
        if abs(more) > 2 * plan["make"]: # waits and ends alone may differ
            yield "exchanged: %.3g m more in all" % more
    for step in plan["steps"]:
        if step["counted_otherwise"] or step["kind"] == "cast on":
            continue
        if step["kind"] != "shape" and step["from_stitches"] != step["to_stitches"]:
            yield "%s changes the count" % step["kind"]
    yield from weighed_disagreements(plan)
    if plan["piece"]["catches"] != sum(b["catches_piece"] for b in plan["bands"]):
        yield "catches of the piece"
    for one in plan["tries"]:
        if one["fits"] and plan["bands"] and one["repeats"] != one["bands"][0]["repeats"]:
            yield "repeats of try %s" % one["name"]


def weighed_disagreements(plan):
    """Weighings: what was used is what the weights differ by, and so what was reckoned."""
    weighed = plan.get("weighed")
    if not weighed:
        return
    for yarn in weighed["yarns"]:
        was = should = yarn["start_g"]
        for one in weighed["readings"]:
            if one["yarn"] != yarn["yarn"]:
                continue
            if not near(was - one["used_g"], one["weighed_g"]):
                yield "weighing %d of %s: used_g" % (one["weighing"], yarn["yarn"])
            if not near(should - one["reckoned_g"], one["should_g"]):
                yield "weighing %d of %s: reckoned_g" % (one["weighing"], yarn["yarn"])
            was, should = one["weighed_g"], one["should_g"]
        if not near(was, yarn["left_g"]):
            yield "%s: left_g is not its last weight" % yarn["yarn"]
        if not near(yarn["before"]["rest_g"] * yarn["factor"], yarn["after"]["rest_g"]):
            yield "%s: factor" % yarn["yarn"]
        if yarn["runs_out"] and yarn["after"]["chance"] > 0.5:
            yield "%s: runs out, and is enough" % yarn["yarn"]
        last = weighed["ahead"][-1] if weighed["ahead"] else None
        index = [y["yarn"] for y in plan["yarn"]].index(yarn["yarn"])
        if last and not near(yarn["left_g"] - yarn["after"]["rest_g"], last["left_g"][index]):
            yield "%s: what is left in the end" % yarn["yarn"]


def pairs(plan, band):
    """Stacked, touching, doubled, straight from their definitions."""
    width, rows = band["repeat_stitches"], band["rows"]
    at = {}
    for catch in band["catches"]:
        cell = (catch["row"], catch["column"])
        at[cell] = at.get(cell, 0) + 1
    doubled = sum(n * (n - 1) // 2 for n in at.values())
    stacked = touching = 0
    for (row, column), n in at.items():
        above = row + 1
        if row == rows:
            if band["upwards"] == 1:
                continue
            above = 1
        stacked += n * at.get((above, column), 0)
        for step in (-1, 1):
            touching += n * at.get((above, (column - 1 + step) % width + 1), 0)
    return stacked, touching, doubled


def main(schema_path, plan_paths):
    schema = strictly(schema_path)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    missing = undescribed(schema)
    verdict(not missing, "every member is described, required and alone", ", ".join(missing))
    sound = None
    for path in plan_paths:
        name = path.rsplit("/", 1)[-1]
        try:
            plan = strictly(path)
        except ValueError as fault:
            verdict(False, name, str(fault))
            continue
        faults = ["%s: %s" % (fault.json_path, fault.message[:120])
                  for fault in validator.iter_errors(plan)]
        verdict(not faults, name, "; ".join(faults[:5]))
        if faults:
            continue
        sound = plan
        faults = list(disagreements(plan))
        verdict(not faults, name + " agrees with itself", "; ".join(faults[:5]))
    if sound:
        for what, wrong in spoilt(sound):
            verdict(not validator.is_valid(wrong), "a plan %s is refused" % what, "it was not")
        for what, wrong in unsound(sound):
            verdict(any(disagreements(wrong)), "a false %s is noticed" % what, "it was not")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
