"""Parts of a drawing of windows laid out on paper: walls beside each other, plans under them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.drawing.drawing import Field
from criteria.drawing.elevations import Face, Lit
from criteria.drawing.lettering import LEAST_MM
from criteria.drawing.scales import METRIC, US, DrawnScale
from criteria.units import System

SIDE_MM, TITLE_MM, APART_MM, BETWEEN_MM = 2.0, 5.0, 6.0, 2.5
"""Beside a drawing, over each part, between parts, between their rows [mm]."""
FOOT_MM, FOOT_NARROW_MM = 8.0, 11.5
"""Under them, for the scales [mm]."""
WALL_MM, PLAN_MM = 24.0, 22.0
"""Least width that a wall and a plan take, for their titles [mm]."""
TALL_MM, TALLEST_MM = 110.0, 155.0
"""Of which height rows are where they can, and never more [mm]."""
MOST_ROOMS = 24
LARGEST, SMALLEST = 48, 200
"""Rooms are drawn at no larger and no smaller scales than 1 to these, but what alone needs it;
rooms that don't fit are named."""
LINE_MM = LEAST_MM + 1.6
"""From a line of words to the next [mm]."""


@dataclass(frozen=True)
class Part:
    """What is drawn of a room beside others: a wall, a ceiling, or its floor with its glass.

    scale   walls are drawn at one, what is seen in plan at a smaller one
    """

    room: Lit
    face: Face | None
    scale: DrawnScale

    @property
    def is_plan(self) -> bool:
        """Whether it is seen from above."""
        return self.face is None or self.face.is_ceiling

    @property
    def size(self) -> tuple[float, float]:
        """How wide and high it is on paper, under its title [mm]."""
        if self.face:
            return self.scale.mm(self.face.wide_m), self.scale.mm(self.face.high_m)
        return self.scale.mm(self.room.across_m), self.scale.mm(self.room.deep_m) + LINE_MM

    @property
    def wide_mm(self) -> float:
        """How much of a row it takes."""
        return max(self.size[0], PLAN_MM if self.is_plan else WALL_MM)

    @property
    def title(self) -> str:
        """What stands over it."""
        if self.face is None:
            return f"{self.room.mark} floor"
        looks = "roof lights" if self.face.is_ceiling else f"looking {self.face.letters}"
        return f"{self.room.mark} {looks}, {self.room.name}".removesuffix(", ")


def plan_scale(scale: DrawnScale, field: Field) -> DrawnScale:
    """Return the scale of plans beside walls: the next that is half as large, or less."""
    ladder = METRIC if scale in METRIC else US
    times = 4 if field.is_narrow and scale.ratio <= SMALLEST / 2 else 2
    return next((s for s in ladder if s.ratio >= times * scale.ratio), ladder[-1])


def _parts(
    rooms: Sequence[Lit], floors: set[str], scale: DrawnScale, field: Field
) -> Iterator[Part]:
    """Walls of all rooms, then ceilings and floors."""
    small = plan_scale(scale, field)
    faces = [(room, face) for room in rooms for face in room.faces]
    yield from (Part(room, face, scale) for room, face in faces if not face.is_ceiling)
    for room in rooms:
        yield from (Part(room, face, small) for face in room.faces if face.is_ceiling)
        if room.mark in floors:
            yield Part(room, None, small)


def _rows(parts: Sequence[Part], field: Field) -> list[list[Part]]:
    """Set parts beside each other in as many rows as they need, plans apart from walls."""
    rows: list[list[Part]] = []
    left = 0.0
    for part in parts:
        if not rows or part.wide_mm > left or part.is_plan != rows[-1][0].is_plan:
            rows.append([])
            left = field.width_mm - 2 * SIDE_MM
        rows[-1].append(part)
        left -= part.wide_mm + APART_MM
    return rows


def tall_mm(row: Sequence[Part]) -> float:
    """How high the highest of a row is [mm]."""
    return max(part.size[1] for part in row)


@dataclass(frozen=True)
class Laid:
    """Parts laid out: at which scale, in which rows, and the rooms that had no room."""

    scale: DrawnScale
    rows: list[list[Part]]
    over: tuple[str, ...]

    @property
    def height_mm(self) -> float:
        """What all rows take."""
        return sum(tall_mm(row) + TITLE_MM + BETWEEN_MM for row in self.rows)


def laid_out(rooms: Sequence[Lit], floors: set[str], first: str, field: Field) -> Laid:
    """Lay rooms out at the largest scale at which they fit.

    floors   marks of the rooms whose floors are drawn
    first    the room that is never left out
    """
    beside = [room for room in rooms if room.mark != first][:MOST_ROOMS]
    kept = [room for room in rooms if room.mark == first or room in beside]
    while True:
        over = tuple(room.mark for room in rooms if room not in kept)
        if tried := _largest(kept, floors, over, field):
            return tried
        kept.remove(next((r for r in reversed(kept) if r.mark != first), kept[-1]))


def _largest(
    rooms: Sequence[Lit], floors: set[str], over: tuple[str, ...], field: Field
) -> Laid | None:
    ladder = [s for s in (US if field.system is System.US else METRIC) if s.ratio >= LARGEST]
    fitting = []
    for scale in ladder:
        parts = list(_parts(rooms, floors, scale, field))
        if all(part.size[0] <= field.width_mm - 2 * SIDE_MM for part in parts):
            fitting.append(Laid(scale, _rows(parts, field), over))
    legible = [laid for n, laid in enumerate(fitting) if not n or laid.scale.ratio <= SMALLEST]
    limits = (TALLEST_MM,) if field.is_narrow else (TALL_MM, TALLEST_MM)
    return next((laid for most in limits for laid in legible if laid.height_mm <= most), None)
