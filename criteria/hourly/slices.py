"""Layers cut into slices: where heat is kept, and what lies between."""

from dataclasses import dataclass
from math import ceil, sqrt

import numpy as np

from criteria.hourly.building import Layer
from criteria.hourly.weather import HOUR_S, Hours

FINE = 0.5
"""Square of a slice's thickness over diffusivity · hour, at most [1]; 0.5 gives the day's swing
through a wall within 0.9 %."""
MOST = 12
"""Slices of one layer at most."""
LEAST_J_M2K = 500.0
"""Every node keeps this much: a millimetre of timber."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Slices:
    """Nodes on slice faces, outside to inside, of a square metre.

    keeps_j_m2k     shape (n,): heat of each node
    passes_w_m2k    shape (n − 1,): conductance from each to the next
    """

    keeps_j_m2k: Hours
    passes_w_m2k: Hours


def slices_of(layers: tuple[Layer, ...]) -> Slices:
    """Cut layers, outside to inside; one without mass is one conductance."""
    keeps, passes = [0.0], []
    for layer in layers:
        if layer.without_mass_m2k_w is not None:
            count, heat = 1, 0.0
        else:
            held = layer.density_kg_m3 * layer.heat_j_kgk
            heat = held * layer.thickness_m
            reach = sqrt(FINE * layer.lambda_w_mk * HOUR_S / held) if held else layer.thickness_m
            count = max(1, min(MOST, ceil(layer.thickness_m / reach)))
        for _ in range(count):
            keeps[-1] += heat / count / 2
            keeps.append(heat / count / 2)
            passes.append(count / layer.resistance_m2k_w)
    return Slices(
        keeps_j_m2k=np.maximum(keeps, LEAST_J_M2K),
        passes_w_m2k=np.array(passes),
    )
