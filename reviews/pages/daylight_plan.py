"""A room's daylight plan, drawn to scale as SVG with classes: walls, windows, lines and hatching.

One unit is 0.2 mm on paper, so that printed it measures at the scale it names.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from criteria.daylight import Contour, Wall, no_sky_lines
from criteria.daylight.field import PLANE_HEIGHT_M
from criteria.daylight.hatching import hatching, lines_to_walls
from criteria.plans.figures import RoomLight
from criteria.plans.plan import DoorPlace, Placed, RoomPlan
from criteria.units import LENGTH, ROOM_LENGTH, System

SCALES = (20, 25, 50, 100, 200)
UNIT_MM = 0.2
WIDEST, TALLEST = 880, 900
NARROW = 600
SIDE, HEAD, FOOT = 84, 58, 128
"""Room kept around the walls for marks, dimensions and the scale bar."""
LEVELS_PCT = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20)
TONES_PCT = (1, 2, 5)
SHORTEST_M = 0.4
"""Lines shorter than this are left out: corners, where the grid says little [m]."""
HATCH = 9
"""Between hatching lines, along x [units]."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Paper:
    """Where metres on the plan lie on the drawing."""

    scale: int
    length_m: float
    width_m: float
    wall_m: float

    @property
    def per_m(self) -> float:
        """Units to a metre."""
        return 1000 / self.scale / UNIT_MM

    def x(self, x_m: float) -> float:
        """Across, from the left."""
        return SIDE + (self.wall_m + x_m) * self.per_m

    def y(self, y_m: float) -> float:
        """Down from the top."""
        return HEAD + (self.wall_m + self.width_m - y_m) * self.per_m

    @property
    def wide(self) -> float:
        """Width of the whole drawing [units]."""
        return 2 * SIDE + (self.length_m + 2 * self.wall_m) * self.per_m

    @property
    def high(self) -> float:
        """Height of the whole drawing [units]."""
        return HEAD + FOOT + (self.width_m + 2 * self.wall_m) * self.per_m

    def box(self, x_m: float, y_m: float, wide_m: float, high_m: float) -> tuple[str, ...]:
        """A rectangle's x, y, width and height as attributes."""
        return (_n(self.x(x_m)), _n(self.y(y_m + high_m)), _n(wide_m * self.per_m),
                _n(high_m * self.per_m))  # fmt: skip


def paper_for(plan: RoomPlan, scale: int | None = None) -> Paper:
    """The largest usual scale at which a room fits a page, or a given one."""
    shell = plan.shell
    found = [
        Paper(scale, shell.length_m, shell.width_m, max(shell.wall_thickness_m, 0.05))
        for scale in ([scale] if scale else SCALES)
    ]
    return next((p for p in found if p.wide <= WIDEST and p.high <= TALLEST), found[-1])


def draw_plan(
    light: RoomLight, system: System, *, own: RoomPlan | None = None, key: str = "plan",
    is_moved: bool = False, scale: int | None = None,
) -> SafeString:  # fmt: skip
    """Draw a room.

    own         the schedule's plan, whose windows are shown dashed where a trial's stand elsewhere
    key         begins the ids, so that a page may hold several
    is_moved    whether its windows can be moved by the keys: then each says where it stands
    scale       the drawing's, where it stands beside others
    """
    plan = light.plan
    paper = paper_for(plan, scale)
    contours = [
        each for each in lines_to_walls(light.drawn, _levels(light)) if each.length_m >= SHORTEST_M
    ]
    parts = [
        _tones(light, paper),
        _lines(light, contours, paper),
        _walls(paper),
        *(_door(each, plan, paper) for each in plan.doors),
        *(_was(each, plan, paper) for each in _elsewhere(plan, own)),
        *(
            _opening(each, plan, paper, system, f"{key}-{number}", is_moved)
            for number, each in enumerate(plan.openings)
        ),
        *(_label(contour, paper) for contour in _labelled(contours, plan, paper)),
        *(_seat(seat.mark, paper.x(seat.x_m), paper.y(seat.y_m)) for seat in plan.seats),
        _sizes(plan, paper, system),
        _north(plan, paper),
        _scale_bar(paper, system),
    ]
    return format_html(
        '<svg class="daylight-plan{10}" viewBox="0 0 {0} {1}" width="{2}mm" height="{3}mm"'
        ' role="{4}" aria-labelledby="{5}-title" aria-describedby="{5}-desc"'
        ' data-mm="{9}"><title id="{5}-title">{6}</title>'
        '<desc id="{5}-desc">{7}</desc>{8}</svg>',
        _n(paper.wide), _n(paper.high), _n(paper.wide * UNIT_MM), _n(paper.high * UNIT_MM),
        "group" if is_moved else "img", key, f"Daylight plan of {plan.mark} {plan.name}",
        described(light, paper, system), _joined(parts), _n(1000 / paper.per_m),
        " daylight-plan-narrow" if paper.wide < NARROW else "",
    )  # fmt: skip


