"""Who is where, and what runs, hour by hour: by hand."""

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.people_hours import (
    Group,
    Load,
    Spread,
    is_unsaid,
    loads_of,
    minutes_between,
    people_of,
)

H = 3600.0
OPEN = [True] * 12
JULY = [month == 6 for month in range(12)]
NOBODY = people_of([], OPEN)
FIRST_OF_JULY = slice(181 * 24, 182 * 24)


def day(hours):
    return list(hours[:24])


def of(**hours):
    """A day's 24 figures: 0 but where hours are given as first and last by figure."""
    figures = [0.0] * 24
    for figure, spans in hours.items():
        for first, last in spans:
            figures[first - 1 : last] = [float(figure[1:])] * (last - first + 1)
    return figures


def test_sleepers_are_in_bed_eight_hours_before_seven_and_else_at_home():
    people = people_of([Group(n=2, sleeps_here=True)], OPEN)
    assert day(people.asleep) == of(_2=[(1, 7), (24, 24)])
    assert day(people.awake) == of(_2=[(8, 23)])
    assert day(people.sensible_w) == of(_100=[(1, 7), (24, 24)], _150=[(8, 23)])
    assert people.is_there.all()
    assert day(people.is_awake) == [bool(n) for n in day(people.awake)]
    assert day(people.is_asleep) == [bool(n) for n in day(people.asleep)]


def test_others_are_here_by_day_and_those_who_go_out_are_not():
    visit = people_of([Group(n=3, sleeps_here=False)], OPEN)
    assert day(visit.awake) == of(_3=[(10, 17)])
    assert not visit.is_asleep.any()
    out = Group(n=4, sleeps_here=True, up_s=6.5 * H, here_from_s=17 * H, here_to_s=8.25 * H)
    people = people_of([out], OPEN)
    assert day(people.asleep)[6:8] == [2, 0]
    assert day(people.awake)[5:10] == [0, 2, 4, 1, 0]
    assert day(people.awake)[16:24] == [0, 4, 4, 4, 4, 4, 2, 0]
    assert day(people.is_there)[5:10] == [True, True, True, True, False]


def test_of_two_groups_one_gets_up_while_the_other_sleeps():
    people = people_of(
        [Group(n=9, sleeps_here=True), Group(n=2, sleeps_here=True, up_s=4 * H)], OPEN
    )
    assert day(people.asleep)[2:8] == [11, 11, 9, 9, 9, 0]
    assert day(people.awake)[2:8] == [0, 0, 2, 2, 2, 11]
    assert day(people.is_asleep)[19:22] == [False, True, True]


def test_one_end_of_a_stay_leaves_the_other_to_bed_or_to_the_visit():
    late = people_of([Group(n=1, sleeps_here=True, here_from_s=16 * H)], OPEN)
    assert day(late.awake) == of(_1=[(17, 23)])
    early = people_of([Group(n=1, sleeps_here=False, here_to_s=12 * H)], OPEN)
    assert day(early.awake) == of(_1=[(10, 12)])


def test_in_a_closed_month_nobody_is_here_and_nothing_runs():
    people = people_of([Group(n=1, sleeps_here=True)], JULY)
    assert people.is_there.sum() == 31 * 24
    assert people.is_there[FIRST_OF_JULY].all()
    loads = loads_of([Load(power_w=10, run_s=24 * H, when="always")], people, JULY)
    assert loads.rest_w.sum() == pytest.approx(10 * 31 * 24)
    assert loads.rest_w[FIRST_OF_JULY].all()


