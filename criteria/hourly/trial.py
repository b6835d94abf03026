"""A trial of a package: some of its cells changed, and both years held side by side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from criteria.checks.catalogue import CHECKS
from criteria.findings import Measured, Rule
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.envelope import Layer
from criteria.schedules.openings import Window
from criteria.schedules.people import Occupant
from criteria.schedules.power import PowerPlant
from criteria.typed.columns import Column
from criteria.typed.rows import Row
from criteria.units import PLAIN, Notation, Scale, System

TRIED: Mapping[type[Row], tuple[str, ...]] = {
    Layer: ("mm", "outside_absorptance"),
    Window: ("u", "solar_factor", "shutter_r", "open_share"),
    PowerPlant: ("pv_kwp", "tilt", "battery_kwh"),
    Occupant: ("n",),
}
"""Heads of the cells that a trial may change."""

HELD = (
    "coldest_night",
    "hours_not_held",
    "hottest_hour",
    "hot_not_held",
    "dark_hours",
    "fuel_year",
    "fuel_week",
    "rain_days",
)
"""Checks whose figures, of one part each, are held side by side."""


@dataclass(frozen=True, order=True)
class Tryable:
    """A cell that a trial may change: its schedule, its row counted from 1, its head."""

    schedule: str
    row: int
    head: str

    @property
    def column(self) -> Column:
        """The column that it stands in."""
        return BY_SLUG[self.schedule].column(self.head)


def tryable(package: Package) -> Iterator[tuple[Tryable, str]]:
    """Give the cells of a package that a trial may change, each with what its row is called.

    Of layers those that count; the colour outside of the outermost of wall and roof alone. A
    schedule with a row that can't be told from others has none.
    """
    for kind, heads in TRIED.items():
        schedule = kind.schedule
        if schedule.slug in package.unread:
            continue
        if schedule.is_single:
            yield from ((Tryable(schedule.slug, 1, head), schedule.title) for head in heads)
            continue
        outer: set[str] = set()
        for row in package.rows_of(kind):
            for head in _heads_of(row, heads, outer):
                yield Tryable(schedule.slug, row.number, head), _called(row)


def _heads_of(row: Row, heads: Sequence[str], outer: set[str]) -> Iterator[str]:
    """Give the heads of a row's cells; `outer` are the parts whose outermost layer was seen."""
    if not isinstance(row, Layer):
        yield from heads
        return
    part = row.typed("part")
    if row.typed("lambda_w_mk") is not None:
        yield "mm"
    if part in ("wall", "roof") and part not in outer:
        outer.add(part)
        yield "outside_absorptance"


def _called(row: Row) -> str:
    who = row.typed("who") if isinstance(row, Occupant) else None
    return f"{row.title}, {who}" if who and row.key else row.title


def changed(package: Package, texts: Mapping[Tryable, str], notation: Notation = PLAIN) -> Package:
    """Return a package with other texts in some of its cells.

    Raises Refused where a column can't read its text, Lacking where a schedule can't be read. A
    row that isn't there changes nothing.
    """
    values: dict[str, dict[int, dict[str, Any]]] = {}
    for place, text in texts.items():
        column = place.column
        row = values.setdefault(place.schedule, {}).setdefault(place.row, {})
        row[column.attribute] = column.read(text, notation)
    rows: dict[str, Any] = {}
    for slug, by_number in values.items():
        schedule = BY_SLUG[slug]
        if schedule.is_single:
            rows[slug] = getattr(package, slug).but(**by_number[1])
            continue
        rows[slug] = tuple(
            row.but(**by_number[row.number]) if row.number in by_number else row
            for row in package.rows_of(schedule.row)
        )
    return package.but(**rows)


@dataclass(frozen=True, kw_only=True)
class Beside:
    """A figure of two packages, side by side [SI]; None where it has no data.

    check    slug of the check whose figure it is
    lacks    what either would need, in words that name row and column
    """

    check: str
    name: str
    scale: Scale
    rule: Rule
    before: float | None
    after: float | None
    lacks: tuple[str, ...] = ()

    def turn(self, system: System = System.METRIC) -> str:
        """Say whether the second is better as it is written, worse or as before; "" if unknown."""
        if self.before is None or self.after is None:
            return ""
        if self.scale.write(self.before, system) == self.scale.write(self.after, system):
            return "as before"
        is_better = (self.after > self.before) is (self.rule is Rule.AT_LEAST)
        return "better" if is_better else "worse"


def compared(before: Package, after: Package) -> list[Beside]:
    """Hold two packages' years side by side; what neither is asked for has no line.

    The figures are the checks' own, the worst subject of each.
    """
    found: list[Beside] = []
    for slug in HELD:
        check = CHECKS[slug]
        both = [check.of(package) for package in (before, after)]
        if any(both):
            lacks = (words for each in both for measured in each for words in measured.missing)
            one, other = (_worst(each, check.rule) for each in both)
            found.append(
                Beside(
                    check=slug,
                    name=check.title,
                    scale=check.scales[0],
                    rule=check.rule,
                    before=one,
                    after=other,
                    lacks=tuple(dict.fromkeys(lacks)),
                )
            )
    return found


def _worst(measured: Sequence[Measured], rule: Rule) -> float | None:
    """Return the worst figure; None where any subject lacks one."""
    if not measured or not all(each.values for each in measured):
        return None
    return (min if rule is Rule.AT_LEAST else max)(each.values[0] for each in measured)
