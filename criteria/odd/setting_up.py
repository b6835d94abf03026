"""Odd values of setting up and changing: steps, lifts, the order of pieces."""

from collections.abc import Iterator

from criteria.checks.setting_up_asks import panel_m2
from criteria.findings import Amount
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules.setting_up import SetUpStep
from criteria.schedules.stowage import Move
from criteria.units import AREA, MASS

ONE_LIFTS_KG = 25.0
"""Most that one person lifts. ISO 11228-1, from memory."""
PANEL_M2 = 2.5
"""More than this of a panel one person doesn't hold in wind [m²]. Common practice."""
BY_THE_WAY_S, HEAVY_KG = 12.0, 20.0
"""What weighs more isn't moved in less than this [s, kg]. Common practice."""


def steps(package: Package) -> Iterator[OddValue]:
    """Ask for people and minutes of steps that say none."""
    for row in package.steps:
        for head, what in (("people", "How many does it take?"), ("minutes", "How long is it?")):
            if row.if_given(head) is None and head not in row.refused:
                yield ask(row, head, "{} ({}): {}", row.mark, row.step or "", what)


def lifts(package: Package) -> Iterator[OddValue]:
    """Ask about what one person can't lift, or moves faster than anybody walks."""
    for row in (*package.moves, *package.steps):
        what = (row.step if isinstance(row, SetUpStep) else row.item) or ""
        figures = (row.mark, what, said(row, "kg"))
        if row.mass_kg and row.mass_kg > ONE_LIFTS_KG * (row.people or 1):
            words = "{} ({}): {} for {} to lift. Who lifts more than {} alone?"
            yield ask(row, "kg", words, *figures, row.people or 1, Amount(ONE_LIFTS_KG, MASS))
        time = row.time_s if isinstance(row, Move) else None
        if time and time < BY_THE_WAY_S and (row.mass_kg or 0) > HEAVY_KG:
            words = "{} ({}): {} in {}. Who moves that so fast?"
            yield ask(row, "s", words, *figures, said(row, "s"))


def panels(package: Package) -> Iterator[OddValue]:
    """Ask about a large panel that few people hold, in any wind."""
    for row in package.steps:
        area, people = panel_m2(package, row), row.people or 1
        if area > PANEL_M2 * people:
            words = "{} ({}): {} with a face of {}. Who holds it in a gust?"
            figures = (row.mark, row.step or "", people, Amount(area, AREA))
            yield ask(row, "people", words, *figures)


def order(package: Package) -> Iterator[OddValue]:
    """Ask about two pieces that arrive at the same place in the order."""
    first: dict[int, str] = {}
    for row in package.pieces:
        if row.order is None:
            continue
        if row.order in first:
            words = "{} and {} both arrive as {}. Which goes first?"
            yield ask(row, "order", words, first[row.order], row.mark, row.order, is_mismatch=True)
        first.setdefault(row.order, row.mark)
