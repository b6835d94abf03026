"""Sheet 03: two sections at 1:50 and the wall at 1:5."""

from collections.abc import Sequence
from dataclasses import dataclass

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    CUT,
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    PETROL,
    SPRUCE,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.heights import (
    UPPER_FLOOR_M,
    Heights,
    clear_height_m,
    heights_of,
    metres,
)
from reviews.demo.drawings.layout import PARTITION_M, PlannedRoom
from reviews.demo.drawings.openings import PlacedWindow
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.plan import section_cuts
from reviews.demo.drawings.symbols import (
    Placing,
    dimension,
    grouped,
    level_mark,
    person,
    scale_bar,
)
from reviews.demo.drawings.wall_detail import draw_detail

SCALE = 50


@dataclass(frozen=True)
class Cell:
    """A room as a section shows it: from, to, floor and clear height [m]."""

    room: PlannedRoom
    start: float
    end: float
    floor: float
    high: float


def draw_sections(canvas: Canvas, building: Building) -> None:
    """Draw sections A and B, and the wall."""
    heights = heights_of(building)
    plan = building.plan
    high = (heights.top - heights.ground) * 1000 / SCALE
    long_mm = plan.outer.width * 1000 / SCALE
    deep_mm = plan.outer.height * 1000 / SCALE
    beside = long_mm + deep_mm + 86 <= FIELD.width
    base_a = FIELD.top + 22 + high + heights.ground * 1000 / SCALE
    place_a = Placing(SCALE, FIELD.left + 26 + 20 * plan.wall_m, base_a)
    _section(canvas, building, heights, place_a, along=True)
    caption(
        canvas, (FIELD.left, FIELD.top + 5), "Section A–A", "1:50, through the upper row of rooms"
    )
    if beside:
        x = place_a.left + plan.inner.width * 20 + plan.wall_m * 40 + 42
        place_b = Placing(SCALE, x, base_a)
        caption(canvas, (x - 20 * plan.wall_m - 6, FIELD.top + 5), "Section B–B", "1:50")
        detail = (FIELD.left, base_a - heights.ground * 20 + 26)
    else:
        base_b = base_a - heights.ground * 20 + 34 + high + heights.ground * 20
        place_b = Placing(SCALE, FIELD.left + 26 + 20 * plan.wall_m, base_b)
        top = base_b - heights.top * 20 - 10
        caption(canvas, (FIELD.left, top), "Section B–B", "1:50, through the day room")
        detail = (place_b.left + plan.outer.height * 20 + 52, top)
    _section(canvas, building, heights, place_b, along=False)
    draw_detail(canvas, building.package, *detail)
    scale_bar(canvas, (FIELD.right - 106, FIELD.bottom - 2), SCALE, 1.0)


def cells(building: Building, heights: Heights, along: bool) -> list[Cell]:
    """Return the rooms that a section cuts, from left to right."""
    y, x = section_cuts(building.plan)
    found = []
    for room in building.plan.rooms:
        for part in room.parts:
            lo, hi = (part.y0, part.y1) if along else (part.x0, part.x1)
            if lo <= (y if along else x) <= hi:
                start, end = (part.x0, part.x1) if along else (part.y0, part.y1)
                floor = (heights.upper_floor or 0.0) if room.is_upper else 0.0
                found.append(Cell(room, start, end, floor, clear_height_m(room.room)))
    return sorted(found, key=lambda c: (c.floor, c.start))


