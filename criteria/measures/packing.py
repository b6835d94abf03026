"""Whether boxes fit a box: an exact search with a bound, and the arrangement when they do.

Litres alone say yes too often. Sizes are held in tenths of a millimetre, so that equal is
equal. Boxes are laid square to the walls, on any of their faces.

A box can always be pushed towards one corner until it meets a wall or another box, so in some
arrangement every coordinate is a sum of sizes of other boxes. The search tries just those
coordinates, largest box first; it is complete, and slow where many boxes nearly fill the room,
so it stops after a number of tries and says that it doesn't know.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from criteria.errors import require_positive

TRIES = 20_000
"""Positions tried before the search gives up."""
MOST_BOXES = 100
"""Most boxes that are searched at all."""
PER_M = 10_000
"""Tenths of a millimetre in a metre."""

Triple = tuple[int, int, int]


class Fit(StrEnum):
    """The three answers."""

    FITS = "fits"
    DOES_NOT_FIT = "does not fit"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Box:
    """A box: its mark and outside sizes [m]; upright boxes keep their third side vertical."""

    mark: str
    sizes_m: tuple[float, float, float]
    is_upright: bool = False


@dataclass(frozen=True)
class Place:
    """Where a box lies: near corner and sizes along length, width and height [m]."""

    mark: str
    corner_m: tuple[float, float, float]
    sizes_m: tuple[float, float, float]


@dataclass(frozen=True)
class Packing:
    """The answer, the arrangement where there is one, and how many positions were tried."""

    fit: Fit
    places: tuple[Place, ...]
    tries: int


class _Exhausted(Exception):
    """The bound was met."""


def _tenths(sizes_m: Sequence[float], rounding: float) -> Triple:
    l, w, h = (int(require_positive("size", s, "m") * PER_M + rounding) for s in sizes_m)
    return l, w, h


def _turned(box: Box) -> tuple[Triple, ...]:
    l, w, h = _tenths(box.sizes_m, 0.5)
    upright = ((l, w, h), (w, l, h))
    tipped = ((l, h, w), (h, l, w), (w, h, l), (h, w, l))
    ways = upright if box.is_upright else upright + tipped
    return tuple(sorted(set(ways), key=lambda way: (way[2], way[1], way[0])))


def pack(room_m: tuple[float, float, float], boxes: Sequence[Box], tries: int = TRIES) -> Packing:
    """Tell whether boxes fit a room [m].

    Two cubes of 6 don't fit one of 10, although they take 43 % of its volume:

    >>> cube = (6.0, 6.0, 6.0)
    >>> pack((10.0, 10.0, 10.0), [Box("A", cube), Box("B", cube)]).fit.value
    'does not fit'
    """
    room = _tenths(room_m, 0.5)
    ways = [[way for way in _turned(box) if _within(way, room)] for box in boxes]
    volume = sum(_volume(_tenths(box.sizes_m, 0.5)) for box in boxes)
    if volume > _volume(room) or not all(ways):
        return Packing(Fit.DOES_NOT_FIT, (), 0)
    if len(boxes) > MOST_BOXES:
        return Packing(Fit.UNKNOWN, (), 0)
    order = sorted(range(len(boxes)), key=lambda i: (-_volume(ways[i][0]), ways[i], boxes[i].mark))
    search = _Search(room, [ways[i] for i in order], tries)
    try:
        found = search.place(0, [])
    except _Exhausted:
        return Packing(Fit.UNKNOWN, (), search.tried)
    if found is None:
        return Packing(Fit.DOES_NOT_FIT, (), search.tried)
    places = tuple(
        Place(boxes[i].mark, _metres(corner), _metres(way))
        for i, (corner, way) in zip(order, found, strict=True)
    )
    return Packing(Fit.FITS, places, search.tried)


def _volume(way: Triple) -> int:
    return way[0] * way[1] * way[2]


def _within(way: Triple, room: Triple) -> bool:
    return all(side <= limit for side, limit in zip(way, room, strict=True))


def _metres(triple: Triple) -> tuple[float, float, float]:
    x, y, z = triple
    return x / PER_M, y / PER_M, z / PER_M


Laid = tuple[Triple, Triple]


class _Search:
    """A depth-first search over boxes in a fixed order."""

    def __init__(self, room: Triple, ways: list[list[Triple]], tries: int) -> None:
        self.room, self.ways, self.left = room, ways, tries
        self.limit = tries
        self.sums = tuple(self._sums(axis) for axis in range(3))

    @property
    def tried(self) -> int:
        """How many positions were tried."""
        return self.limit - self.left

    def _sums(self, axis: int) -> tuple[int, ...]:
        """Return every coordinate that sides of the boxes can add up to along an axis."""
        reach, within = 1, (1 << self.room[axis]) - 1  # bit n: n tenths can be added up to
        for ways in self.ways:
            further = 0
            for side in {way[axis] for way in ways}:
                further |= reach << side
            reach |= further & within
        return tuple(at for at, bit in enumerate(reversed(f"{reach:b}")) if bit == "1")

    def place(self, index: int, laid: list[Laid]) -> list[Laid] | None:
        """Lay the boxes from an index on; None where they can't be."""
        if index == len(self.ways):
            return list(laid)
        alike = index > 0 and self.ways[index] == self.ways[index - 1]
        for way in self.ways[index]:
            for corner in self._corners(way, laid):
                # boxes alike are laid in one order: the others are the same arrangement
                if alike and corner <= laid[-1][0]:
                    continue
                laid.append((corner, way))
                found = self.place(index + 1, laid)
                laid.pop()
                if found is not None:
                    return found
        return None

    def _corners(self, way: Triple, laid: list[Laid]) -> Iterator[Triple]:
        for x in self.sums[0]:
            if x + way[0] > self.room[0]:
                break
            for y in self.sums[1]:
                if y + way[1] > self.room[1]:
                    break
                for z in self.sums[2]:
                    if z + way[2] > self.room[2]:
                        break
                    if self.left <= 0:
                        raise _Exhausted
                    self.left -= 1
                    if all(_apart((x, y, z), way, *other) for other in laid):
                        yield x, y, z


def _apart(corner: Triple, way: Triple, other: Triple, size: Triple) -> bool:
    (x, y, z), (l, w, h), (a, b, c), (i, j, k) = corner, way, other, size
    return x + l <= a or a + i <= x or y + w <= b or b + j <= y or z + h <= c or c + k <= z
