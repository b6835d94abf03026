"""Tanks, drawn: as wide as their litres, a line a day, and what is short as wide as it lacks."""

import pytest

from criteria.drawing.marks import Path, flat
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.tanks import TANKS
from tests.criteria.drawing.seen import (
    FIELDS,
    boxes,
    drawn,
    in_each_field,
    seen_of,
    strokes,
    touched,
    words,
)
from tests.criteria.drawing.test_plan_walked import per_mm_of

WIDE, NARROW = FIELDS[0], FIELDS[2]
STORES = [
    {"mark": "T1", "holds": "potable", "litres": "1600", "usable_share": "0.92"},
    {"mark": "T2", "holds": "grey", "litres": "600", "usable_share": "0.95"},
    {"mark": "T3", "holds": "urine", "litres": "180", "usable_share": "0.95"},
    {"mark": "T6", "holds": "urine", "litres": "90", "usable_share": "0.95"},
    {"mark": "T4", "holds": "solids", "litres": "110", "usable_share": "0.9", "stands": "heated"},
]
SITE = {
    "people": "13",
    "water_l_pd": "12",
    "grey_l_pd": "7",
    "urine_l_pd": "1.2",
    "solids_l_pd": "0.25",
    "supply_days": "14",
}
ASKED = (
    ("water_days", "at least", "10"),
    ("grey_days", "at least", "5"),
    ("urine_days", "at least", "14"),
)
CASES = [
    {"case": "full", "people": "13", "days": "60"},
    {"case": "weekday", "people": "5", "days": "75"},
    {"case": "feast", "people": "40", "days": "2", "held": "no"},
]


def tables(rows=STORES, cases=(), **site):
    return {"tanks": rows, "site": [{**SITE, **site}], "cases": list(cases)}


def tanks(check="water_days", rows=STORES, asked=ASKED, field=WIDE, cases=(), **site):
    return drawn(tables(rows, cases, **site), check, *asked, field=field)


def outline(drawing, mark):
    (box,) = boxes(touched(drawing, mark), fill=Fill.NONE)
    return box


def days(drawing, mark):
    """Heights of the lines of days in a tank."""
    lines = [m for m in touched(drawing, mark) if isinstance(m, Path) and m.tone is Tone.GRAPHITE]
    return [line.points[0][1] for line in lines]


def answer(drawing):
    return drawing.letters[0].words


def width(box):
    return box[2] - box[0]


def many(n):
    holds = ("potable", "grey", "black", "urine", "solids", "rain")
    rows = [
        {"mark": f"T{i}", "holds": holds[i % 6], "litres": f"{1 + i * 997}", "usable_share": "0.9"}
        for i in range(n)
    ]
    fixtures = [{"mark": "F1", "use": "flush", "uses_a_day": "5", "l_each": "4"}]
    return {**tables(rows, CASES), "fixtures": [{**fixtures[0], "goes_to": "black"}]}


@pytest.mark.parametrize("cases", [(), CASES], ids=["full house", "cases"])
@pytest.mark.parametrize("check", ["water_days", "tank_frost", "water_worst_day"])
def test_letters_keep_their_height_and_their_distance(check, cases):
    for drawing in in_each_field(tables(cases=cases), check, *ASKED):
        assert drawing.height_mm <= 160


@pytest.mark.parametrize("n", [6, 200])
@pytest.mark.parametrize("check", ["water_days", "tank_frost"])
def test_many_tanks_stay_on_a_sheet_and_the_rest_are_named(check, n):
    for drawing in in_each_field(many(n), check, *ASKED):
        assert "".join(drawing.key).count("T") == max(0, n - 24)


def test_tanks_are_as_wide_as_their_litres():
    drawing = tanks()
    assert drawing.scale == "1 mm = 25 L"
    assert "tanks as wide as their volume, 1 mm = 25 L" in words(drawing)
    for row in STORES:
        assert width(outline(drawing, row["mark"])) * 25 == pytest.approx(float(row["litres"]))
    tall = {outline(drawing, row["mark"])[3] - outline(drawing, row["mark"])[1] for row in STORES}
    assert len({round(each, 6) for each in tall}) == 1


def test_in_gallons_they_are_as_wide_as_their_gallons():
    drawing = tanks(field=FIELDS[1])
    per = per_mm_of(drawing.scale)[0]
    assert drawing.scale.endswith("gal")
    assert width(outline(drawing, "T1")) * per == pytest.approx(1600 / 3.785411784)


def test_what_cant_be_drawn_is_hatched_under_and_what_cant_be_filled_over():
    drawing = tanks()
    for mark, share, at_foot in (("T1", 0.92, True), ("T2", 0.95, False)):
        _, top, _, foot = outline(drawing, mark)
        (box,) = boxes(touched(drawing, mark), pen=None)
        assert box[3] - box[1] == pytest.approx(share * (foot - top))
        assert (box[1] == top, box[3] == foot) == (at_foot, not at_foot)
        assert strokes(touched(drawing, mark), pen=Pen.HATCH)


def test_a_line_a_day_divides_what_can_be_drawn():
    """1,600 × 0.92 ÷ (13 × 12) = 9.4359 days, by hand."""
    drawing = tanks()
    (box,) = boxes(touched(drawing, "T1"), pen=None)
    lines = days(drawing, "T1")
    day = (box[3] - box[1]) / 9.435897
    assert lines == pytest.approx([box[1] + n * day for n in range(1, 10)])
    (grey,) = boxes(touched(drawing, "T2"), pen=None)
    assert days(drawing, "T2")[0] == pytest.approx(grey[3] - (grey[3] - grey[1]) / 6.263736)


