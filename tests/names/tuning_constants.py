#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Ends with 1 when docs/tuning-constants.md names a constant that is not in any of the files that its row names.

A row without a file is not looked at.
"""
import os
import re
import sys

ROOT = os.path.normpath(os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", ".."))
PAGE = os.path.join(ROOT, "docs", "tuning-constants.md")


def sources():
    """Text of every source by its path below the top folder."""
    texts = {}
    for top in ("meshing", "solver", "viz", "cases"):
        for folder, _, names in os.walk(os.path.join(ROOT, top)):
            for name in names:
                if name.endswith((".cpp", ".hpp")):
                    path = os.path.join(folder, name)
                    with open(path, encoding="utf-8") as file:
                        texts[os.path.relpath(path, ROOT)] = file.read()
    return texts


def main():
    texts = sources()
    rows, lost = 0, []
    with open(PAGE, encoding="utf-8") as page:
        for number, line in enumerate(page, 1):
            files = re.findall(r"`([\w/]+\.(?:cpp|hpp))`", line)
            if not line.startswith("| `") or not files:
                continue
            rows += 1
            meant = [text for path, text in texts.items() if any(("/" + path).endswith("/" + f) for f in files)]
            for name in re.findall(r"`(\w+)`", line.split("|")[1]):
                if not any(re.search(rf"\b{name}\b", text) for text in meant):
                    lost.append(f"docs/tuning-constants.md:{number}: {name} is not in {', '.join(files)}")
    print("\n".join(lost or [f"{rows} rows"]))
    return 1 if lost or rows == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
