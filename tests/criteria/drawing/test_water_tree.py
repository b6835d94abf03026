"""Uses of water, drawn: bands as wide as what they carry, from the tap by each use to its tank."""

import itertools

import pytest

from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen
from tests.criteria.drawing.seen import (
    FIELDS,
    boxes,
    drawn,
    in_each_field,
    seen_of,
    touched,
    touches,
    words,
)
from tests.criteria.drawing.test_plan_walked import per_mm_of

NARROW = FIELDS[2]
FIXTURES = [
    {"mark": "F1", "use": "Wash hands", "uses_a_day": "5", "l_each": "0.5", "goes_to": "grey"},
    {"mark": "F2", "use": "Cook and drink", "uses_a_day": "1", "l_each": "4", "goes_to": "nowhere"},
    {"mark": "F3", "use": "Shower", "uses_a_day": "0.5", "flow": "6", "minutes": "2"},
    {"mark": "F4", "use": "Flush", "uses_a_day": "4", "l_each": "0.2", "goes_to": "black"},
]
FIXTURES[2]["goes_to"] = "grey"
ASKED = (("fixture_use", "at most", "12"), ("grey_made", "at most", "9"))


def tables(rows=FIXTURES, **site):
    return {"fixtures": rows, "site": [{"water_l_pd": "12", "people": "4", **site}]}


def tree(check="fixture_use", rows=FIXTURES, field=None, **site):
    return drawn(tables(rows, **site), check, *ASKED, field=field)


def bands(drawing, mark):
    """How wide the bands of a use are, where they begin and where they end."""
    paths = [m for m in touched(drawing, mark) if isinstance(m, Path)]
    return [
        (p.points[3][1] - p.points[0][1], p.points[2][1] - p.points[1][1], p.fill) for p in paths
    ]


@pytest.mark.parametrize("check", ["fixture_use", "fixture_share", "grey_made"])
def test_letters_keep_their_height_and_their_distance(check):
    in_each_field(tables(), check, *ASKED)


@pytest.mark.parametrize("each", ["1000", "0", "0.01"])
def test_two_hundred_uses_stay_on_a_sheet_and_the_smaller_are_named(each):
    ends = ("grey", "black", "urine", "nowhere", "")
    rows = [
        {"mark": f"F{n}", "use": "Use", "uses_a_day": "50", "l_each": each, "goes_to": ends[n % 5]}
        for n in range(200)
    ]
    for drawing in in_each_field(tables(rows), "fixture_use", *ASKED):
        assert drawing.key[0].count("F") == 186


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_bands_are_as_wide_as_what_they_carry(field):
    """By hand: 5 × 0.5, 1 × 4, 0.5 × 6 × 2 and 4 × 0.2 litres of one person in a day."""
    drawing = tree(field=field)
    per = per_mm_of(drawing.scale)[0]
    litres = 3.785411784 if "gal" in drawing.scale else 1
    for mark, used in (("F1", 2.5), ("F2", 4), ("F3", 6), ("F4", 0.8)):
        come, go = bands(drawing, mark)
        assert come[:2] == pytest.approx([used / litres / per] * 2)
        assert go[:2] == pytest.approx([used / litres / per] * 2)
        assert (come[2], go[2]) == (Fill.GLASS, Fill.TRACE)
    bars = boxes(drawing.marks, pen=Pen.SEEN)
    tall = [(foot - top) * per * litres for _, top, _, foot in bars[:4]]
    assert tall == pytest.approx([13.3, 8.5, 0.8, 4])


def test_bands_lie_beside_each_other_at_the_tap_and_where_they_end():
    drawing = tree()
    tap = boxes(drawing.marks, pen=Pen.SEEN, fill=Fill.GLASS)[0]
    order = ["F3", "F1", "F4", "F2"]
    assert list(touches(drawing)) == order
    come = [touched(drawing, mark)[0].points for mark in order]
    assert come[0][0] == (tap[2], pytest.approx(tap[1]))
    for one, other in itertools.pairwise(come):
        assert one[3][1] == pytest.approx(other[0][1])
    assert come[-1][3][1] == pytest.approx(tap[3])
    grey = boxes(drawing.marks, fill=Fill.TRACE, pen=Pen.SEEN)[0]
    shower, hands = (touched(drawing, mark)[1].points for mark in ("F3", "F1"))
    assert shower[1] == (grey[0], pytest.approx(grey[1]))
    assert hands[1][1] == pytest.approx(shower[2][1])
    assert hands[2][1] == pytest.approx(grey[3])


def test_where_grey_water_is_asked_its_end_is_drawn_heavy():
    assert len(boxes(tree("grey_made").marks, pen=Pen.CUT)) == 1
    assert boxes(tree().marks, pen=Pen.CUT) == []


def test_what_all_uses_take_is_held_beside_the_brief():
    drawing = tree()
    assert {"13.30 L/day, at most 12.00, 1.30 over", "12.00 L/day"} <= words(drawing)
    assert {"8.50 L/day", "grey", "nowhere"} <= words(drawing)
    assert "13.30 L/day, 1.30 over" in words(tree(field=NARROW))
    assert "by the brief" not in words(tree(water_l_pd=""))
    assert {"8.50", "6.00"} <= words(tree(field=NARROW))


def test_what_isnt_given_is_left_out_and_named():
    rows = [
        {**FIXTURES[0], "goes_to": ""},
        FIXTURES[1],
        {"mark": "F5", "use": "Wash up", "uses_a_day": "2", "goes_to": "nowhere"},
    ]
    drawing = tree(rows=rows)
    assert [gap.says for gap in drawing.gaps] == [
        "F1: where it goes isn't given",
        "F5, Flow (water uses): not given",
    ]
    assert [gap.column for gap in drawing.gaps] == ["goes_to", "flow"]
    assert len(bands(drawing, "F1")) == 1
    assert "F5" not in touches(drawing)
    assert "4.00 L/day" in words(drawing)
    assert "by your fixtures" not in words(drawing)
    nowhere = [f for f in drawing.figures if f.what == "To nowhere"]
    assert nowhere == []  # what F5 adds to it isn't known
    assert tree(rows=[]) is None
    assert tree(rows=[{**FIXTURES[0], "mark": ""}]) is None
    assert boxes(tree(rows=rows, water_l_pd="").marks, pen=Pen.SEEN, fill=Fill.PAPER) == []


def test_each_lettered_figure_is_the_findings():
    seen = seen_of(tables(), "fixture_use", *ASKED)
    steps = [s for f in seen.findings.values() for m in f.worst_first for s in m.steps]
    known = {getattr(amount, "si", None) for step in steps for amount in step.amounts}
    known |= {0.012, 0.0008, 0.004}  # the brief's; and what goes to black and nowhere
    drawing = tree()
    for figure in drawing.figures:
        assert any(k is not None and abs(figure.amount.si - k) < 1e-12 for k in known)
        assert not figure.lettered or figure.lettered in words(drawing)


def test_it_says_the_answer_first():
    assert tree().says == "Over. Largest use: Shower, 6.00 L/day."
    says = touches(tree())["F3"][0].says
    assert says == "F3 Shower, 6.00 L/day, goes to grey"
    unnamed = tree(rows=[{**FIXTURES[0], "use": ""}, FIXTURES[1]])
    assert unnamed is None or "F1" in words(unnamed)
