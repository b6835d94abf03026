"""Every measure refuses what no formula could apply to, and names it."""

import math

import pytest

from criteria.errors import InputError
from criteria.measures import (
    access,
    air,
    envelope,
    ground,
    heat,
    lamps,
    moving,
    packing,
    power,
    water,
)

REFUSED = (
    (lambda: air.air_per_sleeper(0.01, 0), "sleepers is 0"),
    (lambda: air.air_per_sleeper(-0.01, 2), "fresh air is -0.01"),
    (lambda: air.dwelling_air(0, 1, 0, air.DWELLING_SI), "floor is 0"),
    (lambda: air.dwelling_air(30, 0, 0, air.DWELLING_IP), "bedrooms is 0"),
    (lambda: air.dwelling_air(30, 1, -1, air.DWELLING_IP), "people beyond is -1"),
    (lambda: air.steady_co2(2, 0, 420e-6, 4e-6), "fresh air is 0"),
    (lambda: envelope.layer_resistance(0, 0.04), "thickness is 0"),
    (lambda: envelope.layer_resistance(0.1, 0), "conductivity is 0"),
    (lambda: envelope.u_value(0), "resistance is 0"),
    (lambda: envelope.apparent_conductivity(0.1, 0), "claimed resistance is 0"),
    (lambda: heat.air_heat(12_000, 280), "altitude is 12000"),
    (lambda: heat.air_heat(0, math.nan), "mean temperature is nan"),
    (lambda: heat.design_air(-1, 2, 0.004, 0.5), "volume is -1"),
    (lambda: heat.air_loss_rate(heat.Air(0.05, 0), 1000, 1.1), "recovery is 1.1"),
    (lambda: heat.air_loss_rate(heat.Air(0.05, 0), 1000, -0.1), "recovery is -0.1"),
    (lambda: heat.heat_loss(10, 10, 270, 280), "expected warmer than outside"),
    (lambda: heat.heat_loss(10, 10, 280, 280), "expected warmer than outside"),
    (lambda: heat.balance_temperature(290, 100, 0), "loss rate is 0"),
    (lambda: heat.solar_gain(2, 0.93, 500), "solar factor is 0.93"),
    (lambda: heat.sol_air(300, -1, 0.05), "sun is -1"),
    (lambda: power.made_in_a_day(1000, 3600, 1.1), "system factor is 1.1"),
    (lambda: power.used_in_a_day(1, -5, 10), "power is -5"),
    (lambda: power.battery_days(1e6, 0.8, 0), "use in a day is 0"),
    (lambda: power.battery_days(1e6, 1.2, 10), "usable share is 1.2"),
    (lambda: access.ramp_need(-0.1), "rise is -0.1"),
    (lambda: moving.fits_in_order((1, 2), (1, 2, 3)), "expected 3, one for each limit"),
    (lambda: moving.fits_in_order((0, 2, 1), (1, 2, 3)), "size is 0"),
    (lambda: moving.people_to_carry(0), "mass is 0"),
    (lambda: moving.bridge_formula(1, 3), "expected a group of 2 or more"),
    (lambda: moving.tongue_load(1000, 1, 0), "axle distance is 0"),
    (lambda: ground.bearing_pressure(100, 4, 0, 0.3), "pad length is 0"),
    (lambda: ground.leg_travel(6, 2, -0.1), "slope is -0.1"),
    (lambda: ground.wind_pressure(40, "A"), "exposure is A; expected one of B, C, D"),
    (lambda: ground.overturning_ratio(100, 2, 0, 1), "force is 0"),
    (lambda: ground.sliding_ratio(100, -1, 10), "friction is -1"),
    (lambda: lamps.lux_on_plane(1, 800, 1.2, 0.8, 10), "utilisation is 1.2"),
    (lambda: heat.taken_up(1.1), "absorptance is 1.1"),
    (lambda: heat.sun_on_glass(500, "S", 50, -0.1), "shade is -0.1"),
    (lambda: heat.air_loss_rate(heat.Air(-0.05, 0), 1000, 0), "fresh air is -0.05"),
    (lambda: heat.air_loss_rate(heat.Air(0, -0.05), 1000, 0), "leaks is -0.05"),
    (lambda: water.rain_catch(0.1, 10, 2), "kept share is 2"),
    (lambda: water.fall(0.01, 0), "run is 0"),
    (lambda: packing.pack((1, 1, 1), [packing.Box("A", (0, 1, 1))]), "size is 0"),
)


@pytest.mark.parametrize(("call", "says"), REFUSED)
def test_what_no_formula_applies_to_is_refused_by_name(call, says):
    with pytest.raises(InputError, match=says):
        call()
