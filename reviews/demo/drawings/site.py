"""Sheet 01: the site and the way in at 1:500, a cut through the ground, and the precedents."""

from math import cos, pi, sin

from criteria.schedules import SITE
from reviews.demo.drawings.building import Building
from reviews.demo.drawings.canvas import HEIGHT_MM, WIDTH_MM, Canvas, Point, quad
from reviews.demo.drawings.geometry import Rect
from reviews.demo.drawings.heights import heights_of, metres
from reviews.demo.drawings.page import FIELD, Field, caption
from reviews.demo.drawings.precedents import draw_precedents
from reviews.demo.drawings.symbols import (
    CHAIN,
    Placing,
    arrow,
    leader,
    north_arrow,
    scale_bar,
    thousands,
)
from reviews.demo.drawings.terrain import ISLAND, RIDGE, Ground, Line, contours

SCALE, PER_M = 500, 2.0
MAP = Field(FIELD.left - 5, 76.0, FIELD.right + 5, FIELD.bottom + 3)
SITE_HEADS = (
    *("latitude", "altitude_m", "people", "design_outside_c", "design_inside_c", "design_month"),
    *("sun_hours", "supply_days", "drift_m", "ground_m", "flood_m"),
)
MIDDLE = (116.0, 138.0)
"""Where the building stands on paper: zone B2."""
WEST, EAST = (MAP.left - MIDDLE[0]) / PER_M - 2, (MAP.right - MIDDLE[0]) / PER_M + 2
SOUTH, NORTH = (MIDDLE[1] - MAP.bottom) / PER_M - 2, (MIDDLE[1] - MAP.top) / PER_M + 2
"""How far the map reaches from the building [m]."""


class Survey:
    """The ground of a site, and the sheet as a view of it: metres east and north."""

    def __init__(self, canvas: Canvas, building: Building) -> None:
        self.site, self.building = building.package.site, building
        self.is_tidal = self.site.flood_m is not None
        self.ground: Ground = ISLAND if self.is_tidal else RIDGE
        self.view = Placing(SCALE, *MIDDLE).upright_on(canvas)
        self.storm_m = (self.site.flood_m or 0.0) - (self.site.ground_m or 0.0)

    def turned(self, x_m: float, y_m: float) -> Point:
        """Return east and north of a point of the plan, turned as it stands [m]."""
        cx, cy = self.building.plan.outer.centre
        dx, dy, t = x_m - cx, y_m - cy, self.building.plan.turn_deg * pi / 180
        return dx * cos(t) - dy * sin(t), -dx * sin(t) - dy * cos(t)

    def rect(self, r: Rect) -> list[Point]:
        """Return a rectangle of the plan as it stands [m]."""
        return [self.turned(*corner) for corner in r.corners]


def draw_site(canvas: Canvas, building: Building) -> None:
    """Draw the map, the cut and the precedents."""
    survey = Survey(canvas, building)
    _ground(survey)
    _hut(survey)
    if survey.is_tidal:
        _tide(survey)
    else:
        _snow(survey)
    for edges in (
        (0, 0, WIDTH_MM, MAP.top),
        (0, MAP.bottom, WIDTH_MM, HEIGHT_MM),
        (0, 0, MAP.left, HEIGHT_MM),
        (MAP.right, 0, WIDTH_MM, HEIGHT_MM),
        (FIELD.left - 3, MAP.top + 2, FIELD.left + 56, MAP.top + 13),
        (FIELD.left - 3, FIELD.bottom - 8, FIELD.left + 98, FIELD.bottom + 2),
    ):
        canvas.wipe(quad(*edges))
    _cut(canvas, survey)
    draw_precedents(canvas, building.package.precedents, MAP.top - 3)
    canvas.line([(MAP.left, MAP.top), (MAP.right, MAP.top)])
    caption(canvas, (FIELD.left, MAP.top + 9), "Site and approach", "1:500")
    north_arrow(canvas, (FIELD.right - 12, MAP.top + 17), 0.0, 7.0)
    scale_bar(canvas, (FIELD.left, FIELD.bottom - 1), SCALE, 10)
    _site_sheet(canvas, survey)


