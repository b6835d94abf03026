"""Sheet 03: two sections at 1:50 and the wall at 1:5."""

from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import Canvas, quad
from reviews.demo.drawings.heights import heights_of, metres
from reviews.demo.drawings.page import FIELD, caption
from reviews.demo.drawings.plan_marks import section_cuts
from reviews.demo.drawings.section_parts import Section, draw_cells, letter_cell
from reviews.demo.drawings.symbols import CHAIN, Placing, level_mark, person, scale_bar
from reviews.demo.drawings.wall_detail import draw_detail

SCALE = 50
PER_M = 1000 / SCALE
OVERHANG_M = 0.3
MARGIN_M = 1.15
"""Ground that is shown beside a section where the sheet has room [m]."""


def draw_sections(canvas: Canvas, building: Building) -> None:
    """Draw sections A and B, and the wall: under each other, or in a row where they are high."""
    heights, plan = heights_of(building), building.plan
    above, below = heights.top * PER_M, -heights.ground * PER_M
    reach = max((bay.rect.y1 - plan.outer.y1 for bay in building.terrace), default=0.0)
    is_stacked = 2 * (above + below) + 46 < FIELD.height
    base = base_b = FIELD.top + 15 + above
    beside_a, beside_b = (MARGIN_M, MARGIN_M), (MARGIN_M, reach + MARGIN_M)
    if not is_stacked:
        spare = max(0.0, FIELD.width / PER_M - plan.outer.width - plan.outer.height)
        beside_a = (min(1.15, spare * 0.36), min(1.0, spare * 0.32))
        beside_b = (min(1.0, spare * 0.16), min(1.0, spare * 0.16))
    left = left_b = FIELD.left + (beside_a[0] + plan.wall_m) * PER_M
    top_b, edge = FIELD.top + 5, FIELD.left
    if is_stacked:
        base_b += below + 24 + above
        top_b = base_b - above - 9
        right = left + (plan.inner.height + plan.wall_m + beside_b[1]) * PER_M
        detail = (right + 22, top_b)
    else:
        edge = left + (plan.inner.width + plan.wall_m + beside_a[1]) * PER_M
        left_b = edge + (beside_b[0] + plan.wall_m) * PER_M
        detail = (FIELD.left, base + below + 22)
        edge += 3
    caption(canvas, (FIELD.left, FIELD.top + 5), "Section A–A", "1:50, through the upper row")
    caption(canvas, (edge, top_b), "Section B–B", "1:50, through the day room")
    for along, place, beside, is_noted in (
        (True, Placing(SCALE, left, base), beside_a, True),
        (False, Placing(SCALE, left_b, base_b), beside_b, is_stacked),
    ):
        section = Section(place.upright_on(canvas), building, heights, along)
        draw_section(section, beside)
        if is_noted:
            _levels(section)
            person(
                section.view, (section.long + plan.wall_m + beside[1] - 0.44, heights.ground), 34
            )
    draw_detail(canvas, building.package, *detail)
    scale_bar(canvas, (FIELD.right - 101, FIELD.bottom - 1), SCALE, 1.0)


def draw_section(section: Section, beside: tuple[float, float]) -> None:
    """Draw one section: ground first, then what is seen, then what is cut.

    beside    ground that is shown at the left and right of the building [m]
    """
    view, heights, long = section.view, section.heights, section.long
    wall, floor, roof = section.building.plan.wall_m, heights.floor_m, section.roof
    cut_x = section_cuts(section.building)[1]
    bays, folded = (
        [bay for bay in each if not section.along and bay.rect.x0 < cut_x < bay.rect.x1]
        for each in (section.building.terrace, section.building.folded)
    )
    _ground(section, -wall - beside[0], long + wall + beside[1])
    for bay in bays:
        view.box(bay.rect.y0, bay.low_m, bay.rect.y1, bay.high_m, hatch=(1.05, 90, "ochre"))
    for bay in folded:
        shape = quad(bay.rect.y0, bay.low_m, bay.rect.y1, bay.high_m)
        view.line([*shape, shape[0]], "thin", "spruce", (2.6, 1.2))
    for start, end, at in ((-wall, 0.0, 0.0), (long, long + wall, long)):
        view.box(start, -floor, end, roof(at) + 0.1, "cut", hatch=(1.05, 45, "ochre"))
    view.box(-wall, -floor, long + wall, 0, "cut", hatch=(1.05, -45, "ochre"))
    ridge = [long / 2] if heights.ridge is not None and not section.along else []
    ceiling = [(at, roof(at)) for at in (0.0, *ridge, long)]
    view.shape([(0, 0), (long, 0), *reversed(ceiling)], "thin", "graphite")
    draw_cells(section)
    out, step = wall + OVERHANG_M, long / 100
    fall_left = 0.0 if section.along else (roof(step) - roof(0.0)) / step
    fall_right = 0.0 if section.along else (roof(long) - roof(long - step)) / step
    under = [
        (-out, roof(0.0) - fall_left * out),
        *ceiling[1:-1],
        (long + out, roof(long) + fall_right * out),
    ]
    over = [(at, high + heights.roof_m) for at, high in reversed(under)]
    view.shape([*under, *over], "cut", hatch=(1.05, 45, "ochre"))
    for cell in section.cells():
        letter_cell(section, cell)


def _ground(section: Section, left: float, right: float) -> None:
    """Draw the ground, the legs, and the snow or the storm tide of the site."""
    view, site, long = section.view, section.building.package.site, section.long
    g, bottom = section.heights.ground, -section.heights.floor_m
    view.hatch(quad(left, g, right, g - 0.3), 2.2, 45, "graphite")
    view.line([(left, g), (right, g)], "bold")
    if g < bottom - 0.05:
        n = max(3, round(long / 2.6)) if section.along else 3
        for i in range(n):
            x = (long - 0.14) * i / (n - 1)
            view.box(x, g, x + 0.14, bottom)
            view.box(x - 0.12, g, x + 0.26, g + 0.05, "hair", fill="ink")
    if site.drift_m and section.along:
        edge, deep = long + section.building.plan.wall_m, site.drift_m
        crest = edge + (right - edge) * 0.4
        top = [(edge, g + deep * 0.86), (crest, g + deep), (right, g + deep * 0.96)]
        view.dots([(edge, g), *top, (right, g)], 1.9, "fine")
        view.line(top, "thin", "graphite", (2.6, 1.2))
        words = f"drift {deep:g} m"
        view.text(top[-1], words, 3.4, "label", "graphite", "rs", True, (0, -1.6))
    if site.flood_m is not None and site.ground_m is not None:
        level = g + site.flood_m - site.ground_m
        view.line([(left, level), (right, level)], "thin", "petrol", CHAIN)
        words = f"storm tide {metres(site.flood_m)}"
        view.text((right, level), words, 3.4, ink="petrol", off=(1, 1.2))


def _levels(section: Section) -> None:
    """Draw level marks at the left; heights are above datum where the site sheet gives one."""
    site, heights, plan = section.building.package.site, section.heights, section.building.plan
    datum = site.ground_m - heights.ground if site.ground_m is not None else 0.0
    for level in (0.0, heights.ground, heights.upper_floor):
        if level is not None:
            at = (-plan.wall_m - 0.3, level)
            section.view.line([(at[0] - 0.12, level), (-plan.wall_m, level)], "hair", "graphite")
            level_mark(section.view, at, metres(level + datum))
