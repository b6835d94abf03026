"""Sheet 00: the name, the statement and the building from above."""

from collections.abc import Sequence
from math import cos, pi, sin

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    CUT,
    FINE,
    GLASS,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.geometry import Rect
from reviews.demo.drawings.heights import Heights, heights_of
from reviews.demo.drawings.page import FIELD

SCALE = 100
TILT = pi / 6


class Axonometric:
    """How plan and height lie on paper, all three axes to scale: seen from the lower right."""

    def __init__(self, left: float, top: float) -> None:
        self.left, self.top = left, top
        self.per_m = 1000 / SCALE

    def at(self, x: float, y: float, z: float) -> Point:
        """Return a point on paper; x and y as on plan [m]."""
        u = (x * cos(TILT) - y * cos(TILT)) * self.per_m
        v = (x * sin(TILT) + y * sin(TILT) - z) * self.per_m
        return self.left + u, self.top + v

    def flat(self, r: Rect, z: float) -> list[Point]:
        """Return a level rectangle."""
        return [self.at(*p, z) for p in ((r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1))]


def draw_title(
    canvas: Canvas, building: Building, name: str, number: str, by: str, statement: str
) -> None:
    """Draw the title sheet."""
    x = FIELD.left + 6
    canvas.text((x, FIELD.top + 34), number, 9.0, "label", GRAPHITE, track=0.05)
    size = 22.0
    while canvas.width_of(name, size, "title") > 150:
        size -= 1
    canvas.text((x, FIELD.top + 60), name, size, "title", INK)
    canvas.line([(x, FIELD.top + 68), (x + 60, FIELD.top + 68)], BOLD, INK)
    y = canvas.paragraph((x, FIELD.top + 84), statement, 146, 6.6, "serif", INK, 1.5)
    canvas.text((x, y + 8), by, 5.4, "medium", INK)
    _facts(canvas, building, x, max(y + 30, FIELD.bottom - 42))
    heights = heights_of(building)
    plan = building.plan
    wide = (plan.outer.width + plan.outer.height) * 10 * cos(TILT)
    reach = (plan.outer.width + plan.outer.height) * 10 * sin(TILT)
    left = (
        FIELD.left
        + 168
        + (FIELD.right - FIELD.left - 168 - wide) / 2
        + plan.outer.height * 10 * cos(TILT)
    )
    lift = heights.top * 10 + reach * 0.62
    top = FIELD.bottom - reach - 12 - (-heights.ground) * 10 + 14
    axo = Axonometric(left, top)
    _floor(canvas, building, axo, heights)
    _shell(
        canvas,
        building,
        Axonometric(left, max(top - lift, FIELD.top + heights.top * 10 + 4)),
        heights,
        axo,
    )


def _facts(canvas: Canvas, building: Building, x: float, y: float) -> None:
    package, plan = building.package, building.plan
    floor = sum(room.floor_m2 for room in plan.rooms)
    beds = sum(r.sleepers or 0 for r in package.rooms)
    loads = sum(p.n or 1 for p in package.pieces)
    facts = [(f"{floor:.1f} m²", "floor indoors"), (f"{beds}", "sleepers"), (f"{loads}", "pieces")]
    if package.site.altitude_m:
        facts.append((f"{package.site.altitude_m:,.0f} m".replace(",", "\u2009"), "above the sea"))
    elif package.site.flood_m is not None:
        facts.append((f"+{package.site.flood_m:.2f} m", "storm tide"))
    for i, (figure, words) in enumerate(facts):
        at = x + i * 38
        canvas.line([(at, y - 10), (at + 30, y - 10)], THIN, FINE)
        canvas.text((at, y), figure, 7.0, "medium", INK)
        canvas.text((at, y + 6), words, 4.0, "label", GRAPHITE)


