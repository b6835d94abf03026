"""The year by the hour beside a library of ISO 52016-1 from the registries, on the same two rooms.

    OPENBLAS_NUM_THREADS=1 python -m tests.benchmarks.hourly_beside

Cases 600 and 900 of Standard 140 in the same weather. The library (`iso52016`, made for general
use) isn't among the project's own: install it into an environment beside numpy and scipy, and run
this by that one's python; without it this says so and ends. What it is given is ours as far as it
can take it: sun on each plane, difference to the sky, air, gains, set-points, glass between its
films; heat from plant goes to the air. Its own are five nodes a part, with the mass where a class
puts it, films that don't change, glass that lets through as much at each angle (0.9 of the solar
factor, ISO 52016-1), and an implicit step of an hour; then once more with our films, so that they
can be told from the nodes. Asserts nothing. Not collected by pytest.
"""

import time

import numpy as np

from criteria.hourly.building import ANY_PLANT, Element, Layer, Outside, Window
from criteria.hourly.case_file import case_of
from criteria.hourly.figures import figures
from criteria.hourly.films import STEFAN_BOLTZMANN
from criteria.hourly.panes import solar_factor
from criteria.hourly.room import Part
from criteria.hourly.running import Ready
from criteria.hourly.weather import CELSIUS_K, HOUR_S, HOURS
from tests.criteria.hourly.denver import denver, oracle

try:
    import iso52016 as beside  # type: ignore[import-not-found]
except ModuleNotFoundError:
    beside = None

OFF_NORMAL = 0.9
"""Solar factor over all angles, of that square on. ISO 52016-1:2017, Annex B."""
SLAB_M = 0.1
"""As thick as a layer without mass is told to be, which has a resistance alone."""
MWH, KW = 1e6, 1e3


def layer(of: Layer) -> object:
    if of.without_mass_m2k_w is not None:
        return beside.Layer(SLAB_M, beside.Material(0.0, 0.0, SLAB_M / of.without_mass_m2k_w))
    return beside.Layer(
        of.thickness_m, beside.Material(of.density_kg_m3, of.heat_j_kgk, of.lambda_w_mk)
    )


def with_films(thing: object, part: Part, *, ours: bool) -> None:
    """Give a part our films in place of its own."""
    if ours:
        thing.h_ci = part.in_air_w_k / part.area_m2  # type: ignore[attr-defined]
        thing.h_ri = part.in_long_w_k / part.area_m2  # type: ignore[attr-defined]
        if part.out_air_w_k:
            thing.h_ce = part.out_air_w_k / part.area_m2  # type: ignore[attr-defined]
            thing.h_re = part.out_long_w_k / part.area_m2  # type: ignore[attr-defined]


def element(ready: Ready, part: Part, panes: list[Part], *, ours: bool) -> object:
    """Return an opaque part with the windows that lie in its plane."""
    thing = part.thing
    assert isinstance(thing, Element)
    windows = []
    for pane in panes:
        assert isinstance(pane.thing, Window)
        glass = pane.thing.glass
        factor = solar_factor(glass) if glass.solar_factor is None else glass.solar_factor
        windows.append(
            beside.Window(
                area=pane.area_m2,
                u_value=1 / (glass.between_m2k_w + 0.17),
                g_value=factor * OFF_NORMAL,
                frame_fraction=1 - pane.thing.glass_m2 / pane.area_m2,
            )
        )
    made = beside.OpaqueElement(
        area=part.area_m2,
        orientation=beside.Orientation(180.0 - thing.tilt_deg, 180.0 - thing.bearing_deg),
        layers=[layer(each) for each in reversed(thing.layers)],
        windows=windows,
    )
    plane = ready.sky.on_plane(thing.tilt_deg, thing.bearing_deg)
    is_out = thing.outside is Outside.AIR
    made.set_solar_irradiation(
        plane.direct_w_m2 * is_out,
        (plane.diffuse_w_m2 + plane.ground_w_m2) * is_out,
        thing.absorptance if is_out else 0.0,
    )
    if thing.held_k is not None:
        made.external_temperature = np.full(HOURS, thing.held_k) - CELSIUS_K
        made.see_sky = 0.0
    with_films(made, part, ours=ours)
    for window, pane in zip(windows, panes, strict=True):
        with_films(window, pane, ours=ours)
        window.heat_coefficient = 1 / pane.thing.glass.between_m2k_w  # type: ignore[union-attr]
    return made


