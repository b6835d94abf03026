"""The panel of a re-crit: two or three jurors, one who saw it before and one who didn't."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from criteria.crit_day.panels import names_of

FEWEST, MOST = 2, 3
"""Jurors of a re-crit. Common practice [no.]."""


def small_panel_words(panel: Sequence[str], original: Collection[str]) -> tuple[str, ...]:
    """What of a re-crit's panel isn't as is usual. Warnings: nothing is locked by them.

    panel      who sits there, by name
    original   who judged the scheme before

    Source: two or three jurors, at least one original and one new, is common practice.
    """
    if not panel:
        return ("Nobody is seated yet. Two or three sit at a re-crit, one of them original.",)
    said = []
    if not FEWEST <= len(panel) <= MOST:
        many = f"{len(panel)} juror{'s' * (len(panel) != 1)}"
        said.append(f"{many} would sit there; two or three are usual.")
    seen = [name for name in panel if name in original]
    if not seen and original:
        said.append(f"Nobody of those who judged it before: {names_of(sorted(original), 'or')}.")
    if len(seen) == len(panel):
        said.append("Everybody judged it before; one who is new to it is usual.")
    return tuple(said)
