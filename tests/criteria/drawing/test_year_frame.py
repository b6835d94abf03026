"""What drawings of a year share: headings, axes and the ends of lines."""

from criteria.drawing.drawing import Field
from criteria.drawing.marks import meet
from criteria.drawing.pens import Tone
from criteria.drawing.year_frame import BEGINS, ends, heading, notes, spread, tick_words, ticks_of
from criteria.units import System


def test_a_heading_stands_on_one_line_where_there_is_room():
    marks, foot = heading("1.8 °C", "inside", Tone.INK, Field())
    assert marks[0].at[1] == marks[1].at[1] < foot
    marks, lower = heading("1.8 °C", "inside " * 30, Tone.INK, Field(width_mm=87.0))
    assert len(marks) == 5
    assert lower > foot


def test_notes_go_down_line_by_line():
    marks, foot = notes(["one", "two"], 10.0, Field())
    assert [each.at[1] for each in marks] == [14.0, 18.0]
    assert foot == 18.0


def test_ticks_are_round_and_few():
    for low, high in ((-31.0, 4.0), (0.0, 0.37), (0.0, 98_000.0), (-0.4, 0.4), (12.0, 12.0)):
        found = ticks_of(low, high)
        assert 1 <= len(found) <= 6
        assert all(low <= each <= high for each in found)
    assert tick_words(-10, System.METRIC) == "−10"
    assert tick_words(0.5, System.METRIC) == "0.5"


def test_names_at_the_ends_of_lines_never_meet_and_keep_their_order():
    named = {"inside": 20.0, "outside": 20.5, "wanted": 19.9}
    letters = [*ends(named, 100.0, 0.0, 40.0)]
    boxes = [each.box for each in letters]
    assert not any(meet(a, b) for n, a in enumerate(boxes) for b in boxes[:n])
    assert letters[2].at[1] < letters[0].at[1] < letters[1].at[1]


def test_what_has_no_room_stands_as_far_apart_as_the_foot_lets_it():
    assert spread([1, 1, 1], 4, 0, 5) == [-3, 1, 5]


def test_the_year_ends_with_its_last_day():
    assert BEGINS[0] == 0
    assert BEGINS[-1] == 365