def described(light: RoomLight, paper: Paper, system: System) -> str:
    """Say in words what the plan shows."""
    plan, field = light.plan, light.drawn
    size = " by ".join(ROOM_LENGTH.write(x, system) for x in (paper.length_m, paper.width_m))
    windows = "; ".join(
        f"{placed.mark} {place_words(placed, system)}, {100 * share:.0f} % of the light"
        for placed, share in zip(plan.in_order, light.shares, strict=True)
    )
    low, high = field.df_pct.min(), field.df_pct.max()
    return (
        f"Scale 1:{paper.scale}, {size}. Daylight factor from {low:.2g} % to {high:.2g} %, lines "
        f"at {', '.join(f'{level:g}' for level in _levels(light)) or 'no level'} %. "
        f"{windows or 'No window'}."
    )


def place_words(placed: Placed, system: System) -> str:
    """Say where an opening stands: in the S wall, 970 mm from its left."""
    if placed.is_rooflight:
        return f"in the ceiling, {LENGTH.write(placed.left_m, system)} from the left"
    return f"in the {placed.face} wall, {LENGTH.write(placed.left_m, system)} from its left"


# Tones and lines


def _levels(light: RoomLight) -> list[float]:
    low, high = light.drawn.df_pct.min(), light.drawn.df_pct.max()
    return [level for level in LEVELS_PCT if low < level <= high][-6:]


def _tones(light: RoomLight, paper: Paper) -> SafeString:
    lines = hatching(light.drawn, TONES_PCT, HATCH / paper.per_m)
    drawn = "".join(
        f"M{_n(paper.x(a))} {_n(paper.y(b))}L{_n(paper.x(c))} {_n(paper.y(d))}"
        for a, b, c, d in lines
    )
    return format_html('<path class="tone" d="{}"/>', drawn)


def _lines(light: RoomLight, contours: Sequence[Contour], paper: Paper) -> SafeString:
    room = light.plan.room
    parts = []
    if room.openings and 0 < light.field.no_sky_share < 1:
        hidden = no_sky_lines(room, plane_height_m=PLANE_HEIGHT_M)
        path = "".join(_smooth(_on(paper, line)) for line in hidden)
        parts.append(format_html('<path class="no-sky" d="{}"/>', path))
    parts += [
        format_html(
            '<path class="isoline{}" d="{}"/>',
            " isoline-main" if contour.level_pct in TONES_PCT else "",
            _smooth(_on(paper, contour.points)),
        )
        for contour in contours
    ]
    return _joined(parts)


def _on(paper: Paper, points: Iterable[Point]) -> list[Point]:
    return [(paper.x(x), paper.y(y)) for x, y in points]


def _labelled(contours: Sequence[Contour], plan: RoomPlan, paper: Paper) -> list[Contour]:
    """The lines with room for a figure: long enough, and none on top of another or of a mark."""
    taken = [
        (paper.x(o.left_m + o.width_m / 2), paper.y(o.sill_m + o.height_m) - 16)
        for o in plan.openings
        if o.is_rooflight
    ]
    kept: list[Contour] = []
    for contour in sorted(contours, key=lambda each: -each.length_m):
        x, y = _on(paper, [contour.label_point])[0]
        is_free = all(abs(x - a) >= 34 or abs(y - b) >= 24 for a, b in taken)
        if is_free and contour.length_m * paper.per_m > 40:
            kept.append(contour)
            taken.append((x, y))
    return kept


def _label(contour: Contour, paper: Paper) -> SafeString:
    x, y = contour.label_point
    return format_html(
        '<text class="isoline-label" transform="translate({} {}) rotate({})" dy="4.5">{}</text>',
        _n(paper.x(x)), _n(paper.y(y)), _n(-contour.label_angle_deg), f"{contour.level_pct:g}",
    )  # fmt: skip


