"""Heat to take out, drawn: a stair that ends at the whole, beside what takes it out."""

from dataclasses import replace
from itertools import pairwise

import pytest

from criteria.check_sheet.sheet import unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path
from criteria.drawing.pens import Fill, Tone
from criteria.package import read_package
from tests.criteria.checks.test_cooling import HOT_BOX
from tests.criteria.drawing.seen import (
    boxes,
    drawn,
    in_each_field,
    in_fields,
    seen_of,
    strokes,
    words,
)

ROWS = {slug: rows if isinstance(rows, list) else [rows] for slug, rows in HOT_BOX.items()}
PLANT = {"cooling_w": "2000", "cooling_cop": "3"}
TABLES = {**ROWS, "plant": [PLANT], "power": [{"pv_kwp": "1.2"}]}
TABLES["site"] = [{**ROWS["site"][0], "system_factor": "0.7"}]
LOAD = ("cooling_load", "at most", "2000 W")
GIVEN = ("cooling_plant", "at least", "1")
ASKED = ["cooling_load", "cooling_plant", "panels_for_cooling"]


@pytest.mark.parametrize("check", ASKED)
@pytest.mark.parametrize("targets", [(), (LOAD, GIVEN)], ids=["unasked", "asked"])
def test_it_is_drawn_by_the_rules_in_each_width_and_system(check, targets):
    for drawing in in_each_field(TABLES, check, *targets):
        assert "Most comes by surfaces" in drawing.says


# By hand (test_cooling of the checks): 1,153 + 810 + 300 + 209 + 0 = 2,472 W.
def test_each_step_begins_where_the_one_before_ended_and_the_last_ends_at_the_whole():
    drawing = drawn(TABLES, "cooling_load")
    steps = boxes(drawing.marks)[:5]
    for (_, _, right, _), (left, *_) in pairwise(steps):
        assert left == pytest.approx(right)
    whole = boxes(drawing.marks)[5]
    assert (whole[0], whole[2]) == pytest.approx((steps[0][0], steps[-1][2]))
    watts = [figure.amount.si for figure in drawing.figures[1:6]]
    shares = [(right - left) / (whole[2] - whole[0]) for left, _, right, _ in steps]
    assert shares == pytest.approx([each / sum(watts) for each in watts])
    assert {"1\u202f153 W", "810 W", "300 W", "209 W", "2\u202f472 W"} <= words(drawing)


def test_what_is_over_and_what_the_plant_lacks_is_hatched():
    over = drawn(TABLES, "cooling_load", LOAD)
    assert strokes(over.marks, tone=Tone.SHORT)
    short = drawn(TABLES, "cooling_plant", GIVEN)
    glass = boxes(short.marks, fill=Fill.GLASS)[0]
    red = [m for m in short.marks if isinstance(m, Path) and m.tone is Tone.SHORT and m.is_closed]
    assert red[-1].points[0][0] == pytest.approx(glass[2])
    fine = drawn(TABLES, "cooling_load", ("cooling_load", "at most", "3000 W"))
    assert not strokes(fine.marks, tone=Tone.SHORT)


def test_electricity_stands_beside_what_panels_give_at_noon():
    drawing = drawn(TABLES, "panels_for_cooling")
    assert {"824 W", "840 W", "1.02"} <= words(drawing)
    assert "cooling takes out" not in words(drawing)
    unknown = drawn({**TABLES, "power": []}, "panels_for_cooling")
    assert "panels give at noon" not in words(unknown)


def test_without_plant_or_with_cool_air_it_is_still_drawn_and_without_rows_it_is_not():
    assert "cooling takes out" not in words(drawn(ROWS, "cooling_load"))
    cool = {**TABLES, "site": [{**TABLES["site"][0], "summer_outside_c": "20"}]}
    drawing = drawn(cool, "cooling_load")
    assert any(each.words.startswith("-") for each in drawing.letters)
    assert drawn({}, "cooling_load") is None


def test_of_people_that_the_load_was_not_asked_for_the_stair_has_no_whole():
    seen = seen_of(TABLES, "cooling_plant")
    unknown = unasked(read_package({}).package, CHECKS["cooling_load"])
    (drawing,) = in_fields([Field()], replace(seen, findings={"cooling_load": unknown}))
    assert "all to take out" not in words(drawing)
    assert "cooling takes out" in words(drawing)
