"""The hut of the demo's way in: a door for each name, at its scale, on its paper."""

import pytest

from criteria.drawing.drawing import NARROW_MM, Field
from criteria.drawing.hut import DOOR_M, draw_hut
from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

DOORS = ("Studio leader", "Student", "Juror", "Examiner")


def leaves(drawing):
    """Door leaves: left, width and height on paper."""
    marks = (m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.TRACE)
    boxes = [[*zip(*mark.points, strict=True)] for mark in marks if len(mark.points) == 4]
    return [(min(x), max(x) - min(x), max(y) - min(y)) for x, y in boxes]


@pytest.mark.parametrize(("width", "ratio"), [(260.0, 50), (NARROW_MM, 100)])
def test_each_name_has_a_door_at_the_drawings_scale(width, ratio):
    drawing = draw_hut(DOORS, Field(width_mm=width))
    keeps_the_rules(drawing)
    assert drawing.scale == f"1:{ratio}"
    assert len(leaves(drawing)) == 4
    for _, wide, high in leaves(drawing):
        assert (wide, high) == pytest.approx([size * 1000 / ratio for size in DOOR_M])
    assert {"1", "2", "3", "4"} <= {each.words for each in drawing.letters}
    is_named = set(DOORS) <= {each.words for each in drawing.letters}
    assert is_named is (width > NARROW_MM)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_fewer_names_have_fewer_doors(count):
    drawing = draw_hut(DOORS[:count], Field(width_mm=260.0))
    keeps_the_rules(drawing)
    assert len(leaves(drawing)) == count
    assert drawing.says == f"Its doors: {', '.join(DOORS[:count])}."
