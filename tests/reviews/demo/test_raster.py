"""A drawing as pixels: at its scale, in the tones and pens that the page draws it with."""

import re
from pathlib import Path as FilePath

import numpy as np
import pytest

import reviews
from criteria.drawing.drawing import Drawing
from criteria.drawing.marks import Disc, Lettering, Patches, Path, Ribbon, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from reviews.demo.raster import FILLS, PAPER, TONES, as_picture, dashed, px_of

CSS = FilePath(reviews.__file__).parent / "static" / "reviews" / "css"


def drawing(*marks) -> Drawing:
    return Drawing(title="A", says="", width_mm=120.0, height_mm=60.0, marks=marks)


def bounds(picture, colour: str, by: int = 12):
    """The box of all pixels of a colour, in mm of paper."""
    wanted = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    is_near = (np.abs(np.asarray(picture).astype(int) - wanted) <= by).all(axis=2)
    ys, xs = np.nonzero(is_near)
    return [each / px_of(1.0) for each in (xs.min(), ys.min(), xs.max() + 1, ys.max() + 1)]


def test_a_bar_of_100_mm_is_100_mm_long():
    bar = Path(points=rectangle((10, 20, 110, 24)), pen=None, fill=Fill.INK, is_closed=True)
    picture = as_picture(drawing(bar))
    assert picture.size == (round(px_of(120)), round(px_of(60)))
    assert bounds(picture, TONES[Tone.INK]) == pytest.approx([10, 20, 110, 24], abs=0.2)


def test_each_mark_lies_where_the_drawing_has_it():
    marks = (
        Ribbon(points=((20, 30), (60, 30)), width_mm=8),
        Disc(middle=(90, 30), radius_mm=10, pen=Pen.CUT, tone=Tone.SHORT),
        Strokes(segments=(((10, 50), (110, 50)),), pen=Pen.CUT, tone=Tone.MEETS),
        Patches(boxes=((62, 5, 70, 8), (70, 8, 80, 10)), fill=Fill.INK, tone=Tone.CLAIM),
        Lettering(words="H", at=(20, 20), cap_mm=7.0, tone=Tone.NEAR, is_strong=True),
    )
    picture = as_picture(drawing(*marks))
    assert bounds(picture, TONES[Tone.SHORT]) == pytest.approx([80, 20, 100, 40], abs=0.4)
    assert bounds(picture, TONES[Tone.MEETS]) == pytest.approx([10, 49.65, 110, 50.35], abs=0.3)
    assert bounds(picture, TONES[Tone.GRAPHITE]) == pytest.approx([16, 26, 64, 34], abs=0.3)
    assert bounds(picture, TONES[Tone.CLAIM]) == pytest.approx([62, 5, 80, 10], abs=0.3)
    _, top, _, foot = bounds(picture, TONES[Tone.NEAR])
    assert (top, foot) == pytest.approx((13.0, 20.0), abs=0.5)


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_turned_words_read_upwards_where_their_box_is(anchor):
    letters = Lettering(
        words="HIH", at=(60, 30), anchor=anchor, cap_mm=5.0, tone=Tone.NEAR, is_turned=True
    )
    left, top, right, foot = bounds(as_picture(drawing(letters)), TONES[Tone.NEAR])
    box = letters.box
    assert (left, right) == pytest.approx((box[0], 60.0), abs=0.5)
    assert box[1] - 0.3 <= top < foot <= box[3] + 0.3


def test_dashes_are_as_long_as_their_pen_says_and_follow_corners():
    parts = list(dashed([(0, 0), (10, 0), (10, 10)], Pen.ASSUMED.dashes_mm))
    drawn = sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in parts)
    assert parts[0] == ((0, 0), (2.0, 0.0))
    assert drawn == pytest.approx(6 * 2.0 + 1.4)


def test_tones_and_fills_are_those_of_the_page():
    tokens = dict(
        re.findall(r"--([\w-]+): (#\w+);", (CSS / "tokens.css").read_text().split("}")[0])
    )
    drawn = (CSS / "drawn.css").read_text()
    for tone in Tone:
        (name,) = re.findall(rf"\.tone-{tone} {{\s+color: var\(--([\w-]+)\)", drawn)
        assert tokens[name] == TONES[tone]
    for fill in set(Fill) - {Fill.NONE, Fill.INK}:
        (name,) = re.findall(rf"\.fill-{fill} {{\s+fill: var\(--(\w+)\)", drawn)
        assert tokens[name] == FILLS[fill]
    assert tokens["sheet"] == PAPER
    for pen in Pen:
        (width,) = re.findall(rf"\.pen-{pen.name.lower()} {{\s+stroke-width: ([\d.]+)", drawn)
        assert float(width) == pen.width_mm


def test_the_same_drawing_gives_the_same_pixels():
    disc = Disc(middle=(50, 30), radius_mm=20, fill=Fill.TRACE)
    assert as_picture(drawing(disc)).tobytes() == as_picture(drawing(disc)).tobytes()