def _section(
    canvas: Canvas, building: Building, heights: Heights, place: Placing, along: bool
) -> None:
    plan = building.plan
    long = plan.inner.width if along else plan.inner.height
    wall = plan.wall_m
    _ground(canvas, building, heights, place, long, wall, along)

    def roof(at: float) -> float:
        cut_y, _ = section_cuts(plan)
        share = cut_y / plan.inner.height if along else at / long
        return heights.roof_at(min(1.0, max(0.0, share)))

    stops = [-wall, 0.0, long, long + wall] if along or heights.ridge is None else [
        -wall, 0.0, long / 2, long, long + wall]  # fmt: skip
    low = [(s, roof(s)) for s in stops]
    overhang = 0.3
    eave = [(-wall - overhang, roof(0) - (0 if along else _slope(heights, long) * (wall + overhang))),
            (long + wall + overhang, roof(long) + (0 if along else _slope_end(heights, long) * (wall + overhang)))]  # fmt: skip
    under = [eave[0], *[(s, h) for s, h in low if 0 <= s <= long], eave[1]]
    over = [(s, h + heights.roof_m) for s, h in under]
    shape = [place.up(*p) for p in (*under, *reversed(over))]
    for start, end, side in ((-wall, 0.0, 0.0), (long, long + wall, long)):
        walls = [
            place.up(start, -heights.floor_m), place.up(end, -heights.floor_m),
            place.up(end, roof(side)), place.up(start, roof(side)),
        ]  # fmt: skip
        canvas.shape(walls, PAPER, CUT)
        canvas.hatch(walls, 1.05, 45, HAIR, OCHRE)
        canvas.shape(walls, None, CUT)
    slab = [
        place.up(-wall, -heights.floor_m), place.up(long + wall, -heights.floor_m),
        place.up(long + wall, 0), place.up(-wall, 0),
    ]  # fmt: skip
    canvas.shape(slab, PAPER, CUT)
    canvas.hatch(slab, 1.05, -45, HAIR, OCHRE)
    canvas.shape(slab, None, CUT)
    canvas.shape([place.up(0, 0), place.up(long, 0), *[place.up(s, h) for s, h in reversed(low) if 0 <= s <= long]],
                 PAPER, THIN, GRAPHITE)  # fmt: skip
    found = cells(building, heights, along)
    for cell in found:
        _room(canvas, building, heights, place, cell, along)
    for window in building.openings.windows:
        _window(canvas, heights, place, window, found, along, building)
    _cut_doors(canvas, building, heights, place, along, found)
    canvas.shape(shape, PAPER, CUT)
    canvas.hatch(shape, 1.05, 45, HAIR, OCHRE)
    canvas.shape(shape, None, CUT)
    for cell in found:
        _room_words(canvas, place, cell)
    _levels(canvas, building, heights, place, long, wall, roof)


def _slope(heights: Heights, long: float) -> float:
    return (heights.roof_at(0.01) - heights.roof_at(0.0)) / (0.01 * long)


def _slope_end(heights: Heights, long: float) -> float:
    return (heights.roof_at(1.0) - heights.roof_at(0.99)) / (0.01 * long)


def _room(
    canvas: Canvas, building: Building, heights: Heights, place: Placing, cell: Cell, along: bool
) -> None:
    plan = building.plan
    long = plan.inner.width if along else plan.inner.height
    ceiling = cell.floor + cell.high
    has_upper = any(up.main.meets(cell.room.main) for up in plan.upper)
    if cell.room.is_upper:
        slab = [place.up(cell.start, cell.floor - UPPER_FLOOR_M), place.up(cell.end, cell.floor - UPPER_FLOOR_M),
                place.up(cell.end, cell.floor), place.up(cell.start, cell.floor)]  # fmt: skip
        canvas.shape(slab, INK, LINE)
    elif not (has_upper and not along):
        open_roof = plan.upper and cell.room is plan.day
        if not open_roof:
            canvas.line([place.up(cell.start, ceiling), place.up(cell.end, ceiling)], LINE, INK)
        else:
            canvas.line(
                [place.up(cell.start, ceiling), place.up(cell.end, ceiling)],
                THIN,
                GRAPHITE,
                (3, 1.4),
            )
    if cell.end < long - 1e-6 and not cell.room.is_upper:
        top = max(ceiling, cell.floor + 2.0)
        is_lobby = (
            cell.room.lobby
            and abs(cell.end - (cell.room.lobby.y1 if not along else cell.room.lobby.x1)) < 1e-6
        )
        part = [place.up(cell.end, cell.floor), place.up(cell.end + PARTITION_M, cell.floor),
                place.up(cell.end + PARTITION_M, top), place.up(cell.end, top)]  # fmt: skip
        if not is_lobby or cell.room is not plan.day or True:
            canvas.shape(part, INK, LINE)
    if not cell.room.is_upper:
        for fitting in building.fittings:
            if fitting.room is cell.room and fitting.kind in (
                "bunk",
                "bed",
                "mattress",
                "table",
                "counter",
                "hearth",
                "stove",
            ):
                _furniture(canvas, place, fitting, cell, along)


