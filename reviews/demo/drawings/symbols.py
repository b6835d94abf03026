"""The signs of a drawing: dimensions, marks, levels, arrows, scale bars, and how metres lie."""

from dataclasses import dataclass
from math import cos, hypot, pi, sin

from reviews.demo.drawings.canvas import (
    FINE,
    GRAPHITE,
    HAIR,
    INK,
    LINE,
    PAPER,
    REDLINE,
    SHADE,
    THIN,
    Canvas,
    Point,
    px_of,
)


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


def grouped(length_m: float) -> str:
    """Write a length in millimetres, thousands set apart.

    >>> grouped(5.6), grouped(0.815)
    ('5\\u2009600', '815')
    """
    return f"{round(length_m * 1000):,}".replace(",", "\u2009")


def dimension(
    canvas: Canvas, a: Point, b: Point, words: str, ink: str = GRAPHITE, size: float = 3.6
) -> None:
    """Draw a dimension line between two points on one level or one plumb line."""
    (x0, y0), (x1, y1) = a, b
    canvas.line([a, b], HAIR, ink)
    for x, y in (a, b):
        canvas.line([(x - 0.9, y + 0.9), (x + 0.9, y - 0.9)], LINE, ink)
    if abs(y0 - y1) < 0.01:
        canvas.line([(x0, y0 - 1.6), (x0, y0 + 1.6)], HAIR, ink)
        canvas.line([(x1, y1 - 1.6), (x1, y1 + 1.6)], HAIR, ink)
        if canvas.width_of(words, size) < abs(x1 - x0) - 1:
            canvas.text(((x0 + x1) / 2, y0 - 1.2), words, size, "label", ink, "ms")
    else:
        canvas.line([(x0 - 1.6, y0), (x0 + 1.6, y0)], HAIR, ink)
        canvas.line([(x1 - 1.6, y1), (x1 + 1.6, y1)], HAIR, ink)
        if canvas.width_of(words, size) < abs(y1 - y0) - 1:
            canvas.upright_text((x0 - 2.3, (y0 + y1) / 2), words, size, "label", ink)


def lozenge(canvas: Canvas, at: Point, words: str, ink: str = INK) -> None:
    """Draw a window's mark: words in a lozenge."""
    x, y = at
    wide = canvas.width_of(words, 3.5, "medium") / 2 + 2.8
    canvas.shape([(x - wide, y), (x, y - 3.4), (x + wide, y), (x, y + 3.4)], PAPER, THIN, ink)
    canvas.text((x, y), words, 3.5, "medium", ink, "mm")


def disc(canvas: Canvas, at: Point, words: str, radius: float = 3.1) -> None:
    """Draw a door's mark: words in a circle."""
    canvas.circle(at, radius, PAPER, THIN, INK)
    canvas.text(at, words, 3.4, "medium", INK, "mm")


def level_mark(canvas: Canvas, at: Point, words: str, ink: str = INK, left: bool = False) -> None:
    """Draw a level mark ▽ standing on a level, with its height."""
    x, y = at
    canvas.shape([(x - 1.9, y - 3.1), (x + 1.9, y - 3.1), (x, y)], PAPER, THIN, ink)
    if left:
        canvas.line([(x + 1.9, y - 3.1), (x - 3.2, y - 3.1)], THIN, ink)
        canvas.text((x - 3.6, y - 1.4), words, 3.6, "medium", ink, "rs")
    else:
        canvas.line([(x - 1.9, y - 3.1), (x + 3.2, y - 3.1)], THIN, ink)
        canvas.text((x + 3.6, y - 1.4), words, 3.6, "medium", ink)


def section_mark(canvas: Canvas, at: Point, letter: str, sheet: str, towards: Point) -> None:
    """Draw a section marker: letter over sheet in a circle, with an arrow the way one looks."""
    x, y = at
    dx, dy = towards
    r = 4.6
    tip = (x + dx * r * 1.65, y + dy * r * 1.65)
    side = [(x - dy * r, y - dx * r), (x + dy * r, y + dx * r)]
    canvas.shape([side[0], tip, side[1]], INK, THIN, INK)
    canvas.circle(at, r, PAPER, THIN, INK)
    canvas.line([(x - r, y), (x + r, y)], THIN)
    canvas.text((x, y - 0.6), letter, 3.6, "strong", INK, "ms")
    canvas.text((x, y + 3.5), sheet, 3.3, "label", INK, "ms")


