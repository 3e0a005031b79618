# SPDX-License-Identifier: GPL-3.0-or-later
"""Faults of HTML files: where the parser of the HTML standard (html5lib, Debian's python3-html5lib, which
WeasyPrint brings along) has to mend something. One line each; the exit status says whether there were any."""
import sys

import html5lib

faults = 0
for path in sys.argv[1:]:
    parser = html5lib.HTMLParser()
    with open(path, "rb") as file:
        parser.parse(file)
    for (line, column), what, more in parser.errors:
        print(f"{path}:{line}:{column}: {what} {more}")
        faults += 1
sys.exit(1 if faults else 0)
