"""Transport, drawn: deck, piece and limits as high and wide as they are, loads as shares."""

import math

import pytest

from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touches, words
from tests.criteria.drawing.test_pieces import piece

SLING = {"eyes": "4", "sling": "60", "eye_h_m": "0.4"}
PIECES = [
    piece("M1", 1, 6.0, 2.4, 3.2, 2000, **SLING),
    piece("M2", 2, 4.0, 2.0, 0.4, 500, **SLING),
]
ROAD = {"vehicle": "Trailer", "deck_m": "0.9", "payload_kg": "2500"}
TABLES = {"pieces": PIECES, "transport": [ROAD]}
HUNG = {"pieces": PIECES, "transport": [{"vehicle": "Helicopter", "payload_kg": "1900"}]}
HIGH = ("road_height", "at most", "4 m")
WIDE = ("road_width", "at most", "2.2 m")
LOAD = ("payload", "at most", "0.7")


def boxes(drawing):
    """The piece from the side and from the end: width, height, and where it ends below."""
    found = [m for marks in touches(drawing).values() for each in marks for m in each.marks]
    for mark in found:
        if isinstance(mark, Path) and mark.is_closed:
            (left, top), _, (right, foot), _ = mark.points
            yield right - left, foot - top, foot


def heavy(drawing):
    return [m.points for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]


def red(drawing):
    return [
        (abs(m.points[1][0] - m.points[0][0]), abs(m.points[2][1] - m.points[1][1]))
        for m in drawing.marks
        if isinstance(m, Path) and m.tone is Tone.SHORT and m.is_closed
    ]


@pytest.mark.parametrize("check", ["road_height", "road_width", "payload"])
@pytest.mark.parametrize("tables", [TABLES, HUNG], ids=["road", "hook"])
def test_each_is_drawn_by_the_rules_in_each_width_and_system(tables, check):
    for drawing in in_each_field(tables, check, HIGH, WIDE, LOAD):
        assert set(touches(drawing)) == {"M1"}


def test_piece_and_deck_are_as_high_as_their_rows():
    drawing = drawn(TABLES, "payload")
    assert drawing.scale == "1:100"
    side, end = boxes(drawing)
    assert side[:2] == pytest.approx((60.0, 32.0))
    assert end[:2] == pytest.approx((24.0, 32.0))
    road = heavy(drawing)[0][0][1]
    assert road - side[2] == pytest.approx(9.0)
    assert {"6.00 m", "2.40 m", "3.20 m", "0.90 m"} <= words(drawing)


def test_what_is_over_the_height_of_the_road_is_hatched_as_high_as_it_is():
    """0.9 + 3.2 is 0.10 m over 4 m."""
    drawing = drawn(TABLES, "road_height", HIGH)
    road, limit = heavy(drawing)[0][0][1], heavy(drawing)[1][0][1]
    assert road - limit == pytest.approx(40.0)
    assert red(drawing) == [pytest.approx((60.0, 1.0)), pytest.approx((24.0, 1.0))]
    assert {"4.10 m", "at most 4.00 m", "Over"} <= words(drawing)
    assert not red(drawn(TABLES, "road_height", ("road_height", "at most", "4.1 m")))


def test_what_is_over_the_width_of_the_road_is_hatched_on_both_sides():
    drawing = drawn(TABLES, "road_width", WIDE)
    ticks = [line for line in heavy(drawing) if line[0][0] == line[1][0]]
    assert ticks[1][0][0] - ticks[0][0][0] == pytest.approx(22.0)
    assert [wide for wide, _ in red(drawing)] == pytest.approx([1.0, 1.0])
    assert not red(drawn(TABLES, "road_width", ("road_width", "at most", "2.4 m")))
    assert not red(drawn(TABLES, "road_width", ("road_width", "at most", "2.6 m")))


def test_the_piece_of_the_figure_is_drawn():
    side, _ = boxes(drawn(TABLES, "road_width", nth=1))
    assert side[0] == pytest.approx(4.0 * 20)  # 1:50
    assert drawn(TABLES, "road_width", nth=1).scale == "1:50"


