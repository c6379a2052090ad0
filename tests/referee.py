# SPDX-License-Identifier: GPL-3.0-or-later
"""The best placement of catches, judged by two integer-programming solvers.

python3 tests/referee.py --small PROGRAM PROJECT...    small charts, and projects: `ok WHAT` or
                                                       `bad WHAT: WHY` with the chart
python3 tests/referee.py --bench PROGRAM               larger charts: a table; --help lists options
python3 tests/referee.py --write FILE                  an integer programme, to be looked at

Charts are made by referee_charts.py, always the same ones; floats, pairs and pieces are found from
the words of docs/terms.md; what is best is found by `glpsol` and `cbc`, each from the same text,
one term after the other, each held at its optimum while the next is sought. Nothing is taken from
the program but the plan that is judged.
"""
import argparse
import concurrent.futures
import itertools
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

import recount
from referee_charts import KINDS, MAKERS, Case, made_case, write_project

TERMS = ("stacks", "catches", "near", "ends", "squares")
SOLVERS = {"glpsol": "glpk-utils", "cbc": "coinor-cbc"}


# --- floats, pairs and pieces, from their definitions -----------------------------------------

class Float:
    """A float that must be caught: columns[p - 1] lies before its stitch p."""

    def __init__(self, case, row, yarn, columns):
        self.row, self.yarn, self.columns = row, yarn, columns
        self.n = len(columns)
        self.fewest = self.n // (case.leave + 1)
        self.spare = case.spare and self.fewest + 1 <= self.n - 2
        self.most = self.fewest + self.spare

    def places(self):
        return range(2, self.n) if self.n >= 3 else range(1, self.n + 1)


def list_floats(case):
    floats = []
    for r, cells in enumerate(case.rows):
        columns = [c for c, y in enumerate(cells) if y is not None]
        row = [cells[c] for c in columns]
        for yarn in sorted(set(row)):
            for start, n in recount.ring_floats(row, yarn):
                if n > case.leave:
                    floats.append(Float(case, r, yarn, [columns[(start + p) % len(row)]
                                                        for p in range(1, n + 1)]))
    return floats


def row_pairs(case):
    """(row, row above it)."""
    height = len(case.rows)
    return [(r, r + 1) for r in range(height - 1)] + ([(height - 1, 0)] if case.upwards > 1 else [])


def columns_apart(case, below, above, apart):
    """How many of +apart and -apart lead from one column to the other; 0 counts once."""
    width = len(case.rows[0])
    return sum((below + away) % width == above for away in {apart, -apart})


def count_pairs(case, catches):
    """catches: (row, column, strand). stacked, doubled, and [apart]: pairs so far apart."""
    apart = [0] * 3
    rows = {}
    for row, column, _ in catches:
        rows.setdefault(row, []).append(column)
    for below, above in row_pairs(case):
        for a in rows.get(below, ()):
            for b in rows.get(above, ()):
                for away in range(3):
                    apart[away] += columns_apart(case, a, b, away)
    doubled = sum(cells[:i].count(c) for cells in rows.values() for i, c in enumerate(cells))
    return apart[0], doubled, apart


def count_terms(case, floats, positions):
    """The five terms of a whole placing; positions[i] of floats[i]."""
    catches = [(f.row, f.columns[p - 1], f.yarn) for f, taken in zip(floats, positions)
               for p in taken]
    stacked, doubled, apart = count_pairs(case, catches)
    squares = ends = 0
    for f, taken in zip(floats, positions):
        stops = [0] + sorted(taken) + [f.n + 1]
        squares += sum((b - a - 1) ** 2 for a, b in zip(stops, stops[1:]))
        if case.clear_ends > 1:
            ends += sum(p <= 2 or p >= f.n - 1 for p in taken)
    return (stacked + doubled, len(catches), sum(apart[1:case.stagger]), ends, squares)


# --- the integer programme --------------------------------------------------------------------

