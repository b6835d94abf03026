"""Levels by juror: each dot at its level, initials that never meet, a wide line where asked."""

import pytest

from criteria.drawing.level_strips import (
    SIDE_MM,
    WIDTH_MM,
    Dot,
    Strip,
    draw_levels,
    draw_strip,
    level_x,
)
from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.test_plan_walked import keeps_the_rules


def _drawn(levels, *, is_wide=False, counts=True):
    dots = tuple(
        Dot(initials=name, level=level, counts=counts) for name, level in sorted(levels.items())
    )
    drawing = draw_strip(Strip(name="H12", says="2.3 apart", is_wide=is_wide, dots=dots))
    keeps_the_rules(drawing)
    return drawing


def _wide_lines(drawing):
    return [mark for mark in drawing.marks if isinstance(mark, Path) and mark.pen is Pen.CUT]


def test_dots_lie_at_their_levels_and_a_wide_strip_runs_between_the_outermost():
    drawing = _drawn({"CF": 1.0, "HQ": 3.0, "BL": 5.0}, is_wide=True)
    dots = {mark.middle[0] for mark in drawing.marks if isinstance(mark, Disc)}
    assert dots == {SIDE_MM, WIDTH_MM / 2, WIDTH_MM - SIDE_MM}
    (line,) = _wide_lines(drawing)
    assert [x for x, _ in line.points] == [level_x(1), level_x(5)]


def test_a_strip_that_asks_nothing_has_no_wide_line():
    assert _wide_lines(_drawn({"CF": 3.0, "HQ": 3.5})) == []
    assert _drawn({}).letters == ()
    assert _drawn({}).height_mm < 7 < _drawn({"CF": 3.0}).height_mm


def test_a_sheet_in_hand_is_an_open_dot_and_makes_no_strip_wide():
    drawing = _drawn({"BL": 3.8}, counts=False, is_wide=True)
    (dot,) = [mark for mark in drawing.marks if isinstance(mark, Disc)]
    assert dot.fill is Fill.PAPER
    assert [each.tone for each in drawing.letters] == [Tone.NEAR]
    assert _wide_lines(drawing) == []


def test_jurors_of_one_level_stand_over_and_under_each_other_and_who_finds_no_place_is_named():
    same = dict.fromkeys(("AA", "BB", "CC", "DD", "EE"), 3.0)
    drawing = _drawn(same)
    assert len({each.at[1] for each in drawing.letters}) == 4
    assert drawing.key == ("EE",)


def test_the_scale_has_a_level_mark_at_each_level():
    scale = draw_levels()
    keeps_the_rules(scale)
    tips = [mark.points[0][0] for mark in scale.marks if isinstance(mark, Path)]
    assert tips == [pytest.approx(level_x(n)) for n in range(1, 6)]
    assert [each.words for each in scale.letters] == list("12345")
