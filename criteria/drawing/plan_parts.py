"""What a plan is drawn of: walls cut, doors and their swings, windows, furniture, north, the scale.

ISO 4157 and common practice of the trade: a wall that is cut is filled, a leaf stands open at 90°
with the arc of its edge, a made bed has its pillow.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from criteria.drawing.marks import Disc, Flat, Gap, Mark, Path, Point, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.scales import DrawnScale
from criteria.units import FOOT, System
from criteria.walking.pictured import Climbing, Glazed, Hung, Missing, Pictured, Standing
from criteria.walking.storeys import SIDES, Place, WallOf, depth, facing

ARC = 12
"""Pieces of a quarter circle."""
PILLOW_M, INSET_M = 0.35, 0.06
"""Depth of a pillow, and what it keeps from the bed's edges [m]. Common practice."""
ARROW_MM = 2.6
LINE_MM = 0.9
"""How far apart both lines of a window are in a wall that is drawn as a line [mm]."""


@dataclass(frozen=True)
class Sheet:
    """Where metres of a plan lie on paper: its scale, and the plan's upper left corner there."""

    scale: DrawnScale
    left_m: float
    top_m: float
    x_mm: float
    y_mm: float

    def at(self, point: Point) -> Point:
        """Return where a point of the plan lies on paper."""
        x, y = point
        across = self.x_mm + self.scale.mm(x - self.left_m)
        return across, self.y_mm + self.scale.mm(self.top_m - y)

    def all(self, *points: Point) -> tuple[Point, ...]:
        """Return where points lie."""
        return tuple(self.at(point) for point in points)


def gap_of(missing: Missing) -> Gap:
    """Return what isn't given as a drawing names it."""
    return Gap(
        schedule=missing.schedule, mark=missing.mark, column=missing.column, says=missing.says
    )


def walls(shown: Pictured, sheet: Sheet) -> Iterator[Mark]:
    """Draw all walls as they are cut, and the floor of the rooms between them.

    Outlines come first and fills over them, so that walls that meet are one.
    """
    places = shown.storey.places
    cut = [corners for place in places for corners in _cut(shown, place)]
    drawn = [sheet.all(*corners) for corners in cut]
    for points in drawn:
        yield Path(points=points, pen=Pen.CUT, is_closed=True)
    for points in drawn:
        yield Path(points=points, pen=None, fill=Fill.CUT, is_closed=True)
    for place in places:
        points = sheet.all(*_corners(place.low, place.high))
        pen = Pen.SEEN if shown.wall_m else Pen.CUT
        yield Path(points=points, pen=pen, fill=Fill.PAPER, is_closed=True)
    for points in _between_legs(places):
        yield Path(points=sheet.all(*points), pen=None, fill=Fill.PAPER, is_closed=True)


def _corners(low: Point, high: Point) -> tuple[Point, ...]:
    return rectangle((low[0], low[1], high[0], high[1]))


def _cut(shown: Pictured, place: Place) -> Iterator[tuple[Point, ...]]:
    """A room's outside walls all round, and the strips between it and rooms that it faces."""
    thick = shown.wall_m or 0.0
    (x, y), (to_x, to_y) = place.low, place.high
    if thick:
        yield _corners((x - thick, y - thick), (to_x + thick, to_y + thick))
    for out in SIDES[:2]:
        wall = WallOf(place, out)
        share = wall.length_m / 8
        for n in range(1, 8):
            other = facing(shown.storey.places, wall, wall.at(n * share))
            if other and other.room != place.room:
                yield _strip(place, other, out)


def _strip(place: Place, other: Place, out: Point) -> tuple[Point, ...]:
    """What lies between two rooms that face each other, as long as both walls."""
    if out[0]:
        low, high = max(place.low[1], other.low[1]), min(place.high[1], other.high[1])
        return _corners((place.high[0], low), (other.low[0], high))
    low, high = max(place.low[0], other.low[0]), min(place.high[0], other.high[0])
    return _corners((low, place.high[1]), (high, other.low[1]))


def _between_legs(places: tuple[Place, ...]) -> Iterator[tuple[Point, ...]]:
    """Where two rectangles are one room, the floor runs on."""
    for n, one in enumerate(places):
        for other in places[n + 1 :]:
            if one.room != other.room:
                continue
            low = max(one.low[0], other.low[0]), max(one.low[1], other.low[1])
            high = min(one.high[0], other.high[0]), min(one.high[1], other.high[1])
            thin = 0.02
            yield _corners(
                (min(low[0], high[0]) - thin, min(low[1], high[1]) - thin),
                (max(low[0], high[0]) + thin, max(low[1], high[1]) + thin),
            )


def _thick_m(wall_m: float | None, hung: Hung) -> float:
    """How deep the opening of a door is: to the room beyond, else the outside wall."""
    gate = hung.gate
    if gate.into is None:
        return wall_m or 0.0
    back = (-gate.out[0], -gate.out[1])
    return depth(gate.into.side(back)[0], gate.out) - depth(gate.gap[0], gate.out)


