"""The stand, drawn: ground that falls as it does, travel beside its need, wind with its figure."""

import math
from itertools import pairwise

import pytest

from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, seen_of, words

ROW = {
    **{"legs": "12", "pad_l": "450", "pad_w": "400", "travel": "300"},
    **{"building_l_m": "8", "building_w_m": "6", "building_h_m": "4", "clear_under_m": "0.5"},
    **{"base_m": "5", "empty_kg": "20000", "load_kg": "4000", "ground_friction": "0.3"},
    "roof_slope": "20",
}
SITE = {"slope": "5 %", "soil": "sand", "gust_ms": "40", "exposure": "C", "ground_snow": "2"}
TABLES = {"supports": [ROW], "site": [SITE]}
TARGETS = [
    ("leg_travel", "at least", "1"),
    ("bearing_ratio", "at most", "1"),
    ("overturning", "at least", "1.5"),
    ("sliding", "at least", "1.5"),
    ("held_down", "at least", "1.5"),
    ("snow_on_legs", "at most", "500 kg"),
]


def changed(**more):
    return {"supports": [{**ROW, **more}], "site": [SITE]}


def building(drawing):
    (box,) = [
        m.points
        for m in drawing.marks
        if isinstance(m, Path) and m.fill is Fill.PAPER and m.pen is Pen.SEEN
    ][:1]
    return box[1][0] - box[0][0], box[2][1] - box[1][1], box[0][0], box[2][1]


def ground(drawing):
    return next(m.points for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT)


def red(drawing):
    return [
        (m.points[1][0] - m.points[0][0], m.points[2][1] - m.points[1][1])
        for m in drawing.marks
        if isinstance(m, Path) and m.tone is Tone.SHORT and m.is_closed
    ]


@pytest.mark.parametrize("target", TARGETS, ids=lambda target: target[0])
def test_each_is_drawn_by_the_rules_in_each_width_and_system(target):
    for drawing in in_each_field(TABLES, target[0], target):
        assert [gap.column for gap in drawing.gaps] == ["legs"]
        on_paper = words(drawing)
        assert all(f.lettered in " ".join(on_paper) for f in drawing.figures)


def test_the_building_is_as_large_as_its_row_and_the_ground_falls_as_the_site_says():
    """Along a diagonal of 10 m, which 5 % of slope falls by 0.50 m."""
    drawing = drawn(TABLES, "leg_travel")
    assert drawing.scale == "1:200"
    wide, tall, left, under = building(drawing)
    assert (wide, tall) == pytest.approx((50.0, 20.0))
    (x, y), (to_x, to_y) = ground(drawing)
    assert (y - to_y) / (to_x - x) == pytest.approx(0.05)
    at_right = to_y + (to_x - left - wide) * 0.05
    assert at_right - under == pytest.approx(0.5 * 5)
    assert "0.50 m" in words(drawing)


def test_across_it_is_as_wide_as_its_width_and_stands_on_its_base_on_level_ground():
    drawing = drawn(TABLES, "overturning")
    wide, _, left, _ = building(drawing)
    assert drawing.scale == "1:100"
    assert wide == pytest.approx(60.0)
    legs = [m.points[0][0] for m in drawing.marks if isinstance(m, Path) and m.gap]
    assert (min(legs) - left, max(legs) - left) == pytest.approx((5.0, 55.0))
    (_, y), (_, to_y) = ground(drawing)
    assert y == to_y
    assert len(legs) == 6


def test_travel_that_lacks_is_hatched_as_long_as_it_lacks():
    """0.05 × 10 m is needed of a leg that travels 0.30 m."""
    drawing = drawn(TABLES, "leg_travel", TARGETS[0])
    assert red(drawing) == [pytest.approx((5.0, 0.2 * 50))]  # 1:20
    (travel,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.TRACE]
    assert travel.points[2][1] - travel.points[1][1] == pytest.approx(15.0)
    assert {"travels 0.30 m", "at least 0.50 m", "Short"} <= words(drawing)
    assert not red(drawn(changed(travel="500"), "leg_travel", TARGETS[0]))