def _furniture(canvas: Canvas, place: Placing, fitting: object, cell: Cell, along: bool) -> None:
    from reviews.demo.drawings.fittings import Fitting

    assert isinstance(fitting, Fitting)
    a, b = (fitting.rect.x0, fitting.rect.x1) if along else (fitting.rect.y0, fitting.rect.y1)
    a, b = max(a, cell.start), min(b, cell.end)
    if b - a < 0.05:
        return
    tiers = {
        "bunk": (0.45, 1.5),
        "bed": (0.45,),
        "mattress": (0.35,),
        "table": (0.74,),
        "counter": (0.9,),
    }

    def block(y0: float, y1: float, fill: str | None = PAPER) -> list[Point]:
        shape = [place.up(a, cell.floor + y0), place.up(b, cell.floor + y0),
                 place.up(b, cell.floor + y1), place.up(a, cell.floor + y1)]  # fmt: skip
        canvas.shape(shape, fill, THIN, FINE)
        return shape

    if fitting.kind in ("hearth", "stove"):
        shape = block(0, 1.0)
        canvas.hatch(shape, 1.2, 45, HAIR, FINE)
        mid = (a + b) / 2
        canvas.line(
            [place.up(mid - 0.08, cell.floor + 1.0), place.up(mid - 0.08, cell.floor + cell.high)],
            THIN,
            FINE,
        )
        canvas.line(
            [place.up(mid + 0.08, cell.floor + 1.0), place.up(mid + 0.08, cell.floor + cell.high)],
            THIN,
            FINE,
        )
        return
    for tier in tiers[fitting.kind]:
        thick = 0.05 if fitting.kind == "table" else 0.12 if fitting.kind != "counter" else 0.9
        block(
            tier - (thick if fitting.kind in ("table", "counter") else 0.0),
            tier + (0 if fitting.kind in ("table", "counter") else thick),
        )
    if fitting.kind in ("bunk", "bed"):
        top = 1.72 if fitting.kind == "bunk" else 0.6
        for x in (a, b):
            canvas.line([place.up(x, cell.floor), place.up(x, cell.floor + top)], THIN, FINE)