def opening(wall_m: float | None, hung: Hung, sheet: Sheet) -> Iterator[Mark]:
    """Draw the clear opening of a door through its wall, and its jambs.

    wall_m   thickness of outside walls [m], here and of leaves and windows
    """
    gate, thick = hung.gate, _thick_m(wall_m, hung)
    (ax, ay), (bx, by) = gate.gap
    over = (thick + 0.03) * gate.out[0], (thick + 0.03) * gate.out[1]
    into = 0.03 * gate.out[0], 0.03 * gate.out[1]
    hole = (
        (ax - into[0], ay - into[1]),
        (bx - into[0], by - into[1]),
        (bx + over[0], by + over[1]),
        (ax + over[0], ay + over[1]),
    )
    yield Path(points=sheet.all(*hole), pen=None, fill=Fill.PAPER, is_closed=True)
    for x, y in gate.gap:
        end = (x + thick * gate.out[0], y + thick * gate.out[1])
        yield Path(points=sheet.all((x, y), end), pen=Pen.SEEN)


def leaf(
    wall_m: float | None,
    hung: Hung,
    sheet: Sheet,
    opens_deg: float = 90.0,
    tone: Tone = Tone.INK,
) -> Iterator[Path]:
    """Draw a leaf as it stands open, and the arc of its edge; none whose swing isn't given.

    opens_deg   how far it opens, where it meets something
    """
    thick = _thick_m(wall_m, hung)
    if hung.swing not in ("in", "out") or not hung.hinge:
        return
    line = list(_swept(hung, thick, opens_deg))
    yield Path(points=sheet.all(hinge_of(hung, thick), line[-1]), pen=Pen.SEEN, tone=tone)
    yield Path(points=sheet.all(*line), pen=Pen.FINE, tone=tone)


def hinge_of(hung: Hung, thick_m: float) -> Point:
    """Return where a leaf hangs: at the inside face, or at the outside of the wall."""
    gate = hung.gate
    x, y = gate.left if hung.hinge == "left" else gate.right
    by = thick_m if hung.swing == "out" else 0.0
    return x + gate.out[0] * by, y + gate.out[1] * by


def _swept(hung: Hung, thick_m: float, opens_deg: float) -> Iterator[Point]:
    """The way of a leaf's edge, from shut to as far as it opens."""
    gate = hung.gate
    hinge, latch = (gate.left, gate.right) if hung.hinge == "left" else (gate.right, gate.left)
    along = latch[0] - hinge[0], latch[1] - hinge[1]
    length = math.hypot(*along)
    sign = 1.0 if hung.swing == "out" else -1.0
    to = gate.out[0] * length * sign, gate.out[1] * length * sign
    x, y = hinge_of(hung, thick_m)
    for n in range(ARC + 1):
        turn = math.radians(opens_deg * n / ARC)
        cos, sin = math.cos(turn), math.sin(turn)
        yield x + along[0] * cos + to[0] * sin, y + along[1] * cos + to[1] * sin


def window(wall_m: float | None, glazed: Glazed, sheet: Sheet) -> Iterator[Flat]:
    """Draw a window in its wall: glass between two lines, dashed where its place is assumed."""
    thick = wall_m or sheet.scale.ratio * LINE_MM / 1000
    (ax, ay), (bx, by) = glazed.ends
    out = glazed.out[0] * thick, glazed.out[1] * thick
    corners = sheet.all((ax, ay), (bx, by), (bx + out[0], by + out[1]), (ax + out[0], ay + out[1]))
    middle = sheet.all((ax + out[0] / 2, ay + out[1] / 2), (bx + out[0] / 2, by + out[1] / 2))
    gap = gap_of(glazed.missing) if glazed.missing else None
    pen = Pen.ASSUMED if gap else Pen.SEEN
    yield Path(points=corners, pen=None, fill=Fill.GLASS, is_closed=True)
    yield Path(points=corners, pen=pen, is_closed=True, gap=gap)
    if not gap:
        yield Path(points=middle, pen=Pen.FINE)


def furniture(piece: Standing, sheet: Sheet, tone: Tone = Tone.INK) -> Iterator[Flat]:
    """Draw a piece where it stands; a made bed with its pillow and the sheet turned down."""
    body = piece.body
    if body.radius_m:
        radius = sheet.scale.mm(body.radius_m)
        yield Disc(middle=sheet.at(body.corners[0]), radius_mm=radius, tone=tone, fill=Fill.PAPER)
        return
    points = sheet.all(*body.corners)
    yield Path(points=points, tone=tone, fill=Fill.PAPER, is_closed=True)
    if piece.is_made:
        yield from _bedding(body.corners, sheet, tone)


