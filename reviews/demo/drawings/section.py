"""Sheet 03: two sections at 1:50 and the wall at 1:5."""

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
    PAPER,
    PETROL,
    THIN,
    Canvas,
    Point,
)
from reviews.demo.drawings.heights import Heights, heights_of, metres
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.plan_marks import section_cuts
from reviews.demo.drawings.section_parts import (
    cells,
    draw_doors,
    draw_furniture,
    draw_room,
    draw_window,
    letter_cell,
)
from reviews.demo.drawings.symbols import Placing, level_mark, person, scale_bar
from reviews.demo.drawings.wall_detail import draw_detail

SCALE = 50
OVERHANG_M = 0.3


@dataclass(frozen=True)
class Cut:
    """One section and the ground it shows beside the building [m].

    along   cut along the building, looking to the top of the plan; else across it, looking right
    """

    along: bool
    left_m: float
    right_m: float
    shows_levels: bool
    shows_person: bool


def draw_sections(canvas: Canvas, building: Building) -> None:
    """Draw sections A and B, and the wall."""
    heights, plan = heights_of(building), building.plan
    per_m = 1000 / SCALE
    above, below = heights.top * per_m, -heights.ground * per_m
    wide = (plan.outer.width + plan.outer.height) * per_m
    stacked = 2 * (above + below) + 46 < FIELD.height
    if stacked:
        a, b = Cut(True, 1.15, 1.15, True, True), Cut(False, 1.15, 1.15, True, True)
    else:
        spare = max(0.0, FIELD.width - wide) / per_m
        a = Cut(True, min(1.15, spare * 0.36), min(1.0, spare * 0.32), True, True)
        b = Cut(False, min(1.0, spare * 0.16), min(1.0, spare * 0.16), False, False)
    base = FIELD.top + 15 + above
    left = FIELD.left + (a.left_m + plan.wall_m) * per_m
    place_a = Placing(SCALE, left, base)
    caption(canvas, (FIELD.left, FIELD.top + 5), "Section A–A", "1:50, through the upper row")
    draw_section(canvas, building, heights, place_a, a)
    if stacked:
        base += below + 24 + above
        place_b = Placing(SCALE, left, base)
        top = base - above - 9
        right = left + (plan.inner.height + plan.wall_m + b.right_m) * per_m
        detail = (right + 22, top)
        caption(canvas, (FIELD.left, top), "Section B–B", "1:50, through the day room")
    else:
        edge = left + (plan.inner.width + plan.wall_m + a.right_m) * per_m
        place_b = Placing(SCALE, edge + (b.left_m + plan.wall_m) * per_m, base)
        detail = (FIELD.left, base + below + 22)
        caption(canvas, (edge + 3, FIELD.top + 5), "Section B–B", "1:50, through the day room")
    draw_section(canvas, building, heights, place_b, b)
    draw_detail(canvas, building.package, *detail)
    scale_bar(canvas, (FIELD.right - 101, FIELD.bottom - 1), SCALE, 1.0)


def draw_section(
    canvas: Canvas, building: Building, heights: Heights, place: Placing, cut: Cut
) -> None:
    """Draw one section: ground first, then what is seen, then what is cut."""
    plan = building.plan
    long = plan.inner.width if cut.along else plan.inner.height
    wall = plan.wall_m
    cut_y, _ = section_cuts(building)

    def roof(at: float) -> float:
        share = cut_y / plan.inner.height if cut.along else at / long
        return heights.roof_at(min(1.0, max(0.0, share)))

    _ground(canvas, building, heights, place, cut)
    _walls(canvas, heights, place, long, wall, (roof(0.0), roof(long)))
    ridge = [long / 2] if heights.ridge is not None and not cut.along else []
    ceiling = [place.up(s, roof(s)) for s in (0.0, *ridge, long)]
    inside = [place.up(0, 0), place.up(long, 0), *reversed(ceiling)]
    canvas.shape(inside, PAPER, THIN, GRAPHITE)
    found = cells(building, heights, cut.along)
    for cell in found:
        draw_room(canvas, building, place, cell, long, cut.along)
    for window in building.openings.windows:
        draw_window(canvas, place, window, found, cut.along, plan)
    draw_doors(canvas, building, place, found, cut.along)
    for cell in found:
        draw_furniture(canvas, building, place, cell, cut.along)
    _roof(canvas, heights, place, long, wall, roof, ridge, cut.along)
    for cell in found:
        letter_cell(canvas, place, cell, cut.along, building.openings.windows)
    if cut.shows_levels:
        _levels(canvas, building, heights, place, wall)
    if cut.shows_person:
        feet = place.up(long + wall + cut.right_m * 0.62, heights.ground)
        person(canvas, feet, place.mm(1.7))


