"""Minutes given, drawn: each as long as its minutes, the plan a line, what is over hatched."""

import pytest

from criteria.drawing.drawing import HALF_MM, MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.marks import Path
from criteria.drawing.minutes_given import PARTS, Given, draw_minutes
from criteria.drawing.pens import Pen, Tone
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

DAY = (
    Given(number="H12", name="Slow Water", minutes=(8.2, 14.6, 3.0), allowed=25),
    Given(
        number="H06",
        name="Quiet Half by the long water of the north",
        minutes=(8, 20, 3),
        allowed=25,
    ),
    Given(number="H03", name="Lee Shelf", minutes=(8, 9.5, 0), allowed=25, is_on=True),
)


def drawn(given=DAY, width_mm=MIDDLE_MM):
    return draw_minutes(given, 25, 2, Field(width_mm=width_mm))


def boxes(drawing):
    """Filled boxes with their widths [mm]."""
    paths = [each for each in drawing.flat if isinstance(each, Path) and each.fill in PARTS]
    return [max(x for x, _ in each.points) - min(x for x, _ in each.points) for each in paths]


@pytest.mark.parametrize("width_mm", [MIDDLE_MM, HALF_MM, NARROW_MM])
def test_letters_keep_the_rules_at_every_width(width_mm):
    keeps_the_rules(drawn(width_mm=width_mm))


def test_boxes_are_as_long_as_their_minutes_and_none_stands_for_nothing():
    widths = boxes(drawn())
    minutes = [each for given in DAY for each in given.minutes if each]
    assert len(widths) == 8
    per = [width / each for width, each in zip(widths, minutes, strict=True)]
    assert max(per) == pytest.approx(min(per))


def test_what_is_over_is_hatched_and_said():
    drawing = drawn()
    red = [each for each in drawing.flat if getattr(each, "tone", None) is Tone.SHORT]
    assert len(red) >= 3
    assert drawing.says == (
        "A slot's parts have 25 min. H12 Slow Water 25:48; "
        "H06 Quiet Half by the long water of the north 31:00, over; H03 Lee Shelf 17:30 so far."
    )
    assert [each for each in drawn(DAY[:1]).flat if getattr(each, "tone", None) is Tone.SHORT] == []


def test_who_had_more_is_not_over_for_taking_it():
    given = Given(number="H06", name="Quiet Half", minutes=(18, 14, 3), allowed=35)
    assert "over" not in drawn((given,)).says


def test_the_plan_is_a_line_where_its_minutes_end():
    drawing = drawn(DAY[:1])
    (line,) = (each for each in drawing.flat if isinstance(each, Path) and each.pen is Pen.CUT)
    begin = min(
        x for each in drawing.flat if getattr(each, "fill", None) in PARTS for x, _ in each.points
    )
    per = sum(boxes(drawing)) / DAY[0].whole
    assert line.points[0][0] - begin == pytest.approx(25 * per)
