"""A box of one node, for runs whose answer is known by hand."""

from typing import Any

import numpy as np

from criteria.hourly.building import Air, Building, Element, Layer, Use
from criteria.hourly.weather import HOURS, Hours

LOSS_W_K = 50.0


def flat(value: float) -> Hours:
    """One figure through the year."""
    return np.full(HOURS, value)


def always() -> np.ndarray:
    """Every hour."""
    return np.ones(HOURS, dtype=np.bool_)


def gains(watts: float, **wants: Any) -> Use:
    """What warms the air all year, and what is wanted of it."""
    return Use(loads_w=flat(watts), loads_radiant=0.0, **wants)


def box(use: Use | None = None, air: Air | None = None, **more: Any) -> Building:
    """A room that loses 50 W/K through one wall without mass, and keeps hardly any heat."""
    films = 1e4
    resists = 10 / LOSS_W_K - 2 / films
    wall = Element(
        name="wall",
        kind="wall",
        area_m2=10.0,
        layers=(Layer(without_mass_m2k_w=resists),),
        absorptance=0.0,
        outer_w_m2k=films,
        inner_w_m2k=films,
    )
    return Building(
        elements=(wall,),
        windows=(),
        floor_m2=10.0,
        volume_m3=1e-6,
        air=air or Air(),
        use=use or Use(),
        **more,
    )
