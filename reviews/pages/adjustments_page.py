"""How the students of a scheme present: what stands, what was ended, what others are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reviews import access_studio
from reviews.access import Viewer
from reviews.models import Adjustment, Crit, Scheme
from reviews.reading.adjustments import told_at
from reviews.reading.crit_waiting import nearest_crit


@dataclass(frozen=True)
class AdjustmentsPage:
    """The adjustments that a reader may see.

    told   what jury and timekeeper are told of them at the crit that is nearest
    """

    standing: Sequence[Adjustment]
    ended: Sequence[Adjustment]
    told: Sequence[str]
    crit: Crit | None


def adjustments_page(scheme: Scheme, viewer: Viewer) -> AdjustmentsPage:
    """What a reader sees of a scheme's adjustments."""
    held = list(access_studio.adjustments(viewer, scheme))
    crit = nearest_crit(scheme.studio)
    standing = [each for each in held if each.ended_at is None]
    return AdjustmentsPage(
        standing=standing,
        ended=[each for each in held if each.ended_at],
        told=told_at(crit, standing) if crit else [],
        crit=crit,
    )
