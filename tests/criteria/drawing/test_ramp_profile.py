"""The ramp drawn: what the rise needs and what is drawn of it, at one scale."""

from dataclasses import replace
from itertools import pairwise

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path, around
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.ramp_profile import RAMP
from criteria.units import System
from tests.criteria.drawing.seen import boxes, drawn, in_each_field, seen_of, words

RISE = {"rise_mm": "480", "slope_drawn": "12", "ramp_drawn_mm": "8900", "landings_drawn": "2"}
WIDTH = {"ramp_clear_w": "900", "handrails": "2"}


def tables(site=None, **cells):
    return {"ramp": [{**RISE, **WIDTH, **cells}], "site": [site] if site else []}


LENGTH = ("ramp_length", "at least", "1")


def lines(drawing, **like):
    paths = [m for m in drawing.marks if isinstance(m, Path) and not m.is_closed]
    return [p.points for p in paths if all(getattr(p, n) == v for n, v in like.items())]


def ruled(drawing, nth):
    """The length of a dimension under the profile, at 1:100, in metres."""
    rows = [p for p in lines(drawing, pen=Pen.FINE) if len(p) == 2 and p[0][1] == p[1][1]]
    left, _, right, _ = around(sorted(rows, key=lambda p: p[0][0] - p[1][0])[nth])
    return (right - left) / 10


@pytest.mark.parametrize(
    "asks",
    [
        LENGTH,
        ("ramp_slope", "at most", "0.05"),
        ("ramp_width", "at least", "1000"),
        ("ramp_handrails", "at least", "2"),
    ],
    ids=lambda asks: asks[0],
)
def test_letters_keep_their_height_and_their_distance(asks):
    assert len(in_each_field(tables(), asks[0], asks)) == 4
    in_each_field(tables(ramp_drawn_mm="", landings_drawn="", ramp_clear_w=""), asks[0], asks)


def test_the_profile_is_what_the_rise_needs_at_true_height():
    """By the standard: 12 × 480 + 2 × 1,525 is 8,810, from the door outwards."""
    drawing = drawn(tables(), "ramp_length", LENGTH)
    assert drawing.scale == "1:100"
    (points,) = [p for p in lines(drawing, pen=Pen.SEEN) if len(p) > 2]
    steps = [(one[0] - to[0], to[1] - one[1]) for one, to in pairwise(points)]
    assert steps == [pytest.approx(each) for each in ((15.25, 0), (57.6, 4.8), (15.25, 0))]
    assert {
        "480",
        "1\u202f525",
        "needs 8\u202f810",
        "drawn 8\u202f900, 2 of 2 landings",
        "1:12 drawn",
    } <= words(drawing)
    assert ruled(drawing, 0) == pytest.approx(8.9)
    assert ruled(drawing, 1) == pytest.approx(8.81)
    assert not boxes(drawing.marks, tone=Tone.SHORT)


def test_two_runs_have_a_landing_between_them():
    drawing = drawn(tables(rise_mm="1400"), "ramp_length")
    (points,) = [p for p in lines(drawing, pen=Pen.SEEN) if len(p) > 2]
    assert len(points) == 6


def test_what_is_missing_is_drawn_in_its_place():
    drawing = drawn(tables(ramp_drawn_mm="5600", landings_drawn="0"), "ramp_length", LENGTH)
    short = boxes(drawing.marks, tone=Tone.SHORT)
    assert sorted(right - left for left, _, right, _ in short) == pytest.approx(
        [15.25, 15.25, 32.1]
    )
    assert "3\u202f210 short" in words(drawing)
    some = drawn(tables(ramp_drawn_mm="5600", landings_drawn="1"), "ramp_length", LENGTH)
    assert len(boxes(some.marks, tone=Tone.SHORT)) == 1  # which landing lacks isn't said
    assert "drawn 5\u202f600, 1 of 2 landings" in words(some)


def test_each_lettered_figure_is_the_rows_or_the_findings():
    seen = seen_of(tables(), "ramp_length", LENGTH)
    drawing = RAMP.ready(seen).of(Field())
    known = {0.48, 1.525, 8.9, 0.9, 12.0, 1.0, seen.asked.amount.si}
    steps = seen.asked.measured.steps
    known |= {a.si for step in steps for a in step.amounts if hasattr(a, "si")}
    assert {figure.amount.si for figure in drawing.figures} <= known


