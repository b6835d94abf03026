"""What no sequence beats: the critical path, and the work that must be done in what is left."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from criteria.setting_up.network import Network
from criteria.setting_up.serial import Resources

Counts = NDArray[np.int64]


def least_length(network: Network, resources: Resources) -> int:
    """Minutes below which no sequence can end.

    The greatest of: the critical path; of all steps that start after a head h and are followed by
    a tail t, h + t + their work over what there is; the same of steps of which no two can be done
    at once, since each needs more than half.
    """
    best = network.length
    if not network.steps:
        return best
    minutes = np.array([step.minutes for step in network.steps], dtype=np.int64)
    heads, of_head = np.unique(np.array(network.heads(), dtype=np.int64), return_inverse=True)
    behind = np.array(network.tails(), dtype=np.int64) - minutes
    tails, of_tail = np.unique(behind, return_inverse=True)
    for need, have in zip(np.array(resources.need).T, resources.have, strict=True):
        for each, at_once in ((minutes * need, max(1, have)), (minutes * (2 * need > have), 1)):
            within = _of_all_after(each, of_head, of_tail)
            found = heads[:, None] + tails[None, :] - (-within // at_once)
            best = max(best, int(found[within > 0].max(initial=0)))
    return best


def _of_all_after(each: Counts, of_head: Counts, of_tail: Counts) -> Counts:
    """Sum what steps take over all of no lesser head and no lesser tail, for each such pair."""
    table = np.zeros((of_head.max() + 1, of_tail.max() + 1), dtype=np.int64)
    np.add.at(table, (of_head, of_tail), each)
    after: Counts = table[::-1, ::-1].cumsum(axis=0).cumsum(axis=1)[::-1, ::-1]
    return after
