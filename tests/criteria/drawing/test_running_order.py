"""A day of showing, drawn: ticks where their hours lie, whose turn it is, and the hour itself."""

from dataclasses import replace
from itertools import pairwise

import pytest

from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Disc, Path
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.running_order import Line, Showing, Turn, draw_running_order
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

NAMES = ("Slow Water", "Quiet Half", "Folded Ground", "Lee Shelf", "Snow Clock")
MORNING = tuple(
    Showing(number=f"H{n:02}", name=name, minute=555 + 27 * n, turn=Turn.DONE, is_settled=bool(n))
    for n, name in enumerate(NAMES)
)
ROOM_A = Line(
    room="Room A",
    shown=(
        *MORNING[:3],
        replace(MORNING[3], turn=Turn.ON, is_settled=None),
        replace(MORNING[4], turn=Turn.WAITING, is_settled=None, is_own=True),
    ),
)
ROOM_B = Line(
    room="Room B",
    shown=(
        MORNING[0],
        replace(MORNING[1], turn=Turn.STOOD_DOWN),
        replace(MORNING[2], minute=586),
        replace(MORNING[3], minute=587),
        replace(MORNING[4], minute=588),
    ),
)


def drawn(now=645, width_mm=MIDDLE_MM, lines=(ROOM_A, ROOM_B)):
    return draw_running_order(lines, now, Field(width_mm=width_mm))


def strokes(drawing):
    """Oblique strokes: where each tick is, of each pen."""
    ends = [mark for mark in drawing.marks if isinstance(mark, Path) and len(mark.points) == 2]
    return [
        (mark.pen, (mark.points[0][0] + mark.points[1][0]) / 2)
        for mark in ends
        if mark.points[0][0] != mark.points[1][0] and mark.points[0][1] != mark.points[1][1]
    ]


@pytest.mark.parametrize("now", [None, 555, 645, 2000])
@pytest.mark.parametrize("width_mm", [MIDDLE_MM, HALF_MM, NARROW_MM])
def test_no_letters_are_small_or_meet(width_mm, now):
    keeps_the_rules(drawn(now, width_mm))
    keeps_the_rules(drawn(now, width_mm, [Line(room="Room B", shown=ROOM_B.shown[-1:])]))


def test_ticks_lie_as_their_hours_do():
    at = [x for _, x in strokes(drawn(lines=[ROOM_A]))]
    steps = {round(b - a, 6) for a, b in pairwise(at)}
    assert len(at) == 5
    assert len(steps) == 1


def test_the_hour_is_drawn_on_the_day_alone():
    (line,) = [m for m in drawn().marks if isinstance(m, Path) and m.pen is Pen.DATUM]
    ticks = [x for _, x in strokes(drawn())]
    assert ticks[3] < line.points[0][0] < ticks[4]
    assert "now 10:45" in [each.words for each in drawn().letters]
    for now in (None, 500, 900):
        assert not [each for each in drawn(now).letters if each.words.startswith("now")]


def test_on_a_telephone_the_hour_stands_between_the_schemes_in_their_order():
    letters = [each.words for each in drawn(width_mm=NARROW_MM).letters]
    room_a = letters[: letters.index("Room B")]
    at = room_a.index("now 10:45")
    assert room_a.index("H03 Lee Shelf") < at < room_a.index("H04 Snow Clock")
    assert letters[-1].startswith("now")


def test_what_is_on_has_a_level_mark_and_the_readers_own_a_wide_stroke():
    drawing = drawn()
    signs = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.INK]
    assert len(signs) == 1
    assert [pen for pen, _ in strokes(drawing)].count(Pen.CUT) == 1
    strong = {each.words for each in drawing.letters if each.is_strong}
    assert strong >= {"H03", "H04", "Room A", "Room B"}
    (down,) = [each for each in drawing.letters if each.words == "(H01)"]
    assert down.tone is Tone.GRAPHITE


def test_dots_tell_what_is_locked_where_that_is_told():
    dots = [m.fill for m in drawn(lines=[ROOM_A]).marks if isinstance(m, Disc)]
    assert dots == [Fill.PAPER, Fill.INK, Fill.INK]


def test_what_finds_no_place_is_named_beside_it():
    crowd = tuple(replace(MORNING[0], minute=600, number=f"H{n:02}") for n in range(5))
    assert "10:00 H04 in Room A" in drawn(lines=[Line(room="Room A", shown=crowd)]).key


def test_its_words_say_all_that_it_shows():
    says = drawn().says
    assert says.startswith("It is 10:45. Room A: 09:15 H00 Slow Water, done, not locked;")
    assert "10:36 H03 Lee Shelf, on;" in says
    assert "09:42 H01 Quiet Half, stood down, locked" in says
