"""The signs of a drawing: dimensions, marks, levels, arrows, scale bars, and how metres lie."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin

from criteria.units import rounded
from reviews.demo.drawings.canvas import Canvas, Point, Spot, px_of

CHAIN = (6, 1.6, 1.6, 1.6)
"""A long–short dashed line: an axis, a line of section, a level of water [mm]."""


@dataclass(frozen=True)
class Placing:
    """How metres of a building lie on paper.

    scale      50 for 1:50
    left, top  where the metres' origin stands [mm of paper]
    """

    scale: float
    left: float
    top: float

    def mm(self, length_m: float) -> float:
        """Return a length on paper [mm]."""
        return length_m * 1000 / self.scale

    def px(self, length_m: float) -> float:
        """Return a length in the finished picture [px]."""
        return px_of(self.mm(length_m))

    def at(self, x_m: float, y_m: float) -> Point:
        """Return a point on paper [mm]."""
        return self.left + self.mm(x_m), self.top + self.mm(y_m)

    def up(self, x_m: float, height_m: float) -> Point:
        """Return a point of a section on paper, heights counted upwards from the origin [mm]."""
        return self.at(x_m, -height_m)

    def on(self, canvas: Canvas) -> Canvas:
        """Return a sheet as a view of the plan in metres."""
        return canvas.seen(self.at, self.mm(1.0))

    def upright_on(self, canvas: Canvas) -> Canvas:
        """Return a sheet as a view of a section in metres, heights counted upwards."""
        return canvas.seen(self.up, self.mm(1.0))


def thousands(value: float) -> str:
    """Write a whole number, thousands set apart.

    >>> thousands(2640)
    '2\\u202f640'
    """
    return rounded(value, 0)


def grouped(length_m: float) -> str:
    """Write a length in millimetres, thousands set apart.

    >>> grouped(5.6), grouped(0.815)
    ('5\\u2009600', '815')
    """
    return thousands(round(length_m * 1000))


def dimension(
    view: Canvas, ends: Sequence[Spot], ink: str = "graphite", off: Point = (0.0, 0.0)
) -> None:
    """Draw a dimension line from point to point of a view in metres, level or plumb.

    off    how far from the two points the line stands [mm of paper]
    """
    a, b = ends
    canvas, words = view.paper, grouped(hypot(b[0] - a[0], b[1] - a[1]))
    (x0, y0), (x1, y1) = ((x + off[0], y + off[1]) for x, y in (view.at(*a), view.at(*b)))
    level = abs(y0 - y1) < 0.01
    dx, dy = (0.0, 1.6) if level else (1.6, 0.0)
    canvas.line([(x0, y0), (x1, y1)], "hair", ink)
    for x, y in ((x0, y0), (x1, y1)):
        canvas.line([(x - 0.9, y + 0.9), (x + 0.9, y - 0.9)], ink=ink)
        canvas.line([(x - dx, y - dy), (x + dx, y + dy)], "hair", ink)
    if canvas.width_of(words, 3.6) >= max(abs(x1 - x0), abs(y1 - y0)) - 1:
        return
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    if level:
        canvas.text(middle, words, 3.6, ink=ink, anchor="ms", off=(0, -1.2))
    else:
        canvas.upright_text(middle, words, 3.6, ink, (-2.3, 0))


def lozenge(view: Canvas, at: Spot, words: str) -> None:
    """Draw a window's mark: words in a lozenge."""
    (x, y), canvas = view.at(*at), view.paper
    wide = canvas.width_of(words, 3.5, "medium") / 2 + 2.8
    canvas.shape([(x - wide, y), (x, y - 3.4), (x + wide, y), (x, y + 3.4)], "thin")
    canvas.text((x, y), words, 3.5, "medium", anchor="mm")


def disc(view: Canvas, at: Spot, words: str) -> None:
    """Draw a door's mark: words in a circle."""
    view.circle(at, 3.1, "thin")
    view.text(at, words, 3.4, "medium", anchor="mm")


def level_mark(view: Canvas, at: Spot, words: str) -> None:
    """Draw a level mark ▽ standing on a level, with its height at its left."""
    (x, y), canvas = view.at(*at), view.paper
    canvas.shape([(x - 1.9, y - 3.1), (x + 1.9, y - 3.1), (x, y)], "thin")
    canvas.line([(x + 1.9, y - 3.1), (x - 3.2, y - 3.1)], "thin")
    canvas.text((x - 3.6, y - 1.4), words, 3.6, "medium", anchor="rs")


