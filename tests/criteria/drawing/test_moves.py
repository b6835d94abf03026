"""The change of use, drawn: a move is as long as its seconds and as thick as it takes people."""

import pytest

from criteria.drawing.marks import Lettering, Path
from criteria.drawing.pens import Fill, Pen, Tone
from tests.criteria.drawing.seen import drawn, in_each_field, touches, words


def move(mark, people, kg, s, **more):
    cells = {"item": f"Thing {mark}", "people": str(people), "kg": str(kg), "s": str(s)}
    return {"mark": mark, **cells, "from": "up", "to": "down", **more}


ROWS = [
    move("X1", 2, 24, 90),
    move("X2", 1, 30, 60),
    move("X3", 9, 5, 30, over_heat="the stove"),
]
TABLES = {"moves": ROWS}
LIMIT = ("change_of_use", "at most", "120 s")


def bars(drawing):
    """Of each move left, right and thickness of its bar."""
    found = {}
    for mark, (touch,) in touches(drawing).items():
        for path in touch.marks:
            if isinstance(path, Path) and path.tone is Tone.INK:
                (left, top), (right, _), (_, foot), _ = path.points
                found[mark] = left, right, foot - top
    return found


@pytest.mark.parametrize("check", ["change_of_use", "change_people", "change_lift"])
def test_it_is_drawn_by_the_rules_in_each_width_and_system(check):
    for drawing in in_each_field(TABLES, check, LIMIT, (check, "at most", "1")):
        assert [*touches(drawing)] == ["X1", "X2", "X3"]
        assert not drawing.gaps


def test_moves_follow_each_other_as_long_as_they_take():
    found = bars(drawn(TABLES, "change_of_use"))
    per = (found["X1"][1] - found["X1"][0]) / 90
    assert [right - left for left, right, _ in found.values()] == pytest.approx(
        [90 * per, 60 * per, 30 * per]
    )
    assert found["X2"][0] == found["X1"][1]
    assert found["X3"][0] == pytest.approx(found["X2"][1])
    assert [thick for _, _, thick in found.values()] == pytest.approx([3.2, 1.6, 4.8])


def test_the_limit_is_a_heavy_line_and_what_comes_after_it_hatched():
    drawing = drawn(TABLES, "change_of_use", LIMIT)
    found = bars(drawing)
    per = (found["X1"][1] - found["X1"][0]) / 90
    (line,) = [m for m in drawing.flat if isinstance(m, Path) and m.pen is Pen.CUT]
    assert line.points[0][0] - found["X1"][0] == pytest.approx(120 * per)
    over = [m.points for m in drawing.flat if isinstance(m, Path) and m.tone is Tone.SHORT]
    assert [each[1][0] - each[0][0] for each in over] == pytest.approx([30 * per, 30 * per])
    assert {"180 s", "at most 120 s", "Over"} <= words(drawing)


def test_a_limit_far_beyond_and_one_that_is_no_most_are_left_to_words():
    for target in (("change_of_use", "at most", "900 s"), ("change_of_use", "at least", "90 s")):
        drawing = drawn(TABLES, "change_of_use", target)
        assert not [m for m in drawing.flat if isinstance(m, Path) and m.pen is Pen.CUT]


def test_the_move_that_decides_is_full_and_its_words_are_strong():
    drawing = drawn(TABLES, "change_lift")
    full = {
        mark
        for mark, (touch,) in touches(drawing).items()
        for m in touch.marks
        if isinstance(m, Path) and m.fill is Fill.INK
    }
    assert full == {"X2"}
    assert "60 s, 1 person, 30 kg" in {each.words for each in drawing.letters if each.is_strong}


def test_what_is_lifted_over_heat_is_said_in_its_colour():
    (red,) = [
        m
        for m in drawn(TABLES, "change_lift").flat
        if isinstance(m, Lettering) and m.tone is Tone.SHORT
    ]
    assert red.words == "30 s, 9 people, 5 kg, over the stove"


def test_after_a_time_that_isnt_given_moves_are_dashed():
    rows = [move("X1", 1, 1, 10), move("X2", "", "", ""), move("X3", 1, 1, 30), move("X4", 1, 1, 5)]
    rows[1] |= {"from": "", "to": ""}
    drawing = drawn({"moves": rows}, "change_of_use", LIMIT)
    assert [gap.says for gap in drawing.gaps] == [
        "X2: time not given",
        "X2: people not given",
        "X2: weight not given",
    ]
    dashed = [m for m in drawing.flat if isinstance(m, Path) and m.pen is Pen.ASSUMED]
    assert [mark.gap.says for mark in dashed] == ["X2: time not given"] * 2
    assert "not known" in words(drawing)


def test_figures_are_typed_or_of_the_finding():
    drawing = drawn(TABLES, "change_of_use", LIMIT)
    typed = {float(row[key]) for row in ROWS for key in ("people", "kg", "s")}
    assert {figure.amount.si for figure in drawing.figures} == {*typed, 180, 120}


def test_two_hundred_moves_stay_on_the_sheet_and_none_is_drawn_of_nothing():
    many = [move(f"X{n}", 20, 500, 3600) for n in range(200)]
    for drawing in in_each_field({"moves": many}, "change_of_use", LIMIT):
        assert len(drawing.key) == 186
    assert in_each_field({"moves": [move("X1", 1, 0, 0)]}, "change_of_use", LIMIT)
    assert drawn({}, "change_of_use") is None
