"""Figures as bars: as long as they are, limits across them, what lacks or is over beside."""

from dataclasses import replace

import pytest

from criteria.drawing.held import Held, asked_of, held, stands, told
from criteria.drawing.marks import Path, Touch
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.value_bars import Axis, Bar, answer, draw_bars, end_of
from criteria.findings import Measured, Part, Rule, State
from criteria.units import LENGTH, RATIO, System
from tests.criteria.drawing.seen import boxes, seen_of, strokes

MEASURED = Measured(subject="R1", values=(1.0,))


def figure(value, target=None, state=State.NOT_ASKED, rule=Rule.AT_LEAST, **part):
    part = {"name": "", "scale": RATIO, "rule": rule, "target": target, "state": state, **part}
    measured = Measured(values=(value,))
    return Held(measured=measured, part=Part(value=value, **part))


def bar_of(each, axis, **bar):
    bar = Bar(name="R1", held=each, words="1", **bar)
    return list(draw_bars([bar], 10.0, axis, 100.0, is_stacked=False))


@pytest.mark.parametrize(
    ("each", "fill", "hatched_between"),
    [
        (figure(2.0), Fill.TRACE, None),
        (figure(2.0, 1.0, State.MEETS), Fill.INK, None),
        (figure(1.0, 1.0, State.ON_THE_LINE), Fill.INK, None),
        (figure(1.0, 3.0, State.SHORT), Fill.PAPER, (1.0, 3.0)),
        (figure(3.0, 2.0, State.OVER, Rule.AT_MOST), Fill.PAPER, (2.0, 3.0)),
    ],
)
def test_a_bar_is_as_long_as_its_figure_and_what_lacks_or_is_over_is_hatched(
    each, fill, hatched_between
):
    marks = bar_of(each, Axis(10.0, 90.0, 4.0))
    bar = boxes(marks, pen=Pen.SEEN)[0]
    assert (bar[2] - bar[0]) / 20 == pytest.approx(each.amount.si)
    assert boxes(marks, pen=Pen.SEEN, fill=fill)
    ticks = [m for m in marks if isinstance(m, Path) and m.pen is Pen.CUT]
    assert [(m.points[0][0] - 10) / 20 for m in ticks] == [each.part.target or 0][: len(ticks)]
    lacking = boxes(marks, pen=Pen.FINE, tone=Tone.SHORT)
    assert bool(lacking) == bool(hatched_between) == bool(strokes(marks, tone=Tone.SHORT))
    for left, _, right, _ in lacking:
        assert ((left - 10) / 20, (right - 10) / 20) == pytest.approx(hatched_between)


def test_what_is_longer_than_its_axis_is_broken():
    whole, broken = (bar_of(figure(value), Axis(10.0, 90.0, 4.0)) for value in (4.0, 4.1))
    assert not strokes(whole)
    assert len(strokes(broken)) == 1
    assert boxes(broken, pen=Pen.SEEN)[0][2] == 90.0


def test_a_bar_leads_to_its_row():
    (touch,) = bar_of(figure(2.0), Axis(10.0, 90.0, 4.0), row=("vents", "V1"))
    assert isinstance(touch, Touch)
    assert (touch.schedule, touch.mark, touch.says) == ("vents", "V1", "R1, 1")


def test_an_axis_shows_every_limit_and_breaks_what_is_far_beyond():
    assert end_of([figure(3.0), figure(2.0)]) == 3.0
    assert end_of([figure(0.0)]) == 1.0
    assert end_of([figure(3.0, 2.0), figure(4.0), figure(4.1)]) == 4.0
    assert end_of([figure(9.0, 2.0)]) == 2.5
    assert end_of([figure(1.0, 2.0, not_over=6.0)]) == 7.5
    assert end_of([figure(1.0, 0.0)]) == 1.0


@pytest.mark.parametrize(
    ("each", "said"),
    [
        (figure(2.0), ""),
        (figure(2.0, 1.0, State.MEETS), "at least 1.00"),
        (figure(1.0, 1.0, State.ON_THE_LINE), "at least 1.00, on the line"),
        (figure(0.996, 1.0, State.SHORT), "at least 1.000, 0.004 short"),
        (figure(3.0, 2.0, State.OVER, Rule.AT_MOST), "at most 2.00, 1.00 over"),
        (figure(2.0, 1.0, State.MEETS, not_over=3.0), "at least 1.00, not over 3.00"),
    ],
)
def test_limits_are_said_beside_what_lacks(each, said):
    assert each.write_limits(System.METRIC) == said


def test_what_is_the_best_that_could_be_says_so():
    each = replace(figure(2.0), measured=replace(MEASURED, values=(2.0,), at_best=True))
    assert each.write(System.METRIC) == "at best 2.00"


def test_feet_and_inches_keep_their_signs():
    part = replace(figure(0.9, 1.2, State.SHORT).part, scale=LENGTH)
    each = Held(measured=MEASURED, part=part)
    assert each.write_limits(System.US) == 'at least 3\'-11 1/4", 11 13/16" short'


def test_near_the_line_is_ochre_and_only_a_miss_is_red():
    tones = {state: figure(1.0, 1.0, state).tone for state in State}
    assert {state for state in tones if tones[state] is Tone.SHORT} == {State.SHORT, State.OVER}
    assert {state for state in tones if tones[state] is Tone.NEAR} == {State.ON_THE_LINE}


def test_figures_of_a_check_are_held_as_its_sheet_has_them():
    tables = {
        "tanks": [{"mark": "T1", "holds": "potable", "litres": "420", "usable_share": "1"}],
        "site": [{"people": "4", "water_l_pd": "15", "supply_days": "7"}],
        "cases": [
            {"case": "four", "people": "4", "days": "90"},
            {"case": "two", "people": "2", "days": "90"},
            {"case": "feast", "people": "8", "days": "3", "held": "no"},
        ],
    }
    asked = ("water_days", "at least", "10")
    of = seen_of(tables, "water_days", asked)
    # by hand: 420 L of four, two and eight people at 15 L
    states = {each.measured.values[0] / 86400: each.part.state for each in held(of, "water_days")}
    assert states == {7: State.SHORT, 14: State.MEETS, 3.5: State.NOT_ASKED}
    assert told(of).amount.si == 7 * 86400
    rate = held(of, "water_per_person_day")
    assert {each.part.state for each in rate} == {State.NOT_ASKED}
    assert told(seen_of({}, "water_days", asked)) is None
    finding = of.findings["water_days"]
    assert stands(finding, Measured(subject="T9")) is State.NO_DATA
    assert asked_of(finding, Measured(name="Day 3"), "night").title.endswith(", Day 3")


def test_the_answer_stands_over_all_with_its_limit_in_as_many_lines_as_it_takes():
    asked = replace(seen_of({}, "water_days").asked, title="Water of a long name " * 3)
    marks, foot = answer(asked, None, 87.0, System.METRIC)
    assert marks[0].words == "no data"
    assert len(marks) == 3
    assert marks[-1].box[3] < foot
    one, lower = answer(replace(asked, title="Short"), None, 87.0, System.METRIC)
    assert len(one) == 2
    assert lower < foot
