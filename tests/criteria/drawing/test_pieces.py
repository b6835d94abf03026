"""Pieces, drawn: sizes on paper are those of the rows, and what sticks out is as long."""

import math

import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Disc, Path, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.pieces import draw_pieces
from tests.criteria.drawing.seen import (
    FIELDS,
    drawn,
    in_each_field,
    in_fields,
    seen_of,
    touches,
    words,
)


def piece(mark, n, l, w, h, kg, **more):
    sizes = {"l_m": l, "w_m": w, "h_m": h, "kg_each": kg}
    typed = {key: str(value) for key, value in sizes.items()}
    return {"mark": mark, "piece": f"Piece {mark}", "n": str(n), **typed, **more}


PIECES = [
    piece("M1", 1, 1.6, 1.2, 2.4, 820),
    piece("M2", 4, 6.4, 2.2, 0.3, 690),
    piece("M3", 6, 4.2, 2.2, 0.3, 470),
    piece("M4", 2, 2.0, 2.4, 0.5, 300),
]
LIMIT = [{"piece_l_m": "6.0", "piece_w_m": "2.3", "piece_h_m": "2.2"}]
TABLES = {"pieces": PIECES, "site": LIMIT}
WITHIN = ("piece_envelope", "all", "yes")
WEIGHT = ("piece_mass", "at most", "750 kg")
CHECKS = ["piece_envelope", "piece_mass", "lifts", "hand_carry"]


def solid(touch):
    """The near, upper and right face of the box that is drawn in a mark."""
    return [m.points for m in touch.marks if isinstance(m, Path) and m.fill is Fill.PAPER][:3]


def red(touch):
    return [m for m in touch.marks if isinstance(m, Path) and m.tone is Tone.SHORT]


@pytest.mark.parametrize("check", CHECKS)
def test_each_is_drawn_by_the_rules_in_each_width_and_system(check):
    for drawing in in_each_field(TABLES, check, WITHIN, WEIGHT, ("lifts", "at most", "12")):
        assert set(touches(drawing)) == {"M1", "M2", "M3", "M4"}
        assert not drawing.gaps


@pytest.mark.parametrize(("mark", "ratio"), [("M1", 100), ("M3", 200), ("M2", 200)])
def test_a_box_is_as_long_and_high_as_its_row_and_half_as_wide(mark, ratio):
    drawing = drawn(TABLES, "piece_envelope", WITHIN)
    assert drawing.scale == "1:100 and 1:200"
    row = next(row for row in PIECES if row["mark"] == mark)
    near, _, end = solid(touches(drawing)[mark][0])
    sizes = [float(row[key]) * 1000 / ratio for key in ("l_m", "h_m", "w_m")]
    found = [math.dist(near[0], near[1]), math.dist(near[1], near[2]), math.dist(end[0], end[1])]
    assert found == pytest.approx([sizes[0], sizes[1], sizes[2] / 2])


def test_what_sticks_out_is_hatched_as_long_as_it_does_and_said():
    drawing = drawn(TABLES, "piece_envelope", WITHIN)
    near, _, _ = red(touches(drawing)["M2"][0])
    assert math.dist(near.points[0], near.points[1]) == pytest.approx(2.0)  # 0.40 m at 1:200
    assert {"0.20 m over", "not: M1, M2, M4"} <= words(drawing)
    assert drawing.says == (
        "not: M1, M2, M4, Short. "
        "M1 0.20 m over height; M2 0.40 m over length; M4 0.10 m over width."
    )
    high = [math.dist(*m.points[1:3]) for m in red(touches(drawing)["M1"][0])[::2]]
    assert high == pytest.approx([2.0, 2.0])  # 0.20 m at 1:100
    behind = red(touches(drawing)["M4"][0])
    assert len(behind) == 2  # of what is behind its box the near face isn't seen
    assert math.dist(behind[1].points[0], behind[1].points[1]) == pytest.approx(0.25)
    assert not red(touches(drawing)["M3"][0])


def test_a_piece_of_its_limits_size_keeps_within_them():
    tables = {**TABLES, "pieces": [piece("M1", 1, 6.0, 2.3, 2.2, 700)]}
    drawing = drawn(tables, "piece_envelope", WITHIN)
    assert not red(touches(drawing)["M1"][0])
    assert words(drawing) >= {"all", "Meets"}


def test_the_box_is_as_large_as_what_can_be_brought():
    drawing = drawn(TABLES, "piece_envelope", WITHIN)
    (box,) = [m for m in drawing.marks if isinstance(m, Strokes) and m.pen is Pen.DATUM]
    lengths = sorted({round(math.dist(*each), 2) for each in box.segments})
    assert lengths == [11.5, 22.0, 60.0]


def test_the_piece_of_the_figure_is_the_large_one():
    first = drawn(TABLES, "piece_mass", WEIGHT)
    near, _, _ = solid(touches(first)["M1"][0])
    assert math.dist(near[0], near[1]) == pytest.approx(16.0)  # 1.60 m at 1:100
    second = drawn(TABLES, "piece_mass", WEIGHT, nth=1)
    near, _, _ = solid(touches(second)["M2"][0])
    assert math.dist(near[0], near[1]) == pytest.approx(64.0)


