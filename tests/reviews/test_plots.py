"""Plots: drawn to scale, said in words, without styles of their own."""

import re
from xml.etree import ElementTree

import pytest

from reviews.pages.plots import FOOT, LEFT, RIGHT, TOP, level_bars, strips


def _parse(drawn):
    return ElementTree.fromstring(str(drawn))


def test_bars_are_shares_of_their_own_cohort_from_one_foot():
    drawn = _parse(level_bars("F2 Light", [("H", (0, 1, 2, 1, 0)), ("E", (0, 0, 0, 50, 50))]))
    bars = drawn.findall("rect")
    assert len(bars) == 10
    for bar in bars:
        assert float(bar.get("y")) + float(bar.get("height")) == pytest.approx(FOOT, abs=0.11)
    heights = [float(bar.get("height")) for bar in bars]
    # a half of H at level 3 is as tall as a half of E at level 4
    assert heights[2] == heights[5 + 3] == pytest.approx(FOOT - TOP)
    assert heights[1] == pytest.approx((FOOT - TOP) / 2)
    assert heights[0] == 0


def test_the_two_cohorts_are_told_apart_by_class():
    drawn = _parse(level_bars("F2", [("H", (1, 0, 0, 0, 0)), ("E", (1, 0, 0, 0, 0))]))
    classes = [bar.get("class") for bar in drawn.findall("rect")]
    assert classes == ["series-this"] * 5 + ["series-other"] * 5


def test_bars_are_said_in_words():
    drawn = _parse(level_bars("F2 Light", [("H", (0, 1, 2, 1, 0))]))
    assert drawn.find("title").text == "Levels on F2 Light"
    assert drawn.find("desc").text == "H: 0 at 1, 1 at 2, 2 at 3, 1 at 4, 0 at 5"


def test_no_level_at_all_draws_no_bar_and_breaks_nothing():
    drawn = _parse(level_bars("F2", [("H", (0, 0, 0, 0, 0))]))
    assert {bar.get("height") for bar in drawn.findall("rect")} == {"0.0"}


def test_points_lie_between_the_least_and_the_greatest_with_the_target_among_them():
    drawn = _parse(strips("Water days", [("H", (0.5, 1.0, 1.5), (0.75, 1.0, 1.25))], 1.0))
    points = [float(point.get("cx")) for point in drawn.findall("circle")]
    assert points == [LEFT + 4, (LEFT + RIGHT) / 2, RIGHT - 4]
    line = next(p for p in drawn.findall("path") if p.get("class") == "mark-line")
    assert float(re.match(r"M([\d.]+)", line.get("d"))[1]) == (LEFT + RIGHT) / 2
    said = "H: 3 from 0.50 to 1.50, median 1.00; the line stands at 1"
    assert drawn.find("desc").text == said


def test_a_target_beyond_every_value_is_still_drawn():
    drawn = _parse(strips("Water days", [("H", (0.2, 0.4), (0.25, 0.3, 0.35))], 1.0))
    line = next(p for p in drawn.findall("path") if p.get("class") == "mark-line")
    assert float(re.match(r"M([\d.]+)", line.get("d"))[1]) == RIGHT - 4


def test_one_value_at_the_target_is_drawn():
    drawn = _parse(strips("Water days", [("H", (1.0,), (1.0, 1.0, 1.0))], 1.0))
    assert len(drawn.findall("circle")) == 1


@pytest.mark.parametrize(
    "drawn",
    [level_bars("<b>", [("a & b", (1, 0, 0, 0, 0))]), strips("<b>", [("a", (1.0,), (1, 1, 1))], 1)],
)
def test_names_are_escaped_and_nothing_is_styled_inline(drawn):
    assert "<b>" not in str(drawn)
    assert "style" not in str(drawn)
