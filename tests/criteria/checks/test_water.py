import pytest

from criteria.findings import State

TANK = {"mark": "T1", "holds": "potable", "litres": "500", "usable_share": "0.8"}


# By hand, with Sphere 2018's 15 and 7.5 litres a person and day: 400 L usable last two people
# 13.33 and 26.67 days, four people 6.67.
@pytest.mark.parametrize(
    ("people", "each", "days"), [("2", "15", 13.33), ("2", "7.5", 26.67), ("4", "15", 6.67)]
)
def test_usable_water_lasts_a_full_house_so_many_days(package, hold, people, each, days):
    hut = package(tanks=TANK, site={"people": people, "water_l_pd": each})
    finding = hold(hut, "water_days", "7")
    assert round(finding.value / 86_400, 2) == days
    assert finding.state is (State.MEETS if days > 7 else State.SHORT)


def test_the_working_adds_each_potable_tank(package, hold):
    hut = package(
        tanks=[
            {"mark": "T1", "holds": "potable", "litres": "1200", "usable_share": "0.92"},
            {"mark": "T2", "holds": "potable", "litres": "700", "usable_share": "0.92"},
            {"mark": "T3", "holds": "grey", "litres": "420", "usable_share": "0.95"},
        ],
        site={"people": "13", "water_l_pd": "12", "supply_days": "14"},
    )
    days, rate = hold(hut, "water_days", "10"), hold(hut, "water_per_person_day", "15")
    # by hand: 1900 L × 0.92 = 1748 L; ÷ (13 × 12) = 11.205 days; ÷ (13 × 14) = 9.604 L/day
    assert [step.write() for step in days.steps] == [
        "T1: 1\u202f200 L × 0.92 usable = 1\u202f104 L",
        "T2: 700 L × 0.92 usable = 644 L",
        "1\u202f748 L ÷ (13 people × 12.00 L/day) = 11.2 days",
    ]
    assert days.write_notes() == ("1\u202f748 L usable",)
    assert rate.steps[-1].write() == "1\u202f748 L ÷ (13 people × 14.0 days) = 9.60 L/day"
    assert rate.state is State.SHORT


# By hand: 420 L for four people for a week are Sphere's 15 L a person and day exactly.
@pytest.mark.parametrize(
    ("litres", "state"), [("420", State.ON_THE_LINE), ("417", State.SHORT), ("423", State.MEETS)]
)
def test_fifteen_litres_each_a_day_is_enough(package, hold, litres, state):
    hut = package(
        tanks=TANK | {"litres": litres, "usable_share": "1"},
        site={"people": "4", "supply_days": "7"},
    )
    assert hold(hut, "water_per_person_day", "15").state is state


@pytest.mark.parametrize("check", ["water_days", "water_per_person_day"])
def test_without_a_potable_tank_there_are_no_data(package, hold, check):
    hut = package(
        tanks=TANK | {"holds": "rain"}, site={"people": "4", "water_l_pd": "15", "supply_days": "7"}
    )
    finding = hold(hut, check, "7")
    assert (finding.state, finding.value) == (State.NO_DATA, None)
    assert finding.missing == ("a potable tank (tank schedule)",)


@pytest.mark.parametrize(
    ("head", "label"), [("litres", "Volume"), ("usable_share", "Usable share")]
)
def test_a_blank_of_one_tank_is_named_and_not_counted_as_zero(package, hold, head, label):
    hut = package(
        tanks=[TANK, TANK | {"mark": "T2", head: ""}], site={"people": "4", "water_l_pd": "15"}
    )
    finding = hold(hut, "water_days", "1")
    assert (finding.state, finding.value) == (State.NO_DATA, None)
    assert finding.missing == (f"T2, {label} (tank schedule)",)


def test_blanks_of_the_site_sheet_are_named(package, hold):
    hut = package(tanks=TANK)
    assert hold(hut, "water_days", "7").missing == (
        "People in the brief (site sheet)",
        "Water per person-day (site sheet)",
    )
    assert hold(hut, "water_per_person_day", "15").missing == (
        "People in the brief (site sheet)",
        "Days between supply visits (site sheet)",
    )


def test_a_tank_of_which_nothing_can_be_drawn_holds_no_days(package, hold):
    hut = package(tanks=TANK | {"usable_share": "0"}, site={"people": "4", "water_l_pd": "15"})
    finding = hold(hut, "water_days", "7")
    assert (finding.state, finding.value) == (State.SHORT, 0.0)


def test_drinking_water_carries_its_caution(package, hold):
    hut = package(tanks=TANK, site={"people": "4", "water_l_pd": "15"})
    assert "local health rules" in hold(hut, "water_days", "7").caution
