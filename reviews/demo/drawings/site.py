"""Sheet 01: the site and the way in at 1:500, a cut through the ground, and the precedents."""

from math import cos, pi, sin

from criteria.schedules import SITE
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import (
    BOLD,
    FINE,
    GRAPHITE,
    HAIR,
    HEIGHT_MM,
    INK,
    LINE,
    OCHRE,
    PALE,
    PAPER,
    PETROL,
    THIN,
    WIDTH_MM,
    Canvas,
    Point,
)
from reviews.demo.drawings.geometry import Rect
from reviews.demo.drawings.heights import heights_of, metres
from reviews.demo.drawings.page import FIELD, Field, caption
from reviews.demo.drawings.precedents import draw_precedents
from reviews.demo.drawings.symbols import Placing, arrow, leader, north_arrow, scale_bar
from reviews.demo.drawings.terrain import ISLAND, RIDGE, Ground, Line, contours

SCALE = 500
MAP = Field(FIELD.left - 5, 76.0, FIELD.right + 5, FIELD.bottom + 3)
SITE_HEADS = (
    "latitude", "altitude_m", "people", "design_outside_c", "design_inside_c", "design_month",
    "sun_hours", "supply_days", "drift_m", "ground_m", "flood_m",
)  # fmt: skip
MIDDLE = (116.0, 138.0)
"""Where the building stands on paper: zone B2."""


class Survey:
    """The ground of a site and where it lies on paper."""

    def __init__(self, building: Building) -> None:
        self.site = building.package.site
        self.is_tidal = self.site.flood_m is not None
        self.ground: Ground = ISLAND if self.is_tidal else RIDGE
        self.place = Placing(SCALE, *MIDDLE)
        self.building = building

    def at(self, east_m: float, north_m: float) -> Point:
        """Return a place on paper."""
        return self.place.at(east_m, -north_m)

    def of_plan(self, x_m: float, y_m: float) -> Point:
        """Return on paper a point of the plan, turned as it stands."""
        plan = self.building.plan
        cx, cy = plan.outer.centre
        dx, dy = x_m - cx, y_m - cy
        t = plan.turn_deg * pi / 180
        return self.at(dx * cos(t) - dy * sin(t), -dx * sin(t) - dy * cos(t))

    def rect(self, r: Rect) -> list[Point]:
        """Return a rectangle of the plan on paper."""
        return [self.of_plan(*p) for p in ((r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1))]


def draw_site(canvas: Canvas, building: Building) -> None:
    """Draw the map, the cut and the precedents."""
    survey = Survey(building)
    _ground(canvas, survey)
    _hut(canvas, survey)
    if survey.is_tidal:
        _tide(canvas, survey)
    else:
        _snow(canvas, survey)
    _trim(canvas)
    _cut(canvas, survey)
    draw_precedents(canvas, building.package.precedents, MAP.top - 3)
    canvas.line([(MAP.left, MAP.top), (MAP.right, MAP.top)], LINE)
    canvas.box(FIELD.left - 3, MAP.top + 2, FIELD.left + 56, MAP.top + 13, PAPER, ink=None)
    caption(canvas, (FIELD.left, MAP.top + 9), "Site and approach", "1:500")
    north_arrow(canvas, (FIELD.right - 12, MAP.top + 17), 0.0, 7.0)
    canvas.box(FIELD.left - 3, FIELD.bottom - 8, FIELD.left + 98, FIELD.bottom + 2, PAPER, ink=None)
    scale_bar(canvas, (FIELD.left, FIELD.bottom - 1), SCALE, 10)
    _site_sheet(canvas, survey)


def _clip(a: Point, b: Point) -> bool:
    return all(
        MAP.left - 3 < x < MAP.right + 3 and MAP.top - 6 < y < MAP.bottom + 6 for x, y in (a, b)
    )


def _trim(canvas: Canvas) -> None:
    """Cut the map at its edges."""
    for x0, y0, x1, y1 in (
        (0, 0, WIDTH_MM, MAP.top),
        (0, MAP.bottom, WIDTH_MM, HEIGHT_MM),
        (0, 0, MAP.left, HEIGHT_MM),
        (MAP.right, 0, WIDTH_MM, HEIGHT_MM),
    ):
        canvas.box(x0, y0, x1, y1, PAPER, ink=None)


def _ground(canvas: Canvas, survey: Survey) -> None:
    west, east = (MAP.left - MIDDLE[0]) / 2 - 2, (MAP.right - MIDDLE[0]) / 2 + 2
    north, south = (MIDDLE[1] - MAP.top) / 2 + 2, (MIDDLE[1] - MAP.bottom) / 2 - 2
    ground = survey.ground
    base = survey.site.ground_m or survey.site.altitude_m or 0.0
    for level, lines in contours(ground, base, west, south, east, north):
        heavy = round(level / ground.interval) % 5 == 0
        for p, q in lines:
            a, b = survey.at(*p), survey.at(*q)
            if _clip(a, b):
                canvas.line([a, b], THIN if heavy else HAIR, FINE if heavy else PALE)
        if heavy:
            _contour_label(canvas, survey, lines, level)
    for rock in ground.rock:
        shape = [survey.at(*p) for p in rock]
        canvas.shape(shape, PAPER, LINE, INK)
        canvas.hatch(shape, 2.0, 62, HAIR, GRAPHITE)
        canvas.hatch(shape, 3.4, 20, HAIR, GRAPHITE)
    path = [survey.at(*p) for p in ground.path]
    if survey.is_tidal:
        _causeway(canvas, path)
    else:
        canvas.line(path, LINE, OCHRE, (3.0, 1.4))