class Programme:
    """A way from 0 to n + 1 through each float, catch after catch; a name for every step.

    x = 1: caught there. a: a piece, from catch j at p to the next at q. y: two catches that meet.
    """

    def __init__(self, case, floats):
        self.case, self.floats = case, floats
        self.rows, self.binary = [], []
        self.term = {name: {} for name in TERMS}
        self.constant = sum(f.fewest for f in floats)
        for i, f in enumerate(floats):
            self.add_float(i, f)
        self.add_meetings()

    def add(self, term, name, weight):
        if weight:
            self.term[term][name] = self.term[term].get(name, 0) + weight

    def add_row(self, terms, relation, value):
        self.rows.append((terms, relation, value))

    def steps(self, f):
        """(j, p, q): a piece from catch j at p to catch j + 1 at q; q = n + 1: the end."""
        leave, forward, found = self.case.leave, {(0, 0)}, []
        for j in range(f.most):
            for p in [p for i, p in sorted(forward) if i == j]:
                for q in f.places():
                    if 0 < q - p <= leave + 1:
                        forward.add((j + 1, q))
                        found.append((j, p, q))
        found += [(j, p, f.n + 1) for j, p in sorted(forward)
                  if j >= f.fewest and f.n - p <= leave]
        useful, kept = set(), []
        for j, p, q in sorted(found, reverse=True):
            if q == f.n + 1 or (j + 1, q) in useful:
                useful.add((j, p))
                kept.append((j, p, q))
        return kept[::-1]

    def add_float(self, i, f):
        into, out, at = {}, {}, {}
        for j, p, q in self.steps(f):
            name = "a%d_%d_%d_%d" % (i, j, p, q)
            out.setdefault((j, p), []).append(name)
            if q <= f.n:
                into.setdefault((j + 1, q), []).append(name)
                at.setdefault(q, []).append(name)
                if j + 1 > f.fewest:
                    self.add("catches", name, 1)
            self.add("squares", name, (q - p - 1) ** 2)
        self.add_row([(1, name) for name in out[0, 0]], "=", 1)
        for node, names in sorted(into.items()):
            self.add_row([(1, n) for n in names] + [(-1, n) for n in out[node]], "=", 0)
        f.caught = {}
        for p, names in sorted(at.items()):
            name = f.caught[p] = "x%d_%d" % (i, p)
            self.binary.append(name)
            self.add_row([(1, n) for n in names] + [(-1, name)], "=", 0)
            if self.case.clear_ends > 1 and (p <= 2 or p >= f.n - 1):
                self.add("ends", name, 1)

    def add_meetings(self):
        """y >= x + x' - 1 for each two that meet; a catch that meets itself needs none."""
        case, meet, rows = self.case, {}, {}
        for f in self.floats:
            for p, name in f.caught.items():
                rows.setdefault(f.row, []).append((f.columns[p - 1], name, f.yarn))

        def note(a, b, term, weight):
            key = (min(a, b), max(a, b))
            if weight:
                meet.setdefault(key, {}).setdefault(term, 0)
                meet[key][term] += weight

        for below, above in row_pairs(case):
            for ca, a, _ in rows.get(below, ()):
                for cb, b, _ in rows.get(above, ()):
                    note(a, b, "stacks", columns_apart(case, ca, cb, 0))
                    for apart in range(1, case.stagger):
                        note(a, b, "near", columns_apart(case, ca, cb, apart))
        for cells in rows.values():
            for k, (ca, a, ya) in enumerate(cells):
                for cb, b, yb in cells[:k]:
                    note(a, b, "stacks", int(ca == cb and ya != yb))
        for number, ((a, b), weights) in enumerate(sorted(meet.items())):
            name = a if a == b else "y%d" % number
            for term, weight in weights.items():
                self.add(term, name, weight)
            if a != b:
                self.add_row([(1, a), (1, b), (-1, name)], "<=", 1)

    def text(self, term, held):
        """CPLEX LP format; held: {term: most}."""
        rows = self.rows + [([(w, n) for n, w in self.term[name].items()], "<=", most)
                            for name, most in held.items() if self.term[name]]
        lines = ["Minimize", " goal: " + joined((w, n) for n, w in self.term[term].items()),
                 "Subject To"]
        lines += [" r%d: %s %s %d" % (i, joined(terms), relation, value)
                  for i, (terms, relation, value) in enumerate(rows, 1)]
        return "\n".join(lines + ["Binaries"] + [" " + name for name in self.binary] + ["End", ""])


