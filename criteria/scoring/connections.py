"""Which schemes can be compared at all: jurors and schemes as a graph.

A juror and a scheme are joined where the juror rated the scheme. Schemes in
separate groups have no juror in common, however far around: no arithmetic
can tell a stronger group from a kinder panel.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.sparse import csgraph

from criteria.scoring.cells import Cells
from criteria.scoring.components import normal_equations


@dataclass(frozen=True, slots=True)
class Group:
    """Schemes and jurors that hang together, by their places in the table."""

    schemes: tuple[int, ...]
    jurors: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Link:
    """How firmly schemes hang together.

    groups         one where everything is connected
    cut_schemes    schemes without which it would fall apart
    cut_jurors     jurors without whom it would fall apart
    link_factor    greatest variance of a difference between two schemes over
                   what it would be had the same jurors seen both [1]; 1 where
                   panels are the same, 1.5 with two schemes that link two rooms
                   of three
    """

    groups: tuple[Group, ...]
    cut_schemes: tuple[str, ...]
    cut_jurors: tuple[str, ...]
    link_factor: float

    @property
    def connected(self) -> bool:
        """Whether every scheme can be compared with every other."""
        return len(self.groups) == 1


BLOCK = 512
"""Schemes compared with all others at a time."""

WEAKEST_LINK = 1.5
"""A link factor from here on is too weak to adjust by [1]: what two schemes seen by all give two
rooms of three. Our choice; three such schemes, or a juror who changes rooms, are firm enough."""


def groups(seen: NDArray[np.bool_]) -> tuple[Group, ...]:
    """The connected groups of a schemes × jurors table, in order of their first scheme.

    A row or column that is empty makes a group of its own.
    """
    n, m = seen.shape
    rows, columns = np.nonzero(seen)
    graph = sparse.coo_array((np.ones(rows.size), (rows, columns + n)), shape=(n + m, n + m))
    count, label = csgraph.connected_components(graph, directed=False)
    return tuple(
        Group(
            tuple(int(i) for i in np.flatnonzero(label[:n] == number)),
            tuple(int(j) for j in np.flatnonzero(label[n:] == number)),
        )
        for number in range(count)
    )


def link(cells: Cells) -> Link:
    """How firmly a panel's schemes hang together."""
    found = groups(cells.seen)
    return Link(
        groups=found,
        cut_schemes=tuple(cells.schemes[i] for i in _cut_schemes(cells.seen, len(found))),
        cut_jurors=tuple(cells.jurors[j] for j in _cut_jurors(cells.seen, len(found))),
        link_factor=max(link_factor(cells.part(g.schemes, g.jurors).counts) for g in found),
    )


def pair_variances(counts: NDArray[np.float64]) -> NDArray[np.float64]:
    """Variance of the difference between each two schemes, over σ²e, by least squares [1].

    counts   n × m of one connected group

    n × n, 0 on the diagonal. Source: intra-block analysis of incomplete
        blocks; Cochran and Cox 1957, chapter 9, from memory.
    """
    r = counts.sum(axis=1)
    M, _ = normal_equations(counts, counts)
    H = counts / r[:, None]
    C = np.diag(1 / r) + H @ np.linalg.pinv(M, rcond=1e-10) @ H.T
    diagonal = np.diag(C)
    pairs: NDArray[np.float64] = diagonal[:, None] + diagonal - 2 * C
    np.fill_diagonal(pairs, 0.0)
    return pairs


def link_factor(counts: NDArray[np.float64]) -> float:
    """Greatest pair variance over 1/r_i + 1/r_k, which identical panels would give [1]."""
    unlike = np.unique(counts, axis=0)
    if len(unlike) == 1:
        return 1.0
    r = unlike.sum(axis=1)
    # Schemes with the same jurors have the same row of H: only unlike rows need comparing.
    M, _ = normal_equations(counts, counts)
    H = unlike / r[:, None]
    HK = H @ np.linalg.pinv(M, rcond=1e-10)
    own = np.sum(HK * H, axis=1)
    greatest = 0.0
    for start in range(0, len(H), BLOCK):
        rows = slice(start, start + BLOCK)
        through = own[rows, None] + own - 2 * HK[rows] @ H.T
        greatest = max(greatest, float(np.max(through / (1 / r[rows, None] + 1 / r))))
    return 1 + greatest


def _cut_jurors(seen: NDArray[np.bool_], whole: int) -> list[int]:
    if seen.shape[1] < 2:
        return []
    return [j for j in range(seen.shape[1]) if len(groups(np.delete(seen, j, axis=1))) > whole]


def _cut_schemes(seen: NDArray[np.bool_], whole: int) -> list[int]:
    """A scheme can hold two jurors together only if they share no other scheme."""
    shared = seen.T.astype(int) @ seen.astype(int)
    once = shared == 1
    suspects = [i for i, row in enumerate(seen) if row.sum() > 1 and once[np.ix_(row, row)].any()]
    return [i for i in suspects if len(groups(np.delete(seen, i, axis=0))) > whole]
