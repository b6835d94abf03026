"""A sheet of paper to draw on, in millimetres of paper, with pens, lettering and hatching.

Everything is drawn at twice the size and reduced once, which smooths slanted lines and lettering.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

DPI = 150
MM_PER_INCH = 25.4
WIDTH_PX, HEIGHT_PX = 2480, 1754
OVER = 2
WIDTH_MM = WIDTH_PX / DPI * MM_PER_INCH
HEIGHT_MM = HEIGHT_PX / DPI * MM_PER_INCH

PAPER = "#FBFAF3"
TRACE = "#F3EBCB"
GLASS = "#EAEFE7"
INK = "#1B2421"
GRAPHITE = "#4C5753"
FINE = "#7B877F"
PALE = "#B9C0B8"
SHADE = "#D9DED5"
REDLINE = "#A3271A"
PETROL = "#1D5060"
SPRUCE = "#2A5E38"
OCHRE = "#7A5200"

CUT, BOLD, LINE, THIN, HAIR = 0.6, 0.42, 0.28, 0.2, 0.14

Point = tuple[float, float]

_FONTS = Path(__file__).parents[2] / "static" / "reviews" / "fonts"
FACES = {
    "label": "IBMPlexSansCondensed-Regular.woff2",
    "medium": "IBMPlexSansCondensed-Medium.woff2",
    "strong": "IBMPlexSansCondensed-SemiBold.woff2",
    "serif": "IBMPlexSerif-Regular.woff2",
    "italic": "IBMPlexSerif-Italic.woff2",
    "title": "IBMPlexSerif-SemiBold.woff2",
}


@lru_cache(maxsize=128)
def font(face: str, size_px: int) -> ImageFont.FreeTypeFont:
    """Return a face of the project's own type at a size [px]."""
    engine = ImageFont.Layout.BASIC
    return ImageFont.truetype(_FONTS / FACES[face], size_px, layout_engine=engine)


def px_of(paper_mm: float) -> float:
    """Return how many pixels of the finished picture a length on paper takes [px]."""
    return paper_mm / MM_PER_INCH * DPI


