"""Levels as given: each mark on the floor that was set, bare, however many jurors and criteria."""

import pytest

from criteria.drawing.level_section import FLOORS, Given, Station, draw_level_section
from criteria.drawing.marks import Lettering, Path
from criteria.drawing.pens import Pen
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

WORDS = ("Not shown", "Roughed out", "Worked through", "Resolved", "Carried to the detail")


def _drawn(levels):
    """Levels by criterion, each by juror."""
    stations = [
        Station(
            code=code, name=f"Name of {code}", given=tuple(Given(who=w, level=n) for w, n in given)
        )
        for code, given in levels.items()
    ]
    drawing = draw_level_section(stations, WORDS)
    keeps_the_rules(drawing)
    return drawing


def _floor_lines(drawing):
    flat = [m for m in drawing.marks if isinstance(m, Path) and m.points[0][0] == 0.0]
    return [line.points[0][1] for line in flat]


def _of(drawing, who):
    return [m.at for m in drawing.marks if isinstance(m, Lettering) and m.words == who]


def test_a_mark_stands_on_the_floor_that_its_juror_set_and_not_mine_under_the_ground():
    drawing = _drawn({"F1": [("HQ", 4), ("MO", None)], "F2": [("HQ", 1), ("MO", 5)]})
    lines = dict(zip(FLOORS, _floor_lines(drawing), strict=True))
    heights = {who: [y + 1.2 for _, y in _of(drawing, who)] for who in ("HQ", "MO")}
    assert heights["HQ"] == [pytest.approx(lines[4]), pytest.approx(lines[1])]
    assert heights["MO"] == [pytest.approx(lines[None]), pytest.approx(lines[5])]
    assert lines[None] > lines[1]
    ground = next(m for m in drawing.marks if isinstance(m, Path) and m.pen is Pen.CUT)
    assert ground.points[0][1] == lines[1]
    assert drawing.says == "F1: HQ 4, MO not mine to judge; F2: HQ 1, MO 5."


def test_no_mark_meets_another_where_all_set_one_floor_of_many_criteria():
    jurors = [(f"J{n}", 3) for n in range(9)]
    drawing = _drawn({f"F{n}": jurors for n in range(1, 13)})
    assert all(len(set(_of(drawing, who))) == 12 for who, _ in jurors)


def test_nothing_set_and_nothing_asked_are_drawn_bare():
    assert _drawn({"F1": []}).says == "F1: nobody."
    assert len(_floor_lines(_drawn({}))) == 6
