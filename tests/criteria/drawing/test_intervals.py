"""Differences on one scale: each lies where its figures say, and its line says what it tells."""

import pytest

from criteria.drawing.intervals import (
    CLOSE_MM,
    LINE_MM,
    SIDE_MM,
    WIDTH_MM,
    Interval,
    draw_interval,
    draw_intervals,
    draw_scale,
    reach,
)
from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Fill, Pen
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

PER_UNIT_MM = (WIDTH_MM / 2 - SIDE_MM) / 3
BUNK = Interval(value=1.91, low=1.01, high=2.78, is_apart=True)
ROOF = Interval(value=-0.51, low=-1.23, high=0.23, is_apart=False)


def _at(value):
    return pytest.approx(WIDTH_MM / 2 + value * PER_UNIT_MM)


def _drawn(interval, to=3):
    drawing = draw_interval(interval, to, "Furthest bunk", "+1.91")
    keeps_the_rules(drawing)
    return drawing


def test_what_is_told_apart_is_a_full_line_between_its_ends_about_a_lozenge():
    marks = _drawn(BUNK).marks
    (line,) = [m for m in marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert [x for x, _ in line.points] == [_at(1.01), _at(2.78)]
    (lozenge,) = [m for m in marks if isinstance(m, Path) and m.fill is Fill.INK]
    assert sum(x for x, _ in lozenge.points) / 4 == _at(1.91)


def test_what_is_not_told_apart_is_dashed_about_a_ring():
    marks = _drawn(ROOF).marks
    (ring,) = [m for m in marks if isinstance(m, Disc)]
    assert ring.middle == (_at(-0.51), LINE_MM / 2)
    assert not [m for m in marks if isinstance(m, Path) and m.pen is Pen.CUT]
    dashes = next(m for m in marks if isinstance(m, Strokes) and m.pen is Pen.FINE)
    assert len(dashes.segments) > 5
    assert dashes.segments[0][0][0] == _at(-1.23)
    assert dashes.segments[-1][1][0] <= WIDTH_MM / 2 + 0.23 * PER_UNIT_MM + 1e-9


def test_one_scale_holds_all_up_to_a_limit_and_what_lies_beyond_ends_in_an_arrow():
    far = Interval(value=6.0, low=-40.0, high=90.0, is_apart=False)
    assert reach([BUNK, ROOF]) == 3
    assert reach([BUNK, far]) == 4
    marks = _drawn(far, 4).marks
    assert not [m for m in marks if isinstance(m, Disc)], "the middle lies off the paper"
    ends = marks[-1]
    assert len(ends.segments) == 4
    assert all(0 <= x <= WIDTH_MM for line in ends.segments for x, _ in line)


def test_the_scale_letters_every_whole_unit_where_it_lies():
    scale = draw_scale(3, "Difference of means")
    keeps_the_rules(scale)
    assert [each.words for each in scale.letters] == ["−3", "−2", "−1", "0", "+1", "+2", "+3"]
    assert [each.at[0] for each in scale.letters] == [_at(n) for n in range(-3, 4)]


def test_several_stand_under_each_other_by_letter_and_a_gap_keeps_its_place():
    drawing = draw_intervals({"A": BUNK, "B": None, "C": ROOF}, 3, "Furthest bunk", "A +1.91")
    keeps_the_rules(drawing)
    assert [each.words for each in drawing.letters] == ["A", "B", "C"]
    assert drawing.height_mm == pytest.approx(3 * CLOSE_MM)
    (line,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert {y for _, y in line.points} == {CLOSE_MM / 2}
    (ring,) = [m for m in drawing.marks if isinstance(m, Disc)]
    assert ring.middle == (_at(-0.51), pytest.approx(2.5 * CLOSE_MM))
