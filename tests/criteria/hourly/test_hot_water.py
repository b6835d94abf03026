"""Water warmed by the sun: closed forms by hand, and that no heat is lost."""

import math

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.hot_water import WarmTank, after_draw_k, warmed
from criteria.hourly.sky import Plane, sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import HOURS
from tests.criteria.hourly.epw_made import DENVER, denver

WATER_J_M3K = 4.186e6
TANK = WarmTank(volume_m3=0.2, loss_w_k=2.0, want_k=328.15, cold_k=283.15)
NONE = np.zeros(HOURS)


def sun(w_m2):
    beam = np.full(HOURS, float(w_m2))
    return Plane(
        beam_w_m2=beam,
        circumsolar_w_m2=NONE,
        diffuse_w_m2=NONE,
        ground_w_m2=NONE,
        cos_incidence=np.ones(HOURS),
    )


def water(plane=None, outside_c=10.0, stands_c=20.0, drawn=NONE, **given):
    asked = {"area_m2": 4.0, "kind": "flat", "tank": TANK} | given
    k = np.full(HOURS, 273.15)
    return warmed(plane or sun(0), k + outside_c, k + stands_c, drawn, **asked)


def test_a_tank_left_alone_comes_to_rest_where_it_stands():
    # from 10 to 20 °C with 837,200 J/K over 2 W/K: 116 hours; the December before is 744
    found = water()
    rest = 20 - 10 * math.exp(-2 * 3600 * (744 + 24) / (0.2 * WATER_J_M3K))
    assert found.tank_k[23] - 273.15 == pytest.approx(rest, abs=1e-9)
    assert found.lost_w[0] < 0
    assert not found.sun_w.any()


@pytest.mark.parametrize(("kind", "figures"), [("flat", (0.78, 3.5, 0.015)),
                                               ("tubes", (0.65, 1.5, 0.005))])  # fmt: skip
def test_steady_sun_is_balanced_by_what_is_lost(kind, figures):
    # 4 m² in 300 W/m²: the warmth at which what comes in is what goes out, solved by its square
    a0, a1, a2 = figures
    found = water(sun(300), kind=kind)
    at = found.tank_k[-1] - 273.15
    comes = 4 * (a0 * 300 - a1 * (at - 10) - a2 * (at - 10) ** 2)
    assert comes == pytest.approx(2 * (at - 20), abs=1e-6)
    assert at > 50
    assert found.sun_w[-1] == pytest.approx(comes, abs=1e-6)


def test_it_gets_no_hotter_than_95_and_a_cold_collector_takes_nothing_out():
    hot = water(sun(1000))
    assert hot.tank_k.max() == 95 + 273.15
    assert hot.sun_w[-1] == pytest.approx(2 * (95 - 20), rel=0.05)
    cold = water(sun(10), outside_c=-20)
    assert not cold.sun_w.any()
    assert not water(sun(1000), area_m2=0.0).sun_w.any()


def test_without_a_loss_all_of_the_sun_stays():
    tight = WarmTank(volume_m3=100.0, loss_w_k=0.0, want_k=328.15, cold_k=283.15)
    found = water(sun(100), tank=tight, outside_c=60.0)
    gained = np.diff(found.tank_k) * 100 * WATER_J_M3K / 3600
    assert gained == pytest.approx(found.sun_w[1:])
    assert (found.sun_w > 0).all()
    dark = water(tank=tight)
    assert set(dark.tank_k) == {283.15}


def test_what_is_drawn_is_mixed_down_and_then_runs_cold():
    # 80 °C over 55 °C in 0.2 m³, cold at 10: 5/9 of a tank is mixed down
    assert after_draw_k(353.15, 0.09, TANK) == pytest.approx(353.15 - 0.09 * 45 / 0.2)
    over = 0.2 * 25 / 45
    assert after_draw_k(353.15, over + 0.1, TANK) == pytest.approx(283.15 + 45 * math.exp(-0.5))
    assert after_draw_k(303.15, 0.2, TANK) == pytest.approx(283.15 + 20 * math.exp(-1))


def test_what_the_tank_lacks_is_topped_up():
    drawn = NONE.copy()
    drawn[7::24] = 0.09
    found = water(drawn=drawn)
    wanted = drawn * 45 * WATER_J_M3K / 3600
    assert found.drawn_w + found.topped_w == pytest.approx(wanted)
    at, after = found.tank_k[6], found.tank_k[6] - 283.15
    assert at < 293.15
    taken = after * (1 - math.exp(-0.45)) * 0.2 * WATER_J_M3K / 3600
    assert found.drawn_w[7] == pytest.approx(taken)


@pytest.mark.parametrize("volume", [0.01, 0.3])
def test_no_heat_is_lost_through_a_year_of_denver(volume):
    weather = denver()
    plane = sky_over(positions(DENVER), weather).on_plane(60, 180)
    drawn = NONE.copy()
    drawn[7::24] = drawn[19::24] = 0.08
    tank = WarmTank(volume_m3=volume, loss_w_k=2.0, want_k=323.15, cold_k=281.15)
    room = np.full(HOURS, 291.15)
    found = warmed(plane, weather.air_k, room, drawn, area_m2=4.0, kind="flat", tank=tank)
    held = volume * WATER_J_M3K / 3600 * np.diff(found.tank_k)
    assert held == pytest.approx((found.sun_w - found.lost_w - found.drawn_w)[1:], abs=1e-6)
    assert (found.sun_w >= -1e-9).all()
    assert found.tank_k.min() > 281
    assert found.sun_w.sum() < 4 * plane.total_w_m2.sum() * 0.78


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"kind": "pool"}, "collector is “pool”; expected flat or tubes"),
        ({"tank": WarmTank(volume_m3=0, loss_w_k=2, want_k=328, cold_k=283)}, "tank is 0 m³"),
        ({"tank": WarmTank(volume_m3=1, loss_w_k=-2, want_k=328, cold_k=283)}, "loss of the tank"),
        ({"tank": WarmTank(volume_m3=1, loss_w_k=2, want_k=283, cold_k=283)}, "less cold water is"),
        ({"area_m2": -1.0}, "collector is -1 m²"),
        ({"drawn": NONE - 1}, "hot water drawn is -1 m³"),
    ],
)
def test_what_warms_no_water_is_refused(given, told):
    with pytest.raises(InputError, match=told):
        water(**given)