def _floor(canvas: Canvas, building: Building, axo: Axonometric, heights: Heights) -> None:
    """Draw the floor with its partitions and furniture, ramp and legs beneath."""
    plan = building.plan
    outer = plan.outer
    g, deep = heights.ground, -heights.floor_m
    for x in (outer.x0 + 0.3, outer.x1 - 0.3):
        for y in (outer.y0 + 0.3, outer.y1 - 0.3):
            canvas.line([axo.at(x, y, deep), axo.at(x, y, g)], BOLD, GRAPHITE)
    if building.ramp:
        r = building.ramp.run
        foot, head = (g, 0.0) if building.ramp.foot_first else (0.0, g)
        if building.ramp.is_level:
            run = [
                axo.at(r.x0, r.y0, foot),
                axo.at(r.x1, r.y0, head),
                axo.at(r.x1, r.y1, head),
                axo.at(r.x0, r.y1, foot),
            ]
        else:
            run = [
                axo.at(r.x0, r.y0, foot),
                axo.at(r.x1, r.y0, foot),
                axo.at(r.x1, r.y1, head),
                axo.at(r.x0, r.y1, head),
            ]
        canvas.shape(run, PAPER, THIN)
        canvas.hatch(run, 1.6, -30, HAIR, FINE)
    _sides(canvas, axo, outer, deep, 0.0, OCHRE)
    canvas.shape(axo.flat(outer, 0.0), PAPER, LINE)
    low = 0.45
    pieces = sorted(building.fittings, key=lambda f: f.rect.x0 + f.rect.y0)
    canvas.hatch(axo.flat(outer, 0.0), 0.9, 45, HAIR, OCHRE)
    canvas.shape(axo.flat(plan.inner, 0.0), GRAPHITE, LINE, INK)
    for room in plan.ground:
        for part in room.parts:
            canvas.shape(axo.flat(part, 0.0), PAPER, THIN, GRAPHITE)
    if plan.day.lobby:
        canvas.shape(axo.flat(plan.day.lobby.grown(0.01), 0.0), PAPER, ink=None)
    for door in building.openings.doors:
        if not door.room.is_upper:
            canvas.shape(axo.flat(door.hole.grown(0.015), 0.0), PAPER, ink=None)
    tall = {
        "bunk": 0.9,
        "table": 0.75,
        "counter": 0.9,
        "hearth": 1.1,
        "stove": 1.1,
        "tank": 1.3,
        "lab": 0.9,
    }
    for fitting in pieces:
        if fitting.room.is_upper:
            continue
        z = tall.get(fitting.kind, low)
        _sides(
            canvas,
            axo,
            fitting.rect,
            0.0,
            z,
            GRAPHITE if fitting.kind in ("hearth", "stove") else PALE,
        )
        canvas.shape(axo.flat(fitting.rect, z), PAPER, THIN)


def _sides(canvas: Canvas, axo: Axonometric, r: Rect, low: float, high: float, ink: str) -> None:
    """Draw the two sides of a block that can be seen."""
    right = [
        axo.at(r.x1, r.y0, low),
        axo.at(r.x1, r.y1, low),
        axo.at(r.x1, r.y1, high),
        axo.at(r.x1, r.y0, high),
    ]
    front = [
        axo.at(r.x0, r.y1, low),
        axo.at(r.x1, r.y1, low),
        axo.at(r.x1, r.y1, high),
        axo.at(r.x0, r.y1, high),
    ]
    canvas.shape(right, PAPER, THIN)
    canvas.hatch(right, 1.0, 90, HAIR, ink)
    canvas.shape(front, PAPER, THIN)


def _shell(
    canvas: Canvas, building: Building, axo: Axonometric, heights: Heights, below: Axonometric
) -> None:
    """Draw walls and roof lifted off, with the windows and doors of the two sides that show."""
    plan = building.plan
    o = plan.outer
    for x, y in ((o.x0, o.y1), (o.x1, o.y1), (o.x1, o.y0)):
        canvas.line([axo.at(x, y, 0), below.at(x, y, 0)], HAIR, FINE, (3, 1.5))
    z_top, z_low = heights.eaves_high, heights.eaves_low
    front = [
        axo.at(o.x0, o.y1, 0),
        axo.at(o.x1, o.y1, 0),
        axo.at(o.x1, o.y1, z_low),
        axo.at(o.x0, o.y1, z_low),
    ]
    gable = [axo.at(o.x1, o.y1, 0), axo.at(o.x1, o.y0, 0), axo.at(o.x1, o.y0, z_top)]
    if heights.ridge is not None:
        gable.append(axo.at(o.x1, o.centre[1], heights.ridge))
    gable.append(axo.at(o.x1, o.y1, z_low))
    canvas.shape(front, PAPER, CUT)
    canvas.hatch(front, 1.5, 90, HAIR, PALE)
    canvas.shape(gable, PAPER, CUT)
    canvas.hatch(gable, 1.2, 90, HAIR, OCHRE)
    _openings(canvas, building, axo, heights)
    canvas.shape(front, None, BOLD)
    canvas.shape(gable, None, BOLD)
    _roof(canvas, building, axo, heights)
    _chimney(canvas, building, axo, heights)


