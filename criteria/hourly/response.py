"""What people and plant do in an hour that would be too cold or too warm."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from criteria.hourly.air import Wind, opener
from criteria.hourly.building import Building, PlantLimits
from criteria.hourly.on_battery import Bus
from criteria.hourly.weather import HOURS, Hours, Weather, floats

LEAST_LEFT = 0.1
"""Part of a fire's heat that is left to the room at least, however cold the air that it draws."""


class Response:
    """Heating, windows and cooling, by the hour.

    Under `warm_k` of the air of an hour it is heated, over `hot_k` aired or cooled; nan is never.
    Where the thermostat feels walls, both are of what is felt.

    done    heat given, negative where it is taken [W]; what open windows passed [W/K], how far they
            stood open [1]; what a fire drew out of the room [W/K]: shape (4, 8760)
    """

    def __init__(
        self,
        building: Building,
        weather: Weather,
        wind: Wind,
        plant: PlantLimits,
        bus: Bus | None,
        back: Hours,
    ) -> None:
        """Take in all by hour; `back` is how far the radiant mean follows the air [1]."""
        use, air, off = building.use, building.air, np.full(HOURS, np.nan)
        runs = plant.heat_w > 0 if plant.heat_runs is None else plant.heat_runs & (plant.heat_w > 0)
        opens_k = np.where(air.may_open, np.fmax(air.open_above_k, use.warm_k), np.nan)
        cools_k = use.cool_k if plant.cool_w else off
        self.warm_k, self.hot_k = np.where(runs, use.warm_k, np.nan), np.fmin(opens_k, cools_k)
        self._opens_k, self._cools_k = floats(opens_k), floats(cools_k)
        self._margin_k, self._outside_k = floats(air.open_margin_k), floats(weather.air_k)
        self._feels, self._both = use.is_operative, floats(1 + back)
        self._held, self._bus = opener(wind), bus
        self._heater = _machine(plant.heat_w, plant.heat_cop, bus)
        self._cooler = _machine(plant.cool_w, plant.cool_cop, bus)
        self._draws = plant.draws_m3_j * wind.air_j_m3k
        self.done = np.zeros((4, HOURS))
        self._gave_w, self._opened_w_k, self._share, self._fired_w_k = map(floats, self.done)

    def begin(self, first: int) -> None:
        """Go on at an hour, by its number, nothing done yet."""
        self.done[:] = 0.0
        if self._bus is not None:
            self._bus.begin(first)

    def end(self) -> None:
        """End the year."""
        if self._bus is not None:
            self._bus.close()

    def heat(self, k: int, t: float, warm_k: float, whole_w_k: float) -> float:
        """Return the air of an hour that would be too cold: heated, as far as there is heat [K].

        whole_w_k   what the room loses for each kelvin of its air in the hour [W/K]
        """
        needed_w, draws = whole_w_k * (warm_k - t), self._draws
        if not draws:
            self._gave_w[k] = gave_w = self._heater(needed_w, k)
            return t + gave_w / whole_w_k
        # what a fire draws comes in as cold as outside, and is warmed with the rest
        te = self._outside_k[k]
        needed_w /= max(1 - draws * (warm_k - te), LEAST_LEFT)
        self._gave_w[k] = gave_w = self._heater(needed_w, k)
        self._fired_w_k[k] = fired = draws * gave_w
        return (whole_w_k * t + gave_w + fired * te) / (whole_w_k + fired)

    def cool(self, k: int, t: float, radiant_k: float, whole_w_k: float) -> float:
        """Return the air of an hour that would be too warm: aired, else cooled [K].

        radiant_k   mean of the faces, but for what follows the air itself
        """
        shut_k, te, want_k, cool_k = t, self._outside_k[k], self._opens_k[k], self._cools_k[k]
        if self._feels:
            want_k = (2 * want_k - radiant_k) / self._both[k]
            cool_k = (2 * cool_k - radiant_k) / self._both[k]
        if t > want_k and te < t - self._margin_k[k]:
            t, self._opened_w_k[k], self._share[k] = self._held(k, t, want_k, te, whole_w_k)
        if t > cool_k:
            # windows can't hold it, so they are shut before it is cooled
            self._opened_w_k[k] = self._share[k] = 0.0
            took_w = self._cooler(whole_w_k * (shut_k - cool_k), k)
            t, self._gave_w[k] = shut_k - took_w / whole_w_k, -took_w
        return t


def _machine(most_w: float, cop: Hours | None, bus: Bus | None) -> Callable[[float, int], float]:
    """Return what moves heat: of what is needed in an hour [W], and its number, what it can."""

    def limited(needed_w: float, k: int) -> float:
        return needed_w if needed_w < most_w else most_w

    if cop is None or bus is None:
        return limited
    cops, give = floats(cop), bus.give

    def drawing(needed_w: float, k: int) -> float:
        each = cops[k]
        return each * give(k, (needed_w if needed_w < most_w else most_w) / each)

    return drawing
