#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/public-names.md: every name that a header of a room gives to others, with the first sentence said of it.

    public_names.py            write the page
    public_names.py --check    end with 1 when the page is not of today's headers, or a name has no sentence

Reads headers as clang-format writes them: a comment of three slashes, then a declaration at the left margin.
"""
import os
import re
import sys

ROOT = os.path.normpath(os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", ".."))
PAGE = os.path.join(ROOT, "docs", "public-names.md")
HEAD = """# Public names

Every type, function and constant that a header gives to other rooms, with the first sentence of its comment. Made by
`tests/names/public_names.py`; the test `public_names` says when a header has a name that is not here.
"""
TYPE = re.compile(r"^(?:template <[^>]*>\s*)?(?:struct|class|enum class|enum)\s+(\w+)")
ALIAS = re.compile(r"^using\s+(\w+)\s*=")
CONSTANT = re.compile(r"^(?:inline |constexpr |extern |const )+[\w:<>, ]+?[ &*](\w+)(?:\[\])?\s*(?:=|\{|;)")
FUNCTION = re.compile(r"^[\w\[][^;={]*?[ &*>](operator[^\s(]+|\w+)\(")
SKIP = ("namespace", "#", "//", "}", "{", "public:", "private:", "protected:", "using namespace", "friend", "static_assert")


def name_of(declaration):
    for pattern, kind in ((TYPE, "type"), (ALIAS, "type"), (FUNCTION, "function"), (CONSTANT, "constant")):
        found = pattern.match(declaration)
        if found:
            return found.group(1), kind
    return None, None


def first_sentence(comment):
    text = " ".join(comment).strip()
    end = re.search(r"(?<=[a-z0-9)\]`\"])[.:;](?=\s|$)", text)
    return text[: end.start()] if end else text.rstrip(".")


def declarations(path):
    """(name, kind, comment lines) of all at the left margin; a forward declaration is none."""
    comment, template = [], ""
    for line in open(path, encoding="utf-8"):
        line = line.rstrip("\n")
        if line.startswith("///"):
            if not line.startswith("///<"):
                comment.append(line[3:].strip())
            continue
        if line.startswith("template <") and line.endswith(">"):
            template = line + " "
            continue
        if not line or line[0].isspace() or line.startswith(SKIP):
            if not line:
                comment = []
            continue
        name, kind = name_of(template + line)
        template = ""
        if name and not re.match(r"^(struct|class) \w+;", line):
            yield name, kind, comment or trailing(line)
        comment = []


def trailing(line):
    return [line.split("///<", 1)[1].strip()] if "///<" in line else []


def rooms():
    for top in ("meshing", "solver", "viz", "cases"):
        lists = open(os.path.join(ROOT, top, "CMakeLists.txt"), encoding="utf-8").read()
        named = [n for n in re.findall(r"add_subdirectory\((\w+)\)", lists)]
        yield top, ""
        for room in named:
            yield top, room


def page():
    lines, silent = [HEAD], []
    for top, room in rooms():
        folder = os.path.join(ROOT, top, room)
        rows = []
        for header in sorted(n for n in os.listdir(folder) if n.endswith(".hpp")):
            seen = set()
            for name, kind, comment in declarations(os.path.join(folder, header)):
                if name in seen:  # an overload
                    continue
                seen.add(name)
                sentence = first_sentence(comment)
                if not sentence:
                    silent.append(f"{top}/{room}/{header}: {name}")
                shown = f"`{name}()`" if kind == "function" else f"`{name}`"
                rows.append(f"| {shown} | {header} | {sentence.replace('|', chr(92) + '|')} |")
        if rows:
            lines += [f"## {top}/{room}".rstrip("/"), "", "| name | header | meaning |", "|---|---|---|", *rows, ""]
    return "\n".join(lines), silent


def main():
    text, silent = page()
    for name in silent:
        print(f"nothing is said of {name}")
    if "--check" not in sys.argv:
        with open(PAGE, "w", encoding="utf-8") as file:
            file.write(text)
        return 1 if silent else 0
    with open(PAGE, encoding="utf-8") as file:
        same = file.read() == text
    if not same:
        print("docs/public-names.md is not of today's headers: python3 tests/names/public_names.py")
    return 0 if same and not silent else 1


if __name__ == "__main__":
    sys.exit(main())