def _bedding(corners: tuple[Point, ...], sheet: Sheet, tone: Tone) -> Iterator[Flat]:
    start = 0 if math.dist(corners[0], corners[1]) >= math.dist(corners[1], corners[2]) else 1
    origin, foot, _, side = (corners[(start + n) % 4] for n in range(4))
    length, wide = math.dist(origin, foot), math.dist(origin, side)
    if min(length, wide) < 3 * INSET_M or length < 2 * PILLOW_M:
        return
    along = (foot[0] - origin[0]) / length, (foot[1] - origin[1]) / length
    across = (side[0] - origin[0]) / wide, (side[1] - origin[1]) / wide

    def at(u: float, v: float) -> Point:
        return (
            origin[0] + along[0] * u + across[0] * v,
            origin[1] + along[1] * u + across[1] * v,
        )

    near, far = INSET_M, INSET_M + PILLOW_M
    pillow = at(near, INSET_M), at(far, INSET_M), at(far, wide - INSET_M), at(near, wide - INSET_M)
    yield Path(points=sheet.all(*pillow), pen=Pen.FINE, tone=tone, is_closed=True)
    folded = far + INSET_M
    yield Path(points=sheet.all(at(folded, 0.0), at(folded, wide)), pen=Pen.FINE, tone=tone)


def climb(way: Climbing, sheet: Sheet) -> Iterator[Flat]:
    """Draw a stair: its steps, and an arrow that points the way that leads off this storey."""
    length = math.dist(way.foot, way.head)
    if not length:
        return
    along = [(b - a) / length for a, b in zip(way.foot, way.head, strict=True)]
    x, y = -along[1] * way.width_m / 2, along[0] * way.width_m / 2
    steps = []
    for n in range(way.risers):
        far = length * n / max(1, way.risers - 1)
        at = way.foot[0] + along[0] * far, way.foot[1] + along[1] * far
        steps.append(sheet.all((at[0] - x, at[1] - y), (at[0] + x, at[1] + y)))
    first, last = steps[0], steps[-1]
    outline = first[0], first[1], last[1], last[0]
    yield Path(points=outline, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
    yield Strokes(segments=tuple((one, other) for one, other in steps), pen=Pen.FINE)
    foot, head = sheet.all(way.foot, way.head)
    if not way.is_up:
        foot, head = head, foot
    yield Path(points=(foot, head), pen=Pen.FINE)
    yield Disc(middle=foot, radius_mm=0.7, pen=Pen.FINE, fill=Fill.PAPER)
    yield Path(points=_arrow(foot, head), pen=Pen.FINE)


def _arrow(foot: Point, head: Point) -> tuple[Point, Point, Point]:
    """The two lines of an arrow's head, which lies at the end of its line."""
    length = math.dist(foot, head)
    along = (head[0] - foot[0]) / length * ARROW_MM, (head[1] - foot[1]) / length * ARROW_MM
    back = head[0] - along[0], head[1] - along[1]
    across = -along[1] * 0.4, along[0] * 0.4
    return (
        (back[0] + across[0], back[1] + across[1]),
        head,
        (back[0] - across[0], back[1] - across[1]),
    )


def north(middle: Point, turned_deg: float, radius_mm: float = 3.0) -> Iterator[Mark]:
    """Draw an arrow to the north about a middle; the plan's upper walls look to a bearing."""
    turn = math.radians(-turned_deg)

    def at(right: float, up: float) -> Point:
        x = right * math.cos(turn) - up * math.sin(-turn)
        y = right * math.sin(turn) - up * math.cos(-turn)
        return middle[0] + radius_mm * x, middle[1] + radius_mm * y

    yield Disc(middle=middle, radius_mm=radius_mm, pen=Pen.FINE)
    half = at(0, 1), at(0.38, -0.75), at(0, -0.45)
    yield Path(points=half, pen=Pen.FINE, fill=Fill.INK, is_closed=True)
    other = at(0, 1), at(-0.38, -0.75), at(0, -0.45)
    yield Path(points=other, pen=Pen.FINE, fill=Fill.PAPER, is_closed=True)


@dataclass(frozen=True)
class Bar:
    """A scale bar: its parts, how long all are on paper [mm], and what it says."""

    marks: tuple[Mark, ...]
    length_mm: float
    says: str


def scale_bar(at: Point, scale: DrawnScale, most_mm: float, system: System) -> Bar:
    """Draw whole metres, or feet, filled and open in turn; as many as fit, five at most.

    Where not even one fits: inches, or lengths of 100 mm.
    """
    one_m, unit, each = (float(FOOT), "ft", 1) if system is System.US else (1.0, "m", 1)
    if scale.mm(one_m) > most_mm:
        one_m, unit, each = (one_m / 12, "in", 1) if system is System.US else (0.1, "mm", 100)
    step_m = one_m
    while scale.mm(step_m) * 3 < most_mm and scale.mm(step_m) < 6:
        step_m *= 5
    count = max(1, min(5, int(most_mm / scale.mm(step_m))))
    wide, (x, y) = scale.mm(step_m), at
    parts = tuple(
        Path(
            points=rectangle((x + n * wide, y, x + (n + 1) * wide, y + 1.4)),
            pen=Pen.FINE,
            fill=Fill.NONE if n % 2 else Fill.INK,
            is_closed=True,
        )
        for n in range(count)
    )
    total = each * round(count * step_m / one_m)
    return Bar(parts, count * wide, f"{total} {unit}, {scale.name}")
