"""How many times smaller than what it shows a sheet is drawn, where its title block says one."""

from __future__ import annotations

import re
from fractions import Fraction

from criteria.errors import Refused

EXPECTED = 'one scale, such as 1:50 or 1/4" = 1\'-0"'
_METRIC = re.compile(r"1\s*:\s*(\d{1,5})")
_US = re.compile(r"(?:(\d{1,2})[\s-]+)?(\d{1,2})(?:/(\d{1,3}))?\s*[\"”″]\s*=\s*(\d{1,3})\s*['’′]")
_REST = re.compile(r"\s*-?\s*(?:0\s*[\"”″])?")


def drawn_ratio(text: str) -> float:
    """Read a scale as a title block letters it; raises Refused where it isn't one alone.

    >>> drawn_ratio("1:50"), drawn_ratio(" 1 : 200 "), drawn_ratio("1/4\\" = 1'-0\\"")
    (50.0, 200.0, 48.0)
    >>> drawn_ratio('1 1/2"=1\\''), drawn_ratio("1\\" = 20'")
    (8.0, 240.0)
    >>> drawn_ratio("1:50, 1:20")
    Traceback (most recent call last):
    criteria.errors.Refused: read “1:50, 1:20”; expected one scale, such as 1:50 or 1/4" = 1'-0"
    """
    typed = text.strip()
    if found := _METRIC.fullmatch(typed):
        ratio = Fraction(found[1])
    elif (found := _US.match(typed)) and _REST.fullmatch(typed[found.end() :]):
        whole, over, under, feet = found.groups()
        inches = Fraction(int(whole or 0)) + Fraction(int(over), int(under or 1) or 1)
        ratio = Fraction(12 * int(feet)) / inches if inches else Fraction(0)
    else:
        ratio = Fraction(0)
    if not ratio:
        raise Refused(typed, EXPECTED)
    return float(ratio)
