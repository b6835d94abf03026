"""What is said of a weather file that can't be used."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from criteria.errors import LONGEST_QUOTED
from criteria.hourly.weather import Hours

MOST_FAULTS = 6
"""Most faults that one refusal names: a file that is wrong in one way is wrong in every row."""

_DIGITS = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,2})?"
_NUMBER = re.compile(_DIGITS, re.ASCII)
_NUMBERS = re.compile(rf"(?:{_DIGITS},)*", re.ASCII)


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong with a file.

    where     row and field, or line, or file
    others    in how many rows more the same is wrong
    """

    where: str
    read: str
    expected: str
    others: int = 0

    def __str__(self) -> str:
        read = self.read
        if len(read) > LONGEST_QUOTED:
            read = f"{read[:LONGEST_QUOTED]}…"
        more = f"; so in {self.others:,} rows more" if self.others else ""
        return f"{self.where}: read “{read}”; expected {self.expected}{more}"


class WeatherRefused(ValueError):
    """A weather file that can't be used.

    faults   what is wrong with it, the first of them
    """

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults[:MOST_FAULTS]
        super().__init__(". ".join(map(str, self.faults)))


def number(text: str) -> float | None:
    """Return a plain number, None of anything else: words, nan, inf, signs of other scripts."""
    return float(text) if _NUMBER.fullmatch(text) else None


def numbers(texts: Sequence[str]) -> Hours:
    """Return plain numbers, nan of anything else, all of them at once."""
    if _NUMBERS.fullmatch("".join(f"{text}," for text in texts)):
        return np.array(texts).astype(np.float64)
    return np.array([np.nan if (read := number(text)) is None else read for text in texts])
