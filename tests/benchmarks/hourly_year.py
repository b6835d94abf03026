"""How long a year by the hour takes: a heavy test room, and the demo's packages.

    OPENBLAS_NUM_THREADS=1 python -m tests.benchmarks.hourly_year

The room is case 900 of Standard 140, free; then with windows that people open; then with a heat
pump on panels and a battery in the loop beside them, which is to take 30 ms on one quiet core. Each
is begun anew every time, sun, glass and matrices with it; of the demo's packages three runs, their
weather made of months. Prints the median of some runs, beside a bare loop of small products in
numpy, and how far the heat is from closing. Asserts nothing. Not collected by pytest.
"""

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from criteria.command.folder import read_folder
from criteria.hourly.battery import supply_of
from criteria.hourly.building import NO_PLANT, Building, Opening, PlantLimits, PowerSupply
from criteria.hourly.case_file import case_of
from criteria.hourly.heat_pump import heating_cop
from criteria.hourly.of_year import reckoned
from criteria.hourly.panels import arriving_share, made_w
from criteria.hourly.running import Ready
from criteria.hourly.weather import CELSIUS_K, HOURS
from tests.criteria.hourly.denver import denver, oracle

DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"
PACKAGES = (("H03", "B"), ("H07", "B"), ("E11", "C"))
RUNS, GOAL_MS, NODES = 15, 30, 40


def timed(work: Callable[[], float]) -> tuple[float, float]:
    """Return the median of some runs in time of the processor [ms], and what the last gives."""
    times, found = [], 0.0
    work()
    for _ in range(RUNS):
        began = time.process_time()
        found = work()
        times.append((time.process_time() - began) * 1000)
    return statistics.median(times), found


def bare_loop() -> float:
    """A year's products of a square matrix and a vector, and nothing else."""
    step, state = np.eye(NODES) * 0.99, np.ones(NODES)
    for _ in range(HOURS):
        state = step @ state
    return float(state.sum())


def room() -> Building:
    """Case 900: heavy, two windows to the south; neither heated nor cooled."""
    return case_of(oracle("standard-140")["cases"]["900FF"]["case"]).building


def opened(building: Building) -> Building:
    """The same with both windows opened as far as holds 24 °C."""
    openings = (Opening(area_m2=1.0, height_m=2.0), Opening(area_m2=1.0, height_m=2.0))
    air = replace(
        building.air,
        openings=openings,
        open_above_k=np.full(HOURS, CELSIUS_K + 24),
        may_open=np.ones(HOURS, dtype=np.bool_),
    )
    return replace(building, air=air)


def warmed(building: Building) -> Building:
    return replace(building, use=replace(building.use, warm_k=np.full(HOURS, CELSIUS_K + 20)))


def on_battery(ready: Ready) -> tuple[PlantLimits, PowerSupply]:
    """A heat pump on 4 kWp at 60° to the south and 20 kWh, with 80 W that are essential."""
    weather = ready.weather
    plane = ready.sky.on_plane(60.0, 180.0)
    essential = np.full(HOURS, 80.0)
    supply = supply_of(
        made_w=made_w(4000.0, plane, weather, arrives=arriving_share()),
        essential_w=essential,
        rest_w=np.zeros(HOURS),
        label_j=20 * 3.6e6,
        usable_share=0.8,
        kind="lithium iron",
        kept_days=1.0,
    )
    return PlantLimits(heat_w=3000.0, cool_w=0.0, heat_cop=heating_cop(weather.air_k, 4.0)), supply


def made_ready(building: Building) -> float:
    ready = Ready(building, denver())
    assert ready.inputs.sun_w.any()
    assert ready.steps
    return 0.0


def run_on_battery(building: Building) -> float:
    ready = Ready(building, denver())
    run, _ = ready.run(*on_battery(ready))
    return run.closure


def main() -> None:
    weather, free = denver(), room()
    wide, drawn = opened(free), opened(warmed(free))
    unit_ms, _ = timed(bare_loop)
    print(f"{'bare loop of 40 × 40 in numpy':<44} {unit_ms:7.1f} ms")

    def told(name: str, work: Callable[[], float], goal: str = "") -> None:
        took_ms, closure = timed(work)
        ratio = f"{took_ms / unit_ms:5.1f} bare loops"
        closes = f"  closes to {closure:.0e}" if closure else ""
        print(f"{name:<44} {took_ms:7.1f} ms  {ratio}{closes}{goal}")

    told("case 900, sun, glass and matrices alone", lambda: made_ready(free))
    told("case 900 free, shut", lambda: Ready(free, weather).run(NO_PLANT)[0].closure)
    told("case 900 free, windows opened", lambda: Ready(wide, weather).run(NO_PLANT)[0].closure)
    goal = f"  (goal {GOAL_MS} ms)"
    told("case 900, windows, heat pump on a battery", lambda: run_on_battery(drawn), goal)
    for scheme, rev in PACKAGES:
        package = read_folder(DATA, scheme=scheme, rev=rev).package

        def three(package: object = package) -> float:
            year = reckoned(package.but()).year  # type: ignore[attr-defined]
            return max(run.closure for run in (year.bare, year.held, year.drawn))

        told(f"{scheme} {rev}, weather of months, three runs", three)


if __name__ == "__main__":
    main()