def _contour_label(canvas: Canvas, survey: Survey, lines: tuple[Line, ...], level: float) -> None:
    for p, _ in lines[len(lines) // 3 :]:
        x, y = survey.at(*p)
        far = abs(x - MIDDLE[0]) > 48 or abs(y - MIDDLE[1]) > 40
        if far and MAP.left + 8 < x < MAP.right - 150 and MAP.top + 16 < y < MAP.bottom - 14:
            words = (
                metres(level)[:-1] if survey.is_tidal else f"{level:,.0f}".replace(",", "\u2009")
            )
            canvas.text((x, y), words, 3.2, "label", FINE, "mm", True)
            return


def _causeway(canvas: Canvas, path: list[Point]) -> None:
    canvas.line(path, 2.4, GRAPHITE)
    canvas.line(path, 2.0, PAPER)
    canvas.line(path, HAIR, GRAPHITE, (1.2, 1.2))
    x, y = path[1]
    canvas.text((x + 2, y - 4), "causeway, bare around low water", 3.5, "label", INK, "ls", True)


def _hut(canvas: Canvas, survey: Survey) -> None:
    building = survey.building
    a, b = survey.ground.terrace
    if not survey.is_tidal:
        terrace = [survey.at(x, y) for x, y in ((-a, -b), (a, -b), (a, b), (-a, b))]
        canvas.shape(terrace, None, LINE, OCHRE, (4, 1.4))
    shape = survey.rect(building.plan.outer)
    if building.ramp:
        canvas.shape(survey.rect(building.ramp.run), PAPER, THIN, INK)
    canvas.shape(shape, PAPER, BOLD, INK)
    canvas.hatch(shape, 1.0, 45, HAIR, INK)
    canvas.shape(shape, None, BOLD, INK)
    plan = building.plan
    corner = survey.of_plan(plan.outer.x1, plan.outer.y1)
    size = f"{plan.outer.width:.1f} × {plan.outer.height:.1f} m"
    leader(canvas, corner, (corner[0] + 12, corner[1] + 10), f"hut, {size}")
    if not survey.is_tidal:
        edge = survey.at(-a, -b)
        leader(canvas, edge, (edge[0] - 8, edge[1] + 12), f"terrace {2 * a:g} × {2 * b:g} m", False)
    if building.ramp:
        r = building.ramp.run
        foot = survey.of_plan(r.x0 if building.ramp.foot_first else r.x1, r.y0)
        leader(
            canvas,
            foot,
            (foot[0] - 8, foot[1] + (12 if survey.is_tidal else -9)),
            f"ramp {r.width if r.width > r.height else r.height:.1f} m",
            False,
        )


def _snow(canvas: Canvas, survey: Survey) -> None:
    a, b = survey.ground.terrace
    windward = [(a + 0.6, -b - 1), (a + 3, -b - 2.5), (a + 7, -b - 1), (a + 9, 1)]
    lee = [(a + 6.4, b + 1.5), (a + 2, b + 1), (a + 0.8, 0)]
    drift = [survey.at(*p) for p in (*windward, *lee)]
    canvas.dots(drift, 1.5, GRAPHITE)
    canvas.shape(drift, None, THIN, GRAPHITE, (2.4, 1.2))
    deep = survey.site.drift_m
    if deep:
        leader(canvas, drift[3], (drift[3][0] + 10, drift[3][1] - 6), f"drift to {deep:g} m")
    rock = survey.ground.rock[0]
    x, y = survey.at(*rock[3])
    leader(canvas, (x, y + 2), (x + 12, y - 6), "outcrop")
    for north in (2.0, -3.0, -8.0):
        x, y = survey.at(-24, north)
        arrow(canvas, (x - 15, y), (x, y), THIN, PETROL, 3.0)
    x, y = survey.at(-31, 4.6)
    canvas.text((x, y), "wind, blown clear", 3.5, "label", PETROL, "ls", True)
    x, y = survey.at(-40, -27)
    canvas.text((x, y), "ridge path", 3.5, "label", OCHRE, "ls", True)
    spot = survey.at(26, -18)
    canvas.circle(spot, 7, None, THIN, INK)
    canvas.circle(spot, 5.6, None, HAIR, INK)
    canvas.text(spot, "H", 5.4, "strong", INK, "mm")
    canvas.text((spot[0], spot[1] + 11.5), "lifts set down", 3.5, "label", INK, "ms", True)


def _tide(canvas: Canvas, survey: Survey) -> None:
    site = survey.site
    assert site.flood_m is not None
    west, east = (MAP.left - MIDDLE[0]) / 2 - 2, (MAP.right - MIDDLE[0]) / 2 + 2
    north, south = (MIDDLE[1] - MAP.top) / 2 + 2, (MIDDLE[1] - MAP.bottom) / 2 - 2
    sea = -(site.ground_m or 0.0)
    step, y = 3.4, south
    row = 0
    while y < north:
        x = west + (row % 2) * 2.0
        while x < east:
            if survey.ground.height(x, y) < sea:
                a, b = survey.at(x, y), survey.at(x + 2.0, y)
                if _clip(a, b):
                    canvas.line([a, b], HAIR, PETROL)
            x += 4.0
        y += step
        row += 1
    storm = Ground(survey.ground.height, 100.0, (0, 0), (), ())
    level = site.flood_m - (site.ground_m or 0.0)
    lifted = Ground(lambda x, y: storm.height(x, y) - level, 50.0, (0, 0), (), ())
    for _, lines in contours(lifted, 0.0, west, south, east, north):
        for p, q in lines:
            a, b = survey.at(*p), survey.at(*q)
            if _clip(a, b):
                canvas.line([a, b], BOLD, PETROL)
    x, y = survey.at(30, 12)
    canvas.text(
        (x, y), f"storm tide line {metres(site.flood_m)} m", 3.6, "medium", PETROL, "ls", True
    )
    x, y = survey.at(-48, -14)
    canvas.text((x, y), "sea at low water", 3.6, "italic", PETROL, "ls", True)


def _site_sheet(canvas: Canvas, survey: Survey) -> None:
    """Set the figures of the site sheet that shape the building."""
    site, schedule = survey.site, SITE
    shown = [c for c in map(schedule.column, SITE_HEADS) if getattr(site, c.attribute) is not None]
    right, wide = FIELD.right - 30, 74.0
    top = MAP.top + 6
    canvas.box(right - wide - 3, top - 2, right + 3, top + 6 + 5.4 * len(shown), PAPER, pen=THIN)
    y = top + 3.4
    canvas.text((right - wide, y), schedule.title, 4.2, "strong", INK)
    for column in shown:
        y += 5.4
        value = getattr(site, column.attribute)
        if column.scale is not None:
            value = f"{float(column.scale.metric.from_si(value)):g}".replace("-", "−")
        words = f"{value} {column.unit()}".strip()
        canvas.text((right - wide, y), column.label, 3.7, "label", GRAPHITE)
        canvas.text((right, y), words, 3.8, "medium", INK, "rs")


def _cut(canvas: Canvas, survey: Survey) -> None:
    """Draw a cut through the ground from west to east, through the building."""
    left, right = MAP.right - 190.0, MAP.right - 6.0
    base = MAP.bottom - 17.0
    canvas.box(left - 4, base - 43, right + 6, MAP.bottom, PAPER, pen=THIN)
    caption(canvas, (left + 2, base - 35), "Cut west to east through the hut", "1:500")
    heights = heights_of(survey.building)
    middle = left + 80.0
    line = []
    x = left
    while x <= right:
        metre = (x - middle) / 2
        line.append((x, base - 12 - survey.ground.height(metre, 0.0) * 2))
        x += 1.5
    earth = [*line, (right, base + 4), (left, base + 4)]
    canvas.hatch(earth, 2.0, 45, HAIR, FINE)
    canvas.line(line, BOLD, INK)
    plan = survey.building.plan
    half = plan.outer.width
    foot, top = base - 12 + heights.ground * 2, base - 12 - (heights.top - heights.ground) * 2
    hut = [
        (middle - half, foot - 0.4),
        (middle + half, foot - 0.4),
        (middle + half, top),
        (middle - half, top),
    ]
    canvas.shape(hut, PAPER, LINE, INK)
    canvas.hatch(hut, 1.2, 45, HAIR, OCHRE)
    for leg in (-0.9, 0.0, 0.9):
        canvas.line([(middle + leg * half, foot), (middle + leg * half, base - 12)], THIN, INK)
    site = survey.site
    if site.flood_m is not None:
        y = base - 12 - (site.flood_m - (site.ground_m or 0.0)) * 2
        canvas.line([(left, y), (right, y)], THIN, PETROL, (6, 1.6, 1.6, 1.6))
        canvas.text(
            (right, y - 1.2),
            f"storm tide {metres(site.flood_m)} m",
            3.4,
            "label",
            PETROL,
            "rs",
            True,
        )
    elif site.drift_m:
        deep = site.drift_m * 2
        x = middle + half
        snow = [
            (x, base - 12),
            (x, base - 12 - deep * 0.8),
            (x + 5, base - 12 - deep),
            (x + 20, base - 12),
        ]
        canvas.shape(snow, PAPER, THIN, GRAPHITE)
        canvas.dots(snow, 1.2, GRAPHITE)
    canvas.text((left, base + 9), "W", 4, "strong", GRAPHITE)
    canvas.text((right, base + 9), "E", 4, "strong", GRAPHITE, "rs")
