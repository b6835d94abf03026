"""Levels of paper sheets from one table: held to seats, schemes and criteria, kept as typed in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from django.db import transaction

from criteria.scoring.levels import NOT_MINE, NotJudged
from criteria.typed.columns import text
from criteria.typed.rows import Row, schedule
from criteria.typed.tables import RefusedCell
from reviews.deeds.crit_paper_typing import Typed, type_in, why_not_typed
from reviews.deeds.record_versions import version_of
from reviews.deeds.table_bringing import (
    THE_SAME,
    Preview,
    Record,
    clean,
    line_by_line,
    read_table,
    synonyms,
)
from reviews.models import Crit, Criterion, JurySheet, Person, Revision, Scheme, Seat, Slot
from reviews.reading.crit_sheets import level_of, level_text
from reviews.reading.recrit_scope import asked_of
from reviews.versions import Newer

_NOT_MINE = ("n", "not mine", NOT_MINE.value)


@schedule("levels", "Levels", purpose="What jurors set on paper, or where a school keeps marks.")
class LevelRow(Row):
    """One level of one juror for one scheme."""

    juror: str | None = text("juror", required=True, longest=120, eg="Ada Merrowby").says(
        "As the seat is called."
    )
    scheme: str | None = text("scheme", "Scheme number", required=True, longest=12, eg="H01")
    criterion: str | None = text("criterion", "Criterion code", required=True, longest=12, eg="F1")
    level: str | None = text("level", required=True, longest=20, eg="3").says(
        "1 to 5, or n where it isn't the juror's to judge."
    )
    revision: str | None = text("revision", longest=4, eg="B").says(
        "The one that the juror saw; blank is the one that the crit shows."
    )


LEVELS = LevelRow.schedule

_HEADS = synonyms(
    {
        "juror": "name examiner critic",
        "scheme": "number schemeno no",
        "criterion": "code",
        "level": "mark grade",
        "revision": "rev letter",
    }
)


class Meanwhile(NamedTuple):
    """That levels were kept since the preview was shown."""

    what: str = "levels were kept"
    by: str = "somebody else"


@dataclass(frozen=True)
class _Line:
    """A line whose juror, scheme and criterion are found."""

    seat: Seat
    scheme: Scheme
    criterion: Criterion
    level: int | NotJudged
    revision: Revision | None


class _Lines:
    """Holds each line to the crit and to the lines above it."""

    def __init__(self, crit: Crit, closed: Iterable[int]) -> None:
        self.crit, self.closed = crit, set(closed)
        seats = crit.seats.named().prefetch_related("interests")
        self.seats = {seat.name.casefold(): seat for seat in seats}
        self.above: dict[tuple[str, ...], int] = {}
        self.found: dict[int, _Line] = {}
        self.issued = {(each.scheme_id, each.letter): each for each in crit.revisions.all()}
        self._whys: dict[tuple[int, int], str] = {}
        self._schemes: dict[int, dict[str, Scheme]] = {}
        self._asked: dict[int, dict[str, Criterion]] = {}
        self._sheets: dict[tuple[int, int], JurySheet | None] = {}

    def check(self, number: int, record: Record) -> list[RefusedCell]:
        """What of a line can't be; a line that can is found."""
        said = {head: record[head].strip() for head in LEVELS.heads}

        def refuse(head: str, expected: str) -> list[RefusedCell]:
            read = said[head] or "nothing"
            return [RefusedCell(number, "", LEVELS.column(head).label, read, expected)]

        seat = self.seats.get(said["juror"].casefold())
        if seat is None:
            return refuse("juror", "a juror of this crit")
        schemes = self._seen_by(seat)
        scheme = schemes.get(said["scheme"].casefold())
        if scheme is None or scheme.pk in self.closed:
            open_ = (s.number for s in schemes.values() if s.pk not in self.closed)
            return refuse("scheme", f"a scheme that {seat} sees ({', '.join(open_) or 'none'})")
        if seat.interest_in(scheme.pk):
            return refuse("scheme", f"one in which {seat} has declared no interest")
        if why := self._why_not(seat, scheme):
            return refuse("juror", f"a sheet that may be typed in: {why}")
        asked = self._asked_of(scheme)
        criterion = asked.get(said["criterion"].casefold())
        if criterion is None:
            return refuse("criterion", f"one of {', '.join(c.code for c in asked.values())}")
        told = tuple(said[head].casefold() for head in ("juror", "scheme", "criterion"))
        if (above := self.above.setdefault(told, number)) != number:
            return refuse("criterion", f"one that isn't in line {above} already")
        level = _level(said["level"])
        if level is None:
            return refuse("level", "a level from 1 to 5, or n")
        letter = said["revision"].upper()
        issued = self.issued.get((scheme.pk, letter))
        if letter and issued is None:
            return refuse("revision", f"a revision of {scheme.number} issued for this crit")
        self.found[number] = _Line(seat, scheme, criterion, level, issued)
        return []

    def now(self, line: _Line) -> int | NotJudged | None:
        """The level that stands."""
        sheet = self.sheet(line.seat, line.scheme)
        return level_of(sheet.given_for(line.criterion)) if sheet else None

    def sheet(self, seat: Seat, scheme: Scheme) -> JurySheet | None:
        """The sheet that stands of a juror and scheme."""
        at = (seat.pk, scheme.pk)
        if at not in self._sheets:
            self._sheets[at] = seat.sheets.on(scheme.pk)
        return self._sheets[at]

    def asks(self, scheme: Scheme) -> set[Criterion]:
        """The criteria that a crit asks of a scheme."""
        return set(self._asked_of(scheme).values())

    def _why_not(self, seat: Seat, scheme: Scheme) -> str:
        at = (seat.pk, scheme.pk)
        if at not in self._whys:
            self._whys[at] = why_not_typed(seat, scheme)
        return self._whys[at]

    def _seen_by(self, seat: Seat) -> dict[str, Scheme]:
        if seat.pk not in self._schemes:
            slots = Slot.objects.seen_by(seat).select_related("scheme__studio")
            self._schemes[seat.pk] = {s.scheme.number.casefold(): s.scheme for s in slots}
        return self._schemes[seat.pk]

    def _asked_of(self, scheme: Scheme) -> dict[str, Criterion]:
        if scheme.pk not in self._asked:
            asked = asked_of(self.crit, scheme.pk)
            self._asked[scheme.pk] = {each.code.casefold(): each for each in asked}
        return self._asked[scheme.pk]


