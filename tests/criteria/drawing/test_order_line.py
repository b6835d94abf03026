"""The order of arrival, drawn: numbers in a row, twice or none told apart."""

from criteria.drawing.marks import Path
from criteria.drawing.pens import Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touched, touches, words

ORDERS = ("2", "1", "2", "")
PIECES = [
    {"mark": f"M{n}", "piece": "Cassette of the roof", "order": order}
    for n, order in enumerate(ORDERS, 1)
]
ALL = ("order_numbers", "all", "yes")


def shape(drawing, mark):
    return next(m for m in touched(drawing, mark) if isinstance(m, Path))


def test_it_is_drawn_by_the_rules_in_each_width_and_system():
    for drawing in in_each_field({"pieces": PIECES}, ALL[0], ALL):
        assert [*touches(drawing)] == ["M2", "M1", "M3", "M4"]
        assert [gap.says for gap in drawing.gaps] == ["M4: order not given"]


def test_a_number_twice_is_red_and_none_is_dashed():
    drawing = drawn({"pieces": PIECES}, ALL[0], ALL)
    assert [shape(drawing, f"M{n}").tone for n in (1, 2, 3)] == [Tone.SHORT, Tone.INK, Tone.SHORT]
    assert shape(drawing, "M4").pen is Pen.ASSUMED
    assert "not given" in words(drawing)


def test_of_very_many_the_last_are_named_and_without_any_nothing_is_drawn():
    many = [{"mark": f"M{n}", "piece": "Panel", "order": str(n % 90 or "")} for n in range(1, 95)]
    drawing = drawn({"pieces": many}, ALL[0])
    assert drawing.key[-1] == "M90"
    assert any(gap.mark == "M90" for gap in drawing.gaps)
    assert drawn({}, ALL[0]) is None