def joined(terms):
    words = ["%s %s%s" % ("-" if w < 0 else "+", "" if abs(w) == 1 else "%d " % abs(w), n)
             for w, n in terms]
    return "\n  ".join(" ".join(words[i:i + 8]) for i in range(0, len(words), 8))


# --- the solvers ------------------------------------------------------------------------------

def run_glpsol(path, text, seconds):
    """(status, names at 1). The solution file numbers the columns as the text first names them."""
    answer = path + ".glpsol"
    subprocess.run(["glpsol", "--lp", path, "--cuts", "--tmlim", str(max(1, int(seconds))),
                    "-w", answer], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True,
                   timeout=seconds + 20)
    body = text[text.index("goal:"):text.index("Binaries")]
    names = list(dict.fromkeys(re.findall(r"\b[axy][0-9_]+\b", body)))
    status, ones = None, set()
    for line in open(answer, encoding="ascii"):
        words = line.split()
        if words[0] == "s" and words[1] == "mip":
            status = {"o": "optimal", "n": "infeasible"}.get(words[4], "unfinished")
        elif words[0] == "j" and float(words[2]) > 0.5:
            ones.add(names[int(words[1]) - 1])
    return status, ones


def run_cbc(path, _, seconds):
    answer = path + ".cbc"
    subprocess.run(["cbc", path, "-sec", str(seconds), "-timeMode", "elapsed", "-solve",
                    "-solution", answer], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                   check=True, timeout=seconds + 20)
    lines = open(answer, encoding="ascii").read().splitlines()
    status = ("optimal" if lines[0].startswith("Optimal") else
              "infeasible" if lines[0].startswith("Infeasible") else "unfinished")
    ones = set()
    for line in lines[1:]:
        words = line.replace("**", "").split()
        if float(words[2]) > 0.5:
            ones.add(words[1])
    return status, ones


class Verdict:
    """What one solver found: each term it proved, and in how long."""

    def __init__(self):
        self.terms, self.seconds, self.finished, self.fault = {}, 0.0, False, None


def ask(solver, case, floats, programme, folder, limit):
    verdict = Verdict()
    run = {"glpsol": run_glpsol, "cbc": run_cbc}[solver]
    for term in TERMS:
        constant = programme.constant if term == "catches" else 0
        if not programme.term[term]:
            verdict.terms[term] = constant
            continue
        text = programme.text(term, {name: value - (programme.constant if name == "catches" else 0)
                                     for name, value in verdict.terms.items()})
        path = os.path.join(folder, "a.lp")
        with open(path, "w", encoding="ascii") as file:
            file.write(text)
        left = limit - verdict.seconds
        if left < 1:
            return verdict
        started = time.monotonic()
        try:
            status, ones = run(path, text, left)
        except subprocess.TimeoutExpired:
            status, ones = "unfinished", set()
        except (subprocess.CalledProcessError, OSError) as why:
            verdict.fault = "%s does not run: %s" % (solver, why)
            return verdict
        verdict.seconds += time.monotonic() - started
        if status == "unfinished":
            return verdict
        if status == "infeasible":
            verdict.fault = "%s finds no placing at all at %s" % (solver, term)
            return verdict
        taken = [[p for p, name in sorted(f.caught.items()) if name in ones] for f in floats]
        counted = dict(zip(TERMS, count_terms(case, floats, taken)))
        for name, value in verdict.terms.items():
            if counted[name] != value:
                verdict.fault = "%s lets %s slip from %d to %d at %s" % (
                    solver, name, value, counted[name], term)
                return verdict
        verdict.terms[term] = counted[term]
    verdict.finished = True
    return verdict