def _window(
    canvas: Canvas, heights: Heights, place: Placing, window: PlacedWindow,
    found: Sequence[Cell], along: bool, building: Building,
) -> None:  # fmt: skip
    """Draw a window seen beyond the cut, or cut through in an end wall."""
    w = window.window
    if window.is_roof_light or w.sill_m is None or not w.frame_h_m:
        return
    cell = next((c for c in found if c.room is window.room), None)
    if cell is None:
        return
    edge = ((w.frame_h_m or 0) - (w.glass_h_m or w.frame_h_m or 0)) / 2
    low = cell.floor + w.sill_m - edge
    high = low + w.frame_h_m
    seen = "top" if along else "right"
    plan = building.plan
    if window.side == seen:
        a = window.start_m
        if along or (cell.start - 0.01 <= a and a + window.wide_m <= cell.end + 0.01):
            _elevation(canvas, place, a, low, window, edge)
        return
    ends = {
        "left": (-plan.wall_m, 0.0),
        "right": (plan.inner.width, plan.inner.width + plan.wall_m),
    }
    if not along:
        ends = {
            "top": (-plan.wall_m, 0.0),
            "bottom": (plan.inner.height, plan.inner.height + plan.wall_m),
        }
    if window.side not in ends or window.index:
        return
    a, b = ends[window.side]
    hole = [place.up(a, low), place.up(b, low), place.up(b, high), place.up(a, high)]
    canvas.shape(hole, PAPER, LINE)
    outer = a + 0.09 if window.side in ("left", "top") else b - 0.09
    frame = [
        place.up(outer - 0.035, low),
        place.up(outer + 0.035, low),
        place.up(outer + 0.035, high),
        place.up(outer - 0.035, high),
    ]
    canvas.shape(frame, PAPER, THIN)
    canvas.line([place.up(outer, low), place.up(outer, high)], THIN, PETROL)
    inside = b if window.side in ("left", "top") else a
    step = 0.34 if window.side in ("left", "top") else -0.34
    for level, words in (
        (cell.floor + w.sill_m, f"sill {grouped(w.sill_m)}"),
        (high - edge, f"head {grouped(high - edge - cell.floor)}"),
    ):
        at = place.up(inside + step * 0.2, level)
        canvas.line([place.up(inside, level), place.up(inside + step * 2.2, level)], HAIR, GRAPHITE)
        anchor = "ls" if step > 0 else "rs"
        canvas.text((at[0], at[1] - 0.8), words, 3.3, "label", GRAPHITE, anchor, True)


def _elevation(
    canvas: Canvas, place: Placing, a: float, low: float, window: PlacedWindow, edge: float
) -> None:
    w = window.window
    high = low + (w.frame_h_m or 0)
    side = (window.wide_m - (w.glass_w_m or window.wide_m)) / 2
    frame = [
        place.up(a, low),
        place.up(a + window.wide_m, low),
        place.up(a + window.wide_m, high),
        place.up(a, high),
    ]
    canvas.shape(frame, PAPER, LINE)
    glass = [place.up(a + side, low + edge), place.up(a + window.wide_m - side, low + edge),
             place.up(a + window.wide_m - side, high - edge), place.up(a + side, high - edge)]  # fmt: skip
    canvas.shape(glass, "#EEF1EA", THIN, GRAPHITE)
    x, y = place.up(a + window.wide_m / 2, (low + high) / 2)
    if not w.is_fixed:
        left, right = glass[0][0], glass[1][0]
        canvas.line([glass[1], (left, y), glass[2]], HAIR, FINE, (1.6, 0.9))
    canvas.text((x, glass[0][1] - 1.2), w.mark, 3.3, "medium", INK, "ms", True)
    canvas.text(
        (x, frame[0][1] + 4.2), f"sill {grouped(w.sill_m or 0)}", 3.2, "label", GRAPHITE, "ms", True
    )


def _cut_doors(
    canvas: Canvas,
    building: Building,
    heights: Heights,
    place: Placing,
    along: bool,
    found: Sequence[Cell],
) -> None:
    """Draw outside doors that stand in the wall beyond the cut."""
    seen = "top" if along else "right"
    for door in building.openings.doors:
        cell = next((c for c in found if c.room is door.room), None)
        if door.side != seen or not door.is_outside or cell is None or door.door is None:
            continue
        a, b, h = door.start_m, door.start_m + door.wide_m, door.door.height_m or 2.0
        shape = [
            place.up(a, cell.floor),
            place.up(b, cell.floor),
            place.up(b, cell.floor + h),
            place.up(a, cell.floor + h),
        ]
        canvas.shape(shape, PAPER, LINE)
        for i in range(1, 5):
            x = a + (b - a) * i / 5
            canvas.line([place.up(x, cell.floor), place.up(x, cell.floor + h)], HAIR, PALE)
        x, y = place.up((a + b) / 2, cell.floor + h * 0.55)
        canvas.text((x, y), door.mark, 3.3, "medium", INK, "ms", True)


