"""What a drawing is made of: lines, shapes, ribbons and words, where they lie on paper.

Paper frame: x to the right, y down, from the upper left corner, millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from criteria.drawing.lettering import BELOW_EM, LEAST_MM, type_mm, width_mm
from criteria.drawing.pens import Fill, Pen, Tone

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom [mm]."""


@dataclass(frozen=True, kw_only=True)
class Gap:
    """Something that isn't given: in which row and column, and what is said of it.

    schedule, mark, column   of the cell; the column is empty where whole rows lack
    """

    schedule: str
    mark: str
    column: str
    says: str


@dataclass(frozen=True, kw_only=True)
class Path:
    """A line through points, or the outline of a shape.

    gap   why it is assumed; what is drawn with that pen names one
    """

    points: tuple[Point, ...]
    pen: Pen | None = Pen.SEEN
    tone: Tone = Tone.INK
    fill: Fill = Fill.NONE
    is_closed: bool = False
    gap: Gap | None = None

    def __post_init__(self) -> None:
        if (self.pen is Pen.ASSUMED) != (self.gap is not None):
            raise ValueError("what is drawn as assumed names what isn't given, and nothing else")


@dataclass(frozen=True, kw_only=True)
class Strokes:
    """Many short lines of one pen: hatching, ticks."""

    segments: tuple[tuple[Point, Point], ...]
    pen: Pen = Pen.HATCH
    tone: Tone = Tone.INK


@dataclass(frozen=True, kw_only=True)
class Patches:
    """Many boxes of one fill, without outlines: what is alike in a field of many parts."""

    boxes: tuple[Box, ...]
    fill: Fill
    tone: Tone = Tone.INK


@dataclass(frozen=True, kw_only=True)
class Disc:
    """A circle."""

    middle: Point
    radius_mm: float
    pen: Pen = Pen.SEEN
    tone: Tone = Tone.INK
    fill: Fill = Fill.NONE


@dataclass(frozen=True, kw_only=True)
class Ribbon:
    """A band of one width along a line, edged on both sides."""

    points: tuple[Point, ...]
    width_mm: float


@dataclass(frozen=True, kw_only=True)
class Lettering:
    """Words on a line.

    at        the left end of the line they stand on, its middle, or its right end
    anchor    which of these: start, middle, end
    cap_mm    height of capitals
    is_turned whether they run upwards, read from the right
    gap       what isn't given, where they say so
    """

    words: str
    at: Point
    anchor: str = "start"
    cap_mm: float = LEAST_MM
    tone: Tone = Tone.INK
    is_strong: bool = False
    is_turned: bool = False
    gap: Gap | None = None

    def __post_init__(self) -> None:
        if self.cap_mm < LEAST_MM:
            raise ValueError(f"{self.words}: letters of {self.cap_mm} mm, under {LEAST_MM} mm")

    @property
    def box(self) -> Box:
        """The paper that it takes."""
        wide = width_mm(self.words, self.cap_mm)
        before = {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        below = BELOW_EM * type_mm(self.cap_mm)
        x, y = self.at
        if self.is_turned:
            return x - self.cap_mm, y + before - wide, x + below, y + before
        return x - before, y - self.cap_mm, x - before + wide, y + below


Flat = Path | Strokes | Patches | Disc | Ribbon | Lettering


@dataclass(frozen=True, kw_only=True)
class Touch:
    """Marks that lead to the row that they are drawn of.

    schedule, mark   of the row
    says             what it is, for who can't see it: "W4, 1,200 wide"
    """

    schedule: str
    mark: str
    says: str
    marks: tuple[Flat, ...]


@dataclass(frozen=True, kw_only=True)
class Slide:
    """Marks that are moved along a wall.

    mark     of what is moved
    place    where it stands, in words
    at_m     from the left end of its run; most_m is the most that it may be [m]
    way      how it lies on paper: x or y, with a sign where its left is that axis' far end
    ratio    how many times smaller it is drawn
    """

    mark: str
    place: str
    at_m: float
    most_m: float
    way: str
    ratio: int
    marks: tuple[Flat, ...]


Mark = Flat | Touch | Slide


def flat(marks: Iterable[Mark]) -> Iterator[Flat]:
    """Give all marks, those that lead to rows or are moved among them one by one."""
    for mark in marks:
        if isinstance(mark, Touch | Slide):
            yield from mark.marks
        else:
            yield mark


def moved(mark: Flat, across_mm: float, down_mm: float) -> Flat:
    """Return a mark elsewhere on paper."""

    def there(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((x + across_mm, y + down_mm) for x, y in points)

    match mark:
        case Path() | Ribbon():
            return replace(mark, points=there(mark.points))
        case Strokes():
            segments = tuple((there((a,))[0], there((b,))[0]) for a, b in mark.segments)
            return replace(mark, segments=segments)
        case Patches():
            corners = (there(((left, top), (right, foot))) for left, top, right, foot in mark.boxes)
            return replace(mark, boxes=tuple((*one, *other) for one, other in corners))
        case Disc():
            return replace(mark, middle=there((mark.middle,))[0])
    return replace(mark, at=there((mark.at,))[0])


def box_of(mark: Flat) -> Box:
    """Return the paper that a mark takes, less half of its pen."""
    match mark:
        case Path():
            return around(mark.points)
        case Strokes():
            return around([point for segment in mark.segments for point in segment])
        case Patches():
            return around([corner for box in mark.boxes for corner in (box[:2], box[2:])])
        case Disc():
            return _grown(around([mark.middle]), mark.radius_mm)
        case Ribbon():
            return _grown(around(mark.points), mark.width_mm / 2)
    return mark.box


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def rectangle(box: Box) -> tuple[Point, ...]:
    """Return the corners of a box, in turn."""
    left, top, right, bottom = box
    return (left, top), (right, top), (right, bottom), (left, bottom)


def meet(one: Box, other: Box) -> bool:
    """Tell whether two boxes share paper; to touch is not to meet."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def around(points: Sequence[Point]) -> Box:
    """Return the box of points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