def _openings(canvas: Canvas, building: Building, axo: Axonometric, heights: Heights) -> None:
    o = building.plan.outer

    def on(side: str, start: float, end: float, low: float, high: float) -> Sequence[Point] | None:
        if side == "bottom":
            ends = ((start, o.y1), (end, o.y1))
        elif side == "right":
            ends = ((o.x1, start), (o.x1, end))
        else:
            return None
        (x0, y0), (x1, y1) = ends
        return [
            axo.at(x0, y0, low),
            axo.at(x1, y1, low),
            axo.at(x1, y1, high),
            axo.at(x0, y0, high),
        ]

    for window in building.openings.windows:
        w = window.window
        if window.is_roof_light or w.sill_m is None or not w.frame_h_m:
            continue
        base = (heights.upper_floor or 0.0) if window.room.is_upper else 0.0
        edge = (w.frame_h_m - (w.glass_h_m or w.frame_h_m)) / 2
        low = base + w.sill_m - edge
        shape = on(
            window.side, window.start_m, window.start_m + window.wide_m, low, low + w.frame_h_m
        )
        if shape:
            canvas.shape(shape, GLASS, LINE)
    for door in building.openings.doors:
        if not door.is_outside or door.door is None:
            continue
        base = (heights.upper_floor or 0.0) if door.room.is_upper else 0.0
        shape = on(
            door.side,
            door.start_m,
            door.start_m + door.wide_m,
            base,
            base + (door.door.height_m or 2.0),
        )
        if shape:
            canvas.shape(shape, PAPER, LINE)
            canvas.hatch(shape, 1.0, 90, HAIR, GRAPHITE)


def _roof(canvas: Canvas, building: Building, axo: Axonometric, heights: Heights) -> None:
    o = building.plan.outer.grown(0.3)
    t = heights.roof_m
    high, low = heights.eaves_high, heights.eaves_low
    mid = building.plan.outer.centre[1]
    if heights.ridge is None:
        top = [
            axo.at(o.x0, o.y0, high + t),
            axo.at(o.x1, o.y0, high + t),
            axo.at(o.x1, o.y1, low + t),
            axo.at(o.x0, o.y1, low + t),
        ]
        edge = [
            axo.at(o.x1, o.y0, high),
            axo.at(o.x1, o.y0, high + t),
            axo.at(o.x1, o.y1, low + t),
            axo.at(o.x1, o.y1, low),
        ]
        front = [
            axo.at(o.x0, o.y1, low),
            axo.at(o.x1, o.y1, low),
            axo.at(o.x1, o.y1, low + t),
            axo.at(o.x0, o.y1, low + t),
        ]
        planes = [top]
        edges = [edge, front]
    else:
        r = heights.ridge
        back = [
            axo.at(o.x0, o.y0, high + t),
            axo.at(o.x1, o.y0, high + t),
            axo.at(o.x1, mid, r + t),
            axo.at(o.x0, mid, r + t),
        ]
        near = [
            axo.at(o.x0, mid, r + t),
            axo.at(o.x1, mid, r + t),
            axo.at(o.x1, o.y1, low + t),
            axo.at(o.x0, o.y1, low + t),
        ]
        edge = [
            axo.at(o.x1, o.y1, low),
            axo.at(o.x1, mid, r),
            axo.at(o.x1, o.y0, high),
            axo.at(o.x1, o.y0, high + t),
            axo.at(o.x1, mid, r + t),
            axo.at(o.x1, o.y1, low + t),
        ]
        front = [
            axo.at(o.x0, o.y1, low),
            axo.at(o.x1, o.y1, low),
            axo.at(o.x1, o.y1, low + t),
            axo.at(o.x0, o.y1, low + t),
        ]
        planes = [back, near]
        edges = [edge, front]
    for plane in planes:
        canvas.shape(plane, PAPER, BOLD)
        n = 24
        for i in range(1, n):
            a = (
                plane[0][0] + (plane[1][0] - plane[0][0]) * i / n,
                plane[0][1] + (plane[1][1] - plane[0][1]) * i / n,
            )
            b = (
                plane[3][0] + (plane[2][0] - plane[3][0]) * i / n,
                plane[3][1] + (plane[2][1] - plane[3][1]) * i / n,
            )
            canvas.line([a, b], HAIR, FINE)
    for shape in edges:
        canvas.shape(shape, PAPER, LINE)
        canvas.hatch(shape, 0.9, 45, HAIR, GRAPHITE)


def _chimney(canvas: Canvas, building: Building, axo: Axonometric, heights: Heights) -> None:
    """Draw the flue of the hearth or stove where it leaves the roof."""
    fire = next((f for f in building.fittings if f.kind in ("hearth", "stove")), None)
    if fire is None:
        return
    x, y = fire.rect.centre
    inner = building.plan.inner
    base = heights.roof_at((y - inner.y0) / inner.height) + heights.roof_m
    flue = Rect(x - 0.16, y - 0.16, x + 0.16, y + 0.16)
    _sides(canvas, axo, flue, base - 0.05, base + 0.8, GRAPHITE)
    canvas.shape(axo.flat(flue, base + 0.8), INK, THIN)
