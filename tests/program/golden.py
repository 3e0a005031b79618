#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What `check` prints for a demo door, word for word, against tests/program/golden/.

    golden.py HANGTRUE [--update]

A change of words or numbers shows as a change of that file in the commit that makes it.
"""
import argparse
import os
import subprocess
import sys
import tempfile

from near_text import first_difference

HERE = os.path.dirname(os.path.abspath(__file__))
DOOR = os.path.join(HERE, "..", "..", "cases", "examples", "light-cabinet-door.toml")
GOLDEN = os.path.join(HERE, "golden", "light-cabinet-door.txt")


def printed(program):
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "results")
        run = subprocess.run([program, "check", DOOR, "--out", out], capture_output=True, text=True)
        text = "".join(line for line in run.stdout.splitlines(True) if " of memory (" not in line)
        return f"{text}status {run.returncode}\n".replace(out, "RESULTS").replace(DOOR, "DOOR")


def main():
    parse = argparse.ArgumentParser(description="Terminal output of a demo")
    parse.add_argument("program")
    parse.add_argument("--update", action="store_true")
    asked = parse.parse_args()
    found = printed(asked.program)
    if asked.update:
        os.makedirs(os.path.dirname(GOLDEN), exist_ok=True)
        with open(GOLDEN, "w", encoding="utf-8") as file:
            file.write(found)
        return 0
    with open(GOLDEN, encoding="utf-8") as file:
        wrong = first_difference(found, file.read())
    if wrong:
        print(f"the terminal output of light-cabinet-door differs: {wrong}\n"
              "if that is meant: tests/program/golden.py HANGTRUE --update")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
