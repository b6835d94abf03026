"""The door of a container, drawn: each piece end-on before it, and how far it reaches inside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import permutations

from criteria.checks.transport import CONTAINERS_M, fits_container
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted, wrapped
from criteria.drawing.marks import Box, Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.pieces import Boxed, boxed
from criteria.drawing.scales import largest, lettered
from criteria.findings import SAME, Amount
from criteria.units import ROOM_LENGTH

TALL_MM, APART_MM, LINE_MM, MOST = 26.0, 5.0, 3.9, 4
"""How tall a door is at most, between doors, a line of words [mm]; rows of pieces."""
DOOR = ("door, wide", "door, high")


@dataclass(frozen=True)
class Turned:
    """A piece as it best goes in: its side along the container, and both that pass the door."""

    piece: Boxed
    along_m: float
    wide_m: float
    high_m: float
    fits: bool


def turned(piece: Boxed, kind: str) -> Turned:
    """Return the way round in which least of a piece sticks out, of those that fit the first."""
    (length, width, height), door = CONTAINERS_M[kind]

    def out(sizes: tuple[float, ...]) -> float:
        most = (length, min(width, door[0]), min(height, door[1]))
        return sum(max(0.0, size - room) for size, room in zip(sizes, most, strict=True))

    along, wide, high = min(permutations(piece.sizes_m), key=lambda way: (out(way), -way[0]))
    return Turned(piece, along, wide, high, fits_container(piece.sizes_m, kind))


def draw_door(kind: str, seen: Seen, field: Field) -> Drawing:
    """Draw pieces before the door of a container."""
    return _Doors(kind, seen, field).drawing()


class _Doors:
    def __init__(self, kind: str, seen: Seen, field: Field) -> None:
        self.kind, self.seen, self.field = kind, seen, field
        pieces, gaps = boxed(seen.package)
        self.gaps = tuple(gap for gap in gaps if gap.column != "n")
        ways = sorted((turned(each, kind) for each in pieces), key=lambda each: each.fits)
        self.head = answer(seen, field)
        self.inside, self.door = CONTAINERS_M[kind]
        wide = max(self.door[0], *(each.wide_m for each in ways))
        tall = max(self.door[1], *(each.high_m for each in ways))
        room = field.width_mm - 2 * SIDE_MM
        columns = 2 if field.is_narrow else 4
        cell = (room + APART_MM) / columns
        self.scale = largest((wide, tall), (cell - APART_MM, TALL_MM), field.system, ratio=95)
        self.tall = self.scale.mm(tall)
        self.ways, self.rest = ways[: MOST * columns], ways[MOST * columns :]
        self.columns, self.cell = columns, cell
        self.figures: list[Figure] = []

    def drawing(self) -> Drawing:
        """Draw the answer, what the container is, and each piece before its door."""
        y = self.head.height_mm + LEAST_MM - LINE_MM
        door = f"door {self._sides(self.door)}, {self._write(self.inside[0])} deep"
        marks: list[Mark] = [*self.head.letters]
        words = f"{self.kind}: {door}, {self.scale.name}"
        for line in wrapped(words, LEAST_MM, self.field.width_mm - 2 * SIDE_MM):
            y += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, y)))
        sizes = {"deep inside": self.inside[0]} | dict(zip(DOOR, self.door, strict=True))
        for what, m in sizes.items():
            self.figures.append(Figure(what=what, amount=Amount(m, ROOM_LENGTH)))
        top, step = y + 3.0, self.tall + 2 * LINE_MM + 4.0
        for n, way in enumerate(self.ways):
            left = SIDE_MM + n % self.columns * self.cell
            marks.append(self._way(way, left, top + n // self.columns * step + self.tall))
        rows = -(-len(self.ways) // self.columns)
        return Drawing(
            title="Pieces before the container's door",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(top + rows * step, 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=self.gaps,
            key=tuple(each.piece.row.mark for each in self.rest),
        )

    def _write(self, m: float) -> str:
        return Amount(m, ROOM_LENGTH).write(self.field.system)

    def _sides(self, sides: tuple[float, ...]) -> str:
        written = [lettered(Amount(m, ROOM_LENGTH), self.field.system) for m in sides]
        return " × ".join([*(each.removesuffix(" m") for each in written[:-1]), written[-1]])

    def _way(self, way: Turned, left: float, foot: float) -> Touch:
        """The door, the piece end-on in its middle, and under it how far it reaches."""
        row = way.piece.row
        door = self._box(left, foot, *self.door)
        middle = (door[0] + door[2]) / 2 - self.scale.mm(way.wide_m) / 2
        box = self._box(max(left, middle), foot, way.wide_m, way.high_m)
        tone = Tone.INK if way.fits else Tone.SHORT
        marks: list[Path | Strokes | Lettering] = [
            Path(points=rectangle(box), pen=Pen.SEEN, tone=tone, fill=Fill.TRACE, is_closed=True),
            *_past(box, door),
            Path(points=rectangle(door), pen=Pen.CUT, is_closed=True),
        ]
        deep = self._write(way.along_m)
        is_deep = way.along_m > self.inside[0] * (1 + SAME)
        for n, (words, is_strong, short) in enumerate(
            ((way.piece.title, True, not way.fits), (f"{deep} deep", False, is_deep))
        ):
            words = fitted(words, LEAST_MM, self.cell - APART_MM)
            at = (left, foot + LEAST_MM + 1.6 + n * LINE_MM)
            tone = Tone.SHORT if short else Tone.INK
            marks.append(Lettering(words=words, at=at, tone=tone, is_strong=is_strong))
        for what, m in (("deep", way.along_m), ("wide", way.wide_m), ("high", way.high_m)):
            figure = Figure(what=f"{row.mark}, {what} as it goes in", amount=Amount(m, ROOM_LENGTH))
            self.figures.append(figure)
        sizes = self._sides((way.along_m, way.wide_m, way.high_m))
        says = f"{way.piece.title}, {sizes}, {'goes in' if way.fits else 'does not go in'}"
        return Touch(schedule="pieces", mark=row.mark, says=says, marks=tuple(marks))

    def _box(self, left: float, foot: float, wide_m: float, high_m: float) -> Box:
        return left, foot - self.scale.mm(high_m), left + self.scale.mm(wide_m), foot


def _past(box: Box, door: Box) -> Iterator[Path | Strokes]:
    """What of a piece is beside or over the door."""
    left, top, right, foot = box
    sides = [(left, top, min(right, door[0]), foot), (max(left, door[2]), top, right, foot)]
    over = (max(left, door[0]), top, min(right, door[2]), min(foot, door[1]))
    for each in (*sides, over):
        if each[2] - each[0] > SAME and each[3] - each[1] > SAME:
            yield hatched(rectangle(each), 1.1, Tone.SHORT)


def _ready(seen: Seen) -> Ready | None:
    kind = seen.package.leniently.transport.container
    pieces, _ = boxed(seen.package)
    return Ready(partial(draw_door, kind, seen)) if kind and pieces else None


CONTAINER = Picture(
    ready=_ready,
    wants="pieces want their sizes, and transport its container",
    checks=("container_fit",),
)