def test_what_is_short_is_as_wide_as_the_days_that_lack():
    drawing = tanks()
    hatch = strokes(drawing.marks, pen=Pen.HATCH, tone=Tone.SHORT)[0]
    edges = strokes(drawing.marks, pen=Pen.FINE, tone=Tone.SHORT)[0].segments
    left, right = edges[0][0][0], edges[0][1][0]
    tank = outline(drawing, "T1")
    assert left == pytest.approx(tank[2])
    assert (right - left) / width(tank) == pytest.approx((10 - 9.435897) / 9.435897, rel=1e-4)
    assert len(edges) == 3
    assert hatch.segments
    assert "at least 10.0, 0.6 short" in words(drawing)


def test_what_is_far_short_is_left_open_at_its_end():
    drawing = tanks(rows=[{**STORES[0], "litres": "1.6"}])
    edges = strokes(drawing.marks, pen=Pen.FINE, tone=Tone.SHORT)[0].segments
    assert len(edges) == 2
    assert edges[0][1][0] - edges[0][0][0] == pytest.approx(0.35 * 175)


def test_nothing_that_can_be_drawn_lasts_no_day():
    drawing = tanks(rows=[{**STORES[0], "usable_share": "0"}])
    assert days(drawing, "T1") == []
    assert not strokes(drawing.marks, pen=Pen.FINE, tone=Tone.SHORT)


def test_a_tank_leads_to_its_row_and_that_of_the_check_is_drawn_heavy():
    drawing = tanks("tank_mass")
    heavy = {
        row["mark"]
        for row in STORES
        if any(getattr(mark, "pen", None) is Pen.CUT for mark in touched(drawing, row["mark"]))
    }
    assert heavy == {"T1"}
    of_store = tanks("urine_days")
    assert any(getattr(mark, "pen", None) is Pen.CUT for mark in touched(of_store, "T6"))


def test_days_are_bars_on_one_line_with_the_first_visit_of_supply():
    drawing = tanks()
    (visit,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.DATUM]
    bars = boxes(drawing.marks, pen=Pen.SEEN)
    zero = bars[0][0]
    per_day = (visit.points[0][0] - zero) / 14
    found = [width(bar) / per_day for bar in bars]
    assert found == pytest.approx([9.435897, 6.263736, 16.442308, 17.5], rel=1e-4)
    assert strokes(drawing.marks, pen=Pen.FINE, tone=Tone.INK)  # of 30.5 days, that go on
    ticks = [m.points[0][0] for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert [(x - zero) / per_day for x in ticks] == pytest.approx([10, 5, 14])
    assert any("broken line: supply each 14.0 days" in each for each in words(drawing))
    for left_out in (tanks(field=NARROW), tanks(supply_days="")):
        assert not any(getattr(m, "pen", None) is Pen.DATUM for m in left_out.marks)


def test_people_cases_each_have_a_bar_and_that_of_the_figure_is_drawn():
    wide = tanks(cases=CASES)
    assert {"potable, full", "potable, weekday", "potable, feast"} <= words(wide)
    assert "9.4 days" in words(wide)
    other = drawn(tables(cases=CASES), "water_days", *ASKED, nth=1)
    assert answer(other) == "24.5 days"
    assert "potable 24.5 days" in words(other)
    assert not any("weekday" in each for each in words(tanks(cases=CASES, field=NARROW)))


def test_what_isnt_given_is_left_out_and_named():
    rows = [
        *STORES[:1],
        {"mark": "T7", "holds": "rain", "litres": ""},
        {"mark": "T8", "holds": "grey", "litres": "90"},
        {"mark": "T9", "holds": "", "litres": "90"},
    ]
    drawing = tanks("grey_days", rows=rows)
    assert [gap.says for gap in drawing.gaps] == [
        "T7: volume not given",
        "T9: what it holds not given",
        "T8: usable share not given",
    ]
    assert answer(drawing) == "no data"
    assert "grey" in words(drawing)
    assert tanks(rows=[]) is None


def test_where_frost_is_asked_each_says_where_it_stands():
    drawing = tanks("tank_frost")
    assert answer(drawing) == "no data"
    assert {"T1 not given", "T4 heated"} <= words(drawing)
    rows = [{**row, "stands": "outside or unheated"} for row in STORES]
    assert answer(tanks("tank_frost", rows=rows)) == "not: T1, T2"


def test_each_lettered_figure_is_the_findings_or_a_typed_cell():
    of = seen_of(tables(), "water_days", *ASKED)
    drawing = TANKS.ready(of).of(WIDE)
    known = {m.values[0] for f in of.findings.values() for m in f.worst_first}
    known |= {float(row["litres"]) / 1000 for row in STORES}
    asked = [f for f in drawing.figures if "solids" not in f.what]
    assert all(any(abs(f.amount.si - each) < 1e-9 for each in known) for f in asked)
    on_paper = words(drawing)
    assert all(not f.lettered or f.lettered in on_paper for f in drawing.figures)


def test_it_says_the_answer_first():
    drawing = tanks()
    assert drawing.says.startswith("Short. potable 9.4 days; grey 6.3 days; urine 16.4 days")
    assert "full: 9.4 days" in tanks(cases=CASES).says
    first = next(iter(flat(drawing.marks)))
    assert (first.words, first.tone, first.is_strong) == ("9.4 days", Tone.SHORT, True)