def test_a_piece_in_plan_is_as_wide_as_it_is_clear():
    drawing = drawn(tables(), "ramp_width", ("ramp_width", "at least", "1000"))
    rails = [p for p in lines(drawing, pen=Pen.CUT) if p[1][0] - p[0][0] == 50]
    assert rails[1][0][1] - rails[0][0][1] == pytest.approx(900 / 50)
    (short,) = boxes(drawing.marks, tone=Tone.SHORT)
    assert short[3] - short[1] == pytest.approx(100 / 50)
    assert {"900", "100 short", "rails on both sides, in plan 1:50"} <= words(drawing)


@pytest.mark.parametrize(
    ("rails", "says"),
    [("0", "no rails"), ("1", "a rail on one side"), ("", "rails not given")],
)
def test_rails_are_said_and_drawn_as_far_as_they_are_given(rails, says):
    drawing = drawn(tables(handrails=rails), "ramp_handrails")
    heavy = [p for p in lines(drawing, pen=Pen.CUT) if p[1][0] - p[0][0] == 50]
    assert len(heavy) == int(rails or 0)
    assert f"{says}, in plan 1:50" in words(drawing)
    assert bool(drawing.gaps) == (not rails)


def test_how_steep_it_is_stands_beside_what_is_asked():
    drawing = drawn(tables(slope_drawn="10"), "ramp_slope", ("ramp_slope", "at most", "0.0833"))
    (wedge,) = [
        m for m in drawing.marks if isinstance(m, Path) and m.is_closed and m.pen is Pen.SEEN
    ]
    box = around(wedge.points)
    assert (box[3] - box[1]) / (box[2] - box[0]) == pytest.approx(1 / 10)
    assert wedge.tone is Tone.SHORT
    (limit,) = [p for p in lines(drawing, pen=Pen.CUT) if p[0] == wedge.points[0]]
    assert (limit[0][1] - limit[1][1]) / (limit[1][0] - limit[0][0]) == pytest.approx(0.0833)


def test_a_flood_lies_as_high_over_the_ground_as_the_site_says():
    site = {"ground_m": "2.1", "flood_m": "3.2"}
    drawing = drawn(tables(site), "floor_above_datum", ("floor_above_datum", "at least", "3"))
    (flood,) = lines(drawing, pen=Pen.DATUM)
    ground = max(lines(drawing, pen=Pen.CUT), key=lambda p: p[1][0] - p[0][0])
    assert ground[0][1] - flood[0][1] == pytest.approx(11)
    assert "flood or storm tide" in words(drawing)
    dry = drawn(tables({"ground_m": "5", "flood_m": "3"}), "floor_above_datum")
    assert not lines(dry, pen=Pen.DATUM)


def test_a_threshold_wants_no_ramp():
    drawing = drawn(tables(rise_mm="10"), "ramp_length", LENGTH)
    assert not any("needs" in each for each in words(drawing))
    assert [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.CUT]


def test_huge_and_blank_ramps_stay_on_their_paper():
    for cells in ({"rise_mm": "9999"}, {"ramp_drawn_mm": "200000", "ramp_clear_w": "6000"}):
        in_each_field(
            tables({"ground_m": "-400", "flood_m": "8999"}, **cells), "ramp_length", LENGTH
        )
    far = drawn(tables({"ground_m": "2", "flood_m": "50"}), "ramp_length")
    assert [gap.column for gap in far.gaps] == ["flood_m"]
    bare = drawn({"ramp": [{"rise_mm": "480"}]}, "ramp_length", LENGTH)
    assert "length drawn: not given" in words(bare)
    assert [gap.says for gap in bare.gaps] == [
        "length drawn not given",
        "landings drawn not given",
        "slope drawn not given",
        "clear width not given",
        "handrails not given",
    ]
    assert bare.says.endswith("slope drawn not given; clear width not given; handrails not given.")
    unsaid = drawn(tables(landings_drawn=""), "ramp_length", LENGTH)
    assert "drawn 8\u202f900" in words(unsaid)
    assert drawn({"ramp": [{"ramp_drawn_mm": "5000"}]}, "ramp_length") is None


def test_in_feet_the_standards_own_inches_hold():
    seen = seen_of(tables(rise_mm="30 in"), "ramp_length")
    drawing = RAMP.ready(seen).of(replace(Field(), system=System.US))
    assert {"needs 40'-0\"", "5'-0\""} <= words(drawing)
