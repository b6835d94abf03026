"""The worst week: lines lie where their figures say, and what isn't known isn't drawn."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.drawing.drawing import Field
from criteria.drawing.marks import Path, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.year_week import draw_week
from criteria.hourly.weather import HOURS
from criteria.hourly.worst import Span, worst_week
from tests.criteria.drawing.seen import FIELDS, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules
from tests.criteria.drawing.year_made import DARK_DAY, LIGHT, a_year

YEAR = a_year()
WEEK = worst_week(YEAR)
SUN = 500 * LIGHT


def week(year=YEAR, span=WEEK, field=None, before=None):
    drawing = draw_week(year, span, SUN, field or Field(), before)
    keeps_the_rules(drawing)
    return drawing


def lines(drawing, pen):
    return [m for m in drawing.marks if isinstance(m, Path) and m.pen is pen and not m.is_closed]


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_it_keeps_the_rules_in_each_width_and_system(field):
    drawing = week(field=field)
    assert {"inside", "outside", "wanted"} <= words(drawing)
    assert drawing.height_mm <= 180


def test_inside_and_outside_lie_on_one_axis_of_degrees():
    drawing = week()
    (inside,) = lines(drawing, Pen.CUT)
    (outside,) = lines(drawing, Pen.FINE)
    assert len(inside.points) == len(outside.points) == 168
    at = WEEK.at
    one, other = YEAR.drawn.operative_k[at], YEAR.weather.air_k[at]
    ys, yo = (np.array([y for _, y in line.points]) for line in (inside, outside))
    per = (yo - ys) / (one - other)
    assert per.min() == pytest.approx(per.max())
    assert per[0] > 0
    assert drawing.letters[0].words == drawing.figures[0].lettered


def test_sun_and_battery_stand_below_and_dark_hours_are_heavy():
    span = Span(24 * (DARK_DAY - 1), 168)
    drawing = week(span=span)
    (sun,) = [m for m in drawing.marks if isinstance(m, Path) and m.fill is Fill.TRACE]
    assert len(sun.points) == 170
    (dark,) = [m for m in drawing.marks if isinstance(m, Strokes) and m.tone is Tone.SHORT]
    assert len(dark.segments) == 7
    hour_mm = dark.segments[0][1][0] - dark.segments[0][0][0]
    left = lines(drawing, Pen.CUT)[0].points[0][0] - hour_mm / 2
    assert (dark.segments[0][0][0] - left) / hour_mm == pytest.approx(24 + 17)
    table = {figure.what: figure.amount.si for figure in drawing.figures}
    assert table["10 Feb, battery, least"] == 3.6e6
    assert table["10 Feb, sun on level ground, mean"] == pytest.approx(SUN[:24].mean())


def test_without_electricity_there_is_no_battery():
    drawing = week(a_year(power=False))
    assert not [each for each in words(drawing) if "battery" in each]
    assert len([m for m in drawing.marks if isinstance(m, Path) and m.is_closed]) == 3


def test_a_battery_used_to_nothing_has_no_line_for_it():
    power = replace(YEAR.power, least_j=0.0)
    drawing = week(replace(YEAR, power=power))
    graphite = [m for m in lines(drawing, Pen.DATUM) if m.tone is Tone.GRAPHITE]
    assert not graphite
    assert len([m for m in lines(week(), Pen.DATUM) if m.tone is Tone.GRAPHITE]) == 1


def test_what_is_wanted_is_broken_where_nothing_is_and_left_out_where_nothing_ever_is():
    warm = YEAR.warm_k.copy()
    warm[WEEK.at[10:20]] = np.nan
    warm[WEEK.at[-1:]] = np.nan
    wanted = [m for m in lines(week(replace(YEAR, warm_k=warm)), Pen.DATUM) if m.tone is Tone.INK]
    assert [len(m.points) for m in wanted] == [10, 147]
    never = week(replace(YEAR, warm_k=np.full(HOURS, np.nan)))
    assert "wanted" not in words(never)
    assert never.letters[0].tone is Tone.INK
    alone = np.full(HOURS, np.nan)
    alone[WEEK.at[5]] = 293.15
    assert "wanted" in words(week(replace(YEAR, warm_k=alone)))


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f"{f.width_mm:g} {f.system}")
def test_a_year_before_a_trial_is_dashed_beside_it(field):
    colder = replace(YEAR.drawn, operative_k=YEAR.drawn.operative_k - 3.0)
    drawing = week(before=replace(YEAR, drawn=colder), field=field)
    was, charge = lines(drawing, Pen.BEFORE)
    (now,) = lines(drawing, Pen.CUT)
    apart = {round(y - z, 3) for (_, y), (_, z) in zip(was.points, now.points, strict=True)}
    assert len(apart) == 1
    assert apart.pop() > 0
    assert charge.points == lines(drawing, Pen.SEEN)[0].points
    assert "before" in words(drawing)
    assert "; before " in drawing.says
    table = {figure.what: figure.amount.si for figure in drawing.figures}
    day = next(what.split(",")[0] for what in table if what.endswith("before the trial, least"))
    least = table[f"{day}, inside, least"]
    assert table[f"{day}, inside before the trial, least"] == pytest.approx(least - 3)


def test_a_battery_that_a_trial_brings_or_takes_away_stands_alone():
    taken = week(a_year(power=False), before=YEAR)
    assert len(lines(taken, Pen.BEFORE)) == 2
    assert not lines(taken, Pen.SEEN)
    brought = week(before=a_year(power=False))
    assert len(lines(brought, Pen.BEFORE)) == 1
    assert len(lines(brought, Pen.SEEN)) == 1
