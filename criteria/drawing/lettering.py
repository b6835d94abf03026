"""Lettering: its heights, and how wide words are in the faces that draw it.

advances.csv holds how far each sign moves on, in em, made once from the files of both faces that a
reader can choose: of each sign the widest in any weight that is drawn, so that words fit in either.
Figures are tabular: all ten are as wide as the widest.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from itertools import accumulate

LEAST_MM, NAME_MM, ANSWER_MM = 2.5, 3.5, 4.2
"""Heights of capitals [mm]: the least there is (ISO 3098-1, from memory), names, the one answer."""
CAP_EM, BELOW_EM = 0.668, 0.21
"""Height of capitals, of the smaller of both faces, and what hangs below the line [em]."""
WIDEST_EM = 0.95
"""A sign that isn't in the table is taken to be this wide [em]."""


@cache
def _advances() -> dict[str, float]:
    table = files("criteria.drawing").joinpath("advances.csv").read_text(encoding="utf-8")
    return {chr(int(row["sign"], 16)): float(row["em"]) for row in csv.DictReader(table.split())}


def type_mm(cap_mm: float) -> float:
    """Size of type whose capitals are so high [mm].

    >>> round(type_mm(2.5), 2)
    3.74
    """
    return cap_mm / CAP_EM


def width_mm(words: str, cap_mm: float) -> float:
    """How wide words are at most, in either face [mm]."""
    known = _advances()
    return sum(known.get(sign, WIDEST_EM) for sign in words) * type_mm(cap_mm)


def fitted(words: str, cap_mm: float, most_mm: float) -> str:
    """Shorten words to a width, with dots where something is left out.

    >>> fitted("Pull out the bed box", 2.5, 20), fitted("Pull", 2.5, 20)
    ('Pull out t…', 'Pull')
    """
    if width_mm(words, cap_mm) <= most_mm:
        return words
    widths = (width_mm(sign, cap_mm) for sign in words)
    room = most_mm - width_mm("…", cap_mm)
    fit = sum(end <= room for end in accumulate(widths))
    return f"{words[:fit].rstrip()}…"


def wrapped(words: str, cap_mm: float, most_mm: float, most_lines: int = 3) -> list[str]:
    """Set words in lines of a width; what is left on the last is shortened.

    >>> wrapped("Water days, full house, at least 10.0", 2.5, 32)
    ['Water days, full', 'house, at least', '10.0']
    """
    lines = [""]
    for word in words.split(" "):  # never within a figure
        longer = f"{lines[-1]} {word}".strip()
        if len(lines) < most_lines and width_mm(longer, cap_mm) > most_mm and lines[-1]:
            lines.append(word)
        else:
            lines[-1] = longer
    return [fitted(line, cap_mm, most_mm) for line in lines]


def initials_of(names: Iterable[str]) -> dict[str, str]:
    """Return the initials of each name; those of several take a number behind.

    >>> initials_of(["Marek Ostrey", "Mo Olin", "Pia"])
    {'Marek Ostrey': 'MO', 'Mo Olin': 'MO2', 'Pia': 'P'}
    >>> initials_of([" "])
    {' ': '?'}
    """
    found: dict[str, str] = {}
    given: dict[str, int] = {}
    for name in dict.fromkeys(names):
        short = "".join(word[0] for word in name.split()[:3]).upper() or "?"
        given[short] = given.get(short, 0) + 1
        found[name] = short if given[short] == 1 else f"{short}{given[short]}"
    return found
