"""What stands in the walls of a daylight plan: windows, doors, roof lights, each with its mark."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.html import format_html
from django.utils.safestring import SafeString

from criteria.daylight import Wall
from criteria.plans.plan import DoorPlace, Placed, RoomPlan
from criteria.units import LENGTH, System
from reviews.pages.daylight_paper import Paper, Point, on_paper, units


def place_words(placed: Placed, system: System) -> str:
    """Say where an opening stands: in the S wall, 970 mm from its left."""
    if placed.is_rooflight:
        return f"in the ceiling, {LENGTH.write(placed.left_m, system)} from the left"
    return f"in the {placed.face} wall, {LENGTH.write(placed.left_m, system)} from its left"


def draw_walls(paper: Paper) -> SafeString:
    t, length, width = paper.wall_m, paper.length_m, paper.width_m
    outer = [(-t, -t), (length + t, -t), (length + t, width + t), (-t, width + t)]
    inner = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    rings = "".join(
        "M" + "L".join(f"{units(x)} {units(y)}" for x, y in on_paper(paper, ring)) + "Z"
        for ring in (outer, inner)
    )
    return format_html('<path class="wall" fill-rule="evenodd" d="{}"/>', rings)


@dataclass(frozen=True)
class _Hole:
    """An opening in a wall on the drawing: its box, and the lines that run along the wall."""

    x: float
    y: float
    wide: float
    high: float
    is_level: bool
    outward: Point

    def along(self, share: float) -> str:
        """A line along the wall, at a share of its thickness from the outer face."""
        dx, dy = self.outward
        depth = (1 - share) if (dx + dy) > 0 else share
        if self.is_level:
            at = self.y + self.high * depth
            return f"M{units(self.x)} {units(at)}H{units(self.x + self.wide)}"
        at = self.x + self.wide * depth
        return f"M{units(at)} {units(self.y)}V{units(self.y + self.high)}"

    @property
    def jambs(self) -> str:
        """The two ends."""
        x, y, right, low = self.x, self.y, self.x + self.wide, self.y + self.high
        if self.is_level:
            return f"M{units(x)} {units(y)}V{units(low)}M{units(right)} {units(y)}V{units(low)}"
        return f"M{units(x)} {units(y)}H{units(right)}M{units(x)} {units(low)}H{units(right)}"

    @property
    def box(self) -> tuple[str, ...]:
        return units(self.x), units(self.y), units(self.wide), units(self.high)

    def beside(self, away: float) -> Point:
        """A point outside, in front of the middle."""
        dx, dy = self.outward
        return (
            self.x + self.wide / 2 + dx * (self.wide / 2 + away),
            self.y + self.high / 2 + dy * (self.high / 2 + away),
        )


def _hole(placed: Placed | DoorPlace, plan: RoomPlan, paper: Paper) -> _Hole:
    wall, offset, t, k = plan.wall_of(placed.face), plan.offset_m(placed), paper.wall_m, paper.per_m
    if wall in (Wall.SOUTH, Wall.NORTH):
        top = paper.y(0) if wall is Wall.SOUTH else paper.y(plan.shell.width_m + t)
        outward = (0.0, 1.0) if wall is Wall.SOUTH else (0.0, -1.0)
        return _Hole(paper.x(offset), top, placed.width_m * k, t * k, True, outward)
    left = paper.x(-t) if wall is Wall.WEST else paper.x(plan.shell.length_m)
    outward = (-1.0, 0.0) if wall is Wall.WEST else (1.0, 0.0)
    top = paper.y(offset + placed.width_m)
    return _Hole(left, top, t * k, placed.width_m * k, False, outward)


def draw_door(door: DoorPlace, plan: RoomPlan, paper: Paper) -> SafeString:
    """A gap in the wall with its leaf open at a right angle and the arc that it sweeps."""
    hole = _hole(door, plan, paper)
    hole_drawn = format_html(
        '<rect class="hole" x="{}" y="{}" width="{}" height="{}"/><path class="reveal" d="{}"/>{}',
        *hole.box,
        hole.jambs,
        _mark(door.mark, *hole.beside(20)),
    )
    if door.swing in ("slides", "hatch"):
        leaf = format_html('<path class="leaf" d="{}"/>', hole.along(0.5))
    else:
        leaf = format_html('<path class="leaf" d="{}"/>', _swept(hole, door.swing != "out"))
    return format_html('<g class="door">{}{}</g>', hole_drawn, leaf)


def _swept(hole: _Hole, is_inward: bool) -> str:
    """The leaf, hung at the end with the smaller figures, and its quarter circle."""
    dx, dy = hole.outward
    side = -1 if is_inward else 1
    wide = hole.wide if hole.is_level else hole.high
    far = (dx + dy > 0) == (not is_inward)  # whether the face it hangs on has the larger figures
    if hole.is_level:
        y = hole.y + (hole.high if far else 0)
        tip = y + side * dy * wide
        sweep = 1 if tip < y else 0
        return (
            f"M{units(hole.x)} {units(y)}V{units(tip)}"
            f"A{units(wide)} {units(wide)} 0 0 {sweep} {units(hole.x + wide)} {units(y)}"
        )
    x = hole.x + (hole.wide if far else 0)
    tip = x + side * dx * wide
    sweep = 0 if tip < x else 1
    return (
        f"M{units(x)} {units(hole.y)}H{units(tip)}"
        f"A{units(wide)} {units(wide)} 0 0 {sweep} {units(x)} {units(hole.y + wide)}"
    )


def draw_opening(
    placed: Placed, plan: RoomPlan, paper: Paper, system: System, key: str, is_moved: bool
) -> SafeString:
    said = _said(placed, plan, system) if is_moved else ""
    if placed.is_rooflight:
        drawn = _overhead(placed, paper)
    else:
        hole = _hole(placed, plan, paper)
        drawn = format_html(
            '<rect class="hole" x="{}" y="{}" width="{}" height="{}"/>'
            '<path class="reveal" d="{}{}"/><path class="glass" d="{}{}"/>{}',
            *hole.box,
            hole.jambs,
            hole.along(1),
            hole.along(0.06),
            hole.along(0.2),
            _mark(placed.mark, *hole.beside(20)),
        )
    kind = "window window-assumed" if placed.is_assumed else "window"
    return format_html('<g class="{}" id="{}"{}>{}</g>', kind, key, said, drawn)


def _said(placed: Placed, plan: RoomPlan, system: System) -> SafeString:
    """What a script needs to move the window by the keys: its place, its run, which way is up."""
    if placed.is_rooflight:
        run, way = plan.shell.length_m, "x"
    else:
        wall = plan.wall_of(placed.face)
        run = plan.shell.wall_length_m(wall)
        way = {Wall.NORTH: "x", Wall.SOUTH: "-x", Wall.WEST: "y", Wall.EAST: "-y"}[wall]
    return format_html(
        ' data-left="{}" data-most="{}" data-way="{}" data-said="{}" data-place="{}"',
        round(1000 * placed.left_m),
        max(0, round(1000 * (run - placed.width_m))),
        way,
        f"Move {placed.mark}",
        place_words(placed, system),
    )


def _overhead(placed: Placed, paper: Paper) -> SafeString:
    """A roof light lies above the cut: dashed, and crossed as a void is."""
    x, y, wide, high = paper.box(placed.left_m, placed.sill_m, placed.width_m, placed.height_m)
    right, low = float(x) + float(wide), float(y) + float(high)
    return format_html(
        '<rect class="overhead" x="{0}" y="{1}" width="{2}" height="{3}"/>'
        '<path class="overhead" d="M{0} {1}L{4} {5}M{4} {1}L{0} {5}"/>{6}',
        x,
        y,
        wide,
        high,
        units(right),
        units(low),
        _mark(placed.mark, float(x) + float(wide) / 2, float(y) - 16),
    )


def _mark(mark: str, x: float, y: float) -> SafeString:
    return format_html(
        '<ellipse class="mark-ring" cx="{0}" cy="{1}" rx="{2}" ry="13"/>'
        '<text class="mark" x="{0}" y="{3}">{4}</text>',
        units(x),
        units(y),
        units(max(14, 7 + 4.6 * len(mark))),
        units(y + 5),
        mark,
    )


def draw_former(placed: Placed, plan: RoomPlan, paper: Paper) -> SafeString:
    hole = _hole(placed, plan, paper)
    return format_html('<rect class="was" x="{}" y="{}" width="{}" height="{}"/>', *hole.box)
