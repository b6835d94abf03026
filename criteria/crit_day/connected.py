"""Whether schemes of a day can be compared: jurors and schemes as one design, before it is run.

A juror and a scheme are joined where the juror sets levels on it. A comment joins nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.crit_day.panels import Sees, names_of
from criteria.scoring.cells import Cells
from criteria.scoring.connections import WEAKEST_LINK, link, pair_variances

Seen = NDArray[np.bool_]


@dataclass(frozen=True)
class Part:
    """Schemes and jurors that hang together, and with no others."""

    schemes: tuple[str, ...]
    jurors: tuple[str, ...]


@dataclass(frozen=True)
class Design:
    """How firmly the schemes of a day hang together.

    parts          those that hang together; one where everything does
    unseen         schemes on which nobody sets levels
    hangs_on       jurors and schemes without any one of which it falls apart
    mean_variance  mean variance of the difference between two schemes, over the variance of one
                   juror's level [1]; None where not every two can be compared
    link_factor    greatest such variance over what it were had the same jurors seen both [1];
                   1 where all jurors see all; None likewise
    """

    parts: tuple[Part, ...]
    unseen: tuple[str, ...]
    hangs_on: tuple[str, ...]
    mean_variance: float | None
    link_factor: float | None

    @property
    def is_connected(self) -> bool:
        """Whether every scheme can be compared with every other."""
        return len(self.parts) == 1 and not self.unseen

    @property
    def is_firm(self) -> bool:
        """Whether it stays connected whichever one juror or scheme falls out."""
        return self.is_connected and not self.hangs_on

    @property
    def is_the_same_panel(self) -> bool:
        """Whether the same jurors set levels on all schemes, so that severity cancels."""
        return self.is_connected and self.link_factor == 1

    @property
    def sentence(self) -> str:
        """What can and what can't be compared, in one plain sentence."""
        if not self.parts:
            return "Nobody sets levels yet, so nothing can be compared."
        if self.unseen:
            return (
                f"Nobody sets levels on {names_of(self.unseen)}, which can't be compared with the "
                f"others{'' if len(self.parts) == 1 else '; these fall apart too'}."
            )
        if not self.is_connected:
            lists = "; ".join(_listed(part.schemes) for part in self.parts)
            return (
                f"Schemes fall into {len(self.parts)} groups ({lists}) without a juror in common: "
                "levels can be compared within a group, not between groups."
            )
        if self.is_the_same_panel:
            return "The same jurors see every scheme, so all levels can be compared as they stand."
        if self.hangs_on:
            return (
                "All schemes can be compared, but only through "
                f"{names_of(self.hangs_on, 'or')}: without that the groups fall apart."
            )
        if self.link_factor is not None and self.link_factor >= WEAKEST_LINK - 1e-9:
            return (
                "All schemes can be compared, but between rooms through so few that a difference "
                "is a hint, not a measure."
            )
        return "All schemes can be compared, those of different rooms through jurors they share."


def design_of(sees: Sees) -> Design:
    """How firmly the schemes of a day hang together, by who sets levels on what."""
    return design(sees.numbers, sees.names, levels_seen(sees))


def levels_seen(sees: Sees) -> Seen:
    """Schemes × jurors: who sets levels on what."""
    rows = [[sees.sets_levels(juror, turn) for juror in sees.jurors] for turn in sees.turns]
    return np.array(rows, dtype=bool).reshape(len(sees.turns), len(sees.jurors))


def design(schemes: tuple[str, ...], jurors: tuple[str, ...], seen: Seen) -> Design:
    """The same of a schemes × jurors table.

    Source: connectedness of an incomplete block design; Cochran and Cox 1957, chapter 9, from
        memory. The mean variance is twice the mean of the inverse eigenvalues of its information
        matrix, without the one that is 0 (the A-criterion).
    """
    rated = np.asarray(seen.any(axis=1))
    rating = np.asarray(seen.any(axis=0))
    unseen = tuple(name for name, there in zip(schemes, rated, strict=True) if not there)
    names = [name for name, there in zip(schemes, rated, strict=True) if there]
    who = [name for name, there in zip(jurors, rating, strict=True) if there]
    table = seen[rated][:, rating]
    if not table.size:
        return Design((), unseen, (), None, None)
    found = link(Cells(tuple(names), tuple(who), table.astype(float), table))
    parts = tuple(
        Part(tuple(names[i] for i in group.schemes), tuple(who[j] for j in group.jurors))
        for group in found.groups
    )
    if len(parts) > 1 or unseen:
        return Design(parts, unseen, (), None, None)
    pairs = pair_variances(table.astype(float))[np.triu_indices(len(names), 1)]
    mean = float(pairs.mean()) if pairs.size else None
    return Design(parts, unseen, (*found.cut_jurors, *found.cut_schemes), mean, found.link_factor)


def _listed(schemes: tuple[str, ...]) -> str:
    shown = 4
    more = len(schemes) - shown
    return ", ".join(schemes[:shown]) + (f" and {more} more" if more > 0 else "")
