"""Flags and strokes over a sheet's picture: where each stands, and whose tracing paper it is on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from reviews.models import Comment, IssuedSheet, Revision, SpokenNote
from reviews.pages.sheet_views import SheetView, sheet_view
from reviews.places import Point
from reviews.reading.crit_results import foot_of
from reviews.strokes import write_points

FLAG_PX = 34
"""How far a flag stands from the next where both are of one place."""

_NEAR_THE_EDGE = 0.9
_APART = 0.02


@dataclass(frozen=True)
class Flag:
    """A numbered flag, its foot at a point of the sheet.

    href     leads to its words
    aside    how far it is moved aside from the point, so that it hides no other [px]
    is_back  whether it flies to the left, at the right edge of the sheet
    says     what it is, for whoever doesn't see where it stands
    """

    id: str
    href: str
    number: str
    point: Point
    aside: int
    is_back: bool
    says: str

    @property
    def x(self) -> str:
        """Across the picture."""
        return f"{self.point.x * 100:.2f}%"

    @property
    def y(self) -> str:
        """Down the picture."""
        return f"{self.point.y * 100:.2f}%"

    @property
    def width(self) -> int:
        """Of its pennant [px]."""
        return 18 + 9 * len(self.number)


class Drawn(NamedTuple):
    """What was drawn with one comment: its strokes as points of a unit square."""

    id: str
    number: str
    strokes: list[str]


@dataclass(frozen=True)
class Layer:
    """One juror's tracing paper over a sheet."""

    of: str
    drawn: list[Drawn]


class Said(NamedTuple):
    """A comment or spoken note, its number on the page, whose it is, and the id of its words."""

    comment: Comment | SpokenNote
    number: str
    of: str
    id: str

    @property
    def flag(self) -> str:
        """Where its flag stands on the page; blank where it has none."""
        return f"#{flag_id(self.id)}" if foot_of(self.comment) else ""

    @property
    def what(self) -> str:
        """What it is, in a word or two."""
        return "Spoken note" if self.is_spoken else "Comment"

    @property
    def is_spoken(self) -> bool:
        """Whether a scribe took it down."""
        return isinstance(self.comment, SpokenNote)


@dataclass(frozen=True)
class TracedSheet:
    """A sheet with what was said and drawn over it.

    spoken   flags of what a scribe took down and no juror confirmed: a layer of their own
    """

    sheet: SheetView
    revision: Revision | None
    flags: list[Flag]
    spoken: list[Flag]
    layers: list[Layer]


def traced(sheet: IssuedSheet, said: Sequence[Said], *, at: str = "") -> TracedSheet:
    """A sheet under the flags and strokes of what was said of it, its words on the page `at`."""
    placed = [each for each in said if foot_of(each.comment)]
    stood: list[Point] = []
    flags = [(each.is_spoken, _flag(each, stood, at)) for each in placed]
    return TracedSheet(
        sheet=sheet_view(sheet),
        revision=sheet.revision,
        flags=[flag for is_spoken, flag in flags if not is_spoken],
        spoken=[flag for is_spoken, flag in flags if is_spoken],
        layers=layers_of(said),
    )


def traced_sheets(said: Iterable[Said]) -> list[TracedSheet]:
    """Each sheet that something was said of, under its flags and strokes."""
    on: dict[IssuedSheet, list[Said]] = defaultdict(list)
    for each in said:
        if sheet := each.comment.issued_sheet:
            on[sheet].append(each)
    return [traced(sheet, on[sheet]) for sheet in sorted(on, key=lambda s: (s.number, s.pk))]


def layers_of(said: Iterable[Said]) -> list[Layer]:
    """The tracing paper of each who drew, in the order in which they first did."""
    papers: dict[str, list[Drawn]] = {}
    for each in said:
        if drawn := each.comment.drawn:
            strokes = [write_points(stroke) for stroke in drawn]
            papers.setdefault(each.of, []).append(Drawn(each.id, each.number, strokes))
    return [Layer(of, drawn) for of, drawn in papers.items()]


def _flag(said: Said, stood: list[Point], at: str) -> Flag:
    """Where a flag stands beside those that stand already, which it joins."""
    comment = said.comment
    point = foot_of(comment) or Point(0, 0)
    beside = sum(
        abs(point.x - other.x) < _APART and abs(point.y - other.y) < _APART for other in stood
    )
    stood.append(point)
    is_back = point.x > _NEAR_THE_EDGE
    return Flag(
        id=flag_id(said.id),
        href=f"{at}#{said.id}",
        number=said.number,
        point=point,
        aside=beside * FLAG_PX * (-1 if is_back else 1),
        is_back=is_back,
        says=f"{said.what} {said.number} {comment.kind} {comment.zone}".strip(),
    )


def flag_id(words_id: str) -> str:
    """The id of a comment's flag, to which its words lead back."""
    return f"flag-{words_id.removeprefix('comment-')}"
