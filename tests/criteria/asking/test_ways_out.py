"""The question of a way out that is climbed through."""

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.package import read_package
from criteria.targets.reading import read_targets

HATCH = {"mark": "D1", "place": "Hatch", "outside": "yes", "clear_w": "600", "height": "800"}


@pytest.mark.parametrize(("ways", "is_asked"), [("2", True), ("1", False)])
def test_a_hatch_is_asked_about_where_the_count_of_ways_holds(ways, is_asked):
    hut = read_package({"doors": [HATCH], "ways_out": [{"ways_out": ways}]}).package
    row = {"id": "T1", "check": "ways_out", "rule": "at least", "value": "2"}
    sheet = check_sheet(hut, read_targets([row]).targets)
    said = [question.text for question in likely_questions(sheet, hut)]
    climbed = "One of the ways out is climbed through: D1 is 600 mm × 800 mm"
    assert any(text.startswith(climbed) for text in said) is is_asked
