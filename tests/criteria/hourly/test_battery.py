"""A battery by hour: a worked day, limits, cold, and that no energy is lost.

The worked day is closed arithmetic: in its first hour the store gives 100 ÷ 0.95 = 105.263 Wh, in
its second only 34.737 Wh stand above the least, worth 33 Wh at the loads.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.hourly.battery import alone, step, supply_of, wanting
from criteria.hourly.weather import HOURS
from criteria.hourly.worst import Span
from criteria.hourly.year import PowerYear

WH = 3600.0
MADE_W = [0, 0, 400, 800, 1000, 900, 500, 100, 0, 0, 0, 0]
ASKED_W = [100, 100, 100, 300, 200, 200, 200, 300, 400, 400, 300, 200]
STORED_WH = [394.73684211, 360.0, 645.0, 1120.0, 1595.0, 1800.0, 1800.0, 1589.4736842,
             1221.0526316, 852.63157895, 536.84210526, 360.0]  # fmt: skip
UNSERVED_W = [0, 67, 0, 0, 0, 0, 0, 0, 50, 50, 0, 32]
SPILLED_W = [0, 0, 0, 0, 300, 484.21052632, 300, 0, 0, 0, 0, 0]
EVEN = np.full(HOURS, 100.0)
NONE = np.zeros(HOURS)


def of_1800_wh(stored_j, surplus_w):
    return step(stored_j, surplus_w, 1800 * WH, 360 * WH, 0.95, 0.95, 500, 350)


def supply(**given):
    asked = {
        "made_w": NONE,
        "essential_w": EVEN,
        "rest_w": NONE,
        "label_j": 10_000 * WH,
        "usable_share": 0.8,
        "kind": "lithium iron",
    }
    return supply_of(**asked | given)


def test_a_worked_day_within_its_limits():
    stored, hours = 500 * WH, []
    for made, asked in zip(MADE_W, ASKED_W, strict=True):
        stored, unserved, spilled = of_1800_wh(stored, made - asked)
        hours.append((stored / WH, unserved, spilled))
    found = zip(*hours, strict=True)
    for each, expected in zip(found, (STORED_WH, UNSERVED_W, SPILLED_W), strict=True):
        assert each == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_standing_takes_its_part_and_below_the_least_nothing_is_given():
    stored, unserved, spilled = step(360 * WH, -50, 1800 * WH, 360 * WH, 0.95, 0.95, 500, 350, 0.99)
    assert (stored / WH, unserved, spilled) == pytest.approx((356.4, 50, 0))


def test_above_the_most_nothing_is_taken():
    assert of_1800_wh(1900 * WH, 100) == (1900 * WH, 0, 100)


@given(st.floats(0, 1), st.floats(-2000, 2000))
def test_no_energy_is_lost(full, surplus):
    before = (360 + 1440 * full) * WH
    after, unserved, spilled = of_1800_wh(before, surplus)
    used, stored = surplus + unserved - spilled, (after - before) / WH
    assert stored == pytest.approx(used * 0.95 if used > 0 else used / 0.95, abs=1e-6)
    assert 360 - 1e-9 <= after / WH <= 1800 + 1e-9
    assert -1e-9 <= unserved <= max(-surplus, 0)
    assert -1e-9 <= spilled <= max(surplus, 0)


def test_a_label_makes_the_limits_where_none_is_typed():
    made = supply()
    assert (made.charge_w, made.discharge_w) == (5000, 10_000)
    assert (made.most_j / WH, made.least_j / WH) == pytest.approx((10_000, 2000))
    assert (made.charge_share, made.discharge_share) == (0.95, 0.95)
    assert made.loses_share * 24 == pytest.approx(0.0001)
    typed = supply(charge_w=700.0, discharge_w=800.0, kind="lead")
    assert (typed.charge_w, typed.discharge_w, typed.charge_share) == (700, 800, 0.90)


def test_lithium_iron_takes_nothing_below_freezing_and_lead_holds_less():
    air = np.full(HOURS, 283.15)
    air[:24] = 263.15
    air[0] = 273.15
    cold = supply(stands_k=air)
    assert list(np.flatnonzero(~cold.may_charge)) == list(range(1, 24))
    assert cold.most_j == 10_000 * WH
    lead = supply(stands_k=air, kind="lead", usable_share=0.5)
    # its coldest day: 23 hours at −10 °C and one at 0 °C are −9.583 °C; 1 − 0.008 · 34.583
    assert lead.most_j / WH == pytest.approx(7233.33, abs=0.01)
    assert lead.least_j / WH == pytest.approx(3616.67, abs=0.01)
    assert lead.may_charge.all()
    assert supply(kind="lead", stands_k=air + 40).most_j == pytest.approx(10_000 * WH)
    assert supply(kind="lead", stands_k=air - 200).most_j == 0
    assert supply().may_charge.all()


def test_what_is_kept_for_essential_loads_is_of_the_day_with_most_of_them():
    busy = EVEN.copy()
    busy[48:72] = 150
    kept = supply(essential_w=busy, kept_days=1.5)
    assert kept.kept_for_essential_j / WH == pytest.approx(150 * 24 * 1.5 / 0.95)
    assert supply(kept_days=9).kept_for_essential_j / WH == pytest.approx(8000)


def test_a_full_battery_lasts_least_from_the_hour_before_the_heaviest():
    asked = EVEN.copy()
    asked[5000:5010] = 600
    # 7600 Wh at the loads: ten heavy hours take 6000, the other 1600 run 16 hours before them
    found = alone(supply(), asked)
    assert found.days == pytest.approx(26 / 24)
    assert 4984 <= found.first <= 5000
    begun = alone(supply(), np.roll(asked, HOURS - 5000 - 5))
    assert begun.days == pytest.approx(26 / 24)


def test_it_ends_within_an_hour_and_over_years():
    assert alone(supply(), EVEN * 32).days * 24 == pytest.approx(2.375)
    rare = NONE.copy()
    rare[10] = 500
    # 15.2 such hours are in it: fifteen years, less what is left of the day, and a fifth of an hour
    found = alone(supply(), rare)
    assert found.first == 10
    assert found.days * 24 == pytest.approx(15 * HOURS + 0.2)
    assert alone(supply(label_j=0.0), EVEN).days == 0
    assert alone(supply(), NONE) is None


def test_what_a_year_lacks_and_spills():
    dark, rest = np.zeros(HOURS), np.zeros(HOURS)
    dark[[0, 1, 300, 301, HOURS - 1]] = 40
    dark[500] = 0.4
    rest[[1, 2]] = 60
    power = PowerYear(
        made_w=EVEN * 2,
        essential_w=EVEN,
        rest_w=EVEN,
        plant_w=NONE,
        unserved_essential_w=dark,
        unserved_rest_w=rest,
        spilled_w=EVEN / 4,
        stored_j=NONE,
        least_j=0.0,
        most_j=0.0,
    )
    found = wanting(power)
    assert (found.lost_hours, found.dark_hours) == (6, 5)
    assert found.longest_dark == Span(HOURS - 1, 3)
    assert (found.unserved_j / WH, found.dark_j / WH) == pytest.approx((320.4, 200.4))
    assert found.spilled_share == pytest.approx(0.125)
    power.made_w[:] = 0
    assert wanting(power).spilled_share is None


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"kind": "gel"}, "battery is “gel”; expected lithium iron or lead"),
        ({"label_j": -1.0}, "battery is -1 J"),
        ({"usable_share": 1.2}, "usable share is 1.2"),
        ({"kept_days": -1.0}, "days kept for essential loads is -1"),
        ({"charge_w": -1.0}, "charging is -1 W"),
        ({"discharge_w": -1.0}, "giving is -1 W"),
    ],
)
def test_what_no_battery_is_is_refused(given, told):
    with pytest.raises(InputError, match=told):
        supply(**given)