def read_levels(crit: Crit, typed: str, closed: Iterable[int] = ()) -> Preview:
    """Read a table of levels and say what each line would do. Nothing is kept.

    closed   keys of schemes that are closed to whoever brings it
    """
    return _read(crit, typed, closed)[0]


def _read(crit: Crit, typed: str, closed: Iterable[int]) -> tuple[Preview, _Lines]:
    lines = _Lines(crit, closed)
    preview = read_table(LEVELS, typed, heads=_HEADS, check=line_by_line(lines.check))
    news = tuple(
        _news(lines.now(line), line.level) if (line := lines.found.get(number)) else ""
        for number in range(1, len(preview.records) + 1)
    )
    return replace(preview, news=news, seen=_version(crit)), lines


def _news(now: int | NotJudged | None, level: int | NotJudged) -> str:
    if now is None:
        return "new"
    return THE_SAME if now == level else f"differs: {level_text(now)} → {level_text(level)}"


@transaction.atomic
def bring_in_levels(
    crit: Crit, typed: str, by: Person, *, closed: Iterable[int] = (), seen: int | None = None
) -> Preview:
    """Keep a table of levels, each sheet as typed in from paper; a sheet that is whole is locked.

    Raises NotClean where a cell is refused, Newer where levels were kept since they were seen,
    Frozen where a sheet can't be typed in any more.
    """
    held = Crit.objects.hold(crit.pk)
    preview, lines = _read(held, typed, closed)
    clean(preview)
    if seen is not None and seen != preview.seen:
        raise Newer(Meanwhile(), None)
    sheets: dict[tuple[int, int], list[_Line]] = {}
    for line in lines.found.values():
        sheets.setdefault((line.seat.pk, line.scheme.pk), []).append(line)
    for own in sheets.values():
        _keep(lines, own, by)
    return preview


def _keep(lines: _Lines, own: list[_Line], by: Person) -> None:
    seat, scheme = own[0].seat, own[0].scheme
    sheet = lines.sheet(seat, scheme)
    given = {line.criterion: sheet.given_for(line.criterion) if sheet else None for line in own}
    has = {level.criterion for level in sheet.levels.all()} if sheet else set()
    revision = next((line.revision for line in own if line.revision), None)
    typed = Typed(
        impression=None,
        impression_seen=0,
        levels=[
            (line.criterion, line.level, was.version if (was := given[line.criterion]) else 0)
            for line in own
        ],
        comments=[],
        of=revision.pk if revision else None,
        locks=lines.asks(scheme) <= has | set(given),
    )
    type_in(seat, scheme, typed, by)


def _level(said: str) -> int | NotJudged | None:
    if said.casefold() in _NOT_MINE:
        return NOT_MINE
    return int(said) if said in ("1", "2", "3", "4", "5") else None


def _version(crit: Crit) -> int:
    """A number that changes whenever a level of a crit does."""
    sheets = JurySheet.objects.filter(seat__crit=crit).order_by("pk")
    held = sheets.values_list("pk", "locked_at", "levels__pk", "levels__version")
    return version_of(sorted(map(str, held)))
