"""Runs of a year whose answers are known by hand: openings, plant, battery, shutters, blinds."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.building import (
    ANY_PLANT,
    NO_PLANT,
    Air,
    Glass,
    Opening,
    Outside,
    PlantLimits,
    PowerSupply,
    Use,
    Window,
)
from criteria.hourly.running import HOT_K, Ready
from criteria.hourly.weather import CELSIUS_K, HOURS
from tests.criteria.hourly.box import LOSS_W_K, always, box, flat, gains
from tests.criteria.hourly.denver import denver, oracle, ready
from tests.criteria.hourly.weather_still import still

TOLD = oracle("analytic")["opening"]
LAST = -1
CLOSES = 1e-9


def _opened(gain_w: float, **air):
    """18 °C outside, 2 m/s at the window, one of 1.5 m² and 1 m; 24 °C wanted."""
    given = {
        "openings": (Opening(area_m2=1.5, height_m=1.0),),
        "open_above_k": flat(CELSIUS_K + 24),
        "may_open": always(),
        "terrain": "C",
    } | air
    building = box(gains(gain_w), Air(**given), density_ratio=1.0)
    weather = still(air_k=CELSIUS_K + 18, wind_m_s=2.0)
    at_10_m = 2.0 / Ready(building, weather).wind.speed_m_s[0]
    run, _ = Ready(building, replace(weather, wind_m_s=flat(2.0 * at_10_m))).run(NO_PLANT)
    assert run.closure < CLOSES
    return run


@pytest.mark.parametrize("gain", [200, 1000, 1500])
def test_windows_are_opened_as_far_as_is_needed(gain):
    told, run = TOLD[f"gain_{gain}_w"], _opened(gain)
    assert run.air_k[LAST] - CELSIUS_K == pytest.approx(told["room_c"], abs=1e-3)
    assert run.open_share[LAST] == pytest.approx(told["open_share"], abs=1e-3)
    assert run.opened_m3_s[LAST] == pytest.approx(told["flow_m3_s"], abs=1e-3)


def test_windows_stay_shut_where_nobody_can_open_them():
    run = _opened(1000, may_open=~always())
    assert run.air_k[LAST] - CELSIUS_K == pytest.approx(TOLD["closed_c"]["gain_1000_w"], abs=1e-3)
    assert not run.open_share.any()


def test_windows_stay_shut_by_night_unless_it_is_cooler_outside_by_a_margin():
    assert _opened(1000, open_margin_k=flat(21.0)).open_share[LAST] == 0
    assert _opened(1000, open_margin_k=flat(19.0)).open_share[LAST] > 0


def test_windows_don_t_cool_below_what_is_heated_to():
    building = box(
        gains(1000, warm_k=flat(CELSIUS_K + 25)),
        Air(
            openings=(Opening(area_m2=3, height_m=1.0),),
            open_above_k=flat(CELSIUS_K + 20),
            may_open=always(),
        ),
    )
    run, _ = Ready(building, still(air_k=CELSIUS_K + 18, wind_m_s=2.0)).run(ANY_PLANT)
    assert run.air_k[LAST] - CELSIUS_K == pytest.approx(25, abs=1e-6)
    assert run.heat_w[LAST] == 0


def test_where_it_is_warmer_outside_than_wanted_windows_stand_wide_open():
    building = box(
        gains(3000),
        Air(
            openings=(Opening(area_m2=1.5, height_m=1.0),),
            open_above_k=flat(CELSIUS_K + 24),
            may_open=always(),
        ),
    )
    run, _ = Ready(building, still(air_k=CELSIUS_K + 30, wind_m_s=2.0)).run(NO_PLANT)
    assert run.open_share[LAST] == 1
    assert CELSIUS_K + 30 < run.air_k[LAST] < CELSIUS_K + 90
    assert run.closure < CLOSES


def test_a_gain_moved_by_a_milliwatt_moves_no_hour():
    """A window that is flung open and shut by the hour would move by many kelvin."""
    case = ready("600FF").building
    air = Air(
        fixed_m3_s=case.air.fixed_m3_s,
        openings=(Opening(area_m2=3, height_m=1.2),),
        open_above_k=flat(CELSIUS_K + 24),
        may_open=always(),
    )
    runs = [
        Ready(replace(case, air=air, use=replace(case.use, loads_w=flat(gain))), denver())
        .run(NO_PLANT)[0]
        .air_k
        for gain in (200.0, 200.001)
    ]
    assert np.abs(runs[0] - runs[1]).max() < 1e-3
    assert runs[0].max() < ready("600FF").run(NO_PLANT)[0].air_k.max() - 10


def test_plant_gives_no_more_than_it_has():
    building = box(Use(warm_k=flat(CELSIUS_K + 20)))
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(PlantLimits(heat_w=600.0))
    assert run.heat_w[LAST] == pytest.approx(600)
    assert run.air_k[LAST] - CELSIUS_K == pytest.approx(600 / LOSS_W_K, abs=1e-6)
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(ANY_PLANT)
    assert run.heat_w[LAST] == pytest.approx(20 * LOSS_W_K, rel=1e-6)
    building = box(gains(2000, cool_k=flat(CELSIUS_K + 20)))
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(PlantLimits(cool_w=600.0))
    assert run.cool_w[LAST] == pytest.approx(600)
    assert run.air_k[LAST] - CELSIUS_K == pytest.approx(1400 / LOSS_W_K, abs=1e-6)
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(NO_PLANT)
    assert not run.cool_w.any()


def test_where_plant_cools_windows_are_shut():
    """It can't be held by open windows, so they are shut before it is cooled."""
    building = box(
        gains(3000, cool_k=flat(CELSIUS_K + 24)),
        Air(
            openings=(Opening(area_m2=0.1, height_m=1.0),),
            open_above_k=flat(CELSIUS_K + 22),
            may_open=always(),
        ),
    )
    run, _ = Ready(building, still(air_k=CELSIUS_K + 18)).run(ANY_PLANT)
    assert run.open_share[LAST] == run.opened_m3_s[LAST] == 0
    assert run.cool_w[LAST] == pytest.approx(3000 - 6 * LOSS_W_K, rel=1e-6)


