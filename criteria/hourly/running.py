"""The room from hour to hour: free, opened, heated and cooled, on its battery."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from criteria.hourly.air import Wind, flow_law, local_wind
from criteria.hourly.balance import run_of
from criteria.hourly.blocks import Blocks
from criteria.hourly.building import NO_PLANT, Building, PlantLimits, PowerSupply
from criteria.hourly.inputs import Inputs, inputs_of
from criteria.hourly.loop import through
from criteria.hourly.on_battery import Bus
from criteria.hourly.response import Response
from criteria.hourly.room import Steps, room_of, steps_of
from criteria.hourly.sky import Sky, sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import Flags, Weather
from criteria.hourly.year import PowerYear, Run

SHUT_UNDER_K = 288.15
"""Shutters are shut at night on days with a colder mean outside [K]. Common practice."""
HOT_K = 297.15
"""Blinds are drawn against the sun where the room would be warmer [K]. Common practice."""
HELD_K = 0.01
"""So much above that is still held by windows, which leave it there to a rounding [K]."""


@dataclass(frozen=True, eq=False, repr=False)
class Ready:
    """A building in its weather, before anything runs."""

    building: Building
    weather: Weather

    @cached_property
    def sky(self) -> Sky:
        """Its sun and sky."""
        sun = positions(self.weather.place)
        building = self.building
        return sky_over(sun, self.weather, building.ground_reflectance, building.skyline_deg)

    @cached_property
    def steps(self) -> tuple[Steps, ...]:
        """How its nodes go on: with shutters open, and shut where there are any."""
        has_shutters = any(each.shutter_m2k_w for each in self.building.windows)
        return tuple(
            steps_of(room_of(self.building, self.weather, shut=shut))
            for shut in ((False, True) if has_shutters else (False,))
        )

    @cached_property
    def is_shut(self) -> Flags:
        """Whether shutters are shut: by night, on cool days."""
        daily = self.weather.air_k.reshape(-1, 24).mean(axis=1)
        is_shut: Flags = (self.sky.sun.up <= 0) & np.repeat(daily < SHUT_UNDER_K, 24)
        return is_shut

    @cached_property
    def wind(self) -> Wind:
        """What passes with outside air."""
        air, air_j_m3k = self.building.air, self.steps[0].room.air_j_m3k
        return Wind(
            fixed_w_k=air.fixed_m3_s * air_j_m3k,
            law=flow_law(air.openings, air.terrain),
            air_j_m3k=air_j_m3k,
            speed_m_s=self.weather.wind_m_s * local_wind(air.terrain),
        )

    @cached_property
    def inputs(self) -> Inputs:
        """What comes in; blinds are drawn where it is sunny and the room without them is hot."""
        room = self.steps[0].room
        plain = inputs_of(self.building, room, self.weather, self.sky)
        if not plain.sunny.any():
            return plain
        bare, _ = _run(self, plain, _blocks(self, plain), NO_PLANT, None)
        drawn = plain.sunny & (bare.operative_k > HOT_K + HELD_K)
        return inputs_of(self.building, room, self.weather, self.sky, drawn)

    @cached_property
    def blocks(self) -> Blocks:
        """What its walls make of what comes in, whatever plant does."""
        return _blocks(self, self.inputs)

    def run(
        self, plant: PlantLimits, supply: PowerSupply | None = None
    ) -> tuple[Run, PowerYear | None]:
        """Run a year with some plant, and on a battery where one is given."""
        return _run(self, self.inputs, self.blocks, plant, supply)


def _blocks(ready: Ready, inputs: Inputs) -> Blocks:
    return Blocks(
        ready.steps,
        ready.is_shut,
        inputs,
        ready.weather,
        ready.wind.fixed_w_k,
        feels=ready.building.use.is_operative,
    )


def _run(
    ready: Ready, inputs: Inputs, blocks: Blocks, plant: PlantLimits, supply: PowerSupply | None
) -> tuple[Run, PowerYear | None]:
    building, weather, wind = ready.building, ready.weather, ready.wind
    bus = None if supply is None else Bus(supply)
    response = Response(building, weather, wind, plant, bus, blocks.back)
    ran = through(blocks, response)
    run = run_of(ready.steps[0].room, inputs, building, weather, wind, ran)
    return run, bus.year() if bus else None
