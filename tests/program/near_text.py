# SPDX-License-Identifier: GPL-3.0-or-later
"""Two texts alike but for the last digit of their numbers: other dense kernels round otherwise (docs/decisions, 21)."""
import re

NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")

ROUNDING = 1e-8


def last_place(text):
    """One unit of the last digit written: 0.01 of "3.14"."""
    digits, _, power = text.lower().partition("e")
    places = len(digits.partition(".")[2])
    return 10.0 ** (int(power or 0) - places)


def first_difference(found, expected, share=1e-3):
    """What differs first, or None: words must be the same; a number may be off by one in its last place, or by `share`
    of itself, which a pin that finds another step of its circle moves it by."""
    words_found, words_expected = NUMBER.sub("#", found), NUMBER.sub("#", expected)
    if words_found != words_expected:
        for number, (a, b) in enumerate(zip(words_found.splitlines(), words_expected.splitlines()), 1):
            if a != b:
                return f"line {number}: '{found.splitlines()[number - 1]}' for '{expected.splitlines()[number - 1]}'"
        return f"{len(found.splitlines())} lines for {len(expected.splitlines())}"
    for a, b in zip(NUMBER.findall(found), NUMBER.findall(expected)):
        if max(abs(float(a)), abs(float(b))) < ROUNDING:
            continue  # what equations leave over
        if abs(float(a) - float(b)) > 1.001 * max(last_place(a), last_place(b), share * abs(float(b))):
            return f"{a} for {b}"
    return None