# --- the program's plan -----------------------------------------------------------------------

def plan_of(program, path, times=1):
    """(plan, seconds of the fastest of several runs, from start to end of the process)."""
    fastest = None
    for _ in range(times):
        started = time.monotonic()
        made = subprocess.run([program, "plan", path, "--as", "json"], stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, check=False)
        took = time.monotonic() - started
        fastest = took if fastest is None else min(fastest, took)
    if made.returncode:
        raise ValueError("not planned: " + " ".join(made.stderr.decode().split())[-300:])
    return json.loads(made.stdout), fastest


def judge_plan(case, floats, band, faults):
    """The five terms of the program's placing; what is wrong with it goes to faults."""
    left = {}
    for catch in band["catches"]:
        key = (catch["row"] - 1, catch["strand"])
        left.setdefault(key, []).append(catch["column"] - 1)
    positions = []
    for f in floats:
        caught = left.get((f.row, f.yarn), [])
        taken = [p for p, c in enumerate(f.columns, 1) if c in caught]
        for p in taken:
            caught.remove(f.columns[p - 1])
        fault = recount.judge_float(f.n, taken, case.leave, case.spare)
        if fault:
            faults.append("row %d %s: %s" % (f.row + 1, f.yarn, fault))
        positions.append(taken)
    if any(left.values()):
        faults.append("caught where nothing is to be caught")
    stacked, doubled, apart = count_pairs(case, [
        (c["row"] - 1, c["column"] - 1, c["strand"]) for c in band["catches"]])
    for what, ours in (("stacked", stacked), ("doubled", doubled), ("touching", apart[1]),
                       ("catches_repeat", len(band["catches"])), ("placement", "best")):
        if band[what] != ours:
            faults.append("%s is %s here, %s in the plan" % (what, ours, band[what]))
    return dict(zip(TERMS, count_terms(case, floats, positions)))


def compare(band, found, verdict, solver, faults):
    """Term by term, as far as the solver proved them."""
    if verdict.fault:
        faults.append(verdict.fault)
    equal = True
    for term in TERMS:
        if term not in verdict.terms:
            return
        best = verdict.terms[term]
        if band["at_least"].get(term, 0) > best:
            faults.append("at least %d %s says the plan, %s finds %d" % (
                band["at_least"][term], term, solver, best))
        if equal and (found[term] < best or (band["proven"] and found[term] != best)):
            faults.append("%d %s in the plan, proven: %s; %s finds %d" % (
                found[term], term, band["proven"], solver, best))
        equal = equal and found[term] == best


def judge_proof(band, found, faults):
    for term in ("stacks", "catches", "near", "squares"):
        bound = band["at_least"][term]
        if band["proven"] and bound != found[term]:
            faults.append("proven, but at least %d %s and %d placed" % (bound, term, found[term]))
        if found[term] != bound:
            return


class Result:
    def __init__(self, case):
        self.case, self.faults, self.verdicts = case, [], {}
        self.found, self.band, self.seconds = {}, None, 0.0

    def equal(self):
        """Every term of every solver that proved it equals the plan's."""
        terms = [(v.terms[t], self.found[t]) for v in self.verdicts.values() for t in v.terms]
        return all(a == b for a, b in terms) if terms else None


def judge_band(case, band, folder, limit, solvers=tuple(SOLVERS)):
    result = Result(case)
    floats = list_floats(case)
    result.band = band
    result.found = judge_plan(case, floats, band, result.faults)
    if band["at_least"] is None:
        result.faults.append("no bound in the plan")
        return result
    judge_proof(band, result.found, result.faults)
    programme = Programme(case, floats)
    for solver in solvers:
        verdict = ask(solver, case, floats, programme, folder, limit)
        result.verdicts[solver] = verdict
        compare(band, result.found, verdict, solver, result.faults)
    return result


