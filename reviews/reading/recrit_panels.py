"""Who sits before each scheme of a re-crit, and who of them judged it before."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from criteria.crit_day.small_panel import small_panel_words
from reviews.models import Crit, JurySheet, Scheme
from reviews.reading.crit_panels import CritPanels, panels_of
from reviews.reading.recrit_scope import followed_by


@dataclass(frozen=True)
class SmallPanel:
    """The panel of one scheme, by name, and what of it isn't as is usual."""

    scheme: Scheme
    original: tuple[str, ...]
    new: tuple[str, ...]
    words: tuple[str, ...]


def small_panels(crit: Crit, panels: CritPanels | None = None) -> list[SmallPanel]:
    """The panels of a re-crit, in its order."""
    before = judged_before(crit)
    found = []
    for slot, panel in (panels or panels_of(crit)).rows:
        original = before.get(slot.scheme_id, set())
        found.append(
            SmallPanel(
                slot.scheme,
                tuple(name for name in panel.levels if name in original),
                tuple(name for name in panel.levels if name not in original),
                small_panel_words(panel.levels, original),
            )
        )
    return found


def judged_before(crit: Crit) -> dict[int, set[str]]:
    """The names of those whose levels counted at the crits that a re-crit follows, by scheme."""
    counting = JurySheet.objects.counting().filter(seat__crit__in=followed_by(crit))
    found: dict[int, set[str]] = defaultdict(set)
    for scheme_id, name in counting.values_list("scheme", "seat__name"):
        found[scheme_id].add(name)
    return found
