"""Read what a file's name says of its sheet: “02 Plan 1-50.jpg” is sheet 02, Plan, 1:50."""

from __future__ import annotations

import re
from typing import NamedTuple

_NAME = re.compile(r"(?P<number>\d{1,3}(?!\d)(?:[a-z](?![a-z]))?)?[\s_.-]*(?P<title>.*)", re.I)
_SCALE = re.compile(r"\b1[-_: ](?P<part>\d{1,5})\b")


class NameSays(NamedTuple):
    """Number, title and scale in a file's name, each blank where it has none."""

    number: str
    title: str
    scale: str


def said_by_name(name: str) -> NameSays:
    """Return what a file's name says.

    >>> said_by_name("02_plan_1-50.jpg")
    NameSays(number='02', title='plan', scale='1:50')
    >>> said_by_name("02Plan.png").number, said_by_name("20261129_0915.jpg").number
    ('02', '')
    >>> said_by_name("3 Sections.png").number, said_by_name("final FINAL.png").title
    ('03', 'final FINAL')
    """
    stem = name.rpartition(".")[0] or name
    scale = ""
    if found := _SCALE.search(stem.replace("_", " ")):
        scale = f"1:{found['part']}"
        stem = stem[: found.start()] + stem[found.end() :]
    match = _NAME.fullmatch(" ".join(stem.replace("_", " ").split()))
    number, words = (match["number"] or "", match["title"]) if match else ("", stem)
    return NameSays(two_digits(number), words.strip(" -."), scale)


def two_digits(number: str) -> str:
    """A number of a sheet as lists have it: 3 is 03."""
    return f"0{number}" if number.isdigit() and len(number) == 1 else number
