"""Figures of one run, as published cases are told."""

import numpy as np

from criteria.hourly.weather import CELSIUS_K, Hours
from criteria.hourly.year import Run

MWH = 1e6
KW = 1e3


def figures(run: Run) -> dict[str, float]:
    """Return loads [MWh], peaks [kW] and temperatures of the air [°C] of a year."""
    air_c = run.air_k - CELSIUS_K
    return {
        "heating_mwh": float(run.heat_w.sum() / MWH),
        "cooling_mwh": float(run.cool_w.sum() / MWH),
        "heating_peak_kw": float(run.heat_w.max() / KW),
        "cooling_peak_kw": float(run.cool_w.max() / KW),
        "highest_c": float(air_c.max()),
        "lowest_c": float(air_c.min()),
        "mean_c": float(air_c.mean()),
    }


def load_kw(run: Run) -> Hours:
    """Return heating, positive, and cooling, negative, by hour [kW]."""
    load: Hours = np.subtract(run.heat_w, run.cool_w) / KW
    return load
