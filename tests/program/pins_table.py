#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The table of docs/pins.md: the bakery demo with one thing changed at a time.

    pins_table.py HANGTRUE                 print the table
    pins_table.py HANGTRUE --check [ROW..] end with 1 unless these rows (all, from 0) stand in the page

One `check` for each row, some 6 s of processor time.
"""
import argparse
import json
import os
import re
import subprocess
import sys
import tempfile

from near_text import first_difference

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
DOOR = os.path.join(ROOT, "cases", "examples", "bakery-fire-door.toml")
PAGE = os.path.join(ROOT, "docs", "pins.md")
INCH = 0.0254


def key(name, value):
    """Gives a key of every hinge, or of the jamb, another value; one that is not there is added to every hinge."""

    def change(text):
        line = f'{name} = {value}'
        changed, times = re.subn(rf"(?m)^{name} = .*$", line, text)
        return changed if times else text.replace("[[hinge]]", f"[[hinge]]\n{line}")

    return change


def section(words):
    return lambda text: text + "\n" + words + "\n"


def spacing(text):
    return text.replace('at = "5 in"', 'at = "4 in"').replace('at = "23 in"', 'at = "24 in"')


PIN, FIT = "pin_diameter", "clearance"
ROWS = [
    ("1/2 in pin, drilled bore (0.018 in of play)", [key(PIN, '"1/2 in"')]),
    ("3/4 in pin, drilled", [key(PIN, '"3/4 in"')]),
    ("**1 in pin, drilled (the demo)**", []),
    ("1/2 in pin, reamed bore (0.0035 in)", [key(PIN, '"1/2 in"'), key(FIT, '"reamed"')]),
    ("3/4 in pin, reamed", [key(PIN, '"3/4 in"'), key(FIT, '"reamed"')]),
    ("1 in pin, reamed", [key(FIT, '"reamed"')]),
    ("1 in pin, drilled 1/32 over (0.033 in)", [key(FIT, '"drilled loose"')]),
    ("1 in pin in pipe (0.080 in)", [key(FIT, '"pipe"')]),
    ("1 in pin, drilled, fixed in the frame half", [key("pin", '"fixed"')]),
    ("hinges 20 in apart instead of 18", [spacing]),
    ("knuckles 2-1/2 in long instead of 1-1/2",
     [key("knuckle_length", '"2-1/2 in"'), key("leaf_length", '"7-1/2 in"')]),
    ("jamb plate 1/4 in instead of 3/8", [lambda t: t.replace('[jamb]\nthickness = "3/8 in"',
                                                              '[jamb]\nthickness = "1/4 in"')]),
    ("someone leans on the latch edge, 250 lbf", [section('[handle]\nforce = "250 lbf"')]),
    ("jamb plate backed all over", [lambda t: t.replace('backing = "edge"', 'backing = "solid"')]),
]
HEAD = ["| change | drop, in | of it play, in | of it steel, in | pin bending, share of its limit |",
        "|---|---|---|---|---|"]


def row_of(program, name, changes, folder):
    plain = text = open(DOOR, encoding="utf-8").read()
    for change in changes:
        text = change(text)
    if changes and text == plain:
        sys.exit(f"pins_table.py: nothing changed for '{name}'")
    door, out = os.path.join(folder, "door.toml"), os.path.join(folder, "out")
    with open(door, "w", encoding="utf-8") as file:
        file.write(text)
    run = subprocess.run([program, "check", door, "--out", out], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        sys.exit(f"pins_table.py: '{name}' ended with {run.returncode}:\n{run.stderr}")
    results = json.load(open(os.path.join(out, "results.json"), encoding="utf-8"))
    state = results["states"][0]
    use = next(c["use"] for c in results["checks"] if c["name"] == "pin bending")
    drop, steel = state["drop_m"] / INCH, state["elastic_drop_m"] / INCH
    cells = [f"{drop:.4f} +- {state['drop_error_m'] / INCH:.4f}", f"{drop - steel:.4f}",
             f"{steel:.4f}", f"{100 * use:.2g} %"]
    if name.startswith("**"):
        cells = [f"**{c}**" for c in cells]
    return "| " + " | ".join([name] + cells) + " |"


def main():
    parse = argparse.ArgumentParser(description="The table of docs/pins.md")
    parse.add_argument("program")
    parse.add_argument("--check", nargs="*", type=int, default=None)
    asked = parse.parse_args()
    chosen = ROWS if not asked.check else [ROWS[i] for i in asked.check]
    page = open(PAGE, encoding="utf-8").read().splitlines()
    wrong = 0
    if asked.check is None:
        print("\n".join(HEAD))
    for number, (name, changes) in enumerate(chosen):
        with tempfile.TemporaryDirectory() as folder:
            row = row_of(asked.program, name, changes, folder)
        if asked.check is None:
            print(row, flush=True)
            continue
        there = next((line for line in page if line.startswith(f"| {name} |")), "")
        difference = first_difference(row, there)
        if difference:
            wrong += 1
            print(f"docs/pins.md is not of today's program: {difference}\n{row}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
