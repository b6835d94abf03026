"""Rain in the tank: a part for each case, a line for each way of raining, short days marked."""

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path, Strokes
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.year_tanks import draw_tanks, short_days
from tests.criteria.drawing.seen import FIELDS, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules
from tests.criteria.drawing.year_made import a_tank

FULL = a_tank("full house", short_days=12)
FIRST = a_tank("full house", rains="in the first ten days", short_days=30)
HALF = a_tank("half")
TANKS = (FULL, FIRST, HALF)


def drawn(*tanks, field=None):
    drawing = draw_tanks(tanks, field or Field())
    keeps_the_rules(drawing)
    return drawing


def lines(drawing):
    return [m for m in drawing.marks if isinstance(m, Path) and not m.is_closed]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_it_keeps_the_rules_in_each_width_and_system(field):
    assert drawn(*TANKS, field=field).height_mm <= 180


def test_each_case_has_its_part_and_each_way_of_raining_its_line():
    drawing = drawn(*TANKS)
    assert {"full house, L", "half, L"} <= words(drawing)
    assert [line.pen for line in lines(drawing)] == [Pen.SEEN, Pen.DATUM, Pen.SEEN]
    assert {len(line.points) for line in lines(drawing)} == {365}


def test_the_worst_case_answers():
    drawing = drawn(*TANKS)
    assert drawing.letters[0].words == "30 days short"
    assert drawing.letters[0].tone is Tone.SHORT
    assert "full house, rain in the first ten days" in drawing.says
    assert [short_days(tank) for tank in TANKS] == [12, 30, 0]
    assert drawn(a_tank(short_days=1)).letters[0].words == "1 day short"


def test_short_days_are_heavy_where_they_lie():
    drawing = drawn(FULL)
    (heavy,) = [m for m in drawing.marks if isinstance(m, Strokes) and m.tone is Tone.SHORT]
    (((left, _), (right, _)),) = heavy.segments
    points = lines(drawing)[0].points
    day_mm = points[1][0] - points[0][0]
    assert (left - points[200][0]) / day_mm == pytest.approx(-0.5)
    assert (right - left) / day_mm == pytest.approx(12)


def test_a_full_tank_reaches_the_top_and_an_empty_one_the_foot():
    drawing = drawn(FULL)
    (box,) = [m for m in drawing.marks if isinstance(m, Path) and m.is_closed]
    top, foot = box.points[0][1], box.points[2][1]
    heights = [y for _, y in lines(drawing)[0].points]
    assert max(heights) == pytest.approx(foot)
    assert heights[0] == pytest.approx(foot - 0.6 * (foot - top))


def test_a_tank_that_is_never_short_says_so():
    drawing = drawn(HALF)
    assert drawing.letters[0].words == "0 days short"
    assert drawing.letters[0].tone is Tone.INK
    table = {figure.what: figure.amount.si for figure in drawing.figures}
    assert table["Days short, half, rain every fourth day"] == 0
    assert not [what for what in table if what.startswith("Lacking")]


def test_the_table_says_how_much_lacks_and_from_when():
    table = {figure.what: figure.amount.si for figure in drawn(FULL).figures}
    lacks = table["Lacking, first on 20 Jul, full house, rain every fourth day"]
    assert lacks == pytest.approx(12 * 0.02)
