# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads the built and the installed programs: where they look for libraries, and how they are hardened.

python3 tests/program/hardening.py BUILD PROGRAM PLANTED [--cmake CMAKE] [--hardened]

- no program and no shared library of the build or of an installation has a search path for libraries
  (RPATH, RUNPATH) with an entry that is empty or relative: the loader takes both from the folder that the
  user stands in, where a file with the name of a library may lie beside a door file;
- the program, run in a folder full of such files (PLANTED under the name of every library that it
  needs), runs none of them;
- with --hardened: position-independent, its tables read-only before main (full RELRO), its stack not
  executable, with stack protectors, and landing places for indirect jumps where the compiler has them.
"""

import argparse
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile


def output(*words, **more):
    return subprocess.run(words, check=True, capture_output=True, text=True, **more).stdout


def is_elf(path):
    if path.is_symlink() or not path.is_file():
        return False
    with path.open("rb") as file:
        head = file.read(18)
    # type 2: a program at a fixed place, 3: a program or a shared library (System V ABI)
    return head[:4] == b"\x7fELF" and head[16] in (2, 3)


def programs(folder):
    found = [path for path in sorted(folder.rglob("*")) if "CMakeFiles" not in path.parts and is_elf(path)]
    return found


def search_path_faults(path):
    faults = []
    dynamic = output("readelf", "--dynamic", "--wide", str(path))
    for kind, entries in re.findall(r"\((RPATH|RUNPATH)\).*\[(.*)\]", dynamic):
        faults += [f"{path}: {kind} [{entries}] has {'an empty entry' if not e else 'the relative entry ' + e}"
                   for e in entries.split(":") if not e.startswith("/")]
    return faults


def needed(path):
    return re.findall(r"\(NEEDED\).*\[(.*)\]", output("readelf", "--dynamic", "--wide", str(path)))


def planted_faults(program, planted):
    with tempfile.TemporaryDirectory(prefix="hangtrue planted ") as name:
        for library in needed(program):
            shutil.copy(planted, pathlib.Path(name) / library)
        ran = subprocess.run([str(program), "--version"], cwd=name, capture_output=True, text=True)
    if ran.returncode == 0 and ran.stdout.startswith("hangtrue "):
        return []
    return [f"{program}: a library of the folder that it was started in was taken: "
            f"{(ran.stdout + ran.stderr).strip()}, status {ran.returncode}"]


def hardening_faults(path):
    faults = []
    dynamic = output("readelf", "--dynamic", "--wide", str(path))
    heads = output("readelf", "--program-headers", "--wide", str(path))
    if "PIE" not in dynamic:
        faults.append("not position-independent")
    if "GNU_RELRO" not in heads or not re.search(r"BIND_NOW|FLAGS_1.*NOW", dynamic):
        faults.append("no full RELRO")
    if not re.search(r"GNU_STACK .* RW ", heads):
        faults.append("its stack is executable")
    if "__stack_chk_fail" not in output("readelf", "--dyn-syms", "--wide", str(path)):
        faults.append("no stack protector")
    return [f"{path}: {f}" for f in faults]


def flag_faults(build, program):
    """What the linked program does not show: every source was compiled so."""
    faults = []
    commands = json.loads((build / "compile_commands.json").read_text())
    for entry in commands:
        for flag in ("-fstack-protector-strong", "-D_FORTIFY_SOURCE=", "-fPI"):
            if flag not in entry["command"]:
                faults.append(f"{entry['file']}: compiled without {flag}")
    if any("-fcf-protection" in entry["command"] for entry in commands):
        main = re.search(r"<main>:\n(.*)", output("objdump", "--disassemble=main", str(program)))
        if not main or "endbr" not in main.group(1):
            faults.append(f"{program}: main begins without a landing place")
    return faults


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("program", type=pathlib.Path)
    parser.add_argument("planted", type=pathlib.Path)
    parser.add_argument("--cmake", default="cmake")
    parser.add_argument("--hardened", action="store_true")
    asked = parser.parse_args()
    asked.program = asked.program.resolve()
    read = programs(asked.build)
    faults = [fault for path in read for fault in search_path_faults(path)]
    faults += planted_faults(asked.program, asked.planted)
    with tempfile.TemporaryDirectory(prefix="hangtrue installed ") as name:
        output(asked.cmake, "--install", str(asked.build), "--prefix", name)
        installed = programs(pathlib.Path(name))
        if not installed:
            faults.append("nothing was installed")
        for path in installed:
            faults += search_path_faults(path) + planted_faults(path, asked.planted)
        if asked.hardened:
            for path in [*installed, asked.program]:
                faults += hardening_faults(path)
            faults += flag_faults(asked.build, asked.program)
    for fault in faults:
        print(fault)
    print(f"{len(read)} programs and libraries built, {len(installed)} installed, {len(faults)} faults")
    return 1 if faults or asked.program.resolve() not in [p.resolve() for p in read] else 0


if __name__ == "__main__":
    sys.exit(main())