def _smooth(points: Sequence[Point]) -> str:
    """A curve through the middles of a line's pieces, bent towards its corners."""
    if len(points) < 3:
        return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in points)
    middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(points)]
    is_closed = points[0] == points[-1]
    start, end = (middles[0], middles[0]) if is_closed else (points[0], points[-1])
    path = [f"M{_n(start[0])} {_n(start[1])}"]
    if not is_closed:
        path.append(f"L{_n(middles[0][0])} {_n(middles[0][1])}")
    corners = list(zip(points[1:-1], middles[1:], strict=True))
    if is_closed:
        corners.append((points[0], middles[0]))
    path += [f"Q{_n(a)} {_n(b)} {_n(c)} {_n(d)}" for (a, b), (c, d) in corners]
    if not is_closed:
        path.append(f"L{_n(end[0])} {_n(end[1])}")
    return "".join(path)


# Walls and openings


def _walls(paper: Paper) -> SafeString:
    t, length, width = paper.wall_m, paper.length_m, paper.width_m
    outer = [(-t, -t), (length + t, -t), (length + t, width + t), (-t, width + t)]
    inner = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    rings = "".join(
        "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in _on(paper, ring)) + "Z"
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
            return f"M{_n(self.x)} {_n(at)}H{_n(self.x + self.wide)}"
        at = self.x + self.wide * depth
        return f"M{_n(at)} {_n(self.y)}V{_n(self.y + self.high)}"

    @property
    def jambs(self) -> str:
        """The two ends."""
        x, y, right, low = self.x, self.y, self.x + self.wide, self.y + self.high
        if self.is_level:
            return f"M{_n(x)} {_n(y)}V{_n(low)}M{_n(right)} {_n(y)}V{_n(low)}"
        return f"M{_n(x)} {_n(y)}H{_n(right)}M{_n(x)} {_n(low)}H{_n(right)}"

    @property
    def box(self) -> tuple[str, ...]:
        return _n(self.x), _n(self.y), _n(self.wide), _n(self.high)

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


def _door(door: DoorPlace, plan: RoomPlan, paper: Paper) -> SafeString:
    """A gap in the wall with its leaf open at a right angle and the arc that it sweeps."""
    hole = _hole(door, plan, paper)
    hole_drawn = format_html(
        '<rect class="hole" x="{}" y="{}" width="{}" height="{}"/><path class="reveal" d="{}"/>{}',
        *hole.box, hole.jambs, _mark(door.mark, *hole.beside(20)),
    )  # fmt: skip
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
            f"M{_n(hole.x)} {_n(y)}V{_n(tip)}"
            f"A{_n(wide)} {_n(wide)} 0 0 {sweep} {_n(hole.x + wide)} {_n(y)}"
        )
    x = hole.x + (hole.wide if far else 0)
    tip = x + side * dx * wide
    sweep = 0 if tip < x else 1
    return (
        f"M{_n(x)} {_n(hole.y)}H{_n(tip)}"
        f"A{_n(wide)} {_n(wide)} 0 0 {sweep} {_n(x)} {_n(hole.y + wide)}"
    )


def _opening(
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
            *hole.box, hole.jambs, hole.along(1), hole.along(0.06), hole.along(0.2),
            _mark(placed.mark, *hole.beside(20)),
        )  # fmt: skip
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
        x, y, wide, high, _n(right), _n(low),
        _mark(placed.mark, float(x) + float(wide) / 2, float(y) - 16),
    )  # fmt: skip


def _mark(mark: str, x: float, y: float) -> SafeString:
    return format_html(
        '<ellipse class="mark-ring" cx="{0}" cy="{1}" rx="{2}" ry="13"/>'
        '<text class="mark" x="{0}" y="{3}">{4}</text>',
        _n(x), _n(y), _n(max(14, 7 + 4.6 * len(mark))), _n(y + 5), mark,
    )  # fmt: skip


def _elsewhere(plan: RoomPlan, own: RoomPlan | None) -> list[Placed]:
    """The schedule's windows that a trial has elsewhere or not at all."""
    if own is None:
        return []
    stands = {(o.face, o.left_m, o.width_m) for o in plan.openings}
    return [o for o in own.upright if (o.face, o.left_m, o.width_m) not in stands]


def _was(placed: Placed, plan: RoomPlan, paper: Paper) -> SafeString:
    hole = _hole(placed, plan, paper)
    return format_html('<rect class="was" x="{}" y="{}" width="{}" height="{}"/>', *hole.box)