def section_mark(canvas: Canvas, at: Point, letter: str, sheet: str, towards: Point) -> None:
    """Draw a section marker: letter over sheet in a circle, with an arrow the way one looks."""
    (x, y), (dx, dy), r = at, towards, 4.6
    tip = (x + dx * r * 1.65, y + dy * r * 1.65)
    canvas.shape([(x - dy * r, y - dx * r), tip, (x + dy * r, y + dx * r)], "thin", fill="ink")
    canvas.circle(at, r, "thin")
    canvas.line([(x - r, y), (x + r, y)], "thin")
    canvas.text(at, letter, 3.6, "strong", anchor="ms", off=(0, -0.6))
    canvas.text(at, sheet, 3.3, anchor="ms", off=(0, 3.5))


def north_arrow(canvas: Canvas, at: Point, turn_deg: float, radius: float) -> None:
    """Draw a north arrow turned clockwise from the top of the sheet."""
    c, s = radius * cos(turn_deg * pi / 180), radius * sin(turn_deg * pi / 180)
    view = canvas.seen(
        lambda aside, along: (at[0] + s * along + c * aside, at[1] - c * along + s * aside)
    )
    canvas.circle(at, radius, "thin", fill=None)
    for aside, fill in ((0.42, "ink"), (-0.42, "paper")):
        view.shape([(0, 1), (aside, -0.72), (0, -0.4)], "thin", fill=fill)
    view.text((0, 1.42), "N", 4.6, "strong", anchor="mm")


def scale_bar(canvas: Canvas, at: Point, scale: float, step_m: float) -> None:
    """Draw a scale bar of four steps."""
    (x, y), step = at, step_m * 1000 / scale
    for i in range(4):
        fill = "paper" if i % 2 else "ink"
        canvas.box(x + i * step, y - 1.4, x + (i + 1) * step, y, "thin", fill=fill)
    for i in range(5):
        canvas.text((x + i * step, y - 2.4), f"{i * step_m:g}", 3.5, anchor="ms")
    canvas.text((x + 4 * step + 2.5, y), f"m   1:{scale:g}", 3.5, ink="graphite")


def arrow(
    view: Canvas, start: Spot, end: Spot, pen: str = "thin", ink: str = "ink", head: float = 2.6
) -> None:
    """Draw an arrow from start to end."""
    a, b, canvas = view.at(*start), view.at(*end), view.paper
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    canvas.line([a, b], pen, ink)
    x, y, wide = b[0] - ux * head, b[1] - uy * head, head * 0.32
    point = [b, (x - uy * wide, y + ux * wide), (x + uy * wide, y - ux * wide)]
    canvas.shape(point, "hair", ink, ink)


def leader(view: Canvas, target: Spot, elbow: Point, words: str, right: bool = True) -> None:
    """Draw a note with a line to what it speaks of; the elbow is so far from it [mm]."""
    (x, y), canvas, way = view.at(*target), view.paper, 1 if right else -1
    bend = (x + elbow[0], y + elbow[1])
    end = (bend[0] + 4 * way, bend[1])
    canvas.line([(x, y), bend, end], "hair", "graphite")
    canvas.circle((x, y), 0.5, "hair", "graphite", "graphite")
    canvas.text(end, words, 3.6, anchor="lm" if right else "rm", off=(1.2 * way, 0))


def person(view: Canvas, feet: Spot, height_mm: float) -> None:
    """Draw a standing figure as a plain shade, for scale."""
    (x, y), h = view.at(*feet), height_mm
    canvas = view.seen(lambda a, b: (x + a * h, y - b * h))
    canvas.circle((0, 0.93), 0.066 * h, "hair", "shade", "shade")
    arm = [(0, 0.86), (0.05, 0.835), (0.13, 0.785), (0.148, 0.6), (0.14, 0.47), (0.118, 0.465)]
    leg = [(0.098, 0.68), (0.098, 0.48), (0.066, 0.03), (0.085, 0), (0.03, 0), (0, 0.46)]
    half = [*arm, *leg]
    canvas.wipe([*half, *((-a, b) for a, b in reversed(half))], "shade")