def test_a_stove_heats_while_it_is_fed():
    runs = np.tile([False] * 12 + [True] * 12, HOURS // 24)
    building = box(Use(warm_k=flat(CELSIUS_K + 20)))
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(PlantLimits(heat_runs=runs))
    assert not run.heat_w[~runs].any()
    assert run.air_k[runs] == pytest.approx(CELSIUS_K + 20)


def test_a_fire_draws_cold_air_and_heats_it_too():
    """0.1 m³ a kilojoule: of 1,000 W that hold 20 K, c = 0.1206 W/K a watt more is lost."""
    building = box(Use(warm_k=flat(CELSIUS_K + 20)), density_ratio=1.0)
    draws = PlantLimits(draws_m3_j=1e-5)
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(draws)
    assert run.heat_w[LAST] == pytest.approx(20 * LOSS_W_K / (1 - 1e-5 * 1206 * 20), rel=1e-6)
    assert run.air_k[LAST] == pytest.approx(CELSIUS_K + 20)
    assert run.flows_w["air"][LAST] == pytest.approx(-run.heat_w[LAST] * 1e-5 * 1206 * 20)
    assert run.closure < CLOSES
    limited, _ = Ready(building, still(air_k=CELSIUS_K)).run(replace(draws, heat_w=600.0))
    lost = (limited.air_k[LAST] - CELSIUS_K) * (LOSS_W_K + 600 * 1e-5 * 1206)
    assert lost == pytest.approx(600, rel=1e-6)
    assert limited.closure < CLOSES


def test_a_fire_that_draws_more_than_it_warms_is_bounded():
    building = box(Use(warm_k=flat(CELSIUS_K + 20)), density_ratio=1.0)
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(PlantLimits(heat_w=1e4, draws_m3_j=1e-3))
    assert run.heat_w[LAST] == pytest.approx(1e4)
    assert CELSIUS_K < run.air_k[LAST] < CELSIUS_K + 20


def _supply(**given) -> PowerSupply:
    return PowerSupply(
        **{
            "made_w": flat(0.0),
            "essential_w": flat(0.0),
            "rest_w": flat(0.0),
            "most_j": 3600e3,
            "least_j": 0.0,
            "charge_share": 1.0,
            "discharge_share": 1.0,
            "charge_w": 1e6,
            "discharge_w": 1e6,
            "may_charge": always(),
        }
        | given
    )


def test_electric_plant_has_what_essential_loads_leave():
    """400 W made, 100 W essential: 300 W for a pump that gives 2; the rest goes without."""
    building = box(Use(warm_k=flat(CELSIUS_K + 20)))
    plant = PlantLimits(heat_cop=flat(2.0))
    supply = _supply(made_w=flat(400.0), essential_w=flat(100.0), rest_w=flat(50.0))
    run, power = Ready(building, still(air_k=CELSIUS_K)).run(plant, supply)
    assert power is not None
    assert power.plant_w[LAST] == pytest.approx(300)
    assert run.heat_w[LAST] == pytest.approx(600)
    assert power.unserved_rest_w[LAST] == pytest.approx(50)
    assert power.unserved_essential_w[LAST] == 0
    assert power.stored_j[LAST] == 0


def test_plant_leaves_in_the_battery_what_is_kept_for_essential_loads():
    building = box(Use(warm_k=flat(CELSIUS_K + 20)))
    plant = PlantLimits(heat_cop=flat(1.0))
    supply = _supply(made_w=flat(100.0), essential_w=flat(100.0), kept_for_essential_j=360e3)
    _, power = Ready(building, still(air_k=CELSIUS_K)).run(plant, supply)
    assert power is not None
    assert power.stored_j[LAST] == pytest.approx(360e3)
    assert power.plant_w[LAST] == 0


def test_cooling_draws_by_its_own_figure():
    building = box(gains(2000, cool_k=flat(CELSIUS_K + 20)))
    supply = _supply(made_w=flat(200.0))
    run, power = Ready(building, still(air_k=CELSIUS_K)).run(
        PlantLimits(cool_cop=flat(3.0)), supply
    )
    assert power is not None
    assert power.plant_w[LAST] == pytest.approx(200)
    assert run.cool_w[LAST] == pytest.approx(600)
    run, power = Ready(building, still(air_k=CELSIUS_K)).run(PlantLimits(cool_cop=flat(3.0)))
    assert power is None
    assert run.cool_w[LAST] == pytest.approx(1000, rel=1e-6)


PLAIN = Window(
    name="window W1",
    area_m2=4.0,
    glass_m2=3.0,
    glass=Glass(panes=2, between_m2k_w=0.4, solar_factor=0.6),
)


def _windowed(window: Window, **use):
    building = replace(ready("600FF").building, windows=(window,), use=Use(**use))
    return Ready(building, denver())


def test_shutters_keep_the_night_in():
    plain, shut = (
        _windowed(replace(PLAIN, shutter_m2k_w=adds), warm_k=flat(293.15)).run(ANY_PLANT)[0]
        for adds in (0.0, 0.8)
    )
    assert shut.closure < CLOSES
    assert shut.heat_w.sum() < plain.heat_w.sum()
    night, noon = 24 * 10 + 3, 24 * 10 + 12
    lost = [-run.flows_w["window W1"][night] for run in (plain, shut)]
    assert lost[1] < 0.75 * lost[0]
    assert shut.flows_w["window W1"][noon] == pytest.approx(
        plain.flows_w["window W1"][noon], rel=0.2
    )


def test_shutters_stand_open_on_warm_nights():
    case = _windowed(replace(PLAIN, shutter_m2k_w=0.8))
    warm = np.repeat(denver().air_k.reshape(-1, 24).mean(axis=1) >= 288.15, 24)
    assert case.is_shut.any()
    assert not case.is_shut[warm].any()
    assert not case.is_shut[case.sky.sun.up > 0].any()


@pytest.mark.parametrize("inside", [False, True])
def test_blinds_are_drawn_against_the_sun_where_it_is_hot(inside):
    window = replace(PLAIN, glass_m2=10.0, area_m2=12.0)
    plain = _windowed(window).run(NO_PLANT)[0]
    blind = replace(window, blind_share=0.4, blind_is_inside=inside)
    drawn = _windowed(blind).run(NO_PLANT)[0]
    assert drawn.closure < CLOSES
    hot = plain.operative_k > HOT_K
    assert hot.any()
    assert drawn.operative_k.max() < plain.operative_k.max() - 1
    assert ("blinds" in drawn.flows_w) is inside
    if inside:
        stopped = drawn.flows_w["blinds"] > 0
        assert hot[stopped].all()


def test_a_blind_outside_keeps_more_out_than_one_inside():
    window = replace(PLAIN, glass_m2=10.0, area_m2=12.0, blind_share=0.4)
    outside, inside = (
        _windowed(replace(window, blind_is_inside=where)).run(NO_PLANT)[0].operative_k.max()
        for where in (False, True)
    )
    assert outside < inside


def test_blinds_stay_open_where_windows_hold_what_they_are_drawn_at():
    """They hold it to a rounding, which is no reason to draw a blind."""
    case = ready("600FF").building
    air = Air(
        openings=(Opening(area_m2=3, height_m=1.2),),
        open_above_k=flat(HOT_K),
        may_open=always(),
    )
    plain = replace(case, windows=(PLAIN,), use=Use(is_operative=True), air=air)
    blind = replace(PLAIN, blind_share=0.4, blind_is_inside=True)
    inputs = Ready(replace(plain, windows=(blind,)), denver()).inputs
    bare = Ready(plain, denver()).run(NO_PLANT)[0]
    held = inputs.sunny & (abs(bare.operative_k - HOT_K) < 1e-6)
    assert held.any()
    assert not inputs.blinds_w[held].any()


def test_a_thermostat_that_feels_walls_holds_what_people_feel():
    case = ready("600").building
    use = Use(warm_k=flat(293.15), cool_k=flat(299.15), is_operative=True)
    run, _ = Ready(replace(case, use=use), denver()).run(ANY_PLANT)
    heated, cooled = run.heat_w > 0, run.cool_w > 0
    assert heated.any()
    assert cooled.any()
    assert run.operative_k[heated] == pytest.approx(293.15, abs=1e-9)
    assert run.operative_k[cooled] == pytest.approx(299.15, abs=1e-9)
    assert (run.operative_k[~heated] > 293.15 - 1e-9).all()
    assert run.closure < CLOSES


def test_flows_of_every_hour_settle_in_the_air():
    """What brings heat into the room, less what takes it, warms the air and nothing else."""
    case = ready("900").building
    use = replace(case.use, people_w=flat(100.0))
    run, _ = Ready(replace(case, use=use), denver()).run(ANY_PLANT)
    air_j_k = Ready(case, denver()).steps[0].room.air_j_k
    warmed = np.diff(run.air_k) * air_j_k / 3600
    assert sum(run.flows_w.values())[1:] == pytest.approx(warmed, abs=1e-6)
    assert run.flows_w["people"][0] == 100


def test_an_inner_mass_evens_out_the_day():
    case = ready("600FF").building
    floor = next(each for each in case.elements if each.kind == "floor")
    slab = ready("900FF").building.elements[0].layers[-1:]
    mass = replace(floor, name="mass", kind="mass", layers=slab, outside=Outside.ROOM, held_k=None)
    heavy = replace(case, elements=(*case.elements, mass))
    light, even = (Ready(each, denver()).run(NO_PLANT)[0] for each in (case, heavy))
    assert even.air_k.std() < light.air_k.std()
    assert even.air_k.mean() == pytest.approx(light.air_k.mean(), abs=0.3)
