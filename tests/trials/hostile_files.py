# SPDX-License-Identifier: GPL-3.0-or-later
"""Files that want to break the reader or what it writes: (name, text) of each."""
import unicodedata

DOOR = """[door]
width = "30 in"
height = "30 in"
{door}
[rim]
width = "1-1/2 in"
[[hinge]]
at = "5 in"
{hinge}
[[hinge]]
at = "25 in"
[accuracy]
finest_level = 1
{end}
"""

# What no text of a user may carry into a terminal or a drawing: controls, writing direction, line and
# paragraph separators, what is no character (Unicode 15, chapters 23.1, 23.2, 23.7; XML 1.0, 2.2).
DIRECTION = {0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)}


def forbidden(text):
    """The first character of a text that may not be there, or nothing."""
    for c in text:
        point = ord(c)
        if (unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") or point in DIRECTION
                or 0xFDD0 <= point <= 0xFDEF or point & 0xFFFE == 0xFFFE):
            return c
    return None


def door(door="", hinge="", end=""):
    return DOOR.format(door=door, hinge=hinge, end=end)


def named(escaped):
    return door(door=f'name = "{escaped}"')


def hostile_files():
    """45 files, each with a name that says what it wants."""
    many = "".join(f'[[hinge]]\nat = "{5 + 0.001 * i:.3f} in"\n' for i in range(1000))
    files = [
        ("hinges-1000", door(end=many)),
        ("hinges-30000", door(end='[[hinge]]\nat = "5 in"\n' * 30000)),
        ("hinges-bare-60000", door(end="[[hinge]]\n" * 60000)),
        ("stiffeners-20000", door(end='[[stiffener]]\nat = "15 in"\n' * 20000)),
        ("latches-20000", door(end='[[latch]]\nat = "15 in"\n' * 20000)),
        ("header-deep", "[" + ".".join("a" * 50000) + "]\n"),
        ("header-deep-quoted", "[" + ".".join(['"a.b"'] * 50000) + "]\n"),
        ("headers-deep-table", "[[" + ".".join("a" * 50000) + "]]\n"),
        ("key-deep", ".".join("a" * 50000) + " = 1\n"),
        ("key-deep-inline", "x = {" + ".".join("a" * 50000) + " = 1}\n"),
        ("array-deep", "x = " + "[" * 200000 + "]" * 200000 + "\n"),
        ("array-deep-open", "x = " + "[" * 500000),
        ("inline-deep", "x = " + "{a=" * 50000 + "1" + "}" * 50000 + "\n"),
        ("mixed-deep", "x = " + "[{a=" * 30000 + "1" + "}]" * 30000 + "\n"),
        ("keys-unknown-90000", "[door]\n" + "".join(f"k{i} = 1\n" for i in range(90000))),
        ("sections-unknown-90000", "".join(f"[k{i}]\n" for i in range(90000))),
        ("sections-nested-40000", "".join(f"[a.b{i}.c]\n" for i in range(40000))),
        ("keys-dotted-60000", "".join(f"a.b{i} = 1\n" for i in range(60000))),
        ("keys-dotted-in-table-60000", "[door]\n" + "".join(f"a{i}.b = 1\n" for i in range(60000))),
        ("tables-in-tables-30000", "".join(f"[[a]]\n[a.b{i}]\n" for i in range(30000))),
        ("inline-tables-60000", "x = [" + "{a=1}," * 60000 + "]\n"),
        ("key-long", "k" * 900000 + " = 1\n"),
        ("text-long", door(door='name = "' + "x" * 900000 + '"')),
        ("quantity-long", door(door='reveal = "' + "0" * 900000 + '.25 in"')),
        ("quantity-many-parts", door(door='reveal = "' + "1 in " * 150000 + '"')),
        ("number-long", door(end="tolerance = 0." + "0" * 900000 + "1")),
        ("whole-number-long", door(hinge="knuckles = " + "3" * 100000)),
        ("schedule-long", door(end='[fire]\nschedule = [' + ", ".join(
            f'["{i} s", "20 degC"]' for i in range(40000)) + "]")),
        ("instants-long", door(end='[fire]\nschedule = [["0 s", "20 degC"], ["9 h", "90 degC"]]\ninstants = ['
                               + ", ".join(f'"{i + 1} s"' for i in range(20000)) + "]")),
        ("knuckles-long", door(hinge="knuckle_length = [" + '"1 in",' * 80000 + "]")),
        ("file-too-large", door() + "#" * (2 << 20)),
        ("comments-only", "#" + "x" * 900000),
        ("blank-lines", "\n" * 1000000),
        ("nul-bytes", door(door="a = 1\x00\x00")),
        ("not-utf-8", door().encode() + b"# \xff\xfe\n"),
        ("mark-of-order-only", "\ufeff" + door()),
        ("surrogate", named("\\ud800")),
        ("name-forged-verdict", named("Door\\u001b[2K\\rEverything holds.\\u001b[32m")),
        ("name-new-lines", named("Door\\nverdict: holds\\n")),
        ("name-direction", named("Door \\u202eholds\\u202c \\u2066x\\u2069 \\u200f")),
        ("name-separators", named("Door\\u2028x\\u2029y")),
        ("name-no-character", named("Door \\uFFFE\\uFFFF \\uFDD0 \\U0001FFFE")),
        ("name-c1", named("Door \\u0085 \\u009b31m")),
        ("key-escape", door(end='"\\u001b[31mkey\\u202e" = 1')),
        ("name-markup", named("</text><script>x</script> & ]]> -->")),
    ]
    return [(f"{name}.toml", text) for name, text in files]
