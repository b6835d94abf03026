"""The room's equations against closed forms and the exact matrix method (ISO 13786:2017)."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.building import ANY_PLANT, Air, Building, Element, Layer, Outside, Use
from criteria.hourly.room import Part, Room, room_of, steps_of
from criteria.hourly.running import Ready
from criteria.hourly.weather import CELSIUS_K, HOURS
from tests.criteria.hourly.denver import oracle
from tests.criteria.hourly.weather_still import still

EXACT = oracle("analytic")
DAY = 24


def _wall(name: str) -> Element:
    told = EXACT["walls"][name]
    layers = tuple(
        Layer(
            thickness_m=each["thickness_m"],
            lambda_w_mk=each["conductivity_w_mk"],
            density_kg_m3=each["density_kg_m3"],
            heat_j_kgk=each["heat_capacity_j_kgk"],
        )
        for each in told["outside_to_inside"]
    )
    return Element(
        name="wall",
        kind="wall",
        area_m2=1.0,
        layers=layers,
        absorptance=0.0,
        outer_w_m2k=1 / told["film_outside_m2k_w"],
        inner_w_m2k=1 / told["film_inside_m2k_w"],
    )


def _held(wall: Element, outside_k, inside_k) -> np.ndarray:
    """Heat into a room that is held at a temperature by hour, through one square metre [W]."""
    held = np.broadcast_to(np.asarray(inside_k, dtype=float), (HOURS,))
    building = Building(
        elements=(wall,),
        windows=(),
        floor_m2=1.0,
        volume_m3=1e-9,
        air=Air(),
        use=Use(warm_k=held, cool_k=held),
    )
    run, _ = Ready(building, still(air_k=outside_k)).run(ANY_PLANT)
    assert run.closure < 1e-9
    return run.cool_w - run.heat_w


def _answers(wall: Element) -> tuple[complex, complex]:
    """Heat into a room for a kelvin of a day's wave: outside, and inside (leaving it) [W/m²K]."""
    building = Building(
        elements=(wall,), windows=(), floor_m2=1.0, volume_m3=1.0, air=Air(), use=Use()
    )
    room = room_of(building, still())
    (part,) = room.parts
    turning = 2j * np.pi / 86400 * np.diag(room.keeps_j_k) - room.passes_w_k
    enters = np.zeros((len(room.keeps_j_k), 2))
    enters[part.outer, 0] = part.out_w_k
    enters[part.inner, 1] = part.in_air_w_k
    by_outside, by_inside = np.linalg.solve(turning, enters)[part.inner]
    return part.in_air_w_k * by_outside, part.in_air_w_k * (1 - by_inside)


@pytest.mark.parametrize("name", EXACT["walls"])
def test_a_day_s_swing_goes_through_a_wall_as_it_does_exactly(name):
    told = EXACT["walls"][name]["day_period"]
    outside, inside = _answers(_wall(name))
    assert abs(outside) == pytest.approx(told["periodic_transmittance_w_m2k"], rel=0.01)
    lag = -np.angle(outside) / (2 * np.pi) * DAY % DAY
    assert lag == pytest.approx(told["lag_h"], abs=0.15)
    assert abs(inside) == pytest.approx(told["inside_admittance_w_m2k"], rel=0.01)
    lead = np.angle(inside) / (2 * np.pi) * DAY
    assert lead == pytest.approx(told["inside_admittance_lead_h"], abs=0.15)


@pytest.mark.parametrize("name", EXACT["walls"])
def test_a_step_goes_through_a_wall_as_it_does_exactly(name):
    told = EXACT["walls"][name]
    begins = 4000
    outside = np.where(np.arange(HOURS) >= begins, 274.15, 273.15)
    flux = _held(_wall(name), outside, 273.15)[begins : begins + DAY]
    near = 0.03 * told["day_period"]["U_w_m2k"]
    assert flux == pytest.approx(told["step"]["mean_flux_of_hours_1_to_24_w_m2"], abs=near)


def _lump(capacity_j_k: float, loss_w_k: float) -> Room:
    part = Part(
        name="lump",
        thing=Element(name="lump", kind="wall", area_m2=1.0, layers=()),
        outer=0,
        inner=0,
        area_m2=1.0,
        out_air_w_k=loss_w_k,
        out_long_w_k=0.0,
        in_air_w_k=0.0,
        in_long_w_k=0.0,
        held_w_k=0.0,
    )
    return Room(
        parts=(part,),
        keeps_j_k=np.array([capacity_j_k]),
        passes_w_k=np.array([[-loss_w_k]]),
        spread=np.ones(1),
        air_j_k=1.0,
        air_j_m3k=1206.0,
    )


def test_one_node_follows_the_outside_s_hourly_mean_exactly():
    told = EXACT["lumped_sine"]
    loss = told["loss_w_k"]
    steps = steps_of(_lump(told["capacity_j_k"], loss))
    turn = 2 * np.pi / DAY
    mode = steps.modes @ [told["start_c"]]
    for hour in range(1, 97):
        mean = 5 + 8 * (np.cos(turn * (hour - 1)) - np.cos(turn * hour)) / turn
        mode = steps.decays * mode + steps.by_watts @ [loss * mean, 0.0]
        if (exact := told["outside_held_at_its_hour_mean_c"].get(str(hour))) is not None:
            assert (steps.nodes @ mode)[0] == pytest.approx(exact, abs=1e-8)


