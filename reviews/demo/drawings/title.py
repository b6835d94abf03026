"""Sheet 00: the name, the statement and the building from above."""

from math import cos, pi, sin

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, Point, Spot
from reviews.demo.drawings.fittings import FIRES, SURFACES_M
from reviews.demo.drawings.geometry import ENDS, Rect
from reviews.demo.drawings.heights import Heights, heights_of
from reviews.demo.drawings.openings import PlacedDoor, PlacedWindow
from reviews.demo.drawings.page import FIELD, TitleBlock
from reviews.demo.drawings.symbols import thousands

PER_M = 10.0
"""All three axes are at 1:100."""
ACROSS, DOWN = cos(pi / 6), sin(pi / 6)


def _seen_from_above(canvas: Canvas, left: float, top: float) -> Canvas:
    """Return the sheet as a view of plan and height, seen from the lower right [m]."""

    def at(x: float, y: float, z: float) -> Point:
        return left + (x - y) * ACROSS * PER_M, top + ((x + y) * DOWN - z) * PER_M

    return canvas.seen(at)


def _flat(r: Rect, z: float) -> list[Spot]:
    """Return a level rectangle."""
    return [(x, y, z) for x, y in r.corners]


def _upright(r: Rect, side: str, low: float, high: float) -> list[Spot]:
    """Return a rectangle that stands on one side of another."""
    (x0, y0), (x1, y1) = r.line(side)
    return [(x0, y0, low), (x1, y1, low), (x1, y1, high), (x0, y0, high)]


def draw_title(canvas: Canvas, building: Building, block: TitleBlock) -> None:
    """Draw the title sheet."""
    x = FIELD.left + 6
    canvas.text((x, FIELD.top + 34), block.number, 9.0, ink="graphite")
    size = 22.0
    while canvas.width_of(block.name, size, "title") > 150:
        size -= 1
    canvas.text((x, FIELD.top + 60), block.name, size, "title")
    canvas.line([(x, FIELD.top + 68), (x + 60, FIELD.top + 68)], "bold")
    y = canvas.paragraph((x, FIELD.top + 84), block.statement, 146, 6.6, "serif", leading=1.5)
    canvas.text((x, y + 8), block.by, 5.4, "medium")
    _facts(canvas, building, x, max(y + 30, FIELD.bottom - 42))
    heights, outer = heights_of(building), building.plan.outer
    both = outer.width + outer.height
    reach = both * DOWN * PER_M
    left = FIELD.left + 168 + (FIELD.width - 168 - both * ACROSS * PER_M) / 2
    left += outer.height * ACROSS * PER_M
    top = FIELD.bottom + 2 - reach + heights.ground * PER_M
    lifted = max(top - heights.top * PER_M - reach * 0.62, FIELD.top + heights.top * PER_M + 4)
    view = _seen_from_above(canvas, left, top)
    shell = _seen_from_above(canvas, left, lifted)
    _floor(view, building, heights)
    for x, y in outer.corners[1:]:
        canvas.line([shell.at(x, y, 0), view.at(x, y, 0)], "hair", "fine", (3, 1.5))
    _shell(shell, building, heights)


def _facts(canvas: Canvas, building: Building, x: float, y: float) -> None:
    package, site = building.package, building.package.site
    floor = sum(room.floor_m2 for room in building.plan.rooms)
    beds = sum(r.sleepers or 0 for r in package.rooms)
    loads = sum(p.n or 1 for p in building.pieces)
    facts = [(f"{floor:.1f} m²", "floor indoors"), (f"{beds}", "sleepers"), (f"{loads}", "pieces")]
    if site.altitude_m:
        facts.append((f"{thousands(site.altitude_m)} m", "above the sea"))
    elif site.flood_m is not None:
        facts.append((f"+{site.flood_m:.2f} m", "storm tide"))
    for i, (figure, words) in enumerate(facts):
        at = x + i * 38
        canvas.line([(at, y - 10), (at + 30, y - 10)], "thin", "fine")
        canvas.text((at, y), figure, 7.0, "medium")
        canvas.text((at, y + 6), words, 4.0, ink="graphite")


