"""Panels that rotate: each scheme seen by a few of the jurors, as evenly as can be.

Even means that jurors carry much the same load and that every two of them sit
together much as often as every other two.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from criteria.errors import InputError

Seen = NDArray[np.bool_]

MOST_BASE_BLOCKS = 5_000


def rotate(
    schemes: int,
    jurors: int,
    per_scheme: int,
    *,
    apart: frozenset[tuple[int, int]] = frozenset(),
    most: Mapping[int, int] | None = None,
    seed: int = 1,
) -> Seen:
    """Which juror sees which scheme, schemes × jurors.

    apart   (scheme, juror) who may not meet
    most    by juror, how many schemes they can see at most

    A construction and a repair: base panels developed cyclically (John and
    Williams 1995, Cyclic and Computer Generated Designs), chosen so that
    differences come up evenly, then single changes and exchanges for as long
    as they even out first loads, then pairs. It needs no solver: from the
    cyclic start an exchange or two is left to do, and starting anew from panels
    drawn by lot finds nothing more even. Loads end within one; pairs within one
    where loads are equal, and within 2 or 3 where few panels leave no choice.

    Errors: InputError where a scheme has too few jurors who may see it, or
        the jurors' hours don't suffice.
    """
    if not 1 <= per_scheme <= jurors:
        raise InputError(f"panels of {per_scheme} from {jurors} jurors; expected 1 to {jurors}")
    most = most or {}
    free = np.ones((schemes, jurors), dtype=bool)
    for scheme, juror in apart:
        free[scheme, juror] = False
    short = np.flatnonzero(free.sum(axis=1) < per_scheme)
    if short.size:
        raise InputError(
            f"scheme {short[0] + 1} has {free[short[0]].sum()} jurors who may see it; "
            f"expected {per_scheme} or more"
        )
    limit = np.array([most.get(j, schemes) for j in range(jurors)])
    if limit.sum() < schemes * per_scheme:
        raise InputError(
            f"the jurors have time for {limit.sum()} sittings; {schemes * per_scheme} are needed"
        )
    seen = _cyclic(schemes, jurors, per_scheme, free, limit)
    return _evened(seen, free, limit, np.random.default_rng(seed))


def pair_counts(seen: Seen) -> NDArray[np.int64]:
    """How often each two jurors see the same scheme, one number for each pair."""
    together = seen.T.astype(int) @ seen.astype(int)
    return together[np.triu_indices(seen.shape[1], 1)]


def _cyclic(schemes: int, jurors: int, k: int, free: Seen, limit: NDArray[np.int64]) -> Seen:
    """Develop base panels round the jurors; where one may not sit, the least busy takes over."""
    seen = np.zeros((schemes, jurors), dtype=bool)
    row = 0
    for base in _base_panels(jurors, k, -(-schemes // jurors)):
        for turn in range(jurors):
            if row == schemes:
                return seen
            panel = [(j + turn) % jurors for j in base]
            load = seen.sum(axis=0)
            kept = [j for j in panel if free[row, j] and load[j] < limit[j]]
            others = sorted(
                (j for j in range(jurors) if free[row, j] and j not in kept),
                key=lambda j: (load[j] >= limit[j], load[j] - limit[j], j),
            )
            seen[row, (kept + others)[:k]] = True
            row += 1
    return seen


def _base_panels(jurors: int, k: int, wanted: int) -> list[tuple[int, ...]]:
    """Base panels that bring up every difference round the circle much as often."""
    candidates = [(0, *rest) for rest in combinations(range(1, jurors), k - 1)][:MOST_BASE_BLOCKS]

    def differences(base: Sequence[int]) -> NDArray[np.int64]:
        counts = np.zeros(jurors, dtype=int)
        for a, b in combinations(base, 2):
            counts[(a - b) % jurors] += 1
            counts[(b - a) % jurors] += 1
        return counts[1:]

    each = [differences(base) for base in candidates]
    sum_so_far, chosen = np.zeros(jurors - 1, dtype=int), []
    used = np.zeros(len(candidates), dtype=int)
    for _ in range(wanted):
        best = min(
            range(len(candidates)),
            key=lambda c: (int(np.sum((sum_so_far + each[c]) ** 2)), int(used[c]), c),
        )
        chosen.append(candidates[best])
        used[best] += 1
        sum_so_far = sum_so_far + each[best]
    return chosen


def _evened(seen: Seen, free: Seen, limit: NDArray[np.int64], rng: np.random.Generator) -> Seen:
    """Change and exchange for as long as it evens out over-time, then loads, then pairs."""
    seen = seen.copy()
    schemes = seen.shape[0]
    better = True
    while better:
        better = False
        for scheme in rng.permutation(schemes):
            for out in np.flatnonzero(seen[scheme]):
                for into in np.flatnonzero(free[scheme] & ~seen[scheme]):
                    if _gain(seen, limit, [(scheme, out, into)]):
                        better = True
                        break
                else:
                    continue
                break
        for first, second in rng.permutation(list(combinations(range(schemes), 2))):
            outs = np.flatnonzero(seen[first] & ~seen[second] & free[second])
            intos = np.flatnonzero(seen[second] & ~seen[first] & free[first])
            for out in outs:
                if any(
                    _gain(seen, limit, [(first, out, into), (second, into, out)]) for into in intos
                ):
                    better = True
                    break
    return seen


def _gain(seen: Seen, limit: NDArray[np.int64], changes: Sequence[tuple[int, int, int]]) -> bool:
    """Make the changes if they help; say whether they did."""
    before = _unevenness(seen, limit)
    for scheme, out, into in changes:
        seen[scheme, out], seen[scheme, into] = False, True
    if _unevenness(seen, limit) < before:
        return True
    for scheme, out, into in changes:
        seen[scheme, out], seen[scheme, into] = True, False
    return False


def _unevenness(seen: Seen, limit: NDArray[np.int64]) -> tuple[int, int, int]:
    number = seen.astype(np.int64)
    together = number.T @ number
    load = np.diag(together)
    over = int(np.maximum(load - limit, 0).sum())
    return over, int(load @ load), int(np.sum(together**2) - load @ load)
