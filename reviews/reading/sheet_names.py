"""Read what a file's name says of its sheet: “02 Plan 1-50.jpg” is sheet 02, Plan, 1:50."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import NamedTuple

_NAME = re.compile(r"(?P<number>\d{1,3}[a-z]?)?[\s_.-]*(?P<title>.*)", re.IGNORECASE)
_SCALE = re.compile(r"\b1[-_: ](?P<part>\d{1,5})\b")
LONGEST_TITLE = 120


class TitleBlock(NamedTuple):
    """What a sheet's title block says, as typed."""

    number: str
    title: str
    scale: str = ""
    drawn_by: str = ""
    checked_by: str = ""


def said_by_name(
    name: str, drawn_by: str, asked: Mapping[str, str], taken: Collection[str]
) -> TitleBlock:
    """Return a title block for a picture.

    asked   the sheets that the hand-in list asks for, number → title
    taken   the numbers that hang already

    >>> said_by_name("02_plan_1-50.jpg", "Ada", {"02": "Plan"}, ())
    TitleBlock(number='02', title='Plan', scale='1:50', drawn_by='Ada', checked_by='')
    >>> said_by_name("final FINAL.png", "", {"00": "Title", "01": "Site"}, {"00"}).number
    '01'
    """
    stem = name.rpartition(".")[0] or name
    scale = ""
    if found := _SCALE.search(stem.replace("_", " ")):
        scale = f"1:{found['part']}"
        stem = stem[: found.start()] + stem[found.end() :]
    match = _NAME.fullmatch(" ".join(stem.replace("_", " ").split()))
    number, words = (match["number"] or "", match["title"]) if match else ("", stem)
    if number.isdigit() and len(number) == 1:
        number = f"0{number}"
    if not number:
        number = _next_number(asked, taken)
    title = asked.get(number) or words.strip(" -.") or f"Sheet {number}"
    return TitleBlock(number, title[:LONGEST_TITLE], scale, drawn_by)


def _next_number(asked: Mapping[str, str], taken: Collection[str]) -> str:
    """The first sheet that is asked for and not there, else the number after the highest."""
    for code in asked:
        if code not in taken:
            return code
    numbers = [int(number) for number in taken if number.isdigit()]
    return f"{max(numbers, default=0) + 1:02}"
