"""Marks that stand on sheets in letters, held to the rows of schedules.

A word is a mark where a schedule has it, or where it is next in that schedule's numbering; what
else reads like one (“D65”, “E27”) is asked about once: a mark, or not?
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from django.db.models import QuerySet, TextField
from django.db.models.functions import Cast

from criteria.checks.package import DRAWN
from criteria.schedules import SCHEDULES
from criteria.schedules.plan import READ
from reviews.models import DrawingKind, IssuedSheet, Package, Sheet
from reviews.models.packages import Typed
from reviews.places import Point
from reviews.reading.sheet_lettering import MARK, PageText
from reviews.worked_out import MOST_PACKAGES

PLAN_MARKS = "plan_marks"

_NOTHING = "{}"
"""The JSON of a sheet of which nothing was read."""

MOST_SHEETS = 1024
"""Sheets whose letters a process keeps as they were read."""

Records = Mapping[str, Sequence[Mapping[str, str]]]

_PREFIXED = {each.slug: each.mark_prefix for each in SCHEDULES if each.mark_prefix}
_IN_ORDER = sorted(_PREFIXED, key=lambda slug: slug not in DRAWN)


class MarkOnSheet(NamedTuple):
    """A mark where it stands on a sheet: its middle in parts of the picture, from the upper left.

    row   the key of the row that has it, as issued its line from 1; None where none does
    """

    mark: str
    schedule: str
    row: int | None
    x: float
    y: float


@dataclass(frozen=True)
class Known:
    """The marks that rows have, and those next in their numbering, by what a word reads as.

    rows   by mark as folded, the mark as typed, its schedule and its row, if there is one
    """

    rows: Mapping[str, tuple[str, str, int | None]]

    @classmethod
    def of(cls, rows: Iterable[tuple[int | None, str, Mapping[str, str]]]) -> Known:
        """Gather the marks of rows: number, schedule and cells of each."""
        marks: dict[str, dict[str, int | None]] = {}
        for pk, slug, cells in rows:
            if slug in _PREFIXED and (mark := cells.get("mark", "").strip()):
                marks.setdefault(slug, {})[mark] = pk
        known: dict[str, tuple[str, str, int | None]] = {}
        for slug in _IN_ORDER:
            there = marks.get(slug, {})
            for mark, pk in there.items():
                known.setdefault(folded(mark), (mark, slug, pk))
            if following := _next(_PREFIXED[slug], there):
                known.setdefault(following, (following, slug, None))
        return cls(known)

    def on(self, text: PageText, besides: Iterable[str] = ()) -> Iterator[MarkOnSheet]:
        """Find the marks of a page, but for words that are said to be none."""
        none = {*besides}
        for word in text.words:
            found = self.rows.get(folded(word.text)) if MARK.fullmatch(word.text) else None
            if found and not (found[2] is None and found[0] in none):
                yield MarkOnSheet(*found, *word.middle)

    def unknown(self, text: PageText, besides: Iterable[str] = ()) -> Iterator[str]:
        """Give what reads like a mark of some schedule, and has no row."""
        prefixes, none = {*_PREFIXED.values()}, {*besides}
        for word in text.words:
            match, mark = MARK.fullmatch(word.text), folded(word.text)
            if match and match[1] in prefixes and mark not in none and not self._has_row(mark):
                yield mark

    def _has_row(self, mark: str) -> bool:
        return mark in self.rows and self.rows[mark][2] is not None


def folded(mark: str) -> str:
    """A mark as it is held to others: letters, number without noughts before it, a letter.

    >>> folded("W-03"), folded("w.3"), folded("T10a"), folded("north")
    ('W3', 'w.3', 'T10a', 'north')
    """
    match = MARK.fullmatch(mark)
    return f"{match[1]}{int(match[2])}{match[3]}" if match else mark


def _next(prefix: str, there: Iterable[str]) -> str:
    """The mark after the highest of a schedule; blank where it has none."""
    numbers = [int(match[1]) for each in there if (match := re.match(rf"{prefix}(\d+)", each))]
    return f"{prefix}{max(numbers) + 1}" if numbers else ""


def known_of(package: Package) -> Known:
    """The marks of a package in preparation."""
    return Known.of((row.pk, row.schedule, row.cells) for row in package.typed().holds)


Letters = tuple[tuple[int, str, str], ...]
"""Of each sheet its key, its number and the JSON of what was read of it."""


class SheetMarks(NamedTuple):
    """A sheet in preparation whose letters were looked for, and the marks that stand on it."""

    sheet: int
    number: str
    text: PageText
    marks: tuple[MarkOnSheet, ...]


@lru_cache(maxsize=MOST_SHEETS)
def _text_of(letters: str) -> PageText:
    """What was read of a sheet, of its JSON as it is kept."""
    return PageText.of_record(json.loads(letters))


def with_letters(sheets: QuerySet[Sheet]) -> QuerySet[Sheet]:
    """The same, each with the JSON of what was read of it in place of that itself."""
    return sheets.defer("lettering").annotate(letters=Cast("lettering", TextField()))


def marks_of_sheets(
    package: Package, hung: Iterable[Sheet] | None = None
) -> tuple[SheetMarks, ...]:
    """Read the marks of all sheets; one of schedules lists marks, and draws none.

    hung   its sheets `with_letters`, where they are at hand
    """
    drawn = package.sheets.exclude(lettering={}).exclude(kind=DrawingKind.SCHEDULE)
    letters = (
        tuple(drawn.values_list("pk", "number", Cast("lettering", TextField())))
        if hung is None
        else tuple(
            (sheet.pk, sheet.number, sheet.__dict__["letters"])
            for sheet in hung
            if sheet.__dict__["letters"] != _NOTHING and sheet.kind != DrawingKind.SCHEDULE
        )
    )
    if not letters:
        return ()
    typed = package.typed()
    keys = tuple(row.pk for row in typed.holds)
    return _marks_of(typed, keys, letters, tuple(package.not_marks))


@lru_cache(maxsize=MOST_PACKAGES)
def _marks_of(
    typed: Typed, keys: tuple[int, ...], letters: Letters, none: tuple[str, ...]
) -> tuple[SheetMarks, ...]:
    rows = zip(keys, typed.holds, strict=True)
    known = Known.of((key, row.schedule, row.cells) for key, row in rows)
    texts = [(pk, number, _text_of(text)) for pk, number, text in letters]
    return tuple(SheetMarks(*each, tuple(known.on(each[2], none))) for each in texts)


def with_read_marks(
    package: Package, read: Sequence[SheetMarks]
) -> dict[str, list[Mapping[str, str]]]:
    """The list of marks on sheets, those read after those typed; nothing where none was read."""
    rows = [
        {"sheet": each.number, "marks": " ".join(marks), "how": READ}
        for each in read
        if (marks := dict.fromkeys(found.mark for found in each.marks))
    ]
    typed = package.records().get(PLAN_MARKS, ())
    return {PLAN_MARKS: [*typed, *rows]} if rows else {}


def marks_on(sheet: Sheet | IssuedSheet) -> list[MarkOnSheet]:
    """The marks on a sheet, each where it stands; of an issued one, those it was issued with."""
    text = PageText.of_record(sheet.lettering)
    if not text.words:
        return []
    if isinstance(sheet, Sheet):
        return [*known_of(sheet.package).on(text, sheet.package.not_marks)]
    return issued_marks(sheet.number, text, sheet.revision.contents["schedules"])


def issued_marks(number: str, text: PageText, schedules: Records) -> list[MarkOnSheet]:
    """Of the words of an issued sheet those that were marks of its revision as it was issued."""
    rows = (
        (line, slug, cells)
        for slug, records in schedules.items()
        for line, cells in enumerate(records, start=1)
    )
    issued = {
        mark
        for row in schedules.get(PLAN_MARKS, ())
        if row.get("how") == READ and row.get("sheet") == number
        for mark in row["marks"].split()
    }
    return [found for found in Known.of(rows).on(text) if found.mark in issued]


@dataclass(frozen=True)
class MarksRead:
    """What was read on the sheets of a package, for the page that lists it.

    on         marks of each sheet, by its number
    asked      what reads like a mark and has no row, with the sheets that it stands on
    outlined   sheets whose letters are drawn as lines
    """

    on: Mapping[str, Sequence[MarkOnSheet]]
    asked: Mapping[str, Sequence[str]]
    outlined: Sequence[str]


def marks_read(package: Package) -> MarksRead:
    """Read the marks of all sheets of a package in preparation."""
    known = known_of(package)
    on: dict[str, Sequence[MarkOnSheet]] = {}
    asked: dict[str, list[str]] = {}
    outlined = []
    for _, number, text, marks in marks_of_sheets(package):
        if text.is_outlined:
            outlined.append(number)
        elif marks:
            on[number] = marks
        for word in dict.fromkeys(known.unknown(text, package.not_marks)):
            asked.setdefault(word, []).append(number)
    return MarksRead(on, asked, outlined)


class OnSheet(NamedTuple):
    """A place on a sheet: its key, its number, and the square."""

    sheet: int
    number: str
    square: str


def places_of(read: Iterable[SheetMarks]) -> dict[int, list[OnSheet]]:
    """Where the marks of rows stand, by the key of each row, each square once."""
    found: dict[int, dict[OnSheet, None]] = {}
    for pk, number, _, marks in read:
        for mark in marks:
            if mark.row is not None:
                at = OnSheet(pk, number, Point(mark.x, mark.y).zone)
                found.setdefault(mark.row, {})[at] = None
    return {row: [*places] for row, places in found.items()}
