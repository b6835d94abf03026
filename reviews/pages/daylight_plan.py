"""A room's daylight plan, drawn to scale as SVG with classes: walls, windows, lines and hatching.

The paper is that of `daylight_paper`; what stands in the walls, of `daylight_openings`.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from criteria.daylight import Contour, no_sky_lines
from criteria.daylight.field import PLANE_HEIGHT_M
from criteria.daylight.hatching import hatching, lines_to_walls
from criteria.plans.figures import RoomLight
from criteria.plans.plan import Placed, RoomPlan
from criteria.units import ROOM_LENGTH, System
from reviews.pages.daylight_openings import (
    draw_door,
    draw_former,
    draw_opening,
    draw_walls,
    place_words,
)
from reviews.pages.daylight_paper import (
    SIDE,
    UNIT_MM,
    Paper,
    Point,
    joined,
    on_paper,
    paper_for,
    units,
)

NARROW = 600
LEVELS_PCT = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20)
TONES_PCT = (1, 2, 5)
SHORTEST_M = 0.4
"""Lines shorter than this are left out: corners, where the grid says little [m]."""
HATCH = 9
"""Between hatching lines, along x [units]."""


def draw_plan(
    light: RoomLight,
    system: System,
    *,
    own: RoomPlan | None = None,
    key: str = "plan",
    is_moved: bool = False,
    scale: int | None = None,
) -> SafeString:
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
    floor = format_html(
        '<rect class="floor" x="{}" y="{}" width="{}" height="{}"/>',
        *paper.box(0, 0, paper.length_m, paper.width_m),
    )
    parts = [
        floor,
        _tones(light, paper),
        _lines(light, contours, paper),
        draw_walls(paper),
        *(draw_door(each, plan, paper) for each in plan.doors),
        *(draw_former(each, plan, paper) for each in _elsewhere(plan, own)),
        *(
            draw_opening(each, plan, paper, system, f"{key}-{number}", is_moved)
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
        units(paper.wide),
        units(paper.high),
        units(paper.wide * UNIT_MM),
        units(paper.high * UNIT_MM),
        "group" if is_moved else "img",
        key,
        f"Daylight plan of {plan.mark} {plan.name}",
        described(light, paper, system),
        joined(parts),
        units(1000 / paper.per_m),
        " daylight-plan-narrow" if paper.wide < NARROW else "",
    )


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


# Tones and lines


def _levels(light: RoomLight) -> list[float]:
    low, high = light.drawn.df_pct.min(), light.drawn.df_pct.max()
    return [level for level in LEVELS_PCT if low < level <= high][-6:]


def _tones(light: RoomLight, paper: Paper) -> SafeString:
    lines = hatching(light.drawn, TONES_PCT, HATCH / paper.per_m)
    drawn = "".join(
        f"M{units(paper.x(a))} {units(paper.y(b))}L{units(paper.x(c))} {units(paper.y(d))}"
        for a, b, c, d in lines
    )
    return format_html('<path class="tone" d="{}"/>', drawn)


def _lines(light: RoomLight, contours: Sequence[Contour], paper: Paper) -> SafeString:
    room = light.plan.room
    parts = []
    if room.openings and 0 < light.field.no_sky_share < 1:
        hidden = no_sky_lines(room, plane_height_m=PLANE_HEIGHT_M)
        path = "".join(_smooth(on_paper(paper, line)) for line in hidden)
        parts.append(format_html('<path class="no-sky" d="{}"/>', path))
    parts += [
        format_html(
            '<path class="isoline{}" d="{}"/>',
            " isoline-main" if contour.level_pct in TONES_PCT else "",
            _smooth(on_paper(paper, contour.points)),
        )
        for contour in contours
    ]
    return joined(parts)


def _labelled(contours: Sequence[Contour], plan: RoomPlan, paper: Paper) -> list[Contour]:
    """The lines with room for a figure: long enough, and none on top of another or of a mark."""
    taken = [
        (paper.x(o.left_m + o.width_m / 2), paper.y(o.sill_m + o.height_m) - 16)
        for o in plan.openings
        if o.is_rooflight
    ]
    kept: list[Contour] = []
    for contour in sorted(contours, key=lambda each: -each.length_m):
        x, y = on_paper(paper, [contour.label_point])[0]
        is_free = all(abs(x - a) >= 34 or abs(y - b) >= 24 for a, b in taken)
        if is_free and contour.length_m * paper.per_m > 40:
            kept.append(contour)
            taken.append((x, y))
    return kept


def _label(contour: Contour, paper: Paper) -> SafeString:
    x, y = contour.label_point
    return format_html(
        '<text class="isoline-label" transform="translate({} {}) rotate({})" dy="4.5">{}</text>',
        units(paper.x(x)),
        units(paper.y(y)),
        units(-contour.label_angle_deg),
        f"{contour.level_pct:g}",
    )


def _smooth(points: Sequence[Point]) -> str:
    """A curve through the middles of a line's pieces, bent towards its corners."""
    if len(points) < 3:
        return "M" + "L".join(f"{units(x)} {units(y)}" for x, y in points)
    middles = [((a + c) / 2, (b + d) / 2) for (a, b), (c, d) in pairwise(points)]
    is_closed = points[0] == points[-1]
    start, end = (middles[0], middles[0]) if is_closed else (points[0], points[-1])
    path = [f"M{units(start[0])} {units(start[1])}"]
    if not is_closed:
        path.append(f"L{units(middles[0][0])} {units(middles[0][1])}")
    corners = list(zip(points[1:-1], middles[1:], strict=True))
    if is_closed:
        corners.append((points[0], middles[0]))
    path += [f"Q{units(a)} {units(b)} {units(c)} {units(d)}" for (a, b), (c, d) in corners]
    if not is_closed:
        path.append(f"L{units(end[0])} {units(end[1])}")
    return "".join(path)


