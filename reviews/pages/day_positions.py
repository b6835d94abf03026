"""Levels against the place in the day: what it did to all, and each juror's drift along it."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.safestring import SafeString

from criteria.scoring.analysis import Analysis
from criteria.scoring.effects import Tested
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import shown
from criteria.scoring.order import PLACES, OrderOfTheDay
from criteria.scoring.severity import Severity
from reviews.models import Scheme
from reviews.pages.plots import against_place
from reviews.reading.crit_moderation_table import Table


@dataclass(frozen=True)
class JurorAlong:
    """One juror's gap to the others along the day, drawn, and its drift in words."""

    juror: str
    drawn: SafeString
    words: str


@dataclass(frozen=True)
class Positions:
    """What is known of the order of a day.

    trend   what the place did to the levels of all
    rows    place, scheme, mean, and each juror's gap to the mean of the others [level]
    """

    trend: str
    jurors: tuple[str, ...]
    along: tuple[JurorAlong, ...]
    rows: tuple[tuple[str, Scheme, str, tuple[str, ...]], ...]


def positions_of(found: Analysis, severity: Severity, table: Table) -> Positions | None:
    """Set levels against places; None where no scheme has one."""
    cells = severity.cells
    slots = {row.scheme.number: (row.scheme, row.slot.position) for row in table.rows if row.slot}
    gaps: list[dict[str, float]] = []
    for j in range(len(cells.jurors)):
        own, rest, rows = cells.others(j)
        gaps.append({cells.schemes[i]: float(gap) for i, gap in zip(rows, own - rest, strict=True)})
    placed = [name for name in cells.schemes if name in slots]
    if not placed:
        return None
    along = tuple(
        _along(profile.juror, profile.drift, [(slots[n][1], gap[n]) for n in placed if n in gap])
        for profile, gap in zip(found.jurors, gaps, strict=True)
    )
    raw = dict(zip(cells.schemes, cells.raw.tolist(), strict=True))
    lines = [
        (
            str(slots[name][1]),
            slots[name][0],
            shown(raw[name], 2),
            tuple(shown(gap[name], 2, signed=True) if name in gap else "–" for gap in gaps),
        )
        for name in sorted(placed, key=lambda name: (slots[name][1], name))
    ]
    return Positions(_trend(found.order), cells.jurors, along, tuple(lines))


def _trend(order: OrderOfTheDay | NotAvailable) -> str:
    if isinstance(order, NotAvailable):
        return f"Level against place: {order.reason}."
    trend, test = order.trend, order.test
    if isinstance(trend, NotAvailable):
        return f"Level against place: {trend.reason}."
    said = f"Levels change by {shown(trend.value, 2, signed=True)} over {PLACES} places"
    if isinstance(trend.interval, tuple):
        low, high = (shown(end, 2, signed=True) for end in trend.interval)
        said += f" (95 % interval {low} to {high})"
    if isinstance(test, Tested):
        said += f"; {test.method}: {test.p_words}"
    return f"{said}. {order.caution} Nothing is corrected for it."


def _along(
    juror: str, drift: Estimate | NotAvailable, points: list[tuple[int, float]]
) -> JurorAlong:
    slope = drift.value if isinstance(drift, Estimate) else None
    if isinstance(drift, NotAvailable):
        words = f"no drift: {drift.reason}"
    else:
        words = f"{shown(drift.value, 3, signed=True)} level a place"
        if isinstance(drift.interval, tuple):
            low, high = (shown(end, 3, signed=True) for end in drift.interval)
            words += f" ({low} to {high})"
    return JurorAlong(juror, against_place(f"{juror} along the day", points, slope), words)
