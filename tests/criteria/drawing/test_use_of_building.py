"""States and people cases, drawn: what differs in each, and how many people when."""

import pytest

from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen
from tests.criteria.drawing.seen import boxes, touched, touches, words
from tests.criteria.drawing.test_site_sheet import rows_seen

STATES = [
    {"state": "packed", "kind": "lift", "people": "0"},
    {"state": "supper", "kind": "other"},
    {"state": "odd", "kind": ""},
]
LEG = [{"mark": "G1", "x_m": "1", "y_m": "1"}]
UP = [{"mark": "G1", "state": "packed", "down": "no"}]
CASES = [
    {"case": "full", "people": "12", "sleepers": "10", "days": "80", "from": "Nov", "to": "Feb",
     "stay": "2"},
    {"case": "few", "people": "3", "held": "no"},
    {"case": "unsaid"},
]  # fmt: skip


def test_each_state_says_its_kind_its_people_and_what_differs():
    for drawing in rows_seen("states", states=STATES, legs=LEG, legs_by_state=UP):
        assert [*touches(drawing)] == ["packed", "supper", "odd", "day", "night"]
        said = {m.words for m in touched(drawing, "packed") if hasattr(m, "words")}
        assert said == {"packed", "under a hook", "0 people", "1 row differs"}
        assert [gap.says for gap in drawing.gaps] == ["odd: kind not given"]
    many = [{"state": f"s{n}", "kind": "day"} for n in range(40)]
    assert "s39" in rows_seen("states", states=many)[0].key
    assert rows_seen("states", states=[]) == []


def test_a_case_is_a_band_over_its_months_as_thick_as_its_people():
    drawing = rows_seen("cases", cases=CASES)[0]
    full = boxes(touched(drawing, "full"), fill=Fill.TRACE)
    few = boxes(touched(drawing, "few"), fill=Fill.PAPER)
    assert (len(full), len(few)) == (4, 12)  # over the new year
    thick = [band[3] - band[1] for band in (full[0], few[0])]
    assert thick[0] / thick[1] == pytest.approx(12 / 3)
    assert boxes(touched(drawing, "unsaid")) == []


def test_what_is_said_of_a_case_stands_beside_it_and_what_isnt_is_named():
    for drawing in rows_seen("cases", cases=CASES):
        assert [gap.says for gap in drawing.gaps] == ["unsaid: people not given"]
        assert "12 people" in words(drawing)
    assert "full, 12 people, 10 asleep, 80 days a year, 2 at once" in drawing.says
    assert "few, 3 people, shown alone" in drawing.says
    lost = rows_seen("cases", cases=[{**CASES[0], "from": "Foo"}])[0]
    assert [m for m in lost.flat if isinstance(m, Path) and m.pen is Pen.FINE] == []
    many = [{"case": f"c{n}", "people": "2"} for n in range(20)]
    assert rows_seen("cases", cases=many)[0].key[-1] == "c19"
    assert rows_seen("cases", cases=[]) == []