def _ground(survey: Survey) -> None:
    """Draw contours, rock and the way in."""
    view, ground = survey.view, survey.ground
    base = survey.site.ground_m or survey.site.altitude_m or 0.0
    for level, lines in contours(ground, base, WEST, SOUTH, EAST, NORTH):
        heavy = round(level / ground.interval) % 5 == 0
        for line in lines:
            view.line(line, "thin" if heavy else "hair", "fine" if heavy else "pale")
        if heavy:
            _contour_label(survey, lines, level)
    for rock in ground.rock:
        view.shape(rock, hatch=(2.0, 62, "graphite"))
        view.hatch(rock, 3.4, 20, "graphite")
    path = ground.path
    if not survey.is_tidal:
        view.line(path, ink="ochre", dash=(3.0, 1.4))
        _note(view, (-40, -27), "ridge path", "ochre")
        return
    view.line(path, "road", "graphite")
    view.line(path, "way", "paper")
    view.line(path, "hair", "graphite", (1.2, 1.2))
    _note(view, (path[1][0] + 1, path[1][1] + 2), "causeway, bare around low water", "ink")


def _note(view: Canvas, at: Point, words: str, ink: str) -> None:
    view.text(at, words, 3.5, "label", ink, halo=True)


def _contour_label(survey: Survey, lines: tuple[Line, ...], level: float) -> None:
    words = metres(level)[:-1] if survey.is_tidal else thousands(level)
    for p, _ in lines[len(lines) // 3 :]:
        x, y = survey.view.at(*p)
        is_far = abs(x - MIDDLE[0]) > 48 or abs(y - MIDDLE[1]) > 40
        if is_far and MAP.left + 8 < x < MAP.right - 150 and MAP.top + 16 < y < MAP.bottom - 14:
            survey.view.text(p, words, 3.2, "label", "fine", "mm", True)
            return


def _hut(survey: Survey) -> None:
    """Draw the building with its ramp, and the terrace that it stands on."""
    view, outer, ramp = survey.view, survey.building.plan.outer, survey.building.ramp
    a, b = survey.ground.terrace
    if not survey.is_tidal:
        view.shape(quad(-a, -b, a, b), ink="ochre", fill=None, dash=(4, 1.4))
        leader(view, (-a, -b), (-8, 12), f"terrace {2 * a:g} × {2 * b:g} m", False)
    if ramp:
        view.shape(survey.rect(ramp.run), "thin")
        foot = survey.turned(ramp.run.x0 if ramp.foot_first else ramp.run.x1, ramp.run.y0)
        words = f"ramp {max(ramp.run.width, ramp.run.height):.1f} m"
        leader(view, foot, (-8, 12 if survey.is_tidal else -9), words, False)
    view.shape(survey.rect(outer), "bold", hatch=(1.0, 45, "ink"))
    words = f"hut, {outer.width:.1f} × {outer.height:.1f} m"
    leader(view, survey.turned(outer.x1, outer.y1), (12, 10), words)


def _snow(survey: Survey) -> None:
    """Draw the drift in the lee, the wind, and where lifts are set down."""
    view, (a, b) = survey.view, survey.ground.terrace
    windward = [(a + 0.6, -b - 1), (a + 3, -b - 2.5), (a + 7, -b - 1), (a + 9, 1)]
    drift = [*windward, (a + 6.4, b + 1.5), (a + 2, b + 1), (a + 0.8, 0)]
    view.dots(drift, 1.5)
    view.shape(drift, "thin", "graphite", None, (2.4, 1.2))
    if survey.site.drift_m:
        leader(view, drift[3], (10, -6), f"drift to {survey.site.drift_m:g} m")
    leader(view, survey.ground.rock[0][3], (12, -6), "outcrop")
    for north in (2.0, -3.0, -8.0):
        arrow(view, (-31.5, north), (-24, north), ink="petrol", head=3.0)
    _note(view, (-31, 4.6), "wind, blown clear", "petrol")
    view.circle((26, -18), 7, "thin", fill=None)
    view.text((26, -18), "H", 5.4, "strong", anchor="mm")
    view.text((26, -23.75), "lifts set down", 3.5, anchor="ms", halo=True)


def _tide(survey: Survey) -> None:
    """Draw the sea at low water and the line that a storm tide reaches."""
    view, ground = survey.view, survey.ground
    sea = -(survey.site.ground_m or 0.0)
    for row in range(int((NORTH - SOUTH) / 3.4) + 1):
        for i in range(int((EAST - WEST) / 4.0) + 1):
            x, y = WEST + row % 2 * 2.0 + i * 4.0, SOUTH + row * 3.4
            if ground.height(x, y) < sea:
                view.line([(x, y), (x + 2.0, y)], "hair", "petrol")
    storm = Ground(lambda x, y: ground.height(x, y) - survey.storm_m, 50.0, (0, 0), (), ())
    for _, lines in contours(storm, 0.0, WEST, SOUTH, EAST, NORTH):
        for line in lines:
            view.line(line, "bold", "petrol")
    words = f"storm tide line {metres(survey.site.flood_m or 0.0)} m"
    view.text((30, 12), words, 3.6, "medium", "petrol", halo=True)
    view.text((-48, -14), "sea at low water", 3.6, "italic", "petrol", halo=True)


def _site_sheet(canvas: Canvas, survey: Survey) -> None:
    """Set the figures of the site sheet that shape the building."""
    columns = [SITE.column(head) for head in SITE_HEADS]
    shown = [c for c in columns if getattr(survey.site, c.attribute) is not None]
    left, right, y = FIELD.right - 104, FIELD.right - 30, MAP.top + 9.4
    canvas.box(left - 3, y - 5.4, right + 3, y + 2.6 + 5.4 * len(shown), "thin")
    canvas.text((left, y), SITE.title, 4.2, "strong")
    for column in shown:
        y += 5.4
        value = getattr(survey.site, column.attribute)
        if column.scale is not None:
            value = f"{float(column.scale.metric.from_si(value)):g}".replace("-", "−")
        canvas.text((left, y), column.label, 3.7, ink="graphite")
        words = f"{value} {column.unit()}".strip()
        canvas.text((right, y), words, 3.8, "medium", anchor="rs")


def _cut(canvas: Canvas, survey: Survey) -> None:
    """Draw a cut through the ground from west to east, through the building."""
    left, right, base = MAP.right - 190.0, MAP.right - 6.0, MAP.bottom - 29.0
    canvas.box(left - 4, base - 31, right + 6, MAP.bottom, "thin")
    caption(canvas, (left + 2, base - 23), "Cut west to east through the hut", "1:500")
    view = Placing(SCALE, left + 80, base).upright_on(canvas)
    west, east, low = -40.0, (right - left - 80) / PER_M, -8.0
    steps = [west + 0.75 * i for i in range(int((east - west) / 0.75) + 1)]
    line = [(x, survey.ground.height(x, 0.0)) for x in steps]
    view.hatch([*line, (east, low), (west, low)], 2.0, 45, "fine")
    view.line(line, "bold")
    heights, half = heights_of(survey.building), survey.building.plan.outer.width / 2
    foot, top = 0.2 - heights.ground, heights.top - heights.ground
    view.box(-half, foot, half, top, hatch=(1.2, 45, "ochre"))
    for leg in (-0.9, 0.0, 0.9):
        view.line([(leg * half, foot), (leg * half, 0)], "thin")
    if survey.is_tidal:
        view.line([(west, survey.storm_m), (east, survey.storm_m)], "thin", "petrol", CHAIN)
        words, at = f"storm tide {metres(survey.site.flood_m or 0.0)} m", (east, survey.storm_m)
        view.text(at, words, 3.4, "label", "petrol", "rs", True, (0, -1.2))
    elif deep := survey.site.drift_m:
        snow = [(half, 0), (half, deep * 0.8), (half + 2.5, deep), (half + 10, 0)]
        view.shape(snow, "thin", "graphite")
        view.dots(snow, 1.2)
    for x, words in ((west, "W"), (east, "E")):
        anchor = "ls" if x == west else "rs"
        view.text((x, low), words, 4, "strong", "graphite", anchor, off=(0, 5))