def judge_case(program, case, limit, times=1, solvers=tuple(SOLVERS)):
    with tempfile.TemporaryDirectory() as folder:
        path = write_project(folder, case)
        try:
            plan, seconds = plan_of(program, path, times)
        except ValueError as why:
            result = Result(case)
            result.faults.append(str(why))
            return result
        result = judge_band(case, plan["bands"][0], folder, limit, solvers)
        result.seconds = seconds
    return result


def example_cases(program, path):
    """(case, band of the plan) for each band of a project; its charts as recount.py reads them."""
    plan, _ = plan_of(program, path)
    own = recount.Recount(path, plan)
    own.gauge()
    for (name, keys), band in zip(own.bands, plan["bands"]):
        rows = recount.read_band(own.folder, keys, own.marks, own.shades)
        rows = [[own.knitted(y) for y in row[1]] for row in rows]
        yield Case("%s, band %s" % (path, name), rows, own.leave, own.spare,
                   int(own.float.get("stagger", "2").split()[0]), int(keys.get("upwards", "1")),
                   int(own.float.get("clear ends", "1").split()[0])), band


# --- small: in every run of the tests -----------------------------------------------------------

def small_cases():
    sizes = {"blobs": (12, 10), "solid": (11, 9), "dots": (12, 9), "geometric": (16, 14),
             "three": (8, 6), "runs": (12, 10), "runs-three": (8, 6)}
    hard = ("dots", "geometric")  # with a stagger of 3 the solvers take long
    for k, (kind, (width, height)) in enumerate(sizes.items()):
        for leave in (1, 2, 3, 4, 5, 7, 12):
            if leave + 2 <= width:
                yield made_case(kind, width, height, leave, (leave + k) % 2 == 0, leave + k,
                                stagger=min(1 + (leave + k) % 3, 2 if kind in hard else 3),
                                upwards=1 + (leave // 2 + k) % 2,
                                clear_ends=1 + ((leave + k) % 3 == 0))
    for height in (1, 2, 3):  # a band that stands on itself; narrow rings
        for width in (2, 3, 5, 11):
            for kind in ("runs", "runs-three"):
                yield made_case(kind, width, height, 1 + width // 4, height != 2, 3 + width,
                                stagger=3, upwards=2)


def example_jobs(program, paths, limit):
    for path in paths:
        with tempfile.TemporaryDirectory() as folder:
            for case, band in example_cases(program, path):
                if band["placement"] == "quick":
                    continue  # she asked for it: nothing is claimed to be best
                yield judge_band(case, band, folder, limit)


def say(result):
    if result.faults:
        print("bad %s: %s" % (result.case.name, "; ".join(result.faults[:4])))
        print("# " + result.case.picture().replace("\n", "\n# "))
    else:
        print("ok %s" % result.case.name)
    sys.stdout.flush()


def run_small(program, paths, limit, only):
    """Unfinished is a fault here: these are all small. Two at a time."""
    cases = [case for case in small_cases() if only in case.name]
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        made = pool.map(lambda case: judge_case(program, case, limit), cases)
        for result in itertools.chain(made, example_jobs(program, paths, limit)):
            for solver, verdict in result.verdicts.items():
                if not verdict.finished and not verdict.fault:
                    result.faults.append("%s did not finish in %d s" % (solver, limit))
            say(result)


# --- bench -------------------------------------------------------------------------------------

def bench_cases(words):
    """m goes from chart to chart through the list, unless every one is wanted."""
    sizes = [tuple(int(n) for n in size.split("x")) for size in words.sizes.split(",")]
    leaves = [int(n) for n in words.leave.split(",")]
    for s, (width, height) in enumerate(sizes):
        for spare in (False, True):
            for k, kind in enumerate(words.kinds.split(",")):
                for leave in leaves if words.all else [leaves[(k + s) % len(leaves)]]:
                    yield made_case(kind, width, height, leave, spare)


def solver_words(verdict):
    if verdict.finished:
        return "%.2f s" % verdict.seconds
    return ">%.0f s (%d of 5)" % (verdict.seconds, len(verdict.terms))


def bench_line(result):
    done = [v.seconds for v in result.verdicts.values() if v.finished]
    found = result.found
    equal = {True: "yes", False: "see below", None: "-"}[result.equal()]
    if result.faults:
        equal = "NO"
    return "%-33s %4d/%d/%d/%d %6s %9.1f ms %15s %15s %8s  %s" % (
        result.case.name.replace(" seed=1", ""), found["stacks"], found["catches"], found["near"],
        found["squares"], "yes" if result.band["proven"] else "no", 1000 * result.seconds,
        solver_words(result.verdicts["glpsol"]), solver_words(result.verdicts["cbc"]),
        "%.0f" % (min(done) / result.seconds) if done else "-", equal)


def run_bench(program, words):
    print("The program: the whole process from start to end, best of 3. The solvers: the sum of "
          "their runs,\na run a term, each from start to end, reading included; up to %d s. Ratio: "
          "the faster solver that\nfinished against the program. Equal: every term the solvers "
          "proved.\n" % words.limit)
    print("%-33s %s proven    program          glpsol             cbc    ratio  equal" % (
        "chart", "stacks/catches/near/squares"))
    ends = time.monotonic() + 60 * words.minutes
    results, left_out = [], 0
    # Three colours last: no solver ends there, and the minutes are better spent elsewhere.
    for case in sorted(bench_cases(words), key=lambda case: case.name.startswith("three")):
        if time.monotonic() > ends:
            left_out += 1
            continue
        results.append(judge_case(program, case, words.limit, 3))
        if not results[-1].verdicts:
            continue
        print(bench_line(results[-1]))
        for solver, verdict in results[-1].verdicts.items():
            if any(results[-1].found[t] != v for t, v in verdict.terms.items()):
                print("    %s: %s" % (solver, verdict.terms))
        sys.stdout.flush()
    for result in results:
        if result.faults:
            say(result)
    finished = [r for r in results if any(v.finished for v in r.verdicts.values())]
    bad = sum(1 for r in results if r.faults)
    print("\n%d charts: %d finished by a solver, %d of them equal in every term; %d with a fault; "
          "%d left out after %d minutes" % (len(results), len(finished),
                                           sum(1 for r in finished if r.equal()), bad, left_out,
                                           words.minutes))
    return 1 if bad or not results else 0


# --- command line ------------------------------------------------------------------------------

def missing():
    return ["%s is not there: install the package %s" % (solver, package)
            for solver, package in SOLVERS.items() if not shutil.which(solver)]


def read_words():
    words = argparse.ArgumentParser(description="The best placement against glpsol and cbc.")
    mode = words.add_mutually_exclusive_group(required=True)
    mode.add_argument("--small", metavar="PROGRAM")
    mode.add_argument("--bench", metavar="PROGRAM")
    mode.add_argument("--write", metavar="FILE", help="the programme of the bench's first chart, "
                      "for its stacks")
    words.add_argument("projects", nargs="*", help="with --small: judged as well")
    words.add_argument("--only", default="", help="with --small: charts with this in their name")
    words.add_argument("--sizes", default="24x20,36x30", help="24x20,36x30 if not given")
    words.add_argument("--kinds", default=",".join(KINDS), help="of: " + ", ".join(MAKERS))
    words.add_argument("--leave", default="4,5,6,7", help="4,5,6,7 if not given")
    words.add_argument("--all", action="store_true", help="every chart with each of them")
    words.add_argument("--limit", type=int, default=60, help="seconds a solver and chart: 60")
    words.add_argument("--minutes", type=int, default=10, help="no further chart after: 10")
    return words.parse_args()


def main():
    words = read_words()
    if words.write:
        case = next(bench_cases(words))
        programme = Programme(case, list_floats(case))
        with open(words.write, "w", encoding="ascii") as file:
            file.write(programme.text("stacks", {}))
        return 0
    for fault in missing():
        print("bad solver: " + fault)
    if missing():
        return 1
    if words.bench:
        return run_bench(words.bench, words)
    run_small(words.small, words.projects, words.limit, words.only)
    return 0


if __name__ == "__main__":
    sys.exit(main())