class Canvas:
    """One sheet; all lengths are millimetres of paper from the upper left corner."""

    def __init__(self) -> None:
        self._picture = Image.new("RGB", (WIDTH_PX * OVER, HEIGHT_PX * OVER), PAPER)
        self._draw = ImageDraw.Draw(self._picture)
        self._unit = px_of(1.0) * OVER

    def finished(self) -> Image.Image:
        """Return the picture at its true size."""
        return self._picture.reduce(OVER)

    def _px(self, points: Sequence[Point]) -> list[Point]:
        return [(x * self._unit, y * self._unit) for x, y in points]

    def _pen(self, pen_mm: float) -> int:
        return max(2, round(pen_mm * self._unit))

    def line(
        self,
        points: Sequence[Point],
        pen: float = LINE,
        ink: str = INK,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw a line through points, dashed where dashes and gaps are given [mm]."""
        if dash:
            for part in dashes(points, dash):
                self._draw.line(self._px(part), ink, self._pen(pen))
            return
        self._draw.line(
            self._px(points), ink, self._pen(pen), joint="curve" if pen > HAIR else None
        )

    def shape(
        self,
        points: Sequence[Point],
        fill: str | None = None,
        pen: float = LINE,
        ink: str | None = INK,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw a closed shape."""
        if fill:
            self._draw.polygon(self._px(points), fill=fill)
        if ink:
            closed = [*points, points[0]] if dash else [*points, *points[:2]]
            self.line(closed, pen, ink, dash)

    def box(
        self,
        x0: float,
        y0: float,
        x1: float,
        y1: float,
        fill: str | None = None,
        pen: float = LINE,
        ink: str | None = INK,
        dash: Sequence[float] = (),
    ) -> None:
        """Draw an upright rectangle."""
        self.shape([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], fill, pen, ink, dash)

    def circle(
        self,
        centre: Point,
        radius: float,
        fill: str | None = None,
        pen: float = LINE,
        ink: str | None = INK,
    ) -> None:
        """Draw a circle."""
        (x, y), r = self._px([centre])[0], radius * self._unit
        self._draw.ellipse((x - r, y - r, x + r, y + r), fill, ink, self._pen(pen))

    def arc(
        self,
        centre: Point,
        radius: float,
        start_deg: float,
        end_deg: float,
        pen: float = THIN,
        ink: str = GRAPHITE,
    ) -> None:
        """Draw part of a circle, clockwise from the right as the paper lies."""
        (x, y), r = self._px([centre])[0], radius * self._unit
        self._draw.arc((x - r, y - r, x + r, y + r), start_deg, end_deg, ink, self._pen(pen))

    def hatch(
        self,
        shape: Sequence[Point],
        gap: float = 1.2,
        angle_deg: float = 45,
        pen: float = HAIR,
        ink: str = OCHRE,
    ) -> None:
        """Fill a shape with parallel lines."""
        for a, b in hatching(shape, gap, angle_deg):
            self._draw.line(self._px((a, b)), ink, self._pen(pen))

    def dots(self, shape: Sequence[Point], gap: float = 2.0, ink: str = GRAPHITE) -> None:
        """Fill a shape with a staggered field of dots: snow, gravel."""
        for row, (a, b) in enumerate(hatching(shape, gap * 0.6, 0)):
            start = (int(min(a[0], b[0]) / gap) + 1) * gap + (gap / 2 if row % 2 else 0)
            while start < max(a[0], b[0]):
                self.circle((start, a[1]), 0.14, ink, HAIR, ink)
                start += gap

    def width_of(self, words: str, size: float, face: str = "label", track: float = 0.0) -> float:
        """Return how wide lettering is [mm]."""
        set_px = font(face, round(size * self._unit)).getlength(words)
        return set_px / self._unit + track * size * max(0, len(words) - 1)

    def text(
        self,
        at: Point,
        words: str,
        size: float = 3.8,
        face: str = "label",
        ink: str = INK,
        anchor: str = "ls",
        halo: bool = False,
        track: float = 0.0,
    ) -> None:
        """Letter words; the anchor is Pillow's (l, m, r and a, m, s); size is the em [mm]."""
        letters = font(face, round(size * self._unit))
        if track:
            self._tracked(at, words, size, face, ink, anchor, track)
            return
        if halo:
            self._draw.text(
                self._px([at])[0], words, PAPER, letters, anchor, stroke_width=7, stroke_fill=PAPER
            )
        self._draw.text(self._px([at])[0], words, ink, letters, anchor)

    def _tracked(
        self, at: Point, words: str, size: float, face: str, ink: str, anchor: str, track: float
    ) -> None:
        x, y = at
        wide = self.width_of(words, size, face, track)
        x -= {"l": 0.0, "m": wide / 2, "r": wide}[anchor[0]]
        for letter in words:
            self.text((x, y), letter, size, face, ink, "l" + anchor[1])
            x += self.width_of(letter, size, face) + track * size

    def upright_text(
        self, at: Point, words: str, size: float = 3.8, face: str = "label", ink: str = INK
    ) -> None:
        """Letter words that read upwards, centred on a point."""
        letters = font(face, round(size * self._unit))
        left, top, right, bottom = (round(v) for v in letters.getbbox(words, anchor="ls"))
        mask = Image.new("L", (right - left + 4, bottom - top + 4))
        ImageDraw.Draw(mask).text((2 - left, 2 - top), words, 255, letters, "ls")
        turned = mask.transpose(Image.Transpose.ROTATE_90)
        x, y = self._px([at])[0]
        place = (round(x - turned.width / 2), round(y - turned.height / 2))
        self._picture.paste(
            ink, (*place, place[0] + turned.width, place[1] + turned.height), turned
        )

    def paragraph(
        self,
        at: Point,
        words: str,
        width: float,
        size: float = 3.8,
        face: str = "label",
        ink: str = INK,
        leading: float = 1.32,
    ) -> float:
        """Set words in lines of a width; return the height of the next base line [mm]."""
        x, y = at
        for line in self.lines(words, width, size, face):
            self.text((x, y), line, size, face, ink)
            y += size * leading
        return y

    def lines(self, words: str, width: float, size: float, face: str = "label") -> list[str]:
        """Break words into lines of a width [mm]."""
        lines: list[str] = []
        for word in words.split():
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self.width_of(longer, size, face) <= width:
                lines[-1] = longer
            else:
                lines.append(word)
        return lines

    def fitted(self, words: str, width: float, size: float, face: str = "label") -> str:
        """Return words, cut with an ellipsis where they are wider than the room for them."""
        if self.width_of(words, size, face) <= width:
            return words
        while words and self.width_of(words + "…", size, face) > width:
            words = words[:-1]
        return words.rstrip(" ,") + "…"


def dashes(points: Sequence[Point], pattern: Sequence[float]) -> Iterator[tuple[Point, Point]]:
    """Cut a line through points into dashes: pattern is dash, gap, dash, gap … [mm]."""
    step, left, on = 0, pattern[0], True
    for (x0, y0), (x1, y1) in pairwise(points):
        length = hypot(x1 - x0, y1 - y0)
        done = 0.0
        while done < length:
            run = min(left, length - done)
            if on:
                a, b = done / length, (done + run) / length
                yield (
                    (x0 + (x1 - x0) * a, y0 + (y1 - y0) * a),
                    (x0 + (x1 - x0) * b, y0 + (y1 - y0) * b),
                )
            done, left = done + run, left - run
            if left <= 1e-9:
                step, on = (step + 1) % len(pattern), not on
                left = pattern[step]


def hatching(shape: Sequence[Point], gap: float, angle_deg: float) -> Iterator[tuple[Point, Point]]:
    """Yield parallel lines across a shape, inside it only."""
    angle = angle_deg * pi / 180
    c, s = cos(angle), sin(angle)
    turned = [(x * c + y * s, y * c - x * s) for x, y in shape]
    heights = [v for _, v in turned]
    level = (int(min(heights) / gap) + 1) * gap
    while level < max(heights):
        crossings = []
        for (u0, v0), (u1, v1) in zip(turned, turned[1:] + turned[:1], strict=True):
            if (v0 <= level) != (v1 <= level):
                crossings.append(u0 + (u1 - u0) * (level - v0) / (v1 - v0))
        crossings.sort()
        for a, b in zip(crossings[::2], crossings[1::2], strict=False):
            yield (a * c - level * s, a * s + level * c), (b * c - level * s, b * s + level * c)
        level += gap
