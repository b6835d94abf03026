"""Loads and plant on panels and a battery, hour by hour, within the loop that holds the room."""

import numpy as np

from criteria.hourly.battery import can_give_w, step
from criteria.hourly.building import PowerSupply
from criteria.hourly.weather import HOURS, Hours
from criteria.hourly.year import PowerYear


class Bus:
    """What is stored, and what each hour made, asked and lacked.

    Essential loads are served first, then plant, then the rest; plant may draw the battery down to
    what is kept for essential loads and no further.
    """

    def __init__(self, supply: PowerSupply) -> None:
        self.supply = supply
        self.stored_j = (supply.most_j + supply.least_j) / 2
        self._made, self._essential = supply.made_w.tolist(), supply.essential_w.tolist()
        self._rest = supply.rest_w.tolist()
        self._charge = np.where(supply.may_charge, supply.charge_w, 0.0).tolist()
        self._kept_over_j = supply.least_j + supply.kept_for_essential_j
        self._kept = 1 - supply.loses_share
        self._hours: list[tuple[float, float, float, float]] = [(0.0, 0.0, 0.0, 0.0)] * HOURS

    def left_w(self, k: int) -> float:
        """Return what plant may draw in an hour [W]."""
        supply = self.supply
        gives = can_give_w(
            self.stored_j * self._kept,
            self._kept_over_j,
            supply.discharge_share,
            supply.discharge_w,
        )
        left: float = self._made[k] + gives - self._essential[k]
        return max(0.0, left)

    def close(self, k: int, plant_w: float) -> None:
        """End an hour in which plant drew so much [W]."""
        supply, rest = self.supply, self._rest[k]
        surplus = self._made[k] - self._essential[k] - rest - plant_w
        self.stored_j, unserved, spilled = step(
            self.stored_j,
            surplus,
            supply.most_j,
            supply.least_j,
            supply.charge_share,
            supply.discharge_share,
            self._charge[k],
            supply.discharge_w,
            self._kept,
        )
        self._hours[k] = (self.stored_j, unserved, spilled, plant_w)

    def year(self) -> PowerYear:
        """Return what came of it, once every hour is closed."""
        stored, unserved, spilled, plant = np.array(self._hours).T
        supply = self.supply
        rest: Hours = np.minimum(unserved, supply.rest_w)
        return PowerYear(
            made_w=supply.made_w,
            essential_w=supply.essential_w,
            rest_w=supply.rest_w,
            plant_w=plant,
            unserved_essential_w=unserved - rest,
            unserved_rest_w=rest,
            spilled_w=spilled,
            stored_j=stored,
            least_j=supply.least_j,
            most_j=supply.most_j,
        )
