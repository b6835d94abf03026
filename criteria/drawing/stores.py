"""Tanks and bins by what they hold, and how many days of it there are, as drawings show them."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.drawing.held import Held, held, is_of_its_case
from criteria.drawing.marks import Gap
from criteria.drawing.picture import Seen
from criteria.measures.water import DAY_S
from criteria.schedules.water import HOLDS, Tank
from criteria.units import GAL, LITRE, System

LASTS = {"potable": "water_days"} | {
    holds: f"{holds}_days" for holds in ("grey", "black", "urine", "solids")
}
"""What a tank holds, and the check that says how many days of it there are."""
MOST_TANKS = 24
"""Tanks that are drawn; the largest of more."""


@dataclass(frozen=True, kw_only=True)
class Store:
    """Tanks that hold the same, and how long they last.

    lasts   in each people case; the one that is drawn first
    """

    holds: str
    tanks: tuple[Tank, ...]
    lasts: tuple[Held, ...] = ()

    @property
    def is_stock(self) -> bool:
        """Whether it is drawn from, not filled."""
        return self.holds in ("potable", "rain")

    @property
    def days(self) -> float:
        """How many days of it there are; 0 where that isn't known."""
        return self.lasts[0].amount.si / DAY_S if self.lasts else 0.0

    @property
    def lack(self) -> float:
        """How much more of it the days want that are asked, as a share of what there is [1]."""
        lacks = self.lasts[0].lacks if self.lasts else None
        return lacks.si / DAY_S / self.days if lacks and self.days else 0.0

    def litres(self, system: System) -> list[float]:
        """The volume of each tank, in litres or gallons."""
        unit = GAL if system is System.US else LITRE
        return [float(unit.from_si(tank.volume_m3)) for tank in self.tanks]


def stores(seen: Seen) -> tuple[list[Store], tuple[Gap, ...], tuple[str, ...]]:
    """Return what is drawn, what isn't given of it, and the marks of tanks past the most."""
    rows = seen.package.leniently.tanks
    known = [row for row in rows if row.holds and row.volume_m3]
    known.sort(key=lambda row: -row.volume_m3)
    drawn, past = known[:MOST_TANKS], tuple(row.title for row in known[MOST_TANKS:])
    chosen = {id(row) for row in drawn}
    found = []
    for holds in HOLDS:
        tanks = tuple(row for row in rows if id(row) in chosen and row.holds == holds)
        if tanks:
            found.append(Store(holds=holds, tanks=tanks, lasts=_lasts(seen, holds)))
    gaps = [_gap(row, "litres", "volume") for row in rows if not row.volume_m3]
    gaps += [_gap(row, "holds", "what it holds") for row in rows if not row.holds]
    gaps += [_gap(row, "usable_share", "usable share") for row in drawn if row.usable_share is None]
    return found, tuple(gaps), past


def _gap(row: Tank, column: str, what: str) -> Gap:
    says = f"{row.title}: {what} not given"
    return Gap(schedule="tanks", mark=row.title, column=column, says=says)


def _lasts(seen: Seen, holds: str) -> tuple[Held, ...]:
    """How long a store lasts for each people case, that of the figure asked first."""
    if holds not in LASTS:
        return ()
    found = held(seen, LASTS[holds])
    return tuple(sorted(found, key=lambda each: not is_of_its_case(seen, each)))
