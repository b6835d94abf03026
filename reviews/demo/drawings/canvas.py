"""A sheet of paper to draw on, in millimetres of paper, with pens, lettering and hatching.

Everything is drawn at twice the size and reduced once, which smooths slanted lines and lettering.
"""

from collections.abc import Callable, Iterator, Sequence
from copy import copy
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
INKS = {
    "paper": PAPER,
    "trace": "#F3EBCB",
    "glass": "#EAEFE7",
    "ink": "#1B2421",
    "graphite": "#4C5753",
    "fine": "#7B877F",
    "pale": "#B9C0B8",
    "shade": "#D9DED5",
    "redline": "#A3271A",
    "petrol": "#1D5060",
    "spruce": "#2A5E38",
    "ochre": "#7A5200",
}
PENS_MM = {
    "road": 2.4,
    "way": 2.0,
    "cut": 0.6,
    "bold": 0.42,
    "line": 0.28,
    "thin": 0.2,
    "hair": 0.14,
}

Point = tuple[float, float]
Spot = tuple[float, ...]
"""A point as a view reads it: two or three lengths."""
Hatch = tuple[float, float, str]
"""Gap [mm], angle [°] and ink."""

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


def quad(x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    """Return the corners of an upright rectangle."""
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


class Canvas:
    """One sheet; points are millimetres of paper from the upper left corner, or as a view has them.

    Pens and inks go by name; widths, sizes and offsets are millimetres of paper in every view.
    """

    def __init__(self) -> None:
        self._picture = Image.new("RGB", (WIDTH_PX * OVER, HEIGHT_PX * OVER), PAPER)
        self._draw = ImageDraw.Draw(self._picture)
        self._unit = px_of(1.0) * OVER
        self.at: Callable[..., Point] = lambda x, y: (x, y)
        self.per_unit = 1.0

    def seen(self, at: Callable[..., Point], per_unit: float = 1.0) -> "Canvas":
        """Return the same sheet as a view: where on paper its points lie, how long its lengths."""
        view = copy(self)
        view.at, view.per_unit = at, per_unit
        return view

    def mm(self, length: float) -> float:
        """Return how long a length of the view is on paper [mm]."""
        return length * self.per_unit

    @property
    def paper(self) -> "Canvas":
        """The sheet itself, of any view of it."""
        return self.seen(lambda x, y: (x, y))

    def finished(self) -> Image.Image:
        """Return the picture at its true size."""
        return self._picture.reduce(OVER)

    def _on_paper(self, spots: Sequence[Spot]) -> list[Point]:
        return [self.at(*spot) for spot in spots]

    def _px(self, points: Sequence[Point]) -> list[Point]:
        return [(x * self._unit, y * self._unit) for x, y in points]

    def _pen(self, pen: str) -> int:
        return max(2, round(PENS_MM[pen] * self._unit))

    def line(
        self, spots: Sequence[Spot], pen: str = "line", ink: str = "ink", dash: Sequence[float] = ()
    ) -> None:
        """Draw a line through points, dashed where dashes and gaps are given [mm]."""
        points = self._on_paper(spots)
        for part in dashes(points, dash) if dash else (points,):
            joint = "curve" if pen != "hair" and not dash else None
            self._draw.line(self._px(part), INKS[ink], self._pen(pen), joint)

    def shape(
        self,
        spots: Sequence[Spot],
        pen: str = "line",
        ink: str = "ink",
        fill: str | None = "paper",
        dash: Sequence[float] = (),
        hatch: Hatch | None = None,
    ) -> None:
        """Draw a closed shape, hatched where a hatch is given."""
        if fill:
            self.wipe(spots, fill)
        if hatch:
            self.hatch(spots, *hatch)
        self.line([*spots, *spots[: 1 if dash else 2]], pen, ink, dash)

    def wipe(self, spots: Sequence[Spot], fill: str = "paper") -> None:
        """Fill a shape without a line round it."""
        self._draw.polygon(self._px(self._on_paper(spots)), fill=INKS[fill])

    def box(
        self,
        x0: float,
        y0: float,
        x1: float,
        y1: float,
        pen: str = "line",
        ink: str = "ink",
        fill: str | None = "paper",
        hatch: Hatch | None = None,
    ) -> None:
        """Draw an upright rectangle."""
        self.shape(quad(x0, y0, x1, y1), pen, ink, fill, hatch=hatch)

    def circle(
        self,
        centre: Spot,
        radius: float,
        pen: str = "line",
        ink: str = "ink",
        fill: str | None = "paper",
    ) -> None:
        """Draw a circle of a radius [mm]."""
        (x, y), r = self._px([self.at(*centre)])[0], radius * self._unit
        inside = INKS[fill] if fill else None
        self._draw.ellipse((x - r, y - r, x + r, y + r), inside, INKS[ink], self._pen(pen))

    def arc(self, centre: Spot, radius: float, start_deg: float, end_deg: float) -> None:
        """Draw part of a circle thinly, clockwise from the right as the paper lies."""
        (x, y), r = self._px([self.at(*centre)])[0], radius * self._unit
        box, ink = (x - r, y - r, x + r, y + r), INKS["graphite"]
        self._draw.arc(box, start_deg, end_deg, ink, self._pen("thin"))

    def hatch(
        self, spots: Sequence[Spot], gap: float, angle_deg: float = 45, ink: str = "ochre"
    ) -> None:
        """Fill a shape with parallel lines."""
        for part in hatching(self._on_paper(spots), gap, angle_deg):
            self._draw.line(self._px(part), INKS[ink], self._pen("hair"))

    def dots(self, spots: Sequence[Spot], gap: float, ink: str = "graphite") -> None:
        """Fill a shape with a staggered field of dots: snow, gravel."""
        for row, (a, b) in enumerate(hatching(self._on_paper(spots), gap * 0.6, 0)):
            start = (int(min(a[0], b[0]) / gap) + 1) * gap + (gap / 2 if row % 2 else 0)
            while start < max(a[0], b[0]):
                self.paper.circle((start, a[1]), 0.14, "hair", ink, ink)
                start += gap

    def width_of(self, words: str, size: float, face: str = "label") -> float:
        """Return how wide lettering is [mm]."""
        return font(face, round(size * self._unit)).getlength(words) / self._unit

    def text(
        self,
        at: Spot,
        words: str,
        size: float = 3.8,
        face: str = "label",
        ink: str = "ink",
        anchor: str = "ls",
        halo: bool = False,
        off: Point = (0.0, 0.0),
    ) -> None:
        """Letter words; the anchor is Pillow's (l, m, r and a, m, s); size is the em [mm].

        off    how far from the point they stand on paper [mm]
        """
        letters = font(face, round(size * self._unit))
        (x, y) = self.at(*at)
        place = self._px([(x + off[0], y + off[1])])[0]
        if halo:
            self._draw.text(place, words, PAPER, letters, anchor, stroke_width=7, stroke_fill=PAPER)
        self._draw.text(place, words, INKS[ink], letters, anchor)

    def upright_text(
        self, at: Spot, words: str, size: float, ink: str = "ink", off: Point = (0.0, 0.0)
    ) -> None:
        """Letter words that read upwards, centred on a point."""
        letters = font("label", round(size * self._unit))
        left, top, right, bottom = (round(v) for v in letters.getbbox(words, anchor="ls"))
        mask = Image.new("L", (right - left + 4, bottom - top + 4))
        ImageDraw.Draw(mask).text((2 - left, 2 - top), words, 255, letters, "ls")
        turned = mask.transpose(Image.Transpose.ROTATE_90)
        (x, y) = self.at(*at)
        (x, y) = self._px([(x + off[0], y + off[1])])[0]
        place = (round(x - turned.width / 2), round(y - turned.height / 2))
        corners = (*place, place[0] + turned.width, place[1] + turned.height)
        self._picture.paste(INKS[ink], corners, turned)

    def paragraph(
        self,
        at: Point,
        words: str,
        width: float,
        size: float,
        face: str = "label",
        ink: str = "ink",
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