def _seat(mark: str, x: float, y: float) -> SafeString:
    return format_html(
        '<circle class="seat" cx="{0}" cy="{1}" r="11"/><circle class="seat" cx="{0}" cy="{1}"'
        ' r="3"/><text class="mark" x="{0}" y="{2}">{3}</text>',
        _n(x), _n(y), _n(y + 28), mark,
    )  # fmt: skip


# What stands around it


def _sizes(plan: RoomPlan, paper: Paper, system: System) -> SafeString:
    """Inside length and width, with ticks."""
    left, right, low = paper.x(0), paper.x(paper.length_m), paper.y(-paper.wall_m) + 66
    top, foot, side = paper.y(paper.width_m), paper.y(0), paper.x(-paper.wall_m) - 58
    middle = (top + foot) / 2
    return format_html(
        '<path class="size" d="M{0} {2}H{1}M{0} {3}V{4}M{1} {3}V{4}'
        'M{5} {6}V{7}M{8} {6}H{9}M{8} {7}H{9}"/>'
        '<text class="size-words" x="{10}" y="{11}">{12}</text>'
        '<text class="size-words" transform="translate({13} {14}) rotate(-90)">{15}</text>',
        _n(left), _n(right), _n(low), _n(low - 6), _n(low + 6),
        _n(side), _n(top), _n(foot), _n(side - 6), _n(side + 6),
        _n((left + right) / 2), _n(low - 6), ROOM_LENGTH.write(paper.length_m, system),
        _n(side - 6), _n(middle), ROOM_LENGTH.write(paper.width_m, system),
    )  # fmt: skip


def _north(plan: RoomPlan, paper: Paper) -> SafeString:
    """An arrow to the north; the plan's upper wall faces `north_bearing_deg`."""
    return format_html(
        '<g class="north" transform="translate({} {}) rotate({})"><circle r="17"/>'
        '<path class="north-hand" d="M0-17L6 12L0 7L-6 12Z"/></g>'
        '<text class="size-words" x="{}" y="{}">N</text>',
        _n(paper.wide - 30), _n(paper.high - 34), _n(-plan.shell.north_bearing_deg),
        _n(paper.wide - 58), _n(paper.high - 29),
    )  # fmt: skip


def _scale_bar(paper: Paper, system: System) -> SafeString:
    """Whole metres, or feet of 0.3048 m, filled and open in turn."""
    step = 0.3048 if system is System.US else 1.0
    count = max(1, min(5, int(paper.length_m / step)))
    if system is System.US and count * step * paper.per_m < 120:
        count = 5
    x, y = SIDE, paper.high - 30
    bays = format_html_join(
        "",
        '<rect class="bay bay-{}" x="{}" y="{}" width="{}" height="7"/>',
        (
            ("open" if n % 2 else "filled", _n(x + n * step * paper.per_m), _n(y),
             _n(step * paper.per_m))
            for n in range(count)
        ),
    )  # fmt: skip
    unit = "ft" if system is System.US else "m"
    return format_html(
        '{}<text class="size-words scale-words" x="{}" y="{}">{} {}, 1:{} on paper</text>',
        bays, _n(x), _n(y - 7), count, unit, paper.scale,
    )  # fmt: skip


def tone_key() -> list[tuple[SafeString, str]]:
    """The hatching's key: a swatch and what it stands for."""
    steps = [(1, f"under {TONES_PCT[0]} %")]
    steps += [
        (2**n, f"{low} to {high} %") for n, (low, high) in enumerate(pairwise(TONES_PCT), start=1)
    ]
    found = []
    for every, words in steps:
        gap = HATCH * every
        lines = "".join(f"M{c - 26} 26L{c} 0" for c in range(gap // 2, 70, gap))
        found.append((_swatch(lines), words))
    return [*found, (_swatch(""), f"{TONES_PCT[-1]} % and over")]


def _swatch(lines: str) -> SafeString:
    return format_html(
        '<svg class="tone-key" viewBox="0 0 44 26" aria-hidden="true" focusable="false">'
        '<path class="tone" d="{}"/><rect x="0.5" y="0.5" width="43" height="25"/></svg>',
        lines,
    )


def _joined(parts: Iterable[SafeString]) -> SafeString:
    return format_html_join("", "{}", ((part,) for part in parts))


def _n(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
