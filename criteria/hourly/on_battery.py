"""Loads and plant on panels and a battery, hour by hour, within the loop that holds the room."""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from criteria.hourly.battery import can_give_w, step
from criteria.hourly.building import PowerSupply
from criteria.hourly.weather import HOURS, Hours
from criteria.hourly.year import PowerYear


class Hourly(NamedTuple):
    """What was stored at the end of each hour [J]; not given, spilled, and drawn by plant [W]."""

    stored_j: list[float]
    unserved_w: list[float]
    spilled_w: list[float]
    plant_w: list[float]


class Bus:
    """What is stored, and what each hour made, asked and lacked.

    Essential loads are served first, then plant, then the rest; plant may draw the battery down to
    what is kept for essential loads and no further.

    left_w  what plant may draw in an hour [W], by its number
    close   ends an hour in which plant drew so much [W]: number, and watts
    """

    def __init__(self, supply: PowerSupply) -> None:
        self.supply = supply
        # single figures: thousands of tuples would call for the garbage collector
        self._hours = Hourly(*([0.0] * HOURS for _ in range(4)))
        self.left_w, self.close = _hour_by_hour(supply, self._hours)

    def year(self) -> PowerYear:
        """Return what came of it, once every hour is closed."""
        stored, unserved, spilled, plant = map(np.array, self._hours)
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


def _hour_by_hour(
    supply: PowerSupply, hours: Hourly
) -> tuple[Callable[[int], float], Callable[[int, float], None]]:
    """Return the two steps of an hour, over what is stored; it begins half full."""
    free = (supply.made_w - supply.essential_w).tolist()
    surplus = (supply.made_w - supply.essential_w - supply.rest_w).tolist()
    charge = np.where(supply.may_charge, supply.charge_w, 0.0).tolist()
    most_j, least_j, kept = supply.most_j, supply.least_j, 1 - supply.loses_share
    takes, gives, most_w = supply.charge_share, supply.discharge_share, supply.discharge_w
    for_plant_j = least_j + supply.kept_for_essential_j
    stored = (most_j + least_j) / 2
    stored_j, unserved_w, spilled_w, drawn_w = hours

    def left_w(k: int) -> float:
        left: float = free[k] + can_give_w(stored * kept, for_plant_j, gives, most_w)
        return left if left > 0.0 else 0.0

    def close(k: int, plant_w: float) -> None:
        nonlocal stored
        stored, unserved, spilled = step(
            stored, surplus[k] - plant_w, most_j, least_j, takes, gives, charge[k], most_w, kept
        )
        stored_j[k] = stored
        unserved_w[k] = unserved
        spilled_w[k] = spilled
        drawn_w[k] = plant_w

    return left_w, close
