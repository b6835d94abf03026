"""A package's year on its page: weather, answers, drawings, what was assumed, limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from django.utils.safestring import SafeString

from criteria.check_sheet.sheet import CheckSheet, unasked
from criteria.checks.catalogue import CATALOGUE
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Drawing, Field
from criteria.drawing.year_pictures import Make, drawings_of
from criteria.findings import Finding
from criteria.hourly.assumed import Assumed
from criteria.hourly.of_year import Reckoned, reckoned
from criteria.hourly.told import LIMITS, NOT_SETTLED, WAYS, Way
from criteria.hourly.weather import Origin, Spell, Weather
from criteria.hourly.worst import is_night_settled
from criteria.hourly.year import Year
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.typed.cells import Lacking
from criteria.units import System
from reviews.deeds.assumed_writing import can_write
from reviews.drawn.svg import as_svg
from reviews.models.packages import TypedRow
from reviews.pages.check_page import CheckLine, check_lines
from reviews.pages.year_answers import Answer, answers
from reviews.worked_out import Told, fingerprint


@dataclass(frozen=True)
class DrawnYear:
    """One drawing of a year, for a sheet and for a telephone, and the table of its figures.

    key   its name on the page
    """

    key: str
    title: str
    wide: SafeString
    narrow: SafeString
    rows: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class AssumedLine:
    """What was taken for blank cells, where, and whether it can be written there in one action."""

    key: str
    says: str
    source: str
    schedule: str
    title: str
    mark: str
    value: str
    can_write: bool


@dataclass(frozen=True)
class YearPage:
    """A year, whole; or what it lacks.

    weather      where it comes from, in a sentence
    warning      why the coldest night isn't settled by it; empty where it is
    lacking      the cells without which there is no year with its plant
    checks       those that run a year: as the sheet holds them, else held to nothing
    closure      how far the heat of the year is from closing, as a share of what passes
    """

    weather: str = ""
    warning: str = ""
    said: tuple[str, ...] = ()
    answers: tuple[Answer, ...] = ()
    drawings: tuple[DrawnYear, ...] = ()
    assumed: tuple[AssumedLine, ...] = ()
    lacking: tuple[str, ...] = ()
    checks: tuple[CheckLine, ...] = ()
    closure: str = ""
    ways: tuple[Way, ...] = WAYS
    limits: tuple[str, ...] = LIMITS


class KeptYear:
    """A year's page, made ready only where a process hasn't kept what it shows.

    rows   those of a package in preparation, into which assumptions can be written
    """

    def __init__(
        self,
        package: Package,
        sheet: Told[CheckSheet],
        system: System,
        rows: Sequence[TypedRow] = (),
    ) -> None:
        self.fingerprint = fingerprint(sheet, system, "year")
        self._package, self._system, self._rows = package, system, rows
        self._sheet = sheet

    @cached_property
    def _reckoned(self) -> Reckoned | Lacking:
        try:
            return reckoned(self._package)
        except Lacking as bare:
            return bare

    @property
    def year(self) -> Year | None:
        """The year; None where the rows don't give one."""
        return None if isinstance(self._reckoned, Lacking) else self._reckoned.year

    @property
    def assumed(self) -> tuple[Assumed, ...]:
        """What was taken for blank cells."""
        return () if isinstance(self._reckoned, Lacking) else self._reckoned.assumed

    @property
    def on_paper(self) -> list[Drawing]:
        """The drawings as they are printed; none where there is no year."""
        field = Field(width_mm=MIDDLE_MM, system=self._system)
        return [make(field) for _, make in drawings_of(self.year)] if self.year else []

    @property
    def _checks(self) -> tuple[CheckLine, ...]:
        """Checks that run a year: those that a target asks for as the sheet holds them."""
        held: dict[str, list[Finding]] = {}
        for finding in self._sheet.holds.findings:
            held.setdefault(finding.check, []).append(finding)
        found = [
            finding
            for check in CATALOGUE
            if check.is_yearly
            for finding in held.get(check.slug) or [unasked(self._package, check)]
        ]
        return tuple(check_lines(found, self._system))

    @cached_property
    def shown(self) -> YearPage:
        """The page itself."""
        found = self._reckoned
        if isinstance(found, Lacking):
            return YearPage(lacking=tuple(map(str, found.cells)), checks=self._checks)
        year, system = found.year, self._system
        return YearPage(
            weather=weather_words(year.weather),
            warning="" if is_night_settled(year.weather) else NOT_SETTLED,
            said=tuple(f"{step.write(system).rstrip('.')}." for step in found.said),
            answers=answers(self._package, year, system),
            drawings=tuple(drawn_year(key, make, system) for key, make in drawings_of(year)),
            assumed=tuple(assumed_line(each, self._rows, system) for each in found.assumed),
            checks=self._checks,
            closure=f"{max(run.closure for run in (year.bare, year.held, year.drawn)):.0e}",
        )


def weather_words(weather: Weather) -> str:
    """Say where a year's weather comes from."""
    if weather.origin is Origin.FILE:
        return f"Hour by hour from the brief's weather file, {weather.name}: a typical year."
    lacks = [spell for spell in Spell if not weather.has_spells and spell in weather.without]
    spells = "with the cold and the hot spell that the site sheet designs for"
    if len(lacks) == 1:
        (held,) = (spell for spell in Spell if spell not in lacks)
        spells = f"with the {held} spell that the site sheet designs for, without a {lacks[0]} one"
    elif not weather.has_spells:
        spells = "without the cold and the hot spell that a site sheet designs for"
    return f"Made hour by hour of the twelve months of {weather.name}, {spells}."


def assumed_key(assumed: Assumed) -> str:
    """Name an assumption, so that a form can say which it writes."""
    return fingerprint(assumed.schedule, assumed.mark, assumed.row, [*_heads(assumed)])[:16]


def _heads(assumed: Assumed) -> Iterator[str]:
    return (cell.head for cell in assumed.cells)


def assumed_line(assumed: Assumed, rows: Sequence[TypedRow], system: System) -> AssumedLine:
    """Say what was assumed, and what writes it down."""
    return AssumedLine(
        key=assumed_key(assumed),
        says=assumed.write(system),
        source=assumed.source,
        schedule=assumed.schedule,
        title=BY_SLUG[assumed.schedule].title,
        mark=assumed.mark,
        value=", ".join(f"{cell.label} {cell.value}" for cell in assumed.cells),
        can_write=can_write(rows, assumed),
    )


def drawn_year(key: str, make: Make, system: System) -> DrawnYear:
    """Draw one drawing of a year for a sheet and for a telephone."""
    wide, narrow = (make(Field(width_mm=width, system=system)) for width in (MIDDLE_MM, NARROW_MM))
    return DrawnYear(
        key=key,
        title=wide.title,
        wide=as_svg(wide, f"{key}-wide"),
        narrow=as_svg(narrow, f"{key}-narrow"),
        rows=tuple((f.what, f.amount.write(system), f.lettered) for f in wide.figures),
    )
