"""A drawing as pixels, for the demo's hung sheets: tones, fills and pens as css/drawn.css has them.

Everything is drawn larger and reduced once, which smooths slanted lines and lettering.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import floor, hypot
from pathlib import Path as FilePath

from PIL import Image, ImageDraw, ImageFont

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import type_mm
from criteria.drawing.marks import (
    Disc,
    Flat,
    Lettering,
    Patches,
    Path,
    Point,
    Ribbon,
    Strokes,
    flat,
    rectangle,
)
from criteria.drawing.pens import Fill, Pen, Tone

DPI, MM_PER_INCH = 150, 25.4
OVER = 2
HALO_MM, EDGE_MM = 0.45, 0.18
"""What is kept free about letters, and the edge of a ribbon [mm]."""

PAPER, TRACE = "#FBFAF3", "#F3EBCB"
TONES = {
    Tone.INK: "#1B2421",
    Tone.GRAPHITE: "#4C5753",
    Tone.SHORT: "#A3271A",
    Tone.MEETS: "#2A5E38",
    Tone.NEAR: "#7A5200",
    Tone.CLAIM: "#633A78",
    Tone.ON_LIT: "#1B2421",
    Tone.SHADE: "#4C5753",
}
FILLS = {
    Fill.PAPER: PAPER,
    Fill.CUT: TONES[Tone.INK],
    Fill.GLASS: "#D9E6E2",
    Fill.TRACE: TRACE,
    Fill.LIT: PAPER,
}

_FONTS = FilePath(__file__).parents[1] / "static" / "reviews" / "fonts"
PLAIN, STRONG = "BarlowSemiCondensed-Regular.woff2", "BarlowSemiCondensed-SemiBold.woff2"
ANCHORS = {"start": "ls", "middle": "ms", "end": "rs"}


def px_of(paper_mm: float) -> float:
    """Return how many pixels of the finished picture a length on paper takes [px]."""
    return paper_mm / MM_PER_INCH * DPI


def as_picture(drawing: Drawing) -> Image.Image:
    """Draw a drawing. The same drawing gives the same pixels."""
    size = (round(px_of(drawing.width_mm)), round(px_of(drawing.height_mm)))
    picture = Image.new("RGB", (size[0] * OVER, size[1] * OVER), PAPER)
    raster = _Raster(ImageDraw.Draw(picture))
    for mark in flat(drawing.marks):
        raster.draw(mark)
    return picture.reduce(OVER)


@lru_cache(maxsize=64)
def _font(name: str, size_px: int) -> ImageFont.FreeTypeFont:
    engine = ImageFont.Layout.BASIC
    return ImageFont.truetype(_FONTS / name, size_px, layout_engine=engine)


class _Raster:
    def __init__(self, draw: ImageDraw.ImageDraw) -> None:
        self._draw = draw
        self._unit = px_of(1.0) * OVER

    def draw(self, mark: Flat) -> None:
        """Draw a mark over what is drawn."""
        match mark:
            case Path():
                self._path(mark)
            case Strokes():
                for segment in mark.segments:
                    self._line(segment, mark.pen, TONES[mark.tone])
            case Patches():
                for box in mark.boxes:
                    self._path(
                        Path(points=rectangle(box), pen=None, fill=mark.fill, tone=mark.tone)
                    )
            case Disc():
                self._disc(mark)
            case Ribbon():
                self._ribbon(mark)
            case Lettering():
                self._letter(mark)

    def _px(self, points: Sequence[Point]) -> list[Point]:
        return [(x * self._unit, y * self._unit) for x, y in points]

    def _wide(self, mm: float) -> int:
        return max(1, round(mm * self._unit))

    def _path(self, path: Path) -> None:
        if inside := _inside(path.fill, path.tone):
            self._draw.polygon(self._px(path.points), fill=inside)
        if path.pen:
            again = path.points[: 1 if path.pen.dashes_mm else 2] if path.is_closed else ()
            self._line((*path.points, *again), path.pen, TONES[path.tone])

    def _line(self, points: Sequence[Point], pen: Pen, colour: str) -> None:
        wide = self._wide(pen.width_mm)
        for part in dashed(points, pen.dashes_mm) if pen.dashes_mm else (points,):
            joint = "curve" if len(part) > 2 and wide > 2 else None
            self._draw.line(self._px(part), colour, wide, joint)

    def _disc(self, disc: Disc) -> None:
        (x, y), r = self._px([disc.middle])[0], disc.radius_mm * self._unit
        box = (x - r, y - r, x + r, y + r)
        inside = _inside(disc.fill, disc.tone)
        self._draw.ellipse(box, inside, TONES[disc.tone], self._wide(disc.pen.width_mm))

    def _ribbon(self, ribbon: Ribbon) -> None:
        for colour, mm in (
            (TONES[Tone.GRAPHITE], ribbon.width_mm),
            (TRACE, max(0.0, ribbon.width_mm - 2 * EDGE_MM)),
        ):
            points, r = self._px(ribbon.points), mm / 2 * self._unit
            self._draw.line(points, colour, self._wide(mm), "curve")
            for x, y in (points[0], points[-1]):
                self._draw.ellipse((x - r, y - r, x + r, y + r), colour)

    def _letter(self, lettering: Lettering) -> None:
        face = STRONG if lettering.is_strong else PLAIN
        font = _font(face, round(type_mm(lettering.cap_mm) * self._unit))
        halo = self._wide(HALO_MM)
        for colour, stroke in ((PAPER, halo), (TONES[lettering.tone], 0)):
            self._stamp(lettering, font, colour, stroke)

    def _stamp(
        self, lettering: Lettering, font: ImageFont.FreeTypeFont, colour: str, stroke: int
    ) -> None:
        (at,) = self._px([lettering.at])
        words, anchor = lettering.words, ANCHORS[lettering.anchor]
        if not lettering.is_turned:
            self._draw.text(
                at, words, colour, font, anchor, stroke_width=stroke, stroke_fill=colour
            )
            return
        box = (floor(each) for each in font.getbbox(words, anchor=anchor, stroke_width=stroke))
        left, top, right, bottom = box
        mask = Image.new("L", (right - left + 2, bottom - top + 2))
        ImageDraw.Draw(mask).text(
            (-left, -top), words, 255, font, anchor, stroke_width=stroke, stroke_fill=255
        )
        turned = mask.transpose(Image.Transpose.ROTATE_90)
        place = round(at[0] + top), round(at[1] - right - 2)
        self._draw.bitmap(place, turned, colour)


def _inside(fill: Fill, tone: Tone) -> str | None:
    return TONES[tone] if fill is Fill.INK else FILLS.get(fill)


def dashed(points: Sequence[Point], dashes_mm: Sequence[float]) -> Iterator[tuple[Point, Point]]:
    """Cut a line through points into dashes, drawn and left out in turn [mm]."""
    step, left, on = 0, dashes_mm[0], True
    for one, other in pairwise(points):
        length = hypot(other[0] - one[0], other[1] - one[1])
        done = 0.0
        while done < length - 1e-9:
            run = min(left, length - done)
            if on:
                yield _along(one, other, done / length), _along(one, other, (done + run) / length)
            done, left = done + run, left - run
            if left <= 1e-9:
                step, on = (step + 1) % len(dashes_mm), not on
                left = dashes_mm[step]


def _along(one: Point, other: Point, share: float) -> Point:
    return one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share