def test_a_load_is_a_bar_as_long_as_its_share_and_what_is_over_is_hatched():
    drawing = drawn(TABLES, "payload", LOAD)
    bars = [
        m.points[1][0] - m.points[0][0]
        for m in drawing.marks
        if isinstance(m, Path) and m.fill is Fill.TRACE
    ]
    assert bars[1] / bars[0] == pytest.approx(500 / 2000)
    (over,) = red(drawing)
    assert over[0] / bars[0] == pytest.approx((0.8 - 0.7) / 0.8)
    assert any(isinstance(m, Strokes) and m.tone is Tone.SHORT for m in drawing.marks)
    assert {"0.80", "0.20", "at most 0.70"} <= words(drawing)
    assert "all of the payload" in words(drawn(TABLES, "payload"))


def test_other_shares_have_their_own_bars():
    axles = {**ROAD, "axles": "3", "axle_spread_m": "4", "axle_group_kg": "9000"}
    drawing = drawn({**TABLES, "transport": [axles]}, "axle_group", ("axle_group", "at most", "1"))
    assert "at most 1.00" in words(drawing)
    assert "most allowed" in drawing.figures[-2].what
    floor = drawn(TABLES, "payload", ("payload", "at least", "0.1"))
    assert "all of the payload" in words(floor)


def test_it_hangs_as_its_row_says():
    drawing = drawn(HUNG, "payload")
    assert drawing.title == "As pieces hang"
    (touch,) = touches(drawing)["M1"]
    solid, *legs = touch.marks
    (hook, eye), (_, other) = (leg.points for leg in legs)
    assert math.degrees(math.atan2(eye[1] - hook[1], hook[0] - eye[0])) == pytest.approx(60)
    foot = solid.points[2][1]
    ratio = (solid.points[1][0] - solid.points[0][0]) / 6.0
    assert foot - eye[1] == pytest.approx(0.4 * ratio)
    assert other[1] == eye[1]
    assert sum(isinstance(m, Disc) for m in drawing.marks) == 3
    assert "4 eyes, 60°" in words(drawing)


def test_without_deck_and_sling_the_loads_stand_alone_and_the_gap_is_named():
    bare = {"pieces": [piece("M1", 1, 6, 2, 3, 900)], "transport": [{"payload_kg": "1000"}]}
    drawing = drawn(bare, "payload")
    assert [gap.says for gap in drawing.gaps] == ["how pieces travel: deck height not given"]
    assert "0.90" in words(drawing)
    assert not touches(drawing)


def test_without_a_weight_the_piece_stands_alone():
    unweighed = {"pieces": [piece("M1", 1, 6, 2, 3, "")], "transport": [{"deck_m": "1"}]}
    drawing = drawn(unweighed, "road_height")
    assert set(touches(drawing)) == {"M1"}
    assert not any("payload" in each for each in words(drawing))


def test_where_neither_can_be_drawn_nothing_is():
    assert drawn({"pieces": [piece("M1", 1, 6, 2, 3, "")]}, "payload") is None
    assert drawn({}, "payload") is None
    deck = {"pieces": [piece("M1", 1, "", 2, 3, "")], "transport": [{"deck_m": "1"}]}
    assert drawn(deck, "road_height") is None


def test_where_no_piece_decides_the_highest_is_drawn():
    rows = [piece("M1", 1, 6, 2, 1, ""), piece("M2", 1, 2, 2, 3, "")]
    axles = {"deck_m": "1", "axles": "3", "axle_spread_m": "4", "axle_group_kg": "9000"}
    drawing = drawn({"pieces": rows, "transport": [axles]}, "axle_group")
    assert set(touches(drawing)) == {"M2"}


@pytest.mark.parametrize(("size", "deck"), [(0.01, "0"), (30, "3")])
def test_absurd_sizes_stay_on_the_sheet(size, deck):
    many = [piece(f"M{n}", 9, size, size, size, 9000, **SLING) for n in range(200)]
    for row in ({"deck_m": deck, "payload_kg": "1"}, {"payload_kg": "1"}):
        for drawing in in_each_field({"pieces": many, "transport": [row]}, "payload", LOAD):
            assert drawing.height_mm < 120