def _elsewhere(plan: RoomPlan, own: RoomPlan | None) -> list[Placed]:
    """The schedule's windows that a trial has elsewhere or not at all."""
    if own is None:
        return []
    stands = {(o.face, o.left_m, o.width_m) for o in plan.openings}
    return [o for o in own.upright if (o.face, o.left_m, o.width_m) not in stands]


def _seat(mark: str, x: float, y: float) -> SafeString:
    return format_html(
        '<circle class="seat" cx="{0}" cy="{1}" r="11"/><circle class="seat" cx="{0}" cy="{1}"'
        ' r="3"/><text class="mark" x="{0}" y="{2}">{3}</text>',
        units(x),
        units(y),
        units(y + 28),
        mark,
    )


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
        units(left),
        units(right),
        units(low),
        units(low - 6),
        units(low + 6),
        units(side),
        units(top),
        units(foot),
        units(side - 6),
        units(side + 6),
        units((left + right) / 2),
        units(low - 6),
        ROOM_LENGTH.write(paper.length_m, system),
        units(side - 6),
        units(middle),
        ROOM_LENGTH.write(paper.width_m, system),
    )


def _north(plan: RoomPlan, paper: Paper) -> SafeString:
    """An arrow to the north; the plan's upper wall faces `north_bearing_deg`."""
    return format_html(
        '<g class="north" transform="translate({} {}) rotate({})"><circle r="17"/>'
        '<path class="north-hand" d="M0-17L6 12L0 7L-6 12Z"/></g>'
        '<text class="size-words" x="{}" y="{}">N</text>',
        units(paper.wide - 30),
        units(paper.high - 34),
        units(-plan.shell.north_bearing_deg),
        units(paper.wide - 58),
        units(paper.high - 29),
    )


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
            (
                "open" if n % 2 else "filled",
                units(x + n * step * paper.per_m),
                units(y),
                units(step * paper.per_m),
            )
            for n in range(count)
        ),
    )
    unit = "ft" if system is System.US else "m"
    return format_html(
        '{}<text class="size-words scale-words" x="{}" y="{}">{} {}, 1:{} on paper</text>',
        bays,
        units(x),
        units(y - 7),
        count,
        unit,
        paper.scale,
    )


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
