"""A trial of the year on its page: both years side by side; and what moves the worst night."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, partial

from criteria.check_sheet.sheet import CheckSheet
from criteria.drawing.year_moves import draw_moves
from criteria.drawing.year_week import draw_week
from criteria.hourly.level_ground import sun_w_m2
from criteria.hourly.of_year import year_of
from criteria.hourly.sensitivity import moves_of
from criteria.hourly.told import NOT_SETTLED
from criteria.hourly.trial import Beside, Tryable, changed, compared
from criteria.hourly.worst import is_night_settled, worst_week
from criteria.hourly.year import Year
from criteria.package import Package
from criteria.typed.cells import Lacking
from criteria.units import Notation, System
from reviews.pages.year_page import DrawnYear, drawn_year
from reviews.worked_out import Told, fingerprint

NO_DATA = "No data"


@dataclass(frozen=True)
class BesideLine:
    """A figure before and after, and whether it is better, worse or as before."""

    name: str
    before: str
    after: str
    turn: str
    lacks: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class TrialPage:
    """Both years, side by side.

    is_changed   whether anything is tried
    drawn        the worst week of the year as it is, both years in it; None where there is none
    lacking      the cells without which there is no year of what is tried
    warning      why the coldest night isn't settled; empty where it is
    """

    is_changed: bool
    lines: tuple[BesideLine, ...]
    drawn: DrawnYear | None
    lacking: tuple[str, ...]
    warning: str


def trial_page(
    before: Package, texts: Mapping[Tryable, str], notation: Notation, system: System
) -> TrialPage:
    """Return a package's year beside the one that other texts in some cells make."""
    after = changed(before, texts, notation) if texts else before
    year, lacking = _year(after)
    was = _year(before)[0] if texts else None
    stands = was or year
    week = stands and worst_week(stands)
    return TrialPage(
        is_changed=bool(texts),
        lines=tuple(_line(each, system) for each in compared(before, after)),
        drawn=drawn_year(
            "trial", partial(draw_week, year, week, sun_w_m2(year.weather), before=was), system
        )
        if year and week
        else None,
        lacking=lacking,
        warning=NOT_SETTLED if stands and not is_night_settled(stands.weather) else "",
    )


def _year(package: Package) -> tuple[Year | None, tuple[str, ...]]:
    try:
        return year_of(package), ()
    except Lacking as bare:
        return None, tuple(map(str, bare.cells))


def _line(each: Beside, system: System) -> BesideLine:
    before, after = (
        NO_DATA if value is None else each.scale.write(value, system)
        for value in (each.before, each.after)
    )
    return BesideLine(each.name, before, after, each.turn(system), each.lacks)


@dataclass(frozen=True, kw_only=True)
class MovesPage:
    """What moves the worst night, ranked; or what the year lacks."""

    drawn: DrawnYear | None = None
    lacking: tuple[str, ...] = ()
    warning: str = ""
    nothing: bool = False


class KeptMoves:
    """What moves a package's worst night, reckoned only where a process hasn't kept it."""

    def __init__(self, package: Package, sheet: Told[CheckSheet], system: System) -> None:
        self.fingerprint = fingerprint(sheet, system, "moves")
        self._package, self._system = package, system

    @cached_property
    def shown(self) -> MovesPage:
        """The page itself."""
        try:
            moves = moves_of(self._package)
        except Lacking as bare:
            return MovesPage(lacking=tuple(map(str, bare.cells)))
        return MovesPage(
            drawn=drawn_year("moves", partial(draw_moves, moves), self._system),
            warning="" if moves.is_settled else NOT_SETTLED,
            nothing=not moves.most,
        )