@pytest.mark.parametrize(
    ("load", "figures"),
    [
        (Load(power_w=12, run_s=12 * H, when="always"), of(_6=[(1, 24)])),
        (Load(power_w=22, run_s=5.5 * H, when="day"), of(_11=[(8, 18)])),
        (Load(power_w=10, run_s=5 * H, when="evening"), of(_10=[(19, 23)])),
        (Load(power_w=16, run_s=4 * H, when="night"), of(_8=[(1, 7), (24, 24)])),
        (Load(power_w=1800, run_s=1 * H, when="cooking"), of(_600=[(8, 8), (19, 20)])),
        # five hours of an evening at full power, the other 9.5 of 19: half the power
        (Load(power_w=10, run_s=14.5 * H, when="evening"), of(_5=[(1, 24)], _10=[(19, 23)])),
        (Load(power_w=8, run_s=2 * H, from_s=22 * H, until_s=2 * H), of(_4=[(1, 2), (23, 24)])),
        (Load(power_w=8, run_s=2 * H, from_s=23 * H), of(_8=[(1, 1), (24, 24)])),
        (Load(power_w=8, run_s=2 * H, until_s=1 * H), of(_8=[(1, 1), (24, 24)])),
        (Load(power_w=8, run_s=24 * H, from_s=5 * H), of(_8=[(1, 24)])),
        (Load(power_w=8, run_s=0, from_s=5 * H), of()),
    ],
)
def test_a_load_runs_in_its_own_hours(load, figures):
    assert day(loads_of([load], NOBODY, OPEN).rest_w) == pytest.approx(figures)
    assert not is_unsaid(load)


def test_a_load_that_says_nothing_runs_while_somebody_is_awake():
    load = Load(power_w=44, run_s=4 * H)
    assert is_unsaid(load)
    assert day(loads_of([load], NOBODY, OPEN).rest_w) == pytest.approx(of(_11=[(8, 23)]))
    visit = people_of([Group(n=1, sleeps_here=False)], OPEN)
    assert day(loads_of([load], visit, OPEN).rest_w) == pytest.approx(of(_22=[(10, 17)]))
    both = [load, Load(power_w=5, run_s=5 * H, when="evening")]
    by_day = loads_of(both, visit, OPEN, Spread.BY_DAY)
    assert day(by_day.rest_w) == pytest.approx(of(_16=[(8, 18)], _5=[(19, 23)]))
    by_night = loads_of([load], visit, OPEN, Spread.BY_NIGHT)
    assert day(by_night.rest_w) == pytest.approx(of(_22=[(1, 7), (24, 24)]))


def test_essential_and_outside_are_told_apart_and_no_energy_is_lost():
    loads = loads_of(
        [
            Load(power_w=100, run_s=24 * H, when="always", is_essential=True),
            Load(power_w=30, run_s=24 * H, when="always", is_essential=True, is_outside=True),
            Load(power_w=7, run_s=24 * H, when="always"),
            Load(power_w=2, run_s=24 * H, when="always", is_outside=True),
        ],
        NOBODY,
        OPEN,
    )
    assert np.allclose(loads.essential_w, 130)
    assert np.allclose(loads.rest_w, 9)
    assert np.allclose(loads.inside_w, 107)


def test_a_span_of_under_a_minute_is_one():
    assert minutes_between(0, 10).sum() == 1
    assert minutes_between(0, 24 * H).all()
    assert minutes_between(5 * H, 5 * H).all()


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: people_of([Group(n=-1, sleeps_here=True)], OPEN), "people is -1"),
        (lambda: people_of([Group(n=1, sleeps_here=True, up_s=25 * H)], OPEN), "is 25 h; expected"),
        (lambda: people_of([], OPEN[1:]), "11 months; expected 12"),
        (lambda: loads_of([Load(power_w=-1, run_s=0)], NOBODY, OPEN), "power is -1"),
        (lambda: loads_of([Load(power_w=1, run_s=25 * H)], NOBODY, OPEN), "runs 25 h a day"),
        (lambda: loads_of([Load(power_w=1, run_s=-H)], NOBODY, OPEN), "runs -1 h a day"),
        (lambda: loads_of([Load(power_w=1, run_s=0, when="dusk")], NOBODY, OPEN), "runs “dusk”"),
    ],
)
def test_what_no_day_holds_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
