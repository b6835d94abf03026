"""The daylight plan on a page: classes and no style, and what a script needs to move a window."""

import re

from criteria.units import System
from reviews.pages.daylight_plan import draw_plan, tone_key
from tests.criteria.drawing.test_daylight import WINDOW, light_of


def test_it_has_classes_and_no_style_and_is_laid_out_for_a_telephone_too():
    drawn = draw_plan(light_of(WINDOW), System.METRIC)
    for text in (drawn.wide, drawn.narrow):
        assert not re.search(r"\sstyle=|<style|\son\w+=|fill=\"#", text)
        assert 'role="img"' in text
    assert drawn.scale == "1:50"
    assert "Day &lt;room&gt;" in drawn.wide


def test_windows_that_can_be_moved_say_where_they_are():
    moved = draw_plan(light_of(WINDOW), System.METRIC, is_moved=True).wide
    (said,) = re.findall(r'<g class="slide" id="(.*?)" (data-.*?)>', moved)
    assert said[0] == "plan-0"
    assert dict(re.findall(r'data-(\w+)="(.*?)"', said[1])) == {
        "left": "500",
        "most": "3000",
        "way": "-x",
        "said": "Move W1",
        "place": "in the S wall, 500 mm from its left",
        "mm": "50",
    }
    assert 'role="group"' in moved
    assert "data-left" not in draw_plan(light_of(WINDOW), System.METRIC).wide


def test_each_swatch_of_the_key_has_an_id_of_its_own():
    ids = re.findall(r' id="(.*?)"', "".join(swatch for swatch, _ in tone_key()))
    assert len(ids) == len(set(ids)) == 8
