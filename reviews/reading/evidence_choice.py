"""Which schemes go into a book of evidence: all, by band, drawn by lot, or named.

The figures are those of the last released final crit: the weighted level that is agreed, else the
mean of the jurors' weighted levels, exact. A scheme without a figure, or without a verdict, stands
in no band and in no lot, and is listed as such.

A draw can be repeated with any tool: of those that passed, the schemes whose SHA-256 of
“lot number” (UTF-8, one space) comes first in order are taken.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from criteria.scoring.levels import PanelLevel, WeightedLevel, shown
from reviews.models import Crit, Scheme, Studio, Verdict
from reviews.reading.crit_agreed import agreed_of, verdicts_of, weighted_agreed
from reviews.reading.crit_moderation_table import moderation_table

LOW, MIDDLE, HIGH = "low", "middle", "high"
AGREED, MEAN = "agreed", "mean of the jurors"
PLACES = 2


@dataclass(frozen=True)
class Candidate:
    """A scheme of the final crit, with what it is chosen by.

    figure   weighted level, exact; None where no sheet counts
    of       what the figure is: agreed, or the mean of the jurors
    verdict  the last that stands, of the crit or of a re-crit that followed it
    """

    scheme: Scheme
    figure: Fraction | None
    of: str
    verdict: Verdict | None

    def has_passed(self, bound: Fraction | None) -> bool:
        """By the bound where there is one, else by the verdict; what isn't known hasn't passed."""
        if bound is not None:
            return self.figure is not None and self.figure >= bound
        return self.verdict is not None and self.verdict.kind != Verdict.Kind.AGAIN

    def told(self, chosen: str) -> dict[str, Any]:
        """What the book keeps of it."""
        return {
            "scheme": self.scheme.number,
            "name": self.scheme.name,
            "figure": "" if self.figure is None else shown(self.figure, PLACES),
            "of": self.of if self.figure is not None else "no sheet counts",
            "verdict": self.verdict.get_kind_display() if self.verdict else "no verdict",
            "chosen": chosen,
        }


def last_final(studio: Studio) -> Crit | None:
    """The last final crit of a studio that is released."""
    finals = studio.crits.released().filter(kind=Crit.Kind.FINAL)
    return finals.order_by("-day", "-pk").first()


def candidates(crit: Crit) -> list[Candidate]:
    """The schemes of a crit by number."""
    agreed, verdicts = agreed_of(crit), verdicts_of(crit)
    for later in crit.followed_by.released().order_by("day", "pk"):
        verdicts |= verdicts_of(later)
    found = []
    for row in moderation_table(crit).rows:
        weighted = weighted_agreed(row.criteria, agreed.get(row.scheme.pk, {}))
        figure, of = None, ""
        if isinstance(weighted, WeightedLevel):
            figure, of = weighted.value, AGREED
        elif isinstance(row.panel, PanelLevel):
            figure, of = row.panel.value, MEAN
        found.append(Candidate(row.scheme, figure, of, verdicts.get(row.scheme.pk)))
    return sorted(found, key=lambda each: each.scheme.number)


def in_bands(found: Iterable[Candidate], each: int) -> dict[int, str]:
    """So many schemes of each band, by key: the lowest, the highest, and those about the median.

    Where there are too few for three bands, the middle takes what low and high left.
    """
    ranked = [c for c in found if c.figure is not None]
    ranked.sort(key=lambda c: (c.figure or 0, c.scheme.number))
    low = ranked[: min(each, len(ranked))]
    high = ranked[max(len(low), len(ranked) - each) :]
    between = ranked[len(low) : len(ranked) - len(high)]
    begin = max(0, (len(between) - each) // 2)
    middle = between[begin : begin + each]
    bands = {LOW: low, MIDDLE: middle, HIGH: high}
    return {c.scheme.pk: band for band, held in bands.items() for c in held}


def drawn(numbers: Iterable[str], lot: int, asked: int) -> list[str]:
    """So many of some schemes, by lot: the same lot and list give the same ones.

    >>> drawn(["H01", "H02", "H03"], 7, 2) == drawn(["H03", "H01", "H02"], 7, 2)
    True
    """

    def ticket(number: str) -> str:
        return hashlib.sha256(f"{lot} {number}".encode()).hexdigest()

    return sorted(sorted(set(numbers), key=ticket)[:asked])


def told(found: Sequence[Candidate], chosen: dict[int, str]) -> list[dict[str, Any]]:
    """The list that was chosen from, each with whether it was taken and how."""
    return [each.told(chosen.get(each.scheme.pk, "")) for each in found]