def beside_year(ready: Ready, *, ours: bool) -> tuple[float, dict[str, float]]:
    """Return the time it takes [ms] and what the year comes to, by the library."""
    building, weather, room = ready.building, ready.weather, ready.steps[0].room
    opaque = [part for part in room.parts if isinstance(part.thing, Element)]
    panes = [part for part in room.parts if isinstance(part.thing, Window)]
    made = []
    for part in opaque:
        lies = part.thing.tilt_deg, part.thing.bearing_deg
        own = [each for each in panes if (each.thing.tilt_deg, each.thing.bearing_deg) == lies]
        made.append(element(ready, part, own, ours=ours))
    air_c = weather.air_k - CELSIUS_K
    sky_k = (weather.long_wave_w_m2 / STEFAN_BOLTZMANN) ** 0.25
    # its air is that of sea level: as much heat as ours carries, in cubic metres of that
    rate = ready.wind.fixed_w_k * HOUR_S / (1.204 * 1006)
    zone = beside.Zone(
        opaque_elements=made,
        usable_floor_area=building.floor_m2,
        internal_gains=[building.use.people_w + building.use.loads_w],
        lower_temperature_limit=building.use.warm_k - CELSIUS_K,
        upper_temperature_limit=building.use.cool_k - CELSIUS_K,
        ventilation=[beside.Ventilation(rate, 0.0, air_c)],
        internal_heat_capacity_per_m2=room.air_j_k / building.floor_m2,
    )
    zone.f_heat_cool = 1.0
    house = beside.Building(beside.Weather(air_c, weather.wind_m_s, weather.air_k - sky_k), zone)
    began = time.process_time()
    house.calculate()
    took_ms = (time.process_time() - began) * 1000
    heat, cool = np.array(zone.heat_load), np.array(zone.cool_load)
    return took_ms, {
        "heating_mwh": heat.sum() / MWH,
        "cooling_mwh": cool.sum() / MWH,
        "heating_peak_kw": heat.max() / KW,
        "cooling_peak_kw": cool.max() / KW,
    }


def told(name: str, took_ms: float, found: dict[str, float]) -> None:
    print(
        f"{name:<34} {found['heating_mwh']:6.2f} {found['cooling_mwh']:6.2f} MWh  "
        f"{found['heating_peak_kw']:5.2f} {found['cooling_peak_kw']:5.2f} kW  {took_ms:8.0f} ms"
    )


def main() -> None:
    if beside is None:
        print("Install iso52016 (pip install iso52016) in an environment of its own, run it there.")
        return
    print(f"{'':<34} {'heating, cooling':<19} {'their peaks':<14} time")
    for name in ("600", "900"):
        ranges = oracle("standard-140")["cases"][name]["ranges"]
        for key in ("heating_mwh", "cooling_mwh"):
            print(f"case {name}, reference results: {key} {ranges[key][0]} to {ranges[key][1]}")
        building = case_of(oracle("standard-140")["cases"][name]["case"]).building
        Ready(building, denver()).run(ANY_PLANT)
        began = time.process_time()
        run, _ = Ready(building, denver()).run(ANY_PLANT)
        told(f"case {name}, ours", (time.process_time() - began) * 1000, figures(run))
        for ours in (False, True):
            took_ms, found = beside_year(Ready(building, denver()), ours=ours)
            told(f"case {name}, theirs, {'our' if ours else 'its own'} films", took_ms, found)


if __name__ == "__main__":
    main()
