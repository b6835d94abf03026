"""The most people for whom targets hold."""

import pytest

from criteria.check_sheet.case_table import case_table
from criteria.check_sheet.served import People, Served, decides, person_days, served
from criteria.check_sheet.sheet import check_sheet, judge
from criteria.package import read_package
from criteria.targets.reading import read_targets

# 120 ft³ = 3.398022 m³, 3.058219 usable; 5 gal = 18.92706 L. By hand: 5.38597 people for 30 days.
TANK = {"mark": "T1", "holds": "potable", "litres": "120 ft3", "usable_share": "0.9"}
SITE = {"water_l_pd": "5 gal/day", "people": "3", "supply_days": "7"}


def targets(*rows):
    cells = [{"id": f"T0{n}", "rule": "at least", **row} for n, row in enumerate(rows, 1)]
    reading = read_targets(cells)
    assert not reading.refused
    return reading.targets


WATER = {"check": "water_days", "value": "30"}


def test_the_most_people_for_thirty_days_of_water(package):
    (found,) = served(package(tanks=TANK, site=SITE), targets(WATER), judge)
    assert (found.people, found.write()) == (5, "32.3 days for 5, 26.9 days for 6")


def test_the_people_of_the_brief_and_its_cases_change_nothing(package):
    cases = [{"case": "fair", "people": "200"}]
    typed = package(tanks=TANK, site=SITE | {"people": "90"}, cases=cases)
    (found,) = served(typed, targets(WATER | {"case": "fair"}), judge)
    assert found.people == 5


# 161.58 person-days; on the line, within 0.5 % of the target, counts as meeting it.
@pytest.mark.parametrize(("days", "people"), [("200", 0), ("0.1", None), ("0.4", 405)])
def test_it_may_be_nobody_anybody_or_many(package, days, people):
    (found,) = served(package(tanks=TANK, site=SITE), targets(WATER | {"value": days}), judge)
    assert (found.people, found.least) == (people, 1)


def test_water_that_must_not_stand_asks_for_more_people(package):
    stands = {"check": "water_turnover", "rule": "at most", "value": "10"}
    (found,) = served(package(tanks=TANK, site=SITE), targets(stands), judge)
    assert (found.people, found.least) == (None, 17)  # 161.58 ÷ 10


def test_what_people_do_not_change_is_not_asked(package):
    power = {"check": "battery_days", "value": "2"}
    loads = {"mark": "L1", "item": "Fridge", "n": "1", "w_each": "50", "h_day": "10"}
    typed = package(loads=loads, power={"battery_kwh": "2", "usable_share": "0.8"})
    assert served(typed, targets(power), judge) == ()


def test_a_blank_leaves_the_number_unsaid(package):
    typed = package(tanks={**TANK, "usable_share": ""}, site=SITE)
    (found,) = served(typed, targets(WATER), judge)
    assert (found.people, found.missing) == (None, ("T1, Usable share (tank schedule)",))
    assert decides([found]) is None


def test_the_least_decides_but_not_beside_what_is_not_known():
    some, none, open_end, lacks = (
        Served("T02", "", people=4), Served("T01", "", people=0),
        Served("T03", ""), Served("T04", "", missing=("a cell",)),
    )  # fmt: skip
    assert decides([some, open_end]) is some
    assert decides([some, lacks]) is None
    assert decides([some, lacks, none]) is none
    assert decides([open_end]) is None


def test_a_sheet_holds_its_cases_and_sets_their_figures_side_by_side(package):
    cases = [
        {"case": "everyday", "people": "3", "days": "285"},
        {"case": "weekend", "people": "5", "days": "80", "held": "no"},
    ]
    sheet = check_sheet(package(tanks=TANK, site=SITE, cases=cases), targets(WATER))
    table = case_table(sheet)
    assert table.cases == (People("everyday", 3, 285, True), People("weekend", 5, 80, False))
    row = next(row for row in table.rows if row.finding.ref)
    days = [measured.values[0] / 86_400 for measured in row.by_case]
    assert days == pytest.approx([53.8597, 32.3158], abs=5e-5)
    assert person_days(table.cases) == 1255  # 3 · 285 + 5 · 80


def test_days_of_a_year_that_are_not_given_are_not_summed():
    assert person_days([People("a", 3, 285, True), People("b", 5, None, True)]) is None


def test_without_cases_there_is_no_table(package):
    table = case_table(check_sheet(package(tanks=TANK, site=SITE), targets(WATER)))
    assert (table.cases, table.rows) == ((), ())


def test_water_before_the_next_visit_follows_stays_of_the_cases(package, hold):
    cases = [
        {"case": "everyday", "people": "4", "days": "261"},
        {"case": "weekend", "people": "6", "days": "104", "stay": "2"},
    ]
    tank = {"mark": "T1", "holds": "potable", "litres": "1000", "usable_share": "1"}
    site = {"water_l_pd": "18", "supply_days": "14"}
    finding = hold(package(tanks=tank, site=site, cases=cases), "water_worst_day", "0")
    assert (finding.name, finding.state.word) == ("Day 13", "Short")
    assert finding.value == pytest.approx(-0.152)  # 44 and 108 L short
    less = package(tanks=tank, site=site | {"water_l_pd": "15"}, cases=cases)
    assert hold(less, "water_worst_day", "0").value == pytest.approx(0.040)


def test_a_case_that_does_not_say_its_days_leaves_the_worst_day_unsaid(hold):
    cases = [{"case": "a", "people": "4"}, {"case": "b", "people": "6", "days": "80"}]
    reading = read_package({"tanks": [TANK], "site": [SITE], "cases": cases})
    finding = hold(reading.package, "water_worst_day", "0")
    assert finding.missing == ("a, Days a year (people cases)",)
