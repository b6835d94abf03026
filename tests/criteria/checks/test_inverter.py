"""What an inverter gives at once and a battery in the cold: by hand and by a printed table."""

import pytest

from criteria.errors import InputError
from criteria.findings import State
from criteria.measures.power import LEAD_COLD, Drawn, drawn_at_once, lead_cold_factor
from criteria.package import read_package

SIX = (
    ("hob", 1500, "steady"),
    ("cooling", 880, "compressor"),
    ("pump", 60, "pump"),
    ("fans", 90, "steady"),
    ("fridge", 60, "compressor"),
    ("lights", 96, "steady"),
)
LOADS = [
    {"mark": f"L{n}", "item": item, "n": "1", "w_each": str(watts), "h_day": "1", "starts": how}
    for n, (item, watts, how) in enumerate(SIX, 1)
]
POWER = {"inverter_w": "3000", "surge_w": "6000", "battery_kwh": "9.6", "usable_share": "0.5"}


def both(found):
    return {m.subject: m.values[0] for m in found.worst_first if m.values}


def changed(mark, **cells):
    return [row | cells if row["mark"] == mark else row for row in LOADS]


def test_all_at_once_and_the_one_that_adds_most_as_it_starts(package, hold):
    # 2,686 W run; cooling adds 880 × (5 − 1) = 3,520: 6,206 W for a moment, by hand
    found = hold(package(loads=LOADS, power=POWER), "inverter_start", "1")
    assert both(found) == pytest.approx({"starting": 6000 / 6206, "running": 3000 / 2686})
    assert (found.state, found.subject) == (State.SHORT, "starting")
    lines = [step.write() for step in found.steps]
    assert lines[1] == "at most 6\u202f206 W for a moment, as L2 starts at 5 times its 880 W"
    assert lines[2] == "6\u202f000 W ÷ 6\u202f206 W = 0.97"


def test_what_is_kept_apart_runs_alone(package, hold):
    # without the hob 1,186 W run together and the hob's 1,500 W alone; 1,186 + 3,520 = 4,706 W
    made = package(loads=changed("L1", together="no"), power=POWER)
    found = both(hold(made, "inverter_start", "1"))
    assert found == pytest.approx({"running": 3000 / 1500, "starting": 6000 / 4706})


def test_what_each_person_has_is_counted_by_the_case(package, hold):
    cases = [{"case": "few", "people": "3"}, {"case": "many", "people": "10"}]
    made = package(loads=changed("L6", for_each="yes"), power=POWER, cases=cases)
    found = hold(made, "inverter_start", "1")
    # 2,590 + 10 × 96 = 3,550 W run; 7,070 W as the cooling starts
    assert (found.in_case, found.value) == ("many", pytest.approx(3000 / 3550))
    assert [m.values[0] for m in found.worst_first if m.in_case == "many"] == pytest.approx(
        [3000 / 3550, 6000 / 7070]
    )


@pytest.mark.parametrize("text", ["", "sometimes"])
def test_how_a_load_starts_is_asked_of_starting_alone(hold, text):
    tables = {"loads": changed("L2", starts=text), "power": [POWER]}
    found = hold(read_package(tables).package, "inverter_start", "1")
    assert found.state is State.NO_DATA
    assert both(found) == pytest.approx({"running": 3000 / 2686})
    assert found.missing[0].startswith("L2, Starts as (load schedule)")


def test_blank_columns_change_no_figure_of_before(package, hold):
    plain = [{head: text for head, text in row.items() if head != "starts"} for row in LOADS]
    plant = {head: POWER[head] for head in ("battery_kwh", "usable_share")}
    for check in ("battery_days", "largest_load"):
        was = hold(package(loads=plain, power=plant), check, "1")
        assert hold(package(loads=LOADS, power=POWER), check, "1").value == was.value
    assert hold(package(loads=plain, power=plant), "battery_in_cold", "1").state is State.NO_DATA


def test_nothing_drawn_is_no_endless_ratio(package, hold):
    idle = [LOADS[0] | {"w_each": "0"}]
    found = hold(package(loads=idle, power=POWER), "inverter_start", "1")
    assert found.state is State.NO_DATA
    assert found.missing[0].startswith("a figure that can be: power at once is 0 W")


def test_loads_of_no_number_draw_nothing_as_they_start():
    assert drawn_at_once([Drawn(0, 900, 5), Drawn(2, 10)]) == (20, 20)
    assert drawn_at_once([]) == (0, 0)
    assert drawn_at_once([Drawn(1, 100), Drawn(1, 80, 5, is_together=False)]) == (100, 400)


# IEEE 485, Table 1, from memory: 1.00, 1.11, 1.30 and 1.52 at 25, 15.6, 4.4 and −3.9 °C.
@pytest.mark.parametrize(("celsius", "factor"), LEAD_COLD)
def test_lines_of_the_printed_table(celsius, factor):
    assert lead_cold_factor(celsius) == factor


def test_between_lines_it_is_straight_and_colder_than_the_table_is_refused():
    assert lead_cold_factor(10.0) == pytest.approx((1.30 + 1.11) / 2)  # midway of 4.4 and 15.6
    with pytest.raises(InputError, match=r"expected -3\.9 °C or more"):
        lead_cold_factor(-4)


def cold(celsius, kind="lead"):
    return POWER | {"battery_kind": kind, "battery_c": celsius}


USED = [{"mark": "L1", "item": "Fridge", "n": "1", "w_each": "100", "h_day": "10"}]


@pytest.mark.parametrize(
    ("celsius", "kind", "days"),
    # 9.6 kWh × 0.5 ÷ 1.52 = 3.15789 kWh over 1 kWh a day, by hand
    [("-3.9", "lead", 3.15789474), ("25", "lead", 4.8), ("-3.9", "lithium iron", 4.8)],
)
def test_a_cold_battery_gives_less(package, hold, celsius, kind, days):
    found = hold(package(loads=USED, power=cold(celsius, kind)), "battery_in_cold", "1")
    assert found.value / 86_400 == pytest.approx(days, rel=1e-8)


def test_lithium_under_freezing_is_said_to_take_no_charge(package, hold):
    found = hold(package(loads=USED, power=cold("-1", "lithium iron")), "battery_in_cold", "1")
    assert found.write_notes()[0].startswith("at -1.0 °C it takes no charge")
    warm = hold(package(loads=USED, power=cold("2", "lithium iron")), "battery_in_cold", "1")
    assert warm.write_notes() == ()


def test_lead_colder_than_the_table_is_no_data(package, hold):
    found = hold(package(loads=USED, power=cold("-20")), "battery_in_cold", "1")
    assert found.missing == (
        "a figure that can be: battery is at -20 °C; expected -3.9 °C or more",
    )
