"""Read one table (CSV, TSV) as one schedule: told by its file's name, else by its heads."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from criteria.typed.rows import Schedule
from criteria.typed.tables import match_heads, parse_block
from reviews.exchange.proposed import Proposal, Question
from reviews.exchange.table_lines import UNITS_ASKED, Told, asked_units, rows_of

KIND = "table"

SCHEDULE_ASKED = "schedule"
"""By this name it is answered which schedule the table is of."""

FILE_NAME = "file-name"
"""By this name whoever asks says what the file is called, where its path doesn't."""

EXPECTED = "a table as text: CSV or TSV, heads in the first line"


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Read a table. Raises Refused for one that is no text, or holds endless cells."""
    text, said = _text(Path(path).read_bytes())
    try:
        grid = parse_block(text)
    except Refused as refused:
        raise Refused("a table with a cell that doesn’t end", refused.expected) from None
    first = next((n for n, line in enumerate(grid) if any(map(str.strip, line))), None)
    if first is None:
        raise Refused("an empty table", EXPECTED)
    heads = grid[first]
    likely = sorted(_likely(heads), key=lambda each: -each[1])
    schedule, is_open = _schedule(answers, Path(path).stem, likely)
    questions = [_asked_schedule(likely, schedule)] if is_open else []
    if schedule is None:
        return Proposal(kind=KIND, questions=tuple(questions), said=said)

    def where(row: int, column: int) -> str:
        head = heads[column].strip() if column < len(heads) else f"cell {column + 1}"
        return f"line {row + 1}, {head}"

    units = answers.get(UNITS_ASKED, "")
    lines = rows_of(schedule, grid, Told(where=where), units)
    asked = asked_units(lines.bare, units)
    return Proposal(
        kind=KIND,
        rows=lines.rows,
        questions=(*questions, *([asked] if asked else [])),
        said=(*said, *lines.said),
    )


def _text(raw: bytes) -> tuple[str, tuple[str, ...]]:
    """The text of a file and what must be said of how it is written."""
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            return raw.decode("utf-16"), ()
        except UnicodeDecodeError:
            raise Refused("a file that is no text to its end", EXPECTED) from None
    if b"\x00" in raw:
        raise Refused("a file that is no text", EXPECTED)
    try:
        return raw.decode("utf-8-sig"), ()
    except UnicodeDecodeError:
        guessed = "Read as Windows-1252, for it is no UTF-8: look at letters with accents."
        return raw.decode("cp1252", errors="replace"), (guessed,)


def _likely(heads: Sequence[str]) -> Iterator[tuple[Schedule, int]]:
    """The schedules that know most of these heads, each with how many it knows."""
    named = [head for head in heads if head.strip()]
    for schedule in BY_SLUG.values():
        known = sum(match is not None for match in match_heads(schedule, named))
        if known * 2 > len(named):
            yield schedule, known


def _schedule(
    answers: Mapping[str, str], stem: str, likely: Sequence[tuple[Schedule, int]]
) -> tuple[Schedule | None, bool]:
    """Which schedule it is, and whether another could be meant.

    It is as answered, as the file is named, or the one that alone knows most heads.
    """
    if (answered := answers.get(SCHEDULE_ASKED, "")) in BY_SLUG:
        return BY_SLUG[answered], True
    known = [schedule for schedule, _ in likely]
    if named := _named(Path(answers.get(FILE_NAME, "")).stem) or _named(stem):
        return named, named not in known
    most = [schedule for schedule, heads in likely if heads == likely[0][1]]
    return most[0] if len(most) == 1 else None, len(known) != 1


def _named(stem: str) -> Schedule | None:
    """The schedule that a file is named for: windows.csv, H07-windows (2).csv."""
    called = re.sub(r"\s*\(\d+\)$", "", stem).casefold()
    slugs = (called, called.rpartition("-")[2], called.rpartition(" ")[2])
    return next((BY_SLUG[slug] for slug in slugs if slug in BY_SLUG), None)


def _asked_schedule(likely: Sequence[tuple[Schedule, int]], chosen: Schedule | None) -> Question:
    schedules = [schedule for schedule, _ in likely] or list(BY_SLUG.values())
    if chosen and chosen not in schedules:
        schedules = [chosen, *schedules]
    return Question(
        name=SCHEDULE_ASKED,
        asked="Which schedule is this table?",
        choices=tuple((schedule.slug, schedule.title) for schedule in schedules),
        chosen=chosen.slug if chosen else "",
    )
