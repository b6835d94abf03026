"""The door of a container, drawn: pieces as they best go in, and what stays outside."""

import pytest

from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, strokes, touched, words
from tests.criteria.drawing.test_pieces import piece

PIECES = [
    piece("M1", 1, 5.8, 2.2, 0.4, 500),
    piece("M2", 1, 2.4, 2.4, 2.4, 500),
    piece("M3", 1, 6.2, 1.0, 1.0, 500),
    piece("M4", 1, 2.2, 0.3, 2.5, 500),
]
TABLES = {"pieces": PIECES, "transport": [{"container": "20 ft"}]}
FITS = ("container_fit", "all", "yes")


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field(TABLES, FITS[0], FITS):
        assert "Short" in words(drawing)


def test_doors_and_pieces_are_as_large_as_they_are():
    """A door of 2.286 × 2.261 m, as ISO 1496-1 has it."""
    drawing = drawn(TABLES, FITS[0], FITS)
    assert drawing.scale == "1:100"
    marks = touched(drawing, "M1")
    ((left, top, right, foot),) = boxes(marks, pen=Pen.CUT)
    assert (right - left, foot - top) == pytest.approx((22.86, 22.61))
    ((left, top, right, foot),) = boxes(marks, fill=Fill.TRACE)
    assert sorted((right - left, foot - top)) == pytest.approx([4.0, 22.0])
    assert any("5.80 m deep" in each.words for each in drawing.letters)


def test_what_does_not_go_in_is_drawn_first_and_hatched_where_it_is_past_the_door():
    drawing = drawn(TABLES, FITS[0], FITS)
    names = [each for each in drawing.letters if each.is_strong and each.words[:1] == "M"]
    assert [each.words[:2] for each in names] == ["M2", "M3", "M1", "M4"]
    assert [each.tone is Tone.SHORT for each in names] == [True, True, False, False]
    assert len(strokes(touched(drawing, "M2"), tone=Tone.SHORT)) == 2
    # only its length is too much: it would go through the door, and its depth is red
    assert not strokes(touched(drawing, "M3"), tone=Tone.SHORT)
    assert next(m for m in drawing.letters if m.words == "6.20 m deep").tone is Tone.SHORT
    assert not strokes(touched(drawing, "M4"), tone=Tone.SHORT)


def test_without_sizes_or_container_nothing_is_drawn_and_many_are_named():
    assert drawn({"pieces": PIECES}, FITS[0]) is None
    assert drawn({"transport": [{"container": "20 ft"}]}, FITS[0]) is None
    bare = [{**PIECES[0], "w_m": "", "n": ""}, PIECES[1]]
    drawing = drawn({**TABLES, "pieces": bare}, FITS[0])
    assert [gap.says for gap in drawing.gaps] == ["M1: width not given"]
    many = [piece(f"M{n}", 1, 30, 30, 30, 1) for n in range(1, 40)]
    assert len(drawn({**TABLES, "pieces": many}, FITS[0]).key) == 39 - 16