def _walls(
    canvas: Canvas,
    heights: Heights,
    place: Placing,
    long: float,
    wall: float,
    tops: tuple[float, float],
) -> None:
    for start, end, top in ((-wall, 0.0, tops[0]), (long, long + wall, tops[1])):
        shape = [
            place.up(start, -heights.floor_m),
            place.up(end, -heights.floor_m),
            place.up(end, top + 0.1),
            place.up(start, top + 0.1),
        ]
        canvas.shape(shape, PAPER, ink=None)
        canvas.hatch(shape, 1.05, 45, HAIR, OCHRE)
        canvas.shape(shape, None, CUT)
    slab = [
        place.up(-wall, -heights.floor_m),
        place.up(long + wall, -heights.floor_m),
        place.up(long + wall, 0),
        place.up(-wall, 0),
    ]
    canvas.shape(slab, PAPER, ink=None)
    canvas.hatch(slab, 1.05, -45, HAIR, OCHRE)
    canvas.shape(slab, None, CUT)


def _roof(
    canvas: Canvas,
    heights: Heights,
    place: Placing,
    long: float,
    wall: float,
    roof: object,
    ridge: list[float],
    along: bool,
) -> None:
    assert callable(roof)
    out = wall + OVERHANG_M
    step = long / 100
    fall_left = 0.0 if along else (roof(step) - roof(0.0)) / step
    fall_right = 0.0 if along else (roof(long) - roof(long - step)) / step
    under = [
        (-out, roof(0.0) - fall_left * out),
        *[(s, roof(s)) for s in ridge],
        (long + out, roof(long) + fall_right * out),
    ]
    over = [(s, h + heights.roof_m) for s, h in reversed(under)]
    shape = [place.up(*p) for p in (*under, *over)]
    canvas.shape(shape, PAPER, ink=None)
    canvas.hatch(shape, 1.05, 45, HAIR, OCHRE)
    canvas.shape(shape, None, CUT)


def _ground(canvas: Canvas, building: Building, heights: Heights, place: Placing, cut: Cut) -> None:
    plan, site = building.plan, building.package.site
    long = plan.inner.width if cut.along else plan.inner.height
    wall, g = plan.wall_m, heights.ground
    left, right = -wall - cut.left_m, long + wall + cut.right_m
    earth = [
        place.up(left, g),
        place.up(right, g),
        place.up(right, g - 0.3),
        place.up(left, g - 0.3),
    ]
    canvas.hatch(earth, 2.2, 45, HAIR, GRAPHITE)
    canvas.line([place.up(left, g), place.up(right, g)], BOLD, INK)
    bottom = -heights.floor_m
    if g < bottom - 0.05:
        n = max(3, round(long / 2.6)) if cut.along else 3
        for i in range(n):
            x = (long - 0.14) * i / (n - 1)
            canvas.shape(_block(place, x, g, x + 0.14, bottom), PAPER, LINE)
            canvas.shape(_block(place, x - 0.12, g, x + 0.26, g + 0.05), INK, HAIR)
    if site.drift_m and cut.along:
        _drift(canvas, place, long + wall, g, site.drift_m, cut.right_m)
    if site.flood_m is not None and site.ground_m is not None:
        level = g + site.flood_m - site.ground_m
        ends = [place.up(left, level), place.up(right, level)]
        canvas.line(ends, THIN, PETROL, (6, 1.6, 1.6, 1.6))
        x, y = place.up(right, level)
        words = f"storm tide {metres(site.flood_m)}"
        canvas.text((x + 1, y + 1.2), words, 3.4, "label", PETROL)


def _block(place: Placing, x0: float, z0: float, x1: float, z1: float) -> list[Point]:
    return [place.up(x0, z0), place.up(x1, z0), place.up(x1, z1), place.up(x0, z1)]


def _drift(
    canvas: Canvas, place: Placing, edge: float, ground: float, deep: float, reach: float
) -> None:
    snow = [
        place.up(edge, ground),
        place.up(edge, ground + deep * 0.86),
        place.up(edge + reach * 0.4, ground + deep),
        place.up(edge + reach, ground + deep * 0.96),
        place.up(edge + reach, ground),
    ]
    canvas.dots(snow, 1.9, FINE)
    canvas.line(snow[1:4], THIN, GRAPHITE, (2.6, 1.2))
    x, y = snow[3]
    canvas.text((x, y - 1.6), f"drift {deep:g} m", 3.4, "label", GRAPHITE, "rs", halo=True)


def _levels(
    canvas: Canvas, building: Building, heights: Heights, place: Placing, wall: float
) -> None:
    """Draw level marks at the left; heights are above datum where the site sheet gives one."""
    site = building.package.site
    datum = site.ground_m - heights.ground if site.ground_m is not None else 0.0
    levels = [0.0, heights.ground]
    if heights.upper_floor is not None:
        levels.append(heights.upper_floor)
    x = -wall - 0.3
    for level in levels:
        px, py = place.up(x, level)
        canvas.line([(px - 2.4, py), place.up(-wall, level)], HAIR, GRAPHITE)
        level_mark(canvas, (px, py), metres(level + datum), left=True)
