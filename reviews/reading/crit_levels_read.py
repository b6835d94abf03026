"""What is read of a crit's levels: as rows in detail, or as little as a dense table shows."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import NamedTuple

from django.db.models import Prefetch

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.models import Comment, Crit, Criterion, JurySheet, LevelGiven, Scheme, Seat, Slot
from reviews.models.jury import JurySheetQuerySet
from reviews.reading.comment_rulings import take_out_words, with_words_out
from reviews.reading.crit_sheets import level_of
from reviews.worked_out import fingerprint


class Said(NamedTuple):
    """Of a comment, what the table counts."""

    kind: str
    words: str
    held_at: datetime | None
    decided_at: datetime | None
    pk: int


class Entries(NamedTuple):
    """What a jury sheet holds: levels by criterion, each with its row in detail, and comments."""

    sheet: JurySheet
    levels: dict[int, tuple[int | NotJudged | None, LevelGiven | None]]
    said: list[Comment | Said]


@dataclass(frozen=True)
class LevelsRead:
    """What was read of a crit, by whoever may not read what is closed yet.

    schemes   by key, in the order of the day
    closed    schemes of which no more is told than who has locked
    """

    crit: Crit
    seats: tuple[Seat, ...]
    criteria: tuple[Criterion, ...]
    slots: tuple[Slot, ...]
    schemes: dict[int, Scheme]
    entries: list[Entries]
    closed: Collection[int]
    is_in_detail: bool

    @property
    def shows_levels(self) -> bool:
        """Whether a level, or a sheet that may hold one, is open to whoever reads."""
        return any(entries.sheet.scheme_id not in self.closed for entries in self.entries)

    @cached_property
    def fingerprint(self) -> str:
        """Of everything that was read but in detail."""
        interests = [interest for seat in self.seats for interest in seat.interests.all()]
        crossings = [crossing for seat in self.seats for crossing in seat.crossings.all()]
        given = [
            (entries.sheet.pk, [(pk, level) for pk, (level, _) in entries.levels.items()])
            for entries in self.entries
        ]
        said = [entries.said for entries in self.entries]
        sheets = [entries.sheet for entries in self.entries]
        rows = self.crit, self.seats, interests, crossings, self.criteria, self.slots
        schemes = [*self.schemes.values()]
        return fingerprint(rows, schemes, sheets, given, said, sorted(self.closed))


def read_levels(
    crit: Crit,
    scheme: Scheme | None = None,
    *,
    closed: Collection[int] = (),
    held_of: Collection[int] | None = None,
    in_detail: bool = False,
) -> LevelsRead:
    """Read a crit's levels in the order of the day; of one scheme, in detail, where it is named.

    closed      schemes of which whoever reads may know who has locked, and nothing else
    held_of     schemes whose held comments they may read; None: of all
    in_detail   with the row of each level, its changes and revision, and with whole comments
    """
    slots, sheets = crit.slots.select_related("scheme"), JurySheet.objects.filter(seat__crit=crit)
    if scheme is not None:
        slots, sheets = slots.filter(scheme=scheme), sheets.filter(scheme=scheme)
    is_in_detail = scheme is not None or in_detail
    entries = _read_in_detail(sheets) if is_in_detail else _read(sheets)
    if held_of is not None:
        entries = [each if each.sheet.scheme_id in held_of else _withheld(each) for each in entries]
    schemes = {slot.scheme_id: slot.scheme for slot in slots}
    unplaced = {each.sheet.scheme_id for each in entries} - schemes.keys()
    if unplaced:
        schemes |= {each.pk: each for each in Scheme.objects.filter(pk__in=unplaced)}
    return LevelsRead(
        crit=crit,
        seats=tuple(crit.seats.prefetch_related("interests", "crossings")),
        criteria=tuple(crit.criteria.all()),
        slots=tuple(slots),
        schemes=schemes,
        entries=entries,
        closed=closed,
        is_in_detail=is_in_detail,
    )


def _read(sheets: JurySheetQuerySet) -> list[Entries]:
    """What a dense table shows, without a row for each of thousands of levels."""
    read = [Entries(sheet, {}, []) for sheet in sheets.order_by()]
    of = {entries.sheet.pk: entries for entries in read}
    levels = LevelGiven.objects.filter(jury_sheet__in=sheets.order_by()).order_by()
    for pk, criterion, level, is_not_mine in levels.values_list(
        "jury_sheet_id", "criterion_id", "level", "is_not_mine"
    ):
        if pk in of:
            of[pk].levels[criterion] = (NOT_MINE if is_not_mine else level, None)
    comments = Comment.objects.kept().filter(jury_sheet__in=sheets.order_by())
    for pk, *said in comments.values_list("jury_sheet_id", *Said._fields):
        if pk in of:
            of[pk].said.append(Said(*said))
    return read


def _withheld(entries: Entries) -> Entries:
    """The same; of what is held, that it is and nothing that was said."""
    held = {str(each.key) for each in entries.said if isinstance(each, Comment) and each.held_at}
    for former in entries.sheet.formers.all() if held else ():
        told = former.contents["comments"]
        former.contents["comments"] = [each for each in told if each["key"] not in held]
    said = [_trace(each) if each.held_at else each for each in entries.said]
    return entries._replace(said=said)


def _trace(said: Comment | Said) -> Comment | Said:
    if isinstance(said, Said):
        return said._replace(words="")
    said.words, said.held_reason, said.strokes = "", "", []
    take_out_words(said)
    return said


def _read_in_detail(sheets: JurySheetQuerySet) -> list[Entries]:
    comments = Comment.objects.kept().select_related(
        *("criterion", "held_by", "decided_by", "revision"),
        *("issued_sheet__file", "issued_sheet__revision", "jury_sheet"),
    )
    sheets = sheets.select_related("seat", "scheme", "impression_revision").prefetch_related(
        "levels__corrections__by",
        "levels__revision",
        "levels__changed",
        Prefetch("comments", with_words_out(comments)),
        "formers__reopened_by",
    )
    return [
        Entries(
            sheet,
            {given.criterion_id: (level_of(given), given) for given in sheet.levels.all()},
            [*sheet.comments.all()],
        )
        for sheet in sheets
    ]
