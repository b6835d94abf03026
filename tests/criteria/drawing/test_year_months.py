"""A year by months: columns at one scale, sums to the year's, what lacks hatched."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path, Strokes
from criteria.drawing.pens import Fill, Tone
from criteria.drawing.year_months import draw_months, monthly, parts_of
from criteria.hourly.weather import HOURS
from tests.criteria.drawing.seen import FIELDS, boxes, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules
from tests.criteria.drawing.year_made import a_year

YEAR = a_year()


def months(year=YEAR, field=None):
    drawing = draw_months(year, field or Field())
    keeps_the_rules(drawing)
    return drawing


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_it_keeps_the_rules_in_each_width_and_system(field):
    assert months(field=field).height_mm <= 180


def test_a_month_holds_its_own_hours():
    one = np.zeros(HOURS)
    one[24 * 31 : 24 * 59] = 1000.0
    assert (monthly(one) / 3.6e6).tolist() == [0, 24 * 28, *[0] * 10]
    assert monthly(np.ones(HOURS)).sum() == pytest.approx(HOURS * 3600)


def test_columns_are_as_high_as_their_energy_all_at_one_scale():
    drawing = months()
    per = float(drawing.scale.removeprefix("1 mm = ").removesuffix(" kWh"))
    (cooling,) = [p for p in parts_of(YEAR) if p.name == "sun through glass"]
    columns = [b for b in boxes(drawing.marks, fill=Fill.TRACE) if b[3] - b[1] > 0]
    january = columns[0]
    assert (january[3] - january[1]) * per == pytest.approx(cooling.whole_j[0] / 3.6e6)


def test_what_is_needed_and_not_given_is_hatched_at_the_head():
    drawing = months()
    heat = parts_of(YEAR)[0]
    assert heat.hatched_j[0] > 0
    red = [m for m in drawing.marks if isinstance(m, Strokes) and m.tone is Tone.SHORT]
    assert len(red) >= int((heat.hatched_j > 3.6e6 * 10).sum())
    held = months(replace(YEAR, drawn=YEAR.held))
    assert not [m for m in held.marks if isinstance(m, Strokes) and m.tone is Tone.SHORT]
    assert held.letters[0].tone is Tone.INK
    assert drawing.letters[0].tone is Tone.SHORT


def test_a_month_of_nothing_but_lack_has_no_filled_column():
    none = replace(YEAR.drawn, heat_w=np.zeros(HOURS), sun_w=None)
    drawing = months(a_year(power=False, drawn=none))
    assert not boxes(drawing.marks, fill=Fill.INK)


def test_what_isnt_told_has_no_part():
    dark = replace(YEAR.drawn, sun_w=None)
    year = a_year(power=False, drawn=dark)
    assert [each.name for each in parts_of(year)] == ["heat needed", "cooling needed"]
    months(year)


def test_the_table_holds_each_month_and_the_year():
    table = {figure.what: figure.amount.si for figure in months().figures}
    made = [joules for what, joules in table.items() if what.endswith(", electricity made")]
    assert len(made) == 13
    assert sum(made[1:]) == pytest.approx(made[0])
    assert table["Year, electricity made: spilled"] < table["Year, electricity made"]


def test_spilled_is_hatched_and_no_miss():
    drawing = months()
    ink = [
        m
        for m in drawing.marks
        if isinstance(m, Strokes) and m.tone is Tone.INK and m.pen.name == "HATCH"
    ]
    assert ink
    assert any(each.startswith("electricity made") for each in words(drawing))


def test_a_year_that_needs_nothing_is_drawn():
    nothing = np.zeros(HOURS)
    run = replace(YEAR.held, heat_w=nothing, cool_w=nothing, sun_w=None)
    drawing = months(a_year(power=False, held=run, drawn=run))
    assert drawing.letters[0].words == "0.0 kWh"
    assert not [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.INK]
