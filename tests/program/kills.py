# SPDX-License-Identifier: GPL-3.0-or-later
"""Kills the program at random instants and looks at what is left.

python3 tests/program/kills.py build/release/bin/hangtrue --runs 100

Every run is one of three: a check into a folder with earlier results, a check into no folder yet,
a comparison of two variants. The signal is SIGKILL or SIGTERM, the instant anywhere between the start and
a little after the usual end. What must hold then:

- a file under its own name has the bytes of a run that was left alone (timing.json: it reads as JSON);
- earlier results are all there;
- after SIGTERM nothing half-written is left, and the status says so;
- after SIGKILL the next run takes away what was left half-written;
- a comparison taken up again ends with the table of one that was left alone, and what was done stays.
"""

import argparse
import json
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time

DOOR = """[door]
name = "Little door"
width = "12 in"
height = "14 in"
[[hinge]]
at = "7 in"
knuckles = 2
pin = "fixed"
[accuracy]
finest_level = 1
[limits]
drop = "1/4 in"
"""
TRY = ["--try", "hinge.pin_diameter: 3/4 in | 1 in", "--workers", "1"]


def start(program, folder, words):
    return subprocess.Popen([program, *words], cwd=folder, stdout=subprocess.DEVNULL,
                            stderr=subprocess.DEVNULL)


def holds_signals(process):
    """Whether it blocks SIGTERM, the first thing that the program does."""
    try:
        lines = pathlib.Path(f"/proc/{process}/status").read_text().splitlines()
    except OSError:
        return False
    masks = [line.split()[1] for line in lines if line.startswith("SigBlk:")]
    return bool(masks) and bool(int(masks[0], 16) >> (signal.SIGTERM - 1) & 1)


def run(program, folder, words):
    before = time.monotonic()
    status = start(program, folder, words).wait()
    if status not in (0, 1):
        raise SystemExit(f"left alone, {' '.join(words)} ended with {status}")
    return time.monotonic() - before


def content(folder):
    """Bytes of every file under its own name, below a folder that may not be there."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*"))
            if path.is_file() and not path.name.startswith(".")}


def halves(folder):
    return [path for path in folder.rglob(".part-*")]


def same(name, found, wanted):
    if name.endswith(("timing.json", "row.json")):  # times are in them
        json.loads(found)
        return True
    return found == wanted


class Trial:
    def __init__(self, program, place):
        self.program = program
        self.place = place
        (place / "door.toml").write_text(DOOR)
        self.check_time = run(program, place, self.check("whole"))
        self.compare_time = run(program, place, self.compare("table"))
        self.whole = content(place / "whole")
        self.table = content(place / "table")
        run(program, place, self.check("earlier"))

    def check(self, out):
        return ["check", "door.toml", "--out", out]

    def compare(self, out):
        return ["compare", "door.toml", "--out", out, *TRY]

    def kill(self, words, usual, how, share):
        """Status of a run that is killed after a share of its usual time, -how only where it did not own its
        signals yet."""
        process = start(self.program, self.place, words)
        owned = True
        try:
            status = process.wait(timeout=share * usual)
        except subprocess.TimeoutExpired:
            owned = holds_signals(process.pid)
            process.send_signal(how)
            status = process.wait()
        if how == signal.SIGTERM and owned and status == -how:
            raise SystemExit(f"{' '.join(words)} did not hear its signal")
        return status

    def look(self, out, wanted, how, status, all_there):
        folder = self.place / out
        found = content(folder) if folder.exists() else {}
        faults = [f"{name} is half-written or other" for name, text in found.items()
                  if name not in wanted or not same(name, text, wanted[name])]
        if all_there:
            faults += [f"{name} of earlier is gone" for name in wanted if name not in found]
        if how == signal.SIGTERM:
            faults += [f"{path} was left" for path in halves(folder)]
            if status not in (0, 1, 130, -signal.SIGTERM):
                faults.append(f"status {status}")
        return faults

    def one(self, kind, how, share):
        if kind == "compare":
            shutil.rmtree(self.place / "again", ignore_errors=True)
            status = self.kill(self.compare("again"), self.compare_time, how, share)
            faults = self.look("again", self.table, how, status, False)
            done = {path: path.stat().st_mtime_ns for path in self.place.glob("again/*/row.json")}
            run(self.program, self.place, self.compare("again"))
            faults += [f"{path} was done again" for path, then in done.items()
                       if path.stat().st_mtime_ns != then]
            faults += self.look("again", self.table, how, 0, True)
            left = halves(self.place / "again")
        else:
            out = "earlier" if kind == "earlier" else "fresh"
            if out == "fresh":
                shutil.rmtree(self.place / out, ignore_errors=True)
            status = self.kill(self.check(out), self.check_time, how, share)
            faults = self.look(out, self.whole, how, status, out == "earlier")
            left = []
        return faults + [f"{path} was never taken away" for path in left]

    def end(self):
        """A last run left alone takes away everything half-written."""
        run(self.program, self.place, self.check("earlier"))
        return [f"{path} was never taken away" for path in halves(self.place / "earlier")]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("program")
    parser.add_argument("--runs", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    draw = random.Random(asked.seed)
    with tempfile.TemporaryDirectory(prefix="hangtrue kills ") as name:
        trial = Trial(os.path.abspath(asked.program), pathlib.Path(name))
        faults = []
        for number in range(1, asked.runs + 1):
            kind = draw.choice(["earlier", "fresh", "earlier", "fresh", "compare"])
            how = draw.choice([signal.SIGKILL, signal.SIGTERM])
            # A third of them at the end, where files get their names.
            share = draw.uniform(0.85, 1.05) if draw.random() < 1 / 3 else draw.uniform(0.0, 1.0)
            found = trial.one(kind, how, share)
            faults += [f"run {number}, {kind}, {how.name} at {share:.3f}: {f}" for f in found]
            for fault in faults[len(faults) - len(found):]:
                print(fault, flush=True)
        faults += trial.end()
    print(f"{asked.runs} kills, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
