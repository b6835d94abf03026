"""Dimensions and level marks: they lie where they say, their figures clear of the line."""

import pytest

from criteria.drawing.dimensions import AWAY_MM, across, level, upwards
from criteria.drawing.marks import Lettering, Path, Strokes, around, meet


def parts(marks, kind):
    return [mark for mark in marks if isinstance(mark, kind)]


@pytest.mark.parametrize(("y", "away"), [(30.0, AWAY_MM), (10.0, -AWAY_MM)])
def test_a_width_is_dimensioned_off_its_object_with_its_figure_over_the_line(y, away):
    marks = list(across(10, 50, y, "1\u202f200", of=20.0))
    line, *extensions = [path.points for path in parts(marks, Path)]
    assert line == ((10, y), (50, y))
    assert [points[0] for points in extensions] == [(10, 20 + away), (50, 20 + away)]
    (words,) = parts(marks, Lettering)
    assert (words.at[0], words.anchor, words.is_turned) == (30, "middle", False)
    assert words.box[3] < y
    assert len(parts(marks, Strokes)[0].segments) == 2


@pytest.mark.parametrize(("x", "away"), [(30.0, AWAY_MM), (10.0, -AWAY_MM)])
def test_a_height_is_dimensioned_so_that_it_is_read_from_the_right(x, away):
    marks = list(upwards(10, 50, x, "1\u202f200", of=20.0))
    line, *extensions = [path.points for path in parts(marks, Path)]
    assert line == ((x, 10), (x, 50))
    assert [points[0] for points in extensions] == [(20 + away, 10), (20 + away, 50)]
    (words,) = parts(marks, Lettering)
    left, top, right, foot = words.box
    assert words.is_turned
    assert right < x
    assert (top + foot) / 2 == pytest.approx(30)
    assert foot - top > right - left


def test_without_an_object_no_extension_lines_are_drawn():
    assert len(parts(across(0, 9, 5, "9"), Path)) == len(parts(upwards(0, 9, 5, "9"), Path)) == 1


def test_a_level_mark_stands_on_its_level_beside_its_figure():
    marks = list(level((20, 30), "2\u202f100"))
    triangle, line = parts(marks, Path)
    assert around(triangle.points)[3] == 30
    assert {y for _, y in line.points} == {30}
    (words,) = parts(marks, Lettering)
    assert not meet(words.box, around(triangle.points))
