"""A battery in the loop: its store, followed in floats, is what the step of an hour makes of it."""

import numpy as np
import pytest

from criteria.hourly.battery import step
from criteria.hourly.building import PowerSupply
from criteria.hourly.on_battery import Bus
from criteria.hourly.weather import HOURS

WH = 3600.0
MARKS = {"most_j": 1800 * WH, "least_j": 360 * WH, "charge_share": 0.95, "discharge_share": 0.9}
LOSES = 0.02
"""So much an hour that it falls below its least mark by standing, and is never full for long."""


def _ran(loses_share: float) -> tuple[Bus, PowerSupply, np.ndarray]:
    """Plant asks for 700 W in every third hour of a year in which all else is drawn by lot."""
    drawn = np.random.default_rng(7)
    supply = PowerSupply(
        made_w=drawn.uniform(0, 1500, HOURS) * (np.arange(HOURS) % 24 < 12),
        essential_w=drawn.uniform(0, 300, HOURS),
        rest_w=drawn.uniform(0, 200, HOURS),
        charge_w=500.0,
        discharge_w=350.0,
        may_charge=drawn.random(HOURS) < 0.9,
        kept_for_essential_j=200 * WH,
        loses_share=loses_share,
        **MARKS,
    )
    bus, given = Bus(supply), np.zeros(HOURS)
    bus.begin(0)
    for k in range(0, HOURS, 3):
        given[k] = bus.give(k, 700.0)
    bus.close()
    return bus, supply, given


@pytest.mark.parametrize("loses", [0.0, LOSES])
def test_hours_follow_each_other_by_the_step(loses):
    bus, supply, given = _ran(loses)
    power = bus.year()
    stored, spilled = (supply.most_j + supply.least_j) / 2, power.spilled_w
    surplus = supply.made_w - supply.essential_w - supply.rest_w - given
    unserved = power.unserved_essential_w + power.unserved_rest_w
    for k in range(HOURS):
        charge_w = supply.charge_w if supply.may_charge[k] else 0.0
        stored, lacks, spills = step(
            stored, surplus[k], *MARKS.values(), charge_w, 350.0, 1 - loses
        )
        assert power.stored_j[k] == pytest.approx(stored, rel=1e-12)
        assert (unserved[k], spilled[k]) == pytest.approx((lacks, spills), abs=1e-9)
    assert (power.stored_j < supply.least_j).any() == (loses > 0)
    assert (power.stored_j == supply.most_j).any()


def test_plant_draws_what_stands_above_the_rest_kept_for_essential_loads():
    bus, supply, given = _ran(LOSES)
    power = bus.year()
    asked = np.arange(HOURS) % 3 == 0
    assert ((given == 0) & asked).any()
    assert (given == 700).any()
    assert not given[~asked].any()
    held = given > np.maximum(supply.made_w - supply.essential_w, 0) + 1e-9
    assert held.any()
    assert (power.unserved_essential_w[held] < 1e-9).all()