def _room_words(canvas: Canvas, place: Placing, cell: Cell) -> None:
    if cell.end - cell.start < 0.7:
        return
    x, _ = place.up((cell.start + cell.end) / 2, 0)
    wide = place.mm(cell.end - cell.start) - 2
    name = canvas.fitted(cell.room.room.name or "", wide, 3.6, "medium")
    _, y = place.up(0, cell.floor + 0.18)
    canvas.text((x, y), name, 3.6, "medium", INK, "ms", True)
    at = cell.start + 0.22
    top = place.up(at, cell.floor + cell.high)
    foot = place.up(at, cell.floor)
    if cell.end - cell.start > 1.0:
        dimension(canvas, foot, top, grouped(cell.high))


def _ground(
    canvas: Canvas,
    building: Building,
    heights: Heights,
    place: Placing,
    long: float,
    wall: float,
    along: bool,
) -> None:
    package = building.package
    left, right = -wall - 1.1, long + wall + 1.1
    g = heights.ground
    earth = [
        place.up(left, g),
        place.up(right, g),
        place.up(right, g - 0.32),
        place.up(left, g - 0.32),
    ]
    canvas.hatch(earth, 2.2, 45, HAIR, GRAPHITE)
    canvas.line([place.up(left, g), place.up(right, g)], BOLD, INK)
    bottom = -heights.floor_m
    if g < bottom - 0.05:
        n = max(3, round(long / 2.6)) if along else 3
        for i in range(n):
            x = (long - 0.14) * i / (n - 1)
            leg = [
                place.up(x, g),
                place.up(x + 0.14, g),
                place.up(x + 0.14, bottom),
                place.up(x, bottom),
            ]
            canvas.shape(leg, PAPER, LINE)
            foot = [
                place.up(x - 0.12, g),
                place.up(x + 0.26, g),
                place.up(x + 0.26, g + 0.05),
                place.up(x - 0.12, g + 0.05),
            ]
            canvas.shape(foot, INK, HAIR)
    drift = package.site.drift_m
    if drift and along:
        edge = long + wall
        snow = [
            place.up(edge, g),
            place.up(edge, g + drift * 0.82),
            place.up(edge + 0.55, g + drift),
            place.up(edge + 1.1, g + drift * 0.93),
            place.up(edge + 1.1, g),
        ]
        canvas.dots(snow, 1.9, FINE)
        canvas.line(snow[1:4], THIN, GRAPHITE, (2.6, 1.2))
        x, y = snow[2]
        canvas.text((x, y - 1.6), f"drift {drift:g} m", 3.4, "label", GRAPHITE, "ms", True)
    site = package.site
    if site.flood_m is not None and site.ground_m is not None:
        level = g + site.flood_m - site.ground_m
        canvas.line(
            [place.up(left, level), place.up(right, level)], THIN, PETROL, (6, 1.6, 1.6, 1.6)
        )
        canvas.text(
            place.up(left, level + 0.05), f"storm tide {metres(site.flood_m)}", 3.4, "label", PETROL
        )


def _levels(
    canvas: Canvas,
    building: Building,
    heights: Heights,
    place: Placing,
    long: float,
    wall: float,
    roof: object,
) -> None:
    site = building.package.site
    datum = site.ground_m - heights.ground if site.ground_m is not None else 0.0
    x = -wall - 0.62
    marks = [(0.0, "floor"), (heights.ground, "ground")]
    if heights.upper_floor is not None:
        marks.append((heights.upper_floor, "upper floor"))
    for level, _ in marks:
        px, py = place.up(x, level)
        canvas.line([(px - 2.4, py), place.up(-wall, level)], HAIR, GRAPHITE)
        level_mark(canvas, (px, py), metres(level + datum), left=True)
    person(canvas, place.up(long + wall + 0.75, heights.ground), place.mm(1.7), SPRUCE)
