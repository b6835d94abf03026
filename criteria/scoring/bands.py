"""Conventional words for a number, taken from its interval and never from its point.

Every set of bands names its source. They are conventions: they inform, they
decide nothing.
"""

import math
from bisect import bisect_right
from dataclasses import dataclass

from criteria.scoring.estimates import Estimate


@dataclass(frozen=True, slots=True)
class Bands:
    """Cuts on a scale and the words between them.

    cuts     rising; a value on a cut has the word above it
    words    one more than there are cuts
    source   who proposed them
    """

    cuts: tuple[float, ...]
    words: tuple[str, ...]
    source: str

    def word(self, value: float) -> str:
        """The word for one value."""
        return self.words[bisect_right(self.cuts, value)]

    def span(self, estimate: Estimate) -> str:
        """The words for an interval: its lower end to its upper end.

        >>> AGREEMENT.span(Estimate(0.29, (0.02, 0.76), ""))
        'poor to good'
        """
        if estimate.low is None or estimate.high is None:
            return "no interval, so no word"
        low, high = self.word(estimate.low), self.word(estimate.high)
        return low if low == high else f"{low} to {high}"

    def size(self, estimate: Estimate) -> str:
        """The words for the size of a difference, whichever way it points.

        >>> CLIFF.size(Estimate(-0.3, (-0.6, 0.1), ""))
        'negligible to large'
        """
        if estimate.low is None or estimate.high is None:
            return "no interval, so no word"
        ends = sorted((abs(estimate.low), abs(estimate.high)))
        if estimate.low <= 0 <= estimate.high:
            ends[0] = 0.0
        return self.span(Estimate(ends[1], (ends[0], ends[1]), estimate.method))


AGREEMENT = Bands(
    (0.50, 0.75, math.nextafter(0.90, 1)),  # 0.90 itself is still good
    ("poor", "moderate", "good", "excellent"),
    "Koo and Li 2016, J. Chiropr. Med. 15:155, on the 95 % interval",
)
"""Intraclass correlation."""

RELIANCE = Bands(
    (0.667, 0.800),
    ("not to be relied on", "for tentative conclusions", "firm"),
    "Krippendorff, Content Analysis, from memory; made for content analysis, not for juries",
)
"""Krippendorff's alpha."""

COHEN = Bands(
    (0.2, 0.5, 0.8),
    ("negligible", "small", "medium", "large"),
    "Cohen 1988, Statistical Power Analysis, from memory; a convention only",
)
"""Standardised difference, without its sign."""

CLIFF = Bands(
    (0.147, 0.33, 0.474),
    ("negligible", "small", "medium", "large"),
    "Romano and others 2006; a convention only",
)
"""Cliff's delta, without its sign."""
