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
import signal
import subprocess
import sys
import tempfile
import threading

ROOT = pathlib.Path(__file__).resolve().parent.parent
STAGES = ("src/model", "src/plan", "src/read")
SECONDS = 60  # of processor: a change that makes a process take so much, or so much memory, is noticed
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


class Change:
    """One token of one file, and what is to stand there."""

    def __init__(self, name, text, start, end, new):
        self.name, self.text, self.start, self.end, self.new = name, text, start, end, new
        self.line = text.count("\n", 0, start) + 1

    def made(self):
        return self.text[:self.start] + self.new + self.text[self.end:]

    def __str__(self):
        first = self.text.rfind("\n", 0, self.start) + 1
        last = self.text.find("\n", self.end)
        return "%s:%d: %s[%s -> %s]%s" % (self.name, self.line, self.text[first:self.start].lstrip(),
                                          self.text[self.start:self.end], self.new or "nothing", self.text[self.end:last])


def all_changes(only):
    changes = []
    for stage in STAGES:
        for path in sorted((ROOT / stage).rglob("*.c")):
            name = path.relative_to(ROOT).as_posix()
            text = path.read_text()
            if not only or only.split(":")[0] == name:
                changes += [Change(name, text, *one) for one in changes_of(text)]
    return [change for change in changes if not only or only in (change.name, "%s:%d" % (change.name, change.line))]


class Stopped(Exception):
    """No more commands are to be started."""


class Commands:
    """The commands that run now, each with all it starts in a process group of its own."""

    def __init__(self):
        self.lock, self.running, self.stopped = threading.Lock(), set(), False

    def run(self, command, **how):
        with self.lock:
            if self.stopped:
                raise Stopped
            made = subprocess.Popen(command, start_new_session=True, **how)
            self.running.add(made)
        status = made.wait()
        with self.lock:
            self.running.discard(made)
        if self.stopped:
            raise Stopped
        return status

    def stop(self):
        with self.lock:
            self.stopped = True
            for one in self.running:
                if one.poll() is None:
                    os.killpg(one.pid, signal.SIGTERM)


class Copy:
    """A copy of the tree, built, in which changes are made one after another."""

    def __init__(self, folder, commands, like=None):
        self.folder, self.commands = folder, commands
        if like:
            shutil.copytree(like.folder, folder, symlinks=True)
            self.suites = like.suites
            return
        for name in subprocess.check_output(["git", "ls-files"], cwd=ROOT, text=True).splitlines():
            if (ROOT / name).is_file():
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(ROOT / name, folder / name)
        (folder / "scratch").mkdir()
        if not self.make("all", "build/unit"):
            sys.exit("mutate: the tree does not build")
        self.suites = [(self.folder_of(suite), suite) for suite in
                       subprocess.check_output(["build/unit", "--list"], cwd=folder, text=True).split()]
        if not self.run("sh", "tests/golden.sh"):
            sys.exit("mutate: the stored outputs are not what comes out, before anything is changed")

    def run(self, *command):
        environment = dict(os.environ, STOP_AT_FIRST="1", B="build", TMPDIR=str(self.folder / "scratch"))
        limited = ["sh", "-c", 'ulimit -v %d; ulimit -t %d; exec "$@"' % (MEMORY_KB, SECONDS), "sh", *command]
        return self.commands.run(limited, cwd=self.folder, env=environment, stdin=subprocess.DEVNULL,
                                 stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0

    def make(self, *targets):
        return self.run("make", "-j1", "CFLAGS=-O1 -w", "HARDEN=", *targets)

    def folder_of(self, suite):
        return next(self.folder.glob("tests/unit/*/test_%s.c" % suite)).parent.name

    def room_of(self, name):
        """Where in tests/unit a source is tested: its innermost folder that is one there too."""
        rooms = {home for home, _ in self.suites}
        return next((part for part in reversed(name.split("/")[:-1]) if part in rooms), None)

    def noticed_by(self, name):
        """The first test that fails; None: all pass."""
        if not self.run("sh", "tests/golden.sh"):
            return "golden"
        if not self.make("build/unit"):
            return "the build"
        room = self.room_of(name)
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
        path = self.folder / change.name
        before = self.code_of(change.name)
        path.write_text(change.made())
        if not self.make("build/strandwise") or self.code_of(change.name) == before:
            verdict = "no change"
        else:
            verdict = self.noticed_by(change.name)
        path.write_text(change.text)
        self.make("build/strandwise")
        return verdict


def judge_all(changes, number, jobs, folder, commands):
    """How many changes were made, and which survive: (count, survivors). What is said comes in the order drawn."""
    first = Copy(folder / "0", commands)
    free = [first] + [Copy(folder / str(i), commands, first) for i in range(1, jobs)]
    made, survivors, waiting, drawn = 0, [], [], iter(changes)

    def judged(change):
        copy = free.pop()
        verdict = copy.judge(change)
        free.append(copy)
        return verdict

    with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
        try:
            while made < number:
                while len(waiting) < jobs and (change := next(drawn, None)):
                    waiting.append((change, pool.submit(judged, change)))
                if not waiting:
                    break
                change, verdict = waiting.pop(0)
                verdict = verdict.result()
                if verdict == "no change":
                    continue
                made += 1
                print("%-14s %s" % (verdict or "SURVIVES", change), flush=True)
                if verdict is None:
                    survivors.append(change)
        finally:
            commands.stop()  # what was begun beyond the number, or all, when told to end
    return made, survivors


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--number", type=int, default=25)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", help="a file, or FILE:LINE: every change of it")
    parser.add_argument("--list", action="store_true", help="say what would be changed, and stop")
    asked = parser.parse_args()

    changes = all_changes(asked.only)
    number = len(changes) if asked.only else asked.number
    if not asked.only:
        random.Random(asked.seed).shuffle(changes)
    if asked.list:
        for change in changes[:number]:
            print(change)
        return 0
    for one in (signal.SIGTERM, signal.SIGHUP):
        signal.signal(one, lambda number, _: sys.exit(128 + number))
    build = ROOT / os.environ.get("B", "build")
    build.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory(dir=build, prefix="mutate.") as folder:
        made, survivors = judge_all(changes, number, asked.jobs, pathlib.Path(folder), Commands())
    if not made:
        sys.exit("mutate: nothing was there to change")
    print("\n%d of %d changes noticed, seed %d; survivors:" % (made - len(survivors), made, asked.seed))
    for change in survivors:
        print(change)
    return 0


if __name__ == "__main__":
    sys.exit(main())
