#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""How much of the model, the plan and the reading do the tests hold?

Draws single-token changes by a seed over src/model, src/plan and src/read, makes each in a copy of the tree, builds,
and runs the stored outputs, then the unit tests, those of the same room first, until one fails. A change that no test
notices is a survivor and is listed. The same seed draws the same changes; what does not compile, or leaves the same
object code, is no change, and another is drawn in its place.

    tests/mutate.py [--number N] [--seed S] [--jobs J] [--only PATH[:LINE]] [--list]
"""
import argparse
import concurrent.futures
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
STAGES = ("src/model", "src/plan", "src/read")
SECONDS = 120  # of processor: a change that makes a process take so much, or so much memory, is noticed
MEMORY_KB = 4 << 20
# Suites that take seconds are asked about changes of their own room alone.
SLOW = ("knitters", "resize_search", "best", "seeding", "weighed", "redraw", "redraw_motif", "row_slips", "shaping", "symmetry")

TOKEN = re.compile(
    r"""(?P<skip>/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|^[ \t]*\#(?:\\\n|[^\n])*|\s+)
      | (?P<word>[A-Za-z_]\w*)
      | (?P<number>\.?\d(?:[eEpP][+-]|[\w.])*)
      | (?P<sign><<=|>>=|->|\+\+|--|<<|>>|<=|>=|==|!=|&&|\|\||[-+*/%&|^]=|.)""",
    re.S | re.M | re.X)

WORDS = {"true": ["false"], "false": ["true"], "break": ["continue"], "continue": ["break"]}
SIGNS = {"<": ["<=", ">"], "<=": ["<", ">="], ">": [">=", "<"], ">=": [">", "<="], "==": ["!="], "!=": ["=="],
         "&&": ["||"], "||": ["&&"], "++": ["--"], "--": ["++"], "+=": ["-="], "-=": ["+="], "*=": ["/="],
         "/=": ["*="], "!": [""], "/": ["*"], "%": ["*"]}
BINARY = {"+": ["-"], "-": ["+"], "*": ["/"]}  # where blanks stand on both sides: elsewhere a sign or a pointer


def changes_of(text):
    """(start, end, new) for each single-token change of a C source."""
    found = []
    for token in TOKEN.finditer(text):
        if token["skip"]:
            continue
        now = token[0]
        if token["word"]:
            new = WORDS.get(now, [])
        elif token["number"]:
            whole = re.fullmatch(r"\d+", now)
            new = [str(int(now) + 1)] + ([str(int(now) - 1)] if int(now) > 0 else []) if whole else []
            if re.fullmatch(r"\d*\.\d+", now):
                new = ["(%s * 1.1)" % now] if float(now) else ["0.1"]
        else:
            new = list(SIGNS.get(now, []))
            if now in BINARY and text[token.start() - 1].isspace() and text[token.end()].isspace():
                new += BINARY[now]
        found += [(token.start(), token.end(), one) for one in new]
    return found


def all_changes(only):
    changes = []
    for stage in STAGES:
        for path in sorted((ROOT / stage).rglob("*.c")):
            name = path.relative_to(ROOT).as_posix()
            text = path.read_text()
            for start, end, new in changes_of(text):
                line = text.count("\n", 0, start) + 1
                if not only or only in (name, "%s:%d" % (name, line)):
                    changes.append((name, line, start, end, new))
    return changes


class Copy:
    """A copy of the tree, built once, in which changes are made one after another."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        for name in subprocess.check_output(["git", "ls-files"], cwd=ROOT, text=True).splitlines():
            if (ROOT / name).is_file():
                (self.folder / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(ROOT / name, self.folder / name)
        if not self.make("all", "build/unit"):
            sys.exit("mutate: the tree does not build")
        if not self.run("sh", "tests/golden.sh"):
            sys.exit("mutate: the stored outputs are not what comes out, before anything is changed")
        self.suites = [(self.room_of(suite), suite) for suite in
                       subprocess.check_output(["build/unit", "--list"], cwd=self.folder, text=True).split()]

    def run(self, *command):
        environment = dict(os.environ, STOP_AT_FIRST="1", B="build")
        limited = ["sh", "-c", 'ulimit -v %d; ulimit -t %d; exec "$@"' % (MEMORY_KB, SECONDS), "sh", *command]
        return subprocess.run(limited, cwd=self.folder, env=environment, stdin=subprocess.DEVNULL,
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False).returncode == 0

    def make(self, *targets):
        return self.run("make", "-j1", "CFLAGS=-O1 -w", "HARDEN=", *targets)

    def room_of(self, suite):
        return next(self.folder.glob("tests/unit/*/test_%s.c" % suite)).parent.name

    def noticed_by(self, name):
        """The first test that fails; None: all pass."""
        if not self.run("sh", "tests/golden.sh"):
            return "golden"
        self.make("build/unit")
        room = name.split("/")[2]
        for home, suite in sorted(self.suites, key=lambda s: (s[0] != room, s[1] in SLOW)):
            if (home == room or suite not in SLOW) and not self.run("build/unit", suite):
                return suite
        return None

    def code_of(self, name):
        """The instructions of the object, without where they came from."""
        made = self.folder / ("build/" + name[:-2] + ".o")
        bare = made.with_suffix(".bare")
        subprocess.run(["objcopy", "-g", "-R", ".comment", made, bare], check=True)
        return bare.read_bytes()

    def judge(self, change):
        """'no change', a suite's name, or None for a survivor."""
        name, _, start, end, new = change
        path = self.folder / name
        text = path.read_text()
        try:
            before = self.code_of(name)
            path.write_text(text[:start] + new + text[end:])
            if not self.make("build/strandwise") or self.code_of(name) == before:
                return "no change"
            return self.noticed_by(name)
        finally:
            path.write_text(text)
            self.make("build/strandwise")


def shown(change):
    name, line, start, end, new = change
    text = (ROOT / name).read_text()
    first = text.rfind("\n", 0, start) + 1
    rest = text[end:text.find("\n", end)]
    return "%s:%d: %s[%s -> %s]%s" % (name, line, text[first:start].lstrip(), text[start:end], new or "nothing", rest)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--number", type=int, default=25)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", help="a file, or FILE:LINE: every change of it")
    parser.add_argument("--list", action="store_true", help="say what would be changed, and stop")
    asked = parser.parse_args()

    changes = all_changes(asked.only)
    if not asked.only:
        random.Random(asked.seed).shuffle(changes)
    else:
        asked.number = len(changes)
    if asked.list:
        for change in changes[:asked.number]:
            print(shown(change))
        return 0
    build = ROOT / os.environ.get("B", "build")
    build.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(dir=build, prefix="mutate.") as folder:
        copies = [Copy(pathlib.Path(folder) / str(i)) for i in range(asked.jobs)]
        free = list(copies)

        def judged(change):
            copy = free.pop()
            try:
                return copy.judge(change)
            finally:
                free.append(copy)

        made, survivors = 0, []
        with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
            waiting = []
            drawn = iter(changes)
            while made < asked.number:
                while len(waiting) < asked.jobs and (change := next(drawn, None)):
                    waiting.append((change, pool.submit(judged, change)))
                if not waiting:
                    break
                change, verdict = waiting.pop(0)
                verdict = verdict.result()
                if verdict == "no change":
                    continue
                made += 1
                print("%s %s" % ("%-14s" % (verdict or "SURVIVES"), shown(change)), flush=True)
                if verdict is None:
                    survivors.append(change)
            for _, verdict in waiting:
                verdict.cancel()
    if not made:
        sys.exit("mutate: nothing was there to change")
    print("\n%d of %d changes noticed, seed %d; survivors:" % (made - len(survivors), made, asked.seed))
    for change in survivors:
        print(shown(change))
    return 0


if __name__ == "__main__":
    sys.exit(main())
