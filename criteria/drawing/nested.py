"""Pieces in pieces, drawn by their tightest sides: the clear inside, and what goes into it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import Held, held
from criteria.drawing.lettering import LEAST_MM, fitted
from criteria.drawing.marks import Box, Flat, Gap, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import largest
from criteria.package import Package
from criteria.schedules.moving import Piece

NESTS = "nesting_clearance"
TALL_MM, APART_MM, LINE_MM, MOST = 30.0, 6.0, 3.9, 3
"""How tall one view is at most, between views, a line of words [mm]; rows of views."""


@dataclass(frozen=True)
class Nest:
    """A piece in another: both by their two tightest sides, across and up [m]."""

    inner: Piece
    outer: Piece
    room_m: tuple[float, float]
    size_m: tuple[float, float]
    held: Held

    @property
    def title(self) -> str:
        """Which is in which."""
        return f"{self.inner.mark} in {self.outer.mark}"


def nests_of(seen: Seen) -> list[Nest]:
    """Return the pieces whose clearance is known, the tightest first."""
    rows = {row.mark: row for row in seen.package.leniently.pieces}
    found = []
    for each in held(seen, NESTS):
        inner = rows.get(each.measured.subject)
        outer = rows.get(inner.packs_into or "") if inner else None
        if inner is None or outer is None or None in (*outer.inside_m, *inner.sizes_m):
            continue  # it is so in another state
        pairs = zip(sorted(outer.inside_m), sorted(inner.sizes_m), strict=True)
        tight = sorted(pairs, key=lambda pair: pair[0] - pair[1])[:2]
        (up_room, up_size), (room, size) = sorted(tight)  # the longer lies across
        found.append(Nest(inner, outer, (room, up_room), (size, up_size), each))
    return found


def draw_nests(nests: Sequence[Nest], gaps: tuple[Gap, ...], seen: Seen, field: Field) -> Drawing:
    """Draw each piece in the piece that it packs into."""
    return _Nests(nests, seen, field).drawing(gaps)


class _Nests:
    def __init__(self, nests: Sequence[Nest], seen: Seen, field: Field) -> None:
        self.field, self.head = field, answer(seen, field)
        self.columns = 2 if field.is_narrow else 3
        self.cell = (field.width_mm - 2 * SIDE_MM + APART_MM) / self.columns
        wide, tall = (max(max(n.room_m[k], n.size_m[k]) for n in nests) for k in (0, 1))
        room = self.cell - APART_MM
        self.scale = largest((wide, tall), (room, TALL_MM), field.system, ratio=10)
        self.tall = self.scale.mm(tall)
        most = MOST * self.columns
        self.drawn, self.rest = nests[:most], nests[most:]
        self.figures: list[Figure] = []

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        """Draw the answer and each nest, row by row."""
        top, step = self.head.height_mm + 2.0, self.tall + 2 * LINE_MM + 5.0
        marks: list[Mark] = [*self.head.letters]
        for n, nest in enumerate(self.drawn):
            left = SIDE_MM + n % self.columns * self.cell
            marks.append(self._nest(nest, left, top + n // self.columns * step + self.tall))
        foot = top + -(-len(self.drawn) // self.columns) * step + LEAST_MM
        at = (self.field.width_mm - SIDE_MM, foot)
        words = f"heavy: clear inside, {self.scale.name}"
        marks.append(Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE))
        return Drawing(
            title="Pieces in pieces, by their tightest sides",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(foot + 1.5, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=gaps,
            key=tuple(nest.inner.mark for nest in self.rest),
        )

    def _box(self, left: float, foot: float, sizes_m: tuple[float, float]) -> Box:
        wide, tall = (self.scale.mm(m) for m in sizes_m)
        return left, foot - tall, left + wide, foot

    def _nest(self, nest: Nest, left: float, foot: float) -> Touch:
        """The clear inside, the piece in its middle, and what is between them in words."""
        room = self._box(left, foot, nest.room_m)
        spare = max(0.0, self.scale.mm(nest.room_m[0] - nest.size_m[0]) / 2)
        size = self._box(left + spare, foot, nest.size_m)
        tone = nest.held.tone
        shapes: list[Flat] = [
            Path(points=rectangle(size), tone=tone, fill=Fill.TRACE, is_closed=True),
            Path(points=rectangle(room), pen=Pen.CUT, is_closed=True),
            *(hatched(rectangle(over), 1.1, Tone.SHORT) for over in _beyond(size, room)),
        ]
        words = nest.held.write_beside(self.field.system, is_narrow=True)
        said = f"{words} each side"
        self.figures.append(Figure(what=nest.title, amount=nest.held.amount, lettered=words))
        for n, (line, is_strong) in enumerate(((nest.title, True), (said, False))):
            at = (left, foot + LEAST_MM + 1.8 + n * LINE_MM)
            line = fitted(line, LEAST_MM, self.cell - APART_MM)
            line_tone = Tone.INK if is_strong else tone
            shapes.append(Lettering(words=line, at=at, tone=line_tone, is_strong=is_strong))
        says = f"{nest.title}, {said}"
        return Touch(schedule="pieces", mark=nest.inner.mark, says=says, marks=tuple(shapes))


def _beyond(size: Box, room: Box) -> Iterator[Box]:
    """What of a piece is beside or over the inside of the other."""
    if size[2] > room[2] + 1e-6:
        yield room[2], size[1], size[2], size[3]
    if size[1] < room[1] - 1e-6:
        yield size[0], size[1], min(size[2], room[2]), room[1]


def _gaps(package: Package) -> Iterator[Gap]:
    rows = {row.mark: row for row in package.leniently.pieces}
    for row in rows.values():
        outer = rows.get(row.packs_into or "")
        if outer is None:
            continue
        wanted = [(row, f"{side}_m", side) for side in ("length", "width", "height")]
        wanted += [(outer, f"inside_{side[0]}_m", f"inside {side}") for _, _, side in wanted]
        for each, name, words in wanted:
            if getattr(each, name) is None:
                column = each.schedule.by_attribute[name].head
                says = f"{each.mark}: {words} not given"
                yield Gap(schedule="pieces", mark=each.mark, column=column, says=says)


def _ready(seen: Seen) -> Ready | None:
    nests = nests_of(seen)
    return Ready(partial(draw_nests, nests, tuple(_gaps(seen.package)), seen)) if nests else None


NESTED = Picture(
    ready=_ready,
    wants="what packs into another wants its sizes, and the other its sizes inside",
    checks=(NESTS,),
)