def _floor(view: Canvas, building: Building, heights: Heights) -> None:
    """Draw the floor with its partitions and furniture, ramp and legs beneath."""
    plan, outer, deep = building.plan, building.plan.outer, -heights.floor_m
    for x, y in outer.grown(-0.3).corners:
        view.line([(x, y, deep), (x, y, heights.ground)], "bold", "graphite")
    for bay in building.terrace:
        view.shape(_flat(bay.rect, bay.high_m), "thin", hatch=(1.6, 60, "pale"))
    if ramp := building.ramp:
        foot = ramp.run.line(ENDS[ramp.is_level][0 if ramp.foot_first else 1])
        run = [(x, y, heights.ground if (x, y) in foot else 0) for x, y in ramp.run.corners]
        view.shape(run, "thin", hatch=(1.6, -30, "fine"))
    _sides(view, outer, deep, 0.0, "ochre")
    view.shape(_flat(outer, 0.0), hatch=(0.9, 45, "ochre"))
    view.shape(_flat(plan.inner, 0.0), fill="graphite")
    for room in plan.ground:
        for part in room.parts:
            view.shape(_flat(part, 0.0), "thin", "graphite")
    if plan.day.lobby:
        view.wipe(_flat(plan.day.lobby.grown(0.01), 0.0))
    for door in building.openings.doors:
        if not door.room.is_upper:
            view.wipe(_flat(door.hole.grown(0.015), 0.0))
    for fitting in sorted(building.fittings, key=lambda f: f.rect.x0 + f.rect.y0):
        if not fitting.room.is_upper:
            _, high = SURFACES_M.get(fitting.kind, ((0.0, 0.45),))[0]
            _sides(view, fitting.rect, 0.0, high, "graphite" if fitting.kind in FIRES else "pale")
            view.shape(_flat(fitting.rect, high), "thin")


def _sides(view: Canvas, r: Rect, low: float, high: float, ink: str) -> None:
    """Draw the two sides of a block that can be seen."""
    view.shape(_upright(r, "right", low, high), "thin", hatch=(1.0, 90, ink))
    view.shape(_upright(r, "bottom", low, high), "thin")


def _shell(view: Canvas, building: Building, heights: Heights) -> None:
    """Draw walls and roof lifted off, with the windows and doors of the two sides that show."""
    outer, openings = building.plan.outer, building.openings
    view.shape(_upright(outer, "bottom", 0, heights.eaves_low), "cut", hatch=(1.5, 90, "pale"))
    gable: list[Spot] = [(outer.x1, outer.y1, 0), (outer.x1, outer.y0, 0)]
    gable += _ridged(heights, outer, outer.x1, 0.0)
    view.shape(gable, "cut", hatch=(1.2, 90, "ochre"))
    both: list[PlacedWindow | PlacedDoor] = [*openings.windows, *openings.doors]
    for opening in both:
        base = (heights.upper_floor or 0.0) if opening.room.is_upper else 0.0
        if opening.frame_m and opening.side in ("bottom", "right"):
            low, high = opening.frame_m
            wall = outer.beside(opening.side, 0.0, opening.start_m, opening.end_m)
            shape = _upright(wall, opening.side, base + low, base + high)
            is_door = isinstance(opening, PlacedDoor)
            boards = (1.0, 90.0, "graphite") if is_door else None
            view.shape(shape, fill="paper" if is_door else "glass", hatch=boards)
    _roof(view, building, heights)


def _ridged(heights: Heights, r: Rect, x: float, up: float) -> list[Spot]:
    """Return the line of the roof from the upper side of a rectangle to the lower."""
    ends: list[Spot] = [(x, r.y0, heights.eaves_high + up), (x, r.y1, heights.eaves_low + up)]
    if heights.ridge is not None:
        ends.insert(1, (x, r.centre[1], heights.ridge + up))
    return ends


def _roof(view: Canvas, building: Building, heights: Heights) -> None:
    """Draw the roof's planes with their boards, its two edges that show, and the flue."""
    o, t = building.plan.outer.grown(0.3), heights.roof_m
    left, right = _ridged(heights, o, o.x0, t), _ridged(heights, o, o.x1, t)
    for i in range(len(left) - 1):
        view.shape([left[i], right[i], right[i + 1], left[i + 1]], "bold")
        for k in range(1, 24):
            x = o.x0 + o.width * k / 24
            view.line([(x, *left[i][1:]), (x, *left[i + 1][1:])], "hair", "fine")
    edge = [*_ridged(heights, o, o.x1, 0.0), *reversed(right)]
    front = _upright(o, "bottom", heights.eaves_low, heights.eaves_low + t)
    for shape in (edge, front):
        view.shape(shape, hatch=(0.9, 45, "graphite"))
    for fire in [f for f in building.fittings if f.kind in FIRES][:1]:
        (x, y), inner = fire.rect.centre, building.plan.inner
        base = heights.roof_at((y - inner.y0) / inner.height) + t
        flue = Rect(x, y, x, y).grown(0.16)
        _sides(view, flue, base - 0.05, base + 0.8, "graphite")
        view.shape(_flat(flue, base + 0.8), "thin", fill="ink")