def test_level_ground_needs_no_travel():
    tables = {"supports": [ROW], "site": [{**SITE, "slope": "0 %"}]}
    assert "at least 0.00 m" in words(drawn(tables, "leg_travel"))


def test_a_pad_is_as_large_as_its_row_and_what_it_would_take_stands_round_it():
    drawing = drawn(TABLES, "bearing_ratio", TARGETS[1])
    (pad,) = [
        m.points
        for m in drawing.marks
        if isinstance(m, Path) and m.fill is Fill.PAPER and m.pen is Pen.SEEN
    ][1:]
    assert (pad[1][0] - pad[0][0], pad[2][1] - pad[1][1]) == pytest.approx((22.5, 20.0))
    value, limit = drawing.figures[0].amount.si, drawing.figures[1].amount.si
    (would,) = red(drawing)
    assert would[0] * would[1] == pytest.approx(22.5 * 20.0 * value / limit)
    # 24,000 kg on twelve pads of 0.18 m²; sand is presumed to bear 2,000 psf
    assert {"presses 109.0 kPa", "may 95.8 kPa"} <= words(drawing)
    assert not red(drawn(TABLES, "bearing_ratio", ("bearing_ratio", "at most", "2")))
    assert not red(drawn(TABLES, "bearing_ratio"))


@pytest.mark.parametrize(
    ("check", "ways"), [("overturning", [(1, 0)]), ("held_down", [(0, -1)] * 3)]
)
def test_wind_and_snow_push_the_way_they_do(check, ways):
    drawing = drawn(TABLES, check)
    heads = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.INK]
    found = []
    for head in heads:
        tip, one, other = head.points
        back = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
        far = math.dist(tip, back)
        found.append((round((tip[0] - back[0]) / far), round((tip[1] - back[1]) / far)))
    assert found == ways
    snow = drawn(TABLES, "snow_on_legs")
    tops = [m.points for m in snow.marks if isinstance(m, Path) and m.fill is Fill.INK]
    assert all(tip[1] > one[1] for tip, one, _ in tops)


@pytest.mark.parametrize("check", ["overturning", "sliding", "held_down", "snow_on_legs"])
def test_the_figure_of_an_arrow_is_of_its_own_working(check):
    drawing = drawn(TABLES, check)
    (figure,) = [f for f in drawing.figures if f.what.startswith(("wind", "lift", "snow on"))]
    steps = seen_of(TABLES, check).asked.measured.steps
    assert figure.amount in [amount for step in steps for amount in step.amounts]
    assert figure.lettered in words(drawing)


def test_what_isnt_given_is_dashed_or_left_out():
    drawing = drawn({"supports": [ROW]}, "leg_travel")
    assert {gap.column for gap in drawing.gaps} == {"slope", "legs"}
    assert "slope not given" in words(drawing)
    bare = {key: ROW[key] for key in ROW if key.startswith(("building", "clear"))}
    for check in ("bearing_ratio", "overturning", "held_down", "leg_travel"):
        for drawing in in_each_field({"supports": [bare]}, check):
            assert "not known" in words(drawing)
    assert drawn({"supports": [{"legs": "4"}]}, "leg_travel") is None
    assert drawn({}, "leg_travel") is None


def test_a_base_wider_than_the_building_is_drawn_at_its_ends():
    drawing = drawn(changed(base_m="9"), "sliding")
    legs = [m.points[0][0] for m in drawing.marks if isinstance(m, Path) and m.gap]
    assert all(one < other for one, other in pairwise(legs))


@pytest.mark.parametrize("sizes", [("0.5", "0.5", "0.5", "10"), ("60", "60", "30", "0")])
def test_absurd_sizes_stay_on_the_sheet(sizes):
    heads = ("building_l_m", "building_w_m", "building_h_m", "clear_under_m")
    tables = changed(**dict(zip(heads, sizes, strict=True)), legs="200", pad_l="5000")
    tables["site"] = [{**SITE, "slope": "200 %"}]
    for check, *_ in TARGETS:
        in_each_field(tables, check)
