"""What moves the worst night: bars from the night as it is, colder to the left."""

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill
from criteria.drawing.year_moves import draw_moves
from criteria.findings import Amount, Step
from criteria.hourly.sensitivity import Moved, Moves
from criteria.hourly.worst import Span
from criteria.units import RESISTANCE
from tests.criteria.drawing.seen import FIELDS, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

SHUTTER = Step("± {}", (Amount(0.25, RESISTANCE),))
INPUTS = (
    Moved("Thickness of Wood fibre between studs and battens outside, wall", Step("± 20 %"), -2, 1),
    Moved("Night shutters", SHUTTER, None, 0.5),
)


def moves(*inputs):
    return Moves(night=Span(22, 9), night_k=270.0, is_settled=True, inputs=inputs)


def drawn(of=None, field=None):
    drawing = draw_moves(moves(*INPUTS) if of is None else of, field or Field())
    keeps_the_rules(drawing)
    return drawing


def bars(drawing):
    paths = [m for m in drawing.marks if isinstance(m, Path) and m.is_closed]
    return [(m.fill, *(f(x for x, _ in m.points) for f in (min, max))) for m in paths]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_it_keeps_the_rules_in_each_width_and_system(field):
    drawing = drawn(field=field)
    assert drawing.height_mm <= 60
    assert any("shutters" in each for each in words(drawing))


def test_bars_are_as_long_as_the_night_is_moved_and_colder_lies_left():
    (less, a, b), (more, c, d), (only, e, f) = bars(drawn())
    assert [less, more, only] == [Fill.PAPER, Fill.INK, Fill.INK]
    assert b == c == e
    assert (b - a) == pytest.approx(2 * (d - c)) == pytest.approx(4 * (f - e))
    assert {"−2.0 °C", "+1.0 °C", "+0.5 °C"} <= words(drawn())


def test_the_table_has_the_night_under_each_step():
    table = {figure.what: figure for figure in drawn().figures}
    figure = table["Night shutters, ± 0.250 m²K/W, a step more"]
    assert figure.amount.si == 270.5
    assert figure.lettered == "+0.5 °C"
    assert "Night shutters, ± 0.250 m²K/W, a step less" not in table


def test_a_way_that_moves_nothing_has_no_sign():
    still = drawn(moves(Moved("People, O1", Step("± 1"), 0.0, 1.0)))
    assert {"0.0 °C", "+1.0 °C"} <= words(still)


def test_a_night_that_nothing_moves_has_no_bars():
    drawing = drawn(moves(Moved("Leaks", Step("± 20 %"), 0.0, None)))
    assert not bars(drawing)
    assert "moved most" not in drawing.says
