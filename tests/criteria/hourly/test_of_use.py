"""Who is there, what runs, and what is wanted, from rows."""

import numpy as np
import pytest

from criteria.hourly.assumed import Taking
from criteria.hourly.of_use import in_use, loads, unsaid, wanted
from criteria.hourly.people_hours import Spread
from criteria.situations import Situation
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import HUT, hut

JANUARY, MAY = 12, 130 * 24 + 12


def occupants(*rows):
    return [{**HUT["occupants"][0], "mark": f"O{n}", **row} for n, row in enumerate(rows)]


def test_a_day_as_the_rows_say_takes_nothing():
    taking = Taking()
    row = {"up_at": "6", "here_from": "16", "here_to": "8"}
    people = in_use(hut(occupants=occupants(row)), taking).people
    assert people.asleep[:24].tolist() == [4.0] * 6 + [0.0] * 16 + [4.0] * 2
    assert people.awake[:24].tolist() == [0.0] * 6 + [4.0] * 2 + [0.0] * 8 + [4.0] * 6 + [0.0] * 2
    assert taking.found == ()


def test_what_isnt_said_of_a_day_is_taken_with_its_hours():
    taking = Taking()
    rows = occupants({}, {"sleeps_here": "no", "here_to": "15"}, {"up_at": "5"})
    in_use(hut(occupants=rows), taking)
    assert [[(c.head, c.value) for c in one.cells] for one in taking.found] == [
        [("up_at", "7 h"), ("here_from", "7 h"), ("here_to", "23 h")],
        [("here_from", "9 h")],
        [("here_from", "5 h"), ("here_to", "21 h")],
    ]
    assert taking.found[1].write() == "O1 are taken to be here from 9.0 h"


def test_what_was_taken_is_what_was_reckoned():
    taking, package = Taking(), hut()
    people = in_use(package, taking).people
    (one,) = taking.found
    written = hut(occupants={cell.head: cell.value for cell in one.cells})
    again = in_use(written, Taking()).people
    assert np.array_equal(people.awake, again.awake)
    assert np.array_equal(people.asleep, again.asleep)


def test_without_an_occupant_schedule_all_of_the_brief_sleep_here():
    people = in_use(hut(occupants=[]), Taking()).people
    assert (people.asleep[2], people.awake[12]) == (4, 4)


def test_groups_of_another_case_arent_there():
    rows = occupants({"cases": "weekend"}, {"n": "2"})
    package = hut(
        occupants=rows,
        cases=[{"case": "weekend", "people": "6"}, {"case": "week", "people": "2"}],
    )
    week = Situation(case=package.cases[1]).of(package)
    assert in_use(week, Taking()).people.asleep[2] == 2
    assert in_use(package, Taking()).people.asleep[2] == 6


def test_nobody_is_there_in_closed_months():
    package = hut(climate=[{"month": "Jan", "open": "no"}, {"month": "May"}])
    use = in_use(package, Taking())
    assert use.months == (False, *[True] * 11)
    assert (use.people.awake[JANUARY], use.people.awake[MAY]) == (0, 4)
    assert (use.is_open[JANUARY], use.is_open[MAY]) == (False, True)


def of_loads(package, **more):
    return loads(package, in_use(package, Taking()), **more)


def test_loads_by_hour_and_need():
    second = {
        "mark": "L2",
        "item": "Chargers",
        "n": "1",
        "w_each": "10",
        "h_day": "24",
        "for_each": "yes",
        "essential": "no",
        "stands_outside": "yes",
    }
    package = hut(loads=[HUT["loads"][0], second])
    found = of_loads(package)
    assert found.essential_w[:24].sum() == pytest.approx(120)
    assert found.essential_w[19] == pytest.approx(24)
    assert set(found.rest_w) == {40.0}
    assert np.array_equal(found.inside_w, found.essential_w)
    assert unsaid(package) == ("L2",)
    assert unsaid(hut(loads={"when": "", "from_h": "9"})) == ()


def test_heat_of_loads_doesnt_ask_which_are_essential():
    package = hut(loads={"essential": "", "when": ""})
    assert of_loads(package, by_need=False).inside_w[:24].sum() == pytest.approx(120)
    by_night = of_loads(package, spread=Spread.BY_NIGHT, by_need=False)
    assert by_night.inside_w[12] == 0
    with pytest.raises(Lacking, match="Essential"):
        of_loads(package)
    assert of_loads(hut(loads=[]), by_need=False).inside_w.sum() == 0
    with pytest.raises(Lacking):
        of_loads(hut(loads=[]))


def wants(package):
    use = in_use(package, Taking())
    return wanted(package, use, loads(package, use))


def test_what_is_wanted_is_the_briefs():
    found = wants(hut(site={"summer_inside_c": "26"}))
    assert found.is_operative
    assert set(found.warm_k) == {289.15}
    assert set(found.cool_k) == {299.15}
    assert found.people_w[12] == 4 * 75
    assert found.loads_w[19] == pytest.approx(24)


def test_what_the_brief_doesnt_say_is_held_to_nothing():
    found = wants(hut(site={"design_inside_c": ""}, plant={"night_c": "10"}))
    assert np.isnan(found.warm_k).all()
    assert np.isnan(found.cool_k).all()


def test_it_may_be_colder_at_night_and_no_warmer():
    assert wants(hut(plant={"night_c": "12"})).warm_k[[2, 12]].tolist() == [285.15, 289.15]
    assert set(wants(hut(plant={"night_c": "19"})).warm_k) == {289.15}


def test_closed_months_want_nothing():
    found = wants(hut(climate=[{"month": "Jan", "open": "no"}]))
    assert np.isnan(found.warm_k[JANUARY])
    assert found.warm_k[MAY] == 289.15