def test_one_node_under_a_limited_plant_falls_exactly():
    told = EXACT["lumped_limited_plant"]
    loss = told["loss_w_k"]
    steps = steps_of(_lump(told["capacity_j_k"], loss))
    mode, watts = steps.modes @ [18.0], np.array([loss * -15.0, 1000.0])
    for hour in range(1, 13):
        mean = steps.mean_of @ mode + steps.mean_by_watts @ watts
        mode = steps.decays * mode + steps.by_watts @ watts
        if str(hour) in told["after_h_c"]:
            assert (steps.nodes @ mode)[0] == pytest.approx(told["after_h_c"][str(hour)], abs=1e-8)
            assert mean[0] == pytest.approx(told["mean_of_hour_c"][str(hour)], abs=1e-8)


def _side(area: float, resists: float) -> Element:
    return Element(
        name=f"side {area:g}",
        kind="wall",
        area_m2=area,
        layers=(Layer(without_mass_m2k_w=resists),),
        outer_w_m2k=25.0,
    )


def _between_faces(sides: list[Element]) -> Room:
    """With the closed form's films: 2 to the air, 5 to the other faces."""
    building = Building(
        elements=tuple(sides), windows=(), floor_m2=1, volume_m3=1, air=Air(), use=Use()
    )
    room = room_of(building, still())
    parts = tuple(
        replace(part, in_air_w_k=2 * part.area_m2, in_long_w_k=5 * part.area_m2)
        for part in room.parts
    )
    long_wave = np.array([part.in_long_w_k for part in parts])
    k = room.passes_w_k.copy()
    inner = room.faces[len(parts) :]
    was = room.in_long_w_k
    k[np.ix_(inner, inner)] -= np.outer(was, was) / was.sum()
    k[np.ix_(inner, inner)] += np.outer(long_wave, long_wave) / long_wave.sum()
    k[inner, inner] += room.in_air_w_k + was - 7 * np.array([part.area_m2 for part in parts])
    return replace(room, parts=parts, passes_w_k=k, spread=long_wave / long_wave.sum())


def _settled(room: Room, air_c: float, outside_c: float) -> np.ndarray:
    """Steady temperatures of inner faces [°C]."""
    watts = np.zeros(len(room.keeps_j_k))
    for part in room.parts:
        watts[part.outer] += part.out_w_k * outside_c
        watts[part.inner] += part.in_air_w_k * air_c
    nodes = np.linalg.solve(room.passes_w_k, -watts)
    return nodes[room.faces[len(room.parts) :]]


def test_faces_settle_in_a_star_of_long_wave():
    told = EXACT["steady_star"]
    between = told["resistance_between_surfaces_m2k_w"]
    room = _between_faces([_side(a, r) for a, r in zip(told["areas_m2"], between, strict=True)])
    faces = _settled(room, told["air_c"], told["outside_c"])
    assert faces == pytest.approx(told["surface_c"], abs=1e-8)
    assert faces @ room.spread == pytest.approx(told["mean_radiant_c"], abs=1e-8)
    heating = (20 - faces) @ room.in_air_w_k
    assert heating == pytest.approx(told["heating_w"], rel=1e-9)


def test_equal_sides_exchange_nothing():
    room = _between_faces([_side(10, 1.0) for _ in range(6)])
    heating = (20 - _settled(room, 20, 0)) @ room.in_air_w_k
    assert heating == pytest.approx(EXACT["steady_cube"]["heating_w"], rel=1e-9)


def test_a_room_stands_still_where_all_is_as_warm():
    sides = [
        _side(10, 1.0),
        replace(_side(12, 1.0), outside=Outside.HELD, held_k=293.15, outer_w_m2k=None),
        replace(_side(14, 1.0), outside=Outside.ROOM, outer_w_m2k=None),
        replace(_side(16, 1.0), outside=Outside.UNDER, outer_w_m2k=None),
        replace(_side(18, 1.0), outside=Outside.VENTED, outer_w_m2k=None),
    ]
    building = Building(
        elements=tuple(sides), windows=(), floor_m2=1, volume_m3=100, air=Air(), use=Use()
    )
    run, _ = Ready(building, still(air_k=293.15)).run(ANY_PLANT)
    assert run.air_k == pytest.approx(293.15, abs=1e-6)
    assert run.operative_k == pytest.approx(293.15, abs=1e-6)


def test_a_held_face_leads_the_room_to_its_temperature():
    side = replace(_side(10, 0.5), outside=Outside.HELD, held_k=CELSIUS_K + 30, outer_w_m2k=None)
    building = Building(
        elements=(side,), windows=(), floor_m2=1, volume_m3=10, air=Air(), use=Use()
    )
    run, _ = Ready(building, still(air_k=CELSIUS_K)).run(ANY_PLANT)
    assert run.air_k[-1] == pytest.approx(CELSIUS_K + 30, abs=1e-6)