def bar_of(drawing, mark):
    """The bar of a piece: its width and its height on paper."""
    (path,) = [m for m in touches(drawing)[mark][-1].marks if isinstance(m, Path)]
    (left, top), _, (right, foot), _ = path.points
    return right - left, foot - top


def test_every_lift_is_a_bar_as_high_as_it_is_heavy():
    drawing = drawn(TABLES, "piece_mass", WEIGHT)
    bars = {row["mark"]: bar_of(drawing, row["mark"]) for row in PIECES}
    per_kg = bars["M1"][1] / 820
    assert [bars[row["mark"]][1] for row in PIECES] == pytest.approx(
        [float(row["kg_each"]) * per_kg for row in PIECES]
    )
    assert [bars[row["mark"]][0] for row in PIECES] == pytest.approx(
        [int(row["n"]) * bars["M1"][0] for row in PIECES]
    )
    assert "13 lifts by weight" in words(drawing)


def test_the_limit_of_weight_is_a_heavy_line_and_what_is_over_it_hatched():
    drawing = drawn(TABLES, "piece_mass", WEIGHT)
    (line,) = [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    foot = max(y for _, y in touches(drawing)["M1"][-1].marks[0].points)
    per_kg = bar_of(drawing, "M1")[1] / 820
    assert foot - line.points[0][1] == pytest.approx(750 * per_kg)
    hatched = {
        mark
        for mark, marks in touches(drawing).items()
        if any(isinstance(m, Strokes) and m.tone is Tone.SHORT for m in marks[-1].marks)
    }
    assert hatched == {"M1"}
    assert "at most 750 kg" in words(drawing)


def test_a_limit_far_over_all_bars_is_left_to_words():
    drawing = drawn(TABLES, "piece_mass", ("piece_mass", "at most", "3000 kg"))
    assert not [m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert "at most 3\u202f000 kg" in words(drawing)
    floor = drawn(TABLES, "piece_mass", ("piece_mass", "at least", "600 kg"))
    assert not [m for m in floor.marks if isinstance(m, Path) and m.pen is Pen.CUT]


def test_people_who_carry_are_counted_as_their_check_counts():
    """L23 and ISO 11228-1, from memory: half of 25 kg each of a team of three and more."""
    drawing = drawn(TABLES, "hand_carry")
    heights = [bar_of(drawing, row["mark"])[1] for row in PIECES]
    people = [math.ceil(float(row["kg_each"]) / 12.5) for row in PIECES]
    assert heights == pytest.approx([n * heights[0] / people[0] for n in people])
    assert "people for each of 13" in words(drawing)


def test_each_figure_is_of_a_finding_or_typed():
    drawing = drawn(TABLES, "piece_mass", WEIGHT)
    typed = {float(row[key]) for row in PIECES for key in ("l_m", "w_m", "h_m", "kg_each")}
    over = [pytest.approx(each) for each in (0.4, 0.2, 0.1)]
    for figure in drawing.figures:
        assert figure.amount.si in {*typed, 13, 750} or any(
            figure.amount.si == each for each in over
        )
        assert not figure.lettered or figure.lettered in words(drawing)


def test_what_isnt_given_is_left_out_and_named():
    blank = [piece("M1", 1, 1.6, 1.2, 2.4, ""), piece("M2", 2, 3, "", 1, 200)]
    drawing = drawn({"pieces": blank}, "piece_envelope")
    assert [gap.says for gap in drawing.gaps] == [
        "M2: width not given",
        "limit of size: not given",
        "M1: weight not given",
    ]
    assert drawing.title == "Pieces"
    assert [len(marks) for marks in touches(drawing).values()] == [1, 1]  # M2 has its bar alone
    assert not any(isinstance(m, Disc) for m in drawing.marks)


def test_where_no_piece_has_sizes_nothing_is_drawn():
    assert drawn({"pieces": [piece("M1", 1, "", "", "", 5)]}, "piece_mass") is None
    assert drawn({}, "lifts") is None


def test_pieces_that_pack_into_none_that_is_there_have_no_bars():
    lost = [piece("M1", 1, 2, 1, 1, 100, packs_into="M9")]
    drawing = drawn({"pieces": lost}, "piece_mass")
    assert not any("lifts" in each for each in words(drawing))


@pytest.mark.parametrize("size", [0.01, 30])
def test_two_hundred_pieces_stay_on_a_sheet_and_the_rest_is_named(size):
    many = [piece(f"M{n}", 500, size, size, size, 100_000) for n in range(200)]
    seen = seen_of({"pieces": many, "site": LIMIT}, "piece_envelope", WITHIN)
    for drawing in in_fields(FIELDS[::3], seen):
        assert "M199" in drawing.key
    assert "100000 lifts by weight" in words(drawing)


def test_the_over_of_a_piece_without_room_beside_it_is_named():
    tables = {"pieces": [piece("M1", 1, 1.6, 1.2, 2.4, 820)], "site": LIMIT}
    drawing = draw_pieces(seen_of(tables, "piece_envelope", WITHIN), Field(width_mm=12))
    assert any("over" in line for line in drawing.key)


def test_a_piece_of_which_nobody_knows_how_many_is_named():
    unread = [piece("M1", "x", 1.6, 1.2, 2.4, 300), piece("M2", 2, 3, 2, 1, 200)]
    drawing = drawn({"pieces": unread}, "piece_envelope")
    assert drawing.gaps[0].says == "M1: how many not given"
