"""What no sequence beats: the critical path, and the work that must be done in what is left."""

from __future__ import annotations

from criteria.setting_up.network import Network
from criteria.setting_up.serial import Resources


def least_length(network: Network, resources: Resources) -> int:
    """Minutes below which no sequence can end.

    The greatest of: the critical path; of all steps that start after a head h and are followed by
    a tail t, h + t + their work over what there is; the same of steps of which no two can be done
    at once, since each needs more than half.
    """
    minutes = [step.minutes for step in network.steps]
    heads, tails = network.heads(), network.tails()
    behind = [tail - m for tail, m in zip(tails, minutes, strict=True)]
    best = network.length
    for r, have in enumerate(resources.have):
        need = [row[r] for row in resources.need]
        alone = [2 * n > have for n in need]
        for head in sorted(set(heads)):
            for tail in sorted(set(behind)):
                within = [k for k in range(len(need)) if heads[k] >= head and behind[k] >= tail]
                if not within:
                    continue
                work = sum(minutes[k] * need[k] for k in within)
                in_a_row = sum(minutes[k] for k in within if alone[k])
                best = max(best, head + tail + max(-(-work // have) if have else 0, in_a_row))
    return best
