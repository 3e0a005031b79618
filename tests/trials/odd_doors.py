#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Random doors of all keys, by a writer that knows nothing but docs/door-file.md.

    odd_doors.py read_door read COUNT SEED [--keep FOLDER] [--only NUMBER] [--mild]
    odd_doors.py hangtrue check COUNT SEED [--level N] [--keep FOLDER] [--only NUMBER] [--mild]
    odd_doors.py read_door|hangtrue hostile [--keep FOLDER]

The tables of the reference give sections, keys, units, words and ranges. Most values are drawn near
their defaults, so that some doors can be built; one in a few lies anywhere in its range, on a bound
of it as printed, a little beyond, or is of the wrong kind. "read" reads only, "check" runs `check`,
"hostile" takes files that want to break the reader.

A run must end with status 0, 1, 2 or 3 within its time and memory, with a message that names the
file when it is refused, with nothing in it that a terminal would act on, with results that are
JSON and a drawing that is XML. A door whose every key keeps its own range must not be refused by
the range of a key. The peak of memory is held against what was announced.
"""
import argparse
import collections
import json
import os
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree

from hostile_files import hostile_files, forbidden

HERE = os.path.dirname(os.path.abspath(__file__))
REFERENCE = os.path.join(HERE, "..", "..", "docs", "door-file.md")

# Own factors to SI, exact where the definition is (NIST SP 811, appendix B).
INCH, POUND, MASS = 0.0254, 4.4482216152605, 0.45359237
BTU_FT = 1055.05585262 / (3600.0 * 0.3048 * 5.0 / 9.0)
UNITS = {
    "in": INCH, "ft": 12 * INCH, "mm": 1e-3, "cm": 1e-2, "m": 1.0,
    "lbf": POUND, "lb": POUND, "kN": 1e3, "N": 1.0,
    "kg/m^3": 1.0, "lb/ft^3": MASS / 0.3048**3,
    "ksi": 1e3 * POUND / INCH**2, "psi": POUND / INCH**2, "MPa": 1e6, "GPa": 1e9, "Pa": 1.0,
    "deg": 0.017453292519943295, "rad": 1.0, "min": 60.0, "h": 3600.0, "s": 1.0,
    "W/m^2/K": 1.0, "Btu/h/ft^2/F": BTU_FT / 0.3048,
    "W/m/K": 1.0, "Btu/h/ft/F": BTU_FT, "Btu in/h/ft^2/F": BTU_FT / 12.0,
    "J/kg/K": 1.0, "Btu/lb/F": 4186.8, "mm/m": 1e-3, "%": 1e-2,
    "lbf/in": POUND / INCH, "N/mm": 1e3, "kN/mm": 1e6, "N/m": 1.0, "/lb": 1 / MASS, "/kg": 1.0,
}
DEGREES = {"degC": (1.0, 0.0), "C": (1.0, 0.0), "degF": (5 / 9, -32.0), "F": (5 / 9, -32.0)}


def to_si(number, unit):
    if unit in DEGREES:
        factor, zero = DEGREES[unit]
        return (number + zero) * factor
    return number * UNITS[unit]


def from_si(value, unit):
    if unit in DEGREES:
        factor, zero = DEGREES[unit]
        return value / factor - zero
    return value / UNITS[unit]


Key = collections.namedtuple("Key", "name form units words least most fallback")


def unit_list(text):
    return [u for u in re.split(r", | or ", text.strip()) if u in UNITS or u in DEGREES]


def split_bound(text):
    number, _, unit = text.partition(" ")
    return float(number), unit


def read_key(cells):
    """A key from the cells of its row: name, unit or words, default, allowed, meaning."""
    name, unit, fallback, allowed, meaning = cells
    form, words, least, most = "text", [], None, None
    if allowed == "true or false":
        form = "flag"
    elif allowed == "any text" or allowed.startswith("up to"):
        form = "text"
    elif " to " in allowed and unit:
        least, most = (split_bound(b) for b in allowed.split(" to "))
        form = ("whole" if "whole" in unit else "plain" if unit.startswith("plain")
                else "pairs" if ";" in unit else "list" if unit.startswith("list of") else "quantity")
        words = unit.split("one of ")[1].split(", ") if "one of " in unit else []
        unit = unit.split(", or one of")[0].replace("list of ", "").replace("pairs of ", "")
    else:
        form, words = "word", allowed.split(", ")
    return Key(name.strip("`"), form, [unit_list(u) for u in unit.split(";")], words, least, most,
               fallback.strip("`"))


def read_reference():
    """Sections in the order of the page: name -> (repeats, keys)."""
    sections, current = {}, None
    with open(REFERENCE, encoding="utf-8") as page:
        for line in page:
            head = re.match(r"## (\[+)(\w+)\]+", line)
            if head:
                current = head.group(2)
                sections[current] = (len(head.group(1)) == 2, [])
            elif current and line.startswith("| `"):
                cells = [c.strip() for c in line.strip().strip("|").split(" | ")]
                sections[current][1].append(read_key(cells))
    return sections


class Writer:
    """Writes one random door; `faulty` lists the keys that were written wrong on purpose."""

    def __init__(self, sections, seed, mild):
        self.sections, self.random, self.faulty = sections, random.Random(seed), []
        self.mild = mild
        self.wildness = 0.0 if mild else self.random.choice([0.0, 0.0, 0.02, 0.1, 0.4])
        self.wrongness = 0.0 if mild else self.random.choice([0.0, 0.0, 0.0, 0.01, 0.05])
        self.hinges = {}

    def number(self, key, near):
        """SI (or plain) value of a key with a range."""
        r, (low, unit), (high, _) = self.random, key.least, key.most
        a, b = (to_si(low, unit), to_si(high, unit)) if unit else (low, high)
        way = r.random()
        if near is not None and way > self.wildness:
            return min(b, max(a, near * r.uniform(0.85, 1.15)))
        if a > 0 and b / a > 50:
            return a * (b / a) ** r.random()
        return r.uniform(a, b)

    def written(self, value, units, key=None):
        r = self.random
        unit = r.choice(units)
        number = from_si(value, unit)
        text = f"{number:.{r.choice([6, 9, 12])}g}"
        if unit == "in" and r.random() < 0.3 and number > 0.5 and key is None and not self.wildness:
            parts = max(1, round(number * 16))
            whole, rest = divmod(parts, 16)
            text = f"{whole}" if not rest else f"{rest}/16" if not whole else f"{whole}-{rest}/16"
        return f'"{text} {unit}"'

    def wrong(self, key):
        r = self.random
        choices = ['""', '"x"', "7", "true", "[]", "[[]]", "{}", "nan", '"-1 in"', '"1e400 m"', '"nan m"',
                   '"1 in 2"', '"3 ft -6 in"', '"29-3/2 in"', "1979-05-27", '["1 in", 2]', '"1 furlong"']
        if key.least:
            (low, unit), (high, _) = key.least, key.most
            width = (high - low) * 0.01
            for beyond in (low - width, high + width):
                text = f"{beyond:.6g}"
                choices += [f'"{text} {unit}"' if unit else text] * 4
        self.faulty.append(key.name)
        return r.choice(choices)

    def value(self, key, near=None):
        r = self.random
        if r.random() < self.wrongness:
            return self.wrong(key)
        if key.form == "flag":
            return r.choice(["true", "false"])
        if key.form == "text":
            return json.dumps(r.choice(["Door", "Tür Nr. 7", 'a "b" \\ <c> & d', "", "煙室", "x" * 60]),
                              ensure_ascii=False)
        if key.form == "word" or (key.words and r.random() < 0.7):
            return json.dumps(r.choice(key.words))
        (low, unit), (high, _) = key.least, key.most
        if r.random() < 0.5 * self.wildness:  # a bound as the page prints it
            text = r.choice(self.printed(key))
            if key.form == "pairs":
                return "[]"
            return f'["{text}"]' if key.form == "list" else f'"{text}"' if unit else text
        if key.form == "whole":
            return str(round(self.number(key, near)))
        if key.form == "plain":
            return f"{self.number(key, near):.6g}"
        if key.form == "pairs":
            first = sorted(r.uniform(0.0, 400.0) for _ in range(r.randint(1, 4)))
            return self.pairs(key, [(a if "degC" in key.units[0] else 1e-4 * a, self.number(key, near)) for a in first])
        if key.form == "list":
            return "[" + ", ".join(self.written(self.number(key, near), key.units[0], key)
                                   for _ in range(r.randint(1, 4))) + "]"
        return self.written(self.number(key, near), key.units[0])

    @staticmethod
    def printed(key):
        return [f"{n:.12g} {u}".strip() for n, u in (key.least, key.most)]

    def fallback(self, key):
        """The default as SI, or nothing where it follows from others or must be given."""
        text = key.fallback.strip('"')
        if key.form not in ("quantity", "plain", "whole") or text.startswith("(") or text == "must be given":
            return None
        if key.form != "quantity":
            return float(text)
        match = re.match(r"(?:(\d+)-)?(\d+(?:\.\d+)?)(?:/(\d+))? (.+)$", text)
        if not match:
            return 0.018 * INCH
        whole, over, under, unit = match.groups()
        return to_si(float(whole or 0) + float(over) / float(under or 1), unit)

    def pairs(self, key, points):
        return "[" + ", ".join(f"[{self.written(a, key.units[0])}, {self.written(b, key.units[1])}]"
                               for a, b in points) + "]"

    def section(self, name, given, lines, share):
        for key in self.sections[name][1]:
            if key.name in given:
                value = given[key.name]
                lines.append(f"{key.name} = {value if isinstance(value, str) else self.value(key, value)}")
            elif (key.fallback == "must be given" or self.random.random() < share
                  or name == "hinge" and key.name in self.hinges):
                near = self.fallback(key)
                loose = near is None and key.form in ("quantity", "list", "pairs", "plain", "whole")
                if loose and self.random.random() > self.wildness:
                    continue
                if key.form == "pairs" and not self.wildness:
                    continue
                # Hinges of a door are mostly alike.
                alike = name == "hinge" and self.random.random() > self.wildness
                value = self.hinges.get(key.name) if alike else None
                value = value or self.value(key, near)
                if name == "hinge":
                    self.hinges.setdefault(key.name, value)
                lines.append(f"{key.name} = {value}")

    def door(self, level):
        r = self.random
        width, height = r.uniform(0.4, 1.4), r.uniform(0.4, 2.0)
        lines = ["# a random door"]
        share = r.choice([0.1, 0.3, 0.6])
        counts = {"hinge": r.choice([1, 2, 2, 2, 3, 4]), "stiffener": r.choice([0, 0, 1, 2, 3]),
                  "latch": r.choice([0, 2, 2, 3])}
        fired, shut = r.random() < 0.5, r.random() < 0.5
        for name, (repeats, keys) in self.sections.items():
            by_name = {k.name: k for k in keys}
            for i in range(counts[name] if repeats else 1):
                given = {}
                if name == "door":
                    given = {"width": width, "height": height,
                             "hanging": json.dumps(r.choice(["side"] * 4 + ["top", "bottom"]))}
                elif name == "hinge":
                    part = (i + 1.0) / (counts[name] + 1.0)
                    given = {"at": self.written(height * part, ["in", "mm"])}
                elif name == "stiffener":
                    runs = r.choice(["along", "across"])
                    size = width if runs == "along" else height
                    given = {"runs": f'"{runs}"', "at": self.written(size * (i + 1) / (counts[name] + 1), ["in", "mm"])}
                elif name == "latch":
                    given = {"at": self.written(0.9 * min(width, height) * (i + 0.5) / counts[name], ["in", "mm"])}
                elif name == "gasket":
                    given = {"kind": '"tadpole"' if shut else '"none"'} if r.random() < 0.7 else {}
                elif name == "fire" and fired:
                    hot = r.uniform(100, 700)
                    rise = r.uniform(600, 7200)
                    points = [(0.0, 20.0), (rise, hot), (rise + r.uniform(600, 20000), hot)]
                    given = {"schedule": self.pairs(by_name["schedule"], points)}
                    if r.random() < 0.3:
                        given["instants"] = "[" + ", ".join(
                            f'"{r.uniform(1, rise / 60):.3g} min"' for _ in range(r.randint(1, 3))) + "]"
                elif name == "accuracy":
                    given = {"finest_level": str(level)}
                if name in ("fire", "inner_hold", "insulation", "gasket", "latch", "opening") and r.random() < 0.5:
                    extra = 0.05
                else:
                    extra = share
                lines += ["", f"[[{name}]]" if repeats else f"[{name}]"]
                self.section(name, given, lines, extra)
        if r.random() < 0.2 * self.wrongness / 0.05:
            lines.append(r.choice(["colour = 3", "[rimm]", "[door]", "a.b.c = 1", "= 3", "[[door]]", "x = \"", "\u202e"]))
            self.faulty.append("the file")
        return "\n".join(lines) + "\n"


def run(program, words, folder, seconds, most_bytes):
    """Status, what was said, seconds, peak of memory in bytes; status None when time ran out."""
    def limits():
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))
    begin = time.time()
    with open(os.path.join(folder, "said"), "w+b") as said:
        child = subprocess.Popen([program] + words, cwd=folder, stdin=subprocess.DEVNULL, stdout=said,
                                 stderr=subprocess.STDOUT, preexec_fn=limits)
        status = peak = None
        while time.time() - begin < seconds:
            done, code, usage = os.wait4(child.pid, os.WNOHANG)
            if done:
                status = os.waitstatus_to_exitcode(code)
                peak = 1024.0 * usage.ru_maxrss
                break
            time.sleep(0.02)
        else:
            child.kill()
            os.wait4(child.pid, 0)
        said.seek(0)
        return status, said.read(), time.time() - begin, peak


def trouble(status, said, folder, name):
    """What is wrong with how a run ended; empty when nothing is."""
    if status is None:
        return "no end within its time"
    if status not in (0, 1, 2, 3):
        return f"status {status}"
    try:
        text = said.decode("utf-8")
    except UnicodeDecodeError:
        return "said something that is not UTF-8"
    odd = forbidden(text.replace("\n", "").replace("\r", ""))
    if odd:
        return f"said U+{ord(odd):04X}"
    if len(text) > 60000:
        return f"said {len(text)} characters"
    lines = text.strip().split("\n")
    if status == 2 and not all("allowed" in line or "more" in line for line in lines if line.startswith(name)):
        return "refused without saying what is allowed"
    if status == 2 and name not in text:
        return "refused without naming the file"
    if status == 3 and len(text.strip()) < 20:
        return "not computed, without a word"
    for root, _, files in os.walk(folder):
        for file in files:
            path = os.path.join(root, file)
            try:
                if file.endswith(".json"):
                    with open(path, encoding="utf-8") as f:
                        json.load(f, parse_constant=lambda word: (_ for _ in ()).throw(ValueError(word)))
                elif file.endswith(".svg"):
                    xml.etree.ElementTree.parse(path)
            except (ValueError, xml.etree.ElementTree.ParseError) as error:
                return f"{file}: {error}"
    return ""


def announced(text):
    """The last need that was announced, bytes."""
    found = re.findall(r"needs about ([\d.]+) (MB|GB)", text)
    return float(found[-1][0]) * (1e9 if found[-1][1] == "GB" else 1e6) if found else None


def one(asked, name, text, wanted_limits):
    folder = tempfile.mkdtemp(prefix="odd-")
    try:
        with open(os.path.join(folder, name), "wb") as file:
            file.write(text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
        reader = os.path.basename(asked.program).startswith("read")
        words = [name] if reader else ["check", name]
        status, said, seconds, peak = run(asked.program, words, folder, *wanted_limits)
        found = trouble(status, said, folder, name)
        if asked.keep and (found or asked.keep_all):
            shutil.copytree(folder, os.path.join(asked.keep, name + ".d"), dirs_exist_ok=True)
        return status, said.decode("utf-8", "replace"), seconds, peak, found
    finally:
        shutil.rmtree(folder)


def main():
    parse = argparse.ArgumentParser()
    parse.add_argument("program")
    parse.add_argument("stage", choices=["read", "check", "hostile"])
    parse.add_argument("count", nargs="?", type=int, default=0)
    parse.add_argument("seed", nargs="?", type=int, default=1)
    parse.add_argument("--level", type=int, default=1)
    parse.add_argument("--keep", default="")
    parse.add_argument("--keep-all", action="store_true")
    parse.add_argument("--only", type=int)
    parse.add_argument("--mild", action="store_true")
    parse.add_argument("--seconds", type=float, default=0.0)
    asked = parse.parse_args()
    asked.program = os.path.abspath(asked.program)
    if asked.keep:
        os.makedirs(asked.keep, exist_ok=True)
    findings, ends, shares = 0, collections.Counter(), []
    if asked.stage == "hostile":
        doors = [(name, text, []) for name, text in hostile_files()]
        limits = (asked.seconds or 20.0, 4 << 30)
    else:
        sections = read_reference()
        limits = (asked.seconds or (60.0 if asked.stage == "read" else 900.0), 12 << 30)
        doors = []
        for i in range(asked.count):
            writer = Writer(sections, 1000003 * asked.seed + i, asked.mild)
            doors.append((f"door-{i}.toml", writer.door(asked.level), writer.faulty))
    for i, (name, text, faulty) in enumerate(doors):
        if asked.only is not None and i != asked.only:
            continue
        status, said, seconds, peak, found = one(asked, name, text, limits)
        ends[status] += 1
        if not found and status == 2 and not faulty and "write a value in that range" in said:
            found = "a value within the printed range is refused"
        if not found and status == 0 and faulty and asked.stage != "hostile":
            print(f"{name}: taken although {faulty} was written wrong", flush=True)
        need = announced(said)
        if need and status in (0, 1):
            shares.append(peak / need)
            print(f"{name}: memory {peak / 1e6:.0f} of {need / 1e6:.0f} MB, {peak / need:.3f}; "
                  f"{seconds:.1f} s", flush=True)
            if peak > need:
                found = found or "more memory than announced"
        if found:
            findings += 1
            print(f"{name}: {found}; status {status}, {seconds:.1f} s\n  {said[-600:]}", flush=True)
        elif status == 3 or asked.only is not None or asked.stage == "hostile":
            print(f"{name}: status {status}, {seconds:.2f} s: {said.strip()[-300:]}", flush=True)
    print(f"{sum(ends.values())} files: " + ", ".join(f"{n} ended with {s}" for s, n in sorted(
        ends.items(), key=lambda e: (e[0] is None, e[0]))) + f"; {findings} findings", flush=True)
    if shares:
        print(f"memory: {min(shares):.2f} to {max(shares):.2f} of what was announced", flush=True)
    return 1 if findings else 0


if __name__ == "__main__":
    sys.exit(main())