def north_arrow(canvas: Canvas, at: Point, turn_deg: float = 0.0, radius: float = 8.0) -> None:
    """Draw a north arrow turned clockwise from the top of the sheet."""
    x, y = at
    angle = turn_deg * pi / 180
    up = (sin(angle), -cos(angle))
    across = (cos(angle), sin(angle))

    def point(along: float, aside: float) -> Point:
        return (
            x + up[0] * along * radius + across[0] * aside * radius,
            y + up[1] * along * radius + across[1] * aside * radius,
        )

    canvas.circle(at, radius, None, THIN, INK)
    canvas.shape([point(1, 0), point(-0.72, 0.42), point(-0.4, 0)], INK, THIN, INK)
    canvas.shape([point(1, 0), point(-0.72, -0.42), point(-0.4, 0)], PAPER, THIN, INK)
    canvas.text(point(1.42, 0), "N", 4.6, "strong", INK, "mm")


def scale_bar(canvas: Canvas, at: Point, scale: float, step_m: float, steps: int = 4) -> None:
    """Draw a scale bar of so many steps."""
    x, y = at
    step = step_m * 1000 / scale
    for i in range(steps):
        fill = INK if i % 2 == 0 else PAPER
        canvas.box(x + i * step, y - 1.4, x + (i + 1) * step, y, fill, THIN, INK)
    for i in range(steps + 1):
        canvas.text((x + i * step, y - 2.4), f"{i * step_m:g}", 3.5, "label", INK, "ms")
    canvas.text((x + steps * step + 2.5, y), f"m   1:{scale:g}", 3.5, "label", GRAPHITE, "ls")


def arrow(
    canvas: Canvas, a: Point, b: Point, pen: float = THIN, ink: str = INK, head: float = 2.6
) -> None:
    """Draw an arrow from a to b."""
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    canvas.line([a, b], pen, ink)
    foot = (b[0] - ux * head, b[1] - uy * head)
    wide = head * 0.32
    canvas.shape(
        [b, (foot[0] - uy * wide, foot[1] + ux * wide), (foot[0] + uy * wide, foot[1] - ux * wide)],
        ink,
        HAIR,
        ink,
    )


def leader(canvas: Canvas, target: Point, elbow: Point, words: str, right: bool = True) -> None:
    """Draw a note with a line to what it speaks of."""
    end = (elbow[0] + (4 if right else -4), elbow[1])
    canvas.line([target, elbow, end], HAIR, GRAPHITE)
    canvas.circle(target, 0.5, GRAPHITE, HAIR, GRAPHITE)
    anchor = "lm" if right else "rm"
    canvas.text((end[0] + (1.2 if right else -1.2), end[1]), words, 3.6, "label", INK, anchor)


def centre_line(canvas: Canvas, a: Point, b: Point, ink: str = REDLINE) -> None:
    """Draw a long–short dashed line: an axis or a line of section."""
    canvas.line([a, b], THIN, ink, (7, 1.6, 1.6, 1.6))


def break_line(canvas: Canvas, a: Point, b: Point) -> None:
    """Draw a line with one zigzag, where a drawing is broken off."""
    (x0, y0), (x1, y1) = a, b
    mx, my = (x0 + x1) / 2, (y0 + y1) / 2
    canvas.line(
        [a, (mx, my - 2), (mx - 1.5, my - 0.6), (mx + 1.5, my + 0.6), (mx, my + 2), b], THIN, FINE
    )


def person(canvas: Canvas, feet: Point, height_mm: float, ink: str = SHADE) -> None:
    """Draw a standing figure as a plain shade, for scale."""
    x, y = feet
    h = height_mm
    canvas.circle((x, y - 0.93 * h), 0.066 * h, ink, HAIR, ink)
    half = [
        (0.0, 0.86), (0.035, 0.855), (0.05, 0.835), (0.105, 0.815), (0.13, 0.785), (0.142, 0.72),
        (0.148, 0.60), (0.14, 0.47), (0.118, 0.465), (0.112, 0.60), (0.098, 0.68), (0.092, 0.56),
        (0.098, 0.48), (0.092, 0.34), (0.076, 0.2), (0.066, 0.03), (0.085, 0.0), (0.03, 0.0),
        (0.022, 0.2), (0.008, 0.44), (0.0, 0.46),
    ]  # fmt: skip
    body = [*half, *((-a, b) for a, b in reversed(half))]
    canvas.shape([(x + a * h, y - b * h) for a, b in body], ink, ink=None)
