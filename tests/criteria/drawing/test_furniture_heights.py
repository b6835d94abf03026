"""Heights, drawn: pieces as high and long as their rows, the band of each, what misses it."""

import pytest

from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touches, words


def unit(mark, kind, high, long="1000", **more):
    cells = {"item": f"Thing {mark}", "room": "R1", "kind": kind, "height_mm": str(high), "l": long}
    return {"mark": mark, **cells, **{key: str(value) for key, value in more.items()}}


ROWS = [
    unit("U1", "table", 730, "1800"),
    unit("U2", "seat", 500),
    unit("U3", "seat", 450, n=2),
    unit("U4", "seat", 450),
    unit("U5", "bed", 400, "2000", above_mm=850),
    unit("U6", "worktop", 650, reach_mm=1300),
    unit("U7", "hook", 1700, reach_mm=1100, reach_over_mm=700),
    unit("U8", "hook", 1700, reach_mm=300),
]
TABLES = {"rooms": [{"mark": "R1", "use": "day"}], "furniture": ROWS}
ALL = ("furniture_heights", "all", "yes")
SIT = ("sit_up", "at least", "900 mm")


def paths(drawing, mark, **like):
    (touch,) = touches(drawing)[mark]
    return [
        m.points
        for m in touch.marks
        if isinstance(m, Path) and all(getattr(m, key) == value for key, value in like.items())
    ]


def size(points):
    return points[1][0] - points[0][0], points[2][1] - points[1][1]


def floor(drawing):
    return next(m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT).points[0][1]


@pytest.mark.parametrize("target", [ALL, SIT, ("reach", "all", "yes")], ids=lambda each: each[0])
def test_it_is_drawn_by_the_rules_in_each_width_and_system(target):
    for drawing in in_each_field(TABLES, target[0], target):
        assert not drawing.gaps
        assert all(f.lettered in " ".join(words(drawing)) for f in drawing.figures)


def test_pieces_are_as_high_and_as_long_as_their_rows():
    drawing = drawn(TABLES, "furniture_heights", ALL)
    assert drawing.scale == "1:50"
    (top,) = paths(drawing, "U1", fill=Fill.PAPER)
    assert size(top)[0] == pytest.approx(36.0)
    assert floor(drawing) - top[0][1] == pytest.approx(14.6)
    assert {"730", "710 to 865", "400 to 480"} <= words(drawing)


def test_pieces_alike_stand_once_with_how_many_more():
    drawing = drawn(TABLES, "furniture_heights", ALL)
    assert [*touches(drawing)] == ["U1", "U2", "U3", "U6"]
    assert "U3 +1" in words(drawing)


def test_what_misses_its_band_is_hatched_by_as_much_as_its_check_says():
    drawing = drawn(TABLES, "furniture_heights", ALL)
    assert "not: U2, U6" in words(drawing)
    red = {mark: paths(drawing, mark, tone=Tone.SHORT) for mark in touches(drawing)}
    assert {mark for mark, found in red.items() if found} == {"U2", "U6"}
    assert size(red["U2"][0])[1] == pytest.approx(0.4)  # 500 over 480
    assert size(red["U6"][0])[1] == pytest.approx(1.2)  # 650 under 710
    ticks = paths(drawing, "U2", pen=Pen.CUT)
    assert [floor(drawing) - tick[0][1] for tick in ticks] == pytest.approx([8, 8, 9.6, 9.6])


def test_over_a_bed_the_room_to_sit_up_is_drawn():
    drawing = drawn(TABLES, "sit_up", SIT)
    (mattress,) = paths(drawing, "U5", fill=Fill.TRACE)
    over = paths(drawing, "U5", pen=Pen.SEEN, tone=Tone.INK)[-1]
    assert drawing.scale == "1:50"
    assert mattress[0][1] - over[0][1] == pytest.approx(17.0)
    (short,) = paths(drawing, "U5", tone=Tone.SHORT)
    assert size(short)[1] == pytest.approx(1.0)
    assert {"850", "at least 900", "Short"} <= words(drawing)
    assert "at least 900" not in words(drawn(TABLES, "sit_up"))


def test_what_is_reached_is_a_point_between_its_limits():
    """2010 ADA, 308.2, from memory: 380 to 1,220; over more than 635 nothing is reached."""
    drawing = drawn(TABLES, "reach", ("reach", "all", "yes"))
    assert [*touches(drawing)] == ["U6", "U7", "U8"]
    (touch,) = touches(drawing)["U6"]
    (hand,) = [m for m in touch.marks if isinstance(m, Disc)]
    ratio = 1300 / (floor(drawing) - hand.middle[1])
    (short,) = paths(drawing, "U6", tone=Tone.SHORT)
    assert size(short)[1] * ratio == pytest.approx(80)
    assert {"too far", "380 to 1\u202f220"} <= words(drawing)
    red = {each.words for each in drawing.letters if each.tone is Tone.SHORT and each.is_strong}
    assert red >= {"1\u202f300", "1\u202f100", "300"}


def test_a_piece_that_hangs_stands_on_no_legs():
    rows = [unit("U1", "worktop", 800, under_mm=790), unit("U2", "table", 800, under_mm=200)]
    drawing = drawn({**TABLES, "furniture": rows}, "furniture_heights")
    assert [len(paths(drawing, mark, fill=Fill.NONE, pen=Pen.SEEN)) for mark in ("U1", "U2")] == [
        0,
        2,
    ]


def test_what_isnt_given_is_dashed_or_left_out():
    rows = [unit("U1", "seat", 450, ""), unit("U2", "table", ""), unit("U3", "bed", 400)]
    tables = {**TABLES, "furniture": rows}
    drawing = drawn(tables, "furniture_heights")
    assert [gap.says for gap in drawing.gaps] == ["U1: length not given", "U2: height not given"]
    assert len(paths(drawing, "U1", pen=Pen.ASSUMED)) == 1
    assert drawn(tables, "sit_up") is None
    assert drawn(tables, "reach") is None
    bed = [*rows, unit("U4", "bed", 400, above_mm=900)]
    gaps = drawn({**TABLES, "furniture": bed}, "sit_up").gaps
    assert [gap.says for gap in gaps] == ["U3: clear above not given"]
    assert drawn({}, "furniture_heights") is None


def test_two_hundred_pieces_stay_on_the_sheet_and_the_rest_is_named():
    many = [unit(f"U{n}", "table", 100 + 14 * n, "6000") for n in range(200)]
    for drawing in in_each_field({**TABLES, "furniture": many}, "furniture_heights", ALL):
        assert len(drawing.key) > 150
