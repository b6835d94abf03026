"""Loads and plant on panels and a battery, hour by hour, within the loop that holds the room."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from criteria.hourly.battery import step
from criteria.hourly.building import PowerSupply
from criteria.hourly.weather import HOUR_S, HOURS, Hours, floats
from criteria.hourly.year import PowerYear


class Bus:
    """What is stored from hour to hour; it begins half full.

    Essential loads are served first, then plant, then the rest; plant may draw the battery down to
    what is kept for essential loads and no further. Within the loop only the store is followed, in
    floats; what was unserved and spilled is told for all hours at once when they are over.

    begin   goes on at an hour, by its number, nothing drawn by plant
    give    lets plant draw in an hour what it asks for, or what there is [W]: number, and watts
    """

    def __init__(self, supply: PowerSupply) -> None:
        self.supply = supply
        self._surplus_w = supply.made_w - supply.essential_w - supply.rest_w
        self._charge_w = np.where(supply.may_charge, supply.charge_w, 0.0)
        self._stored_j, self._plant_w = np.zeros(HOURS), np.zeros(HOURS + 1)
        self._began_j = (supply.most_j + supply.least_j) / 2
        self.begin, self.give = self._hour_by_hour()

    def close(self) -> None:
        """End all hours of the year."""
        self.give(HOURS, 0.0)

    def _hour_by_hour(self) -> tuple[Callable[[int], None], Callable[[int, float], float]]:
        supply, stored_j, plant_w = self.supply, floats(self._stored_j), floats(self._plant_w)
        most_j, least_j, most_w = supply.most_j, supply.least_j, supply.discharge_w
        takes, gives = HOUR_S * supply.charge_share, HOUR_S / supply.discharge_share
        for_plant_j, kept = least_j + supply.kept_for_essential_j, 1 - supply.loses_share
        # behind the year's hours stands one in which nothing is made, to which the last is followed
        free = floats(np.append(supply.made_w - supply.essential_w, 0.0))
        surplus = floats(np.append(self._surplus_w, 0.0))
        charge = floats(np.append(self._charge_w, 0.0))
        asks_w = np.clip(self._surplus_w, -most_w, self._charge_w)
        without_plant = np.append(asks_w * np.where(asks_w > 0, takes, gives), 0.0)
        stored, going, asks = self._began_j, HOURS, floats(without_plant)

        def begin(first: int) -> None:
            nonlocal going, asks
            going, asks = first, floats(without_plant.copy())
            self._began_j, self._plant_w[:] = stored, 0.0

        def give(k: int, asked_w: float) -> float:
            nonlocal stored, going
            for hour in range(going, k):  # the store is followed to its marks, and not past them
                stored *= kept
                ask_j = asks[hour]
                if ask_j > 0.0:
                    if stored < most_j:
                        stored += ask_j
                        if stored > most_j:
                            stored = most_j
                elif stored > least_j:
                    stored += ask_j
                    if stored < least_j:
                        stored = least_j
                stored_j[hour] = stored
            going = k
            left_w, above_w = free[k], (stored * kept - for_plant_j) / gives
            if above_w > 0.0:
                left_w += above_w if above_w < most_w else most_w
            if asked_w > left_w:
                asked_w = left_w if left_w > 0.0 else 0.0
            plant_w[k] = asked_w
            surplus_w = surplus[k] - asked_w
            if surplus_w > 0.0:
                asks[k] = min(surplus_w, charge[k]) * takes
            else:
                asks[k] = max(surplus_w, -most_w) * gives
            return asked_w

        return begin, give

    def year(self) -> PowerYear:
        """Return what came of it, once all hours are closed."""
        supply, plant_w = self.supply, self._plant_w[:HOURS]
        _, unserved, spilled = step(
            np.append(self._began_j, self._stored_j[:-1]),
            self._surplus_w - plant_w,
            supply.most_j,
            supply.least_j,
            supply.charge_share,
            supply.discharge_share,
            self._charge_w,
            supply.discharge_w,
            1 - supply.loses_share,
        )
        rest: Hours = np.minimum(unserved, supply.rest_w)
        return PowerYear(
            made_w=supply.made_w,
            essential_w=supply.essential_w,
            rest_w=supply.rest_w,
            plant_w=plant_w,
            unserved_essential_w=unserved - rest,
            unserved_rest_w=rest,
            spilled_w=spilled,
            stored_j=self._stored_j,
            least_j=supply.least_j,
            most_j=supply.most_j,
        )
