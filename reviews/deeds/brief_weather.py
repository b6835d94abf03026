"""Bring a year of weather into a brief, take its figures over, or take it out.

After the issue each is an addendum.
"""

from __future__ import annotations

from collections.abc import Collection

from django.db import transaction

from criteria.hourly.weather import Weather
from criteria.hourly.weather_record import as_record
from criteria.schedules.site import MONTHS, Site
from reviews.deeds import brief_issuing, record_changes
from reviews.deeds.brief_writing import (
    MONTHLY,
    SITE_SHEET,
    WEATHER,
    Cells,
    climate_cells,
    hold,
    site_cells,
)
from reviews.deeds.record_versions import version_of
from reviews.models import Addendum, Brief, Person, Studio, WeatherFile
from reviews.reading.brief_figures import FiguresOffered, figures_offered
from reviews.versions import Newer

LONGEST_NAME = 120
LONGEST_NOTE = Site.schedule.column("note").longest or 0


@transaction.atomic
def bring_in(brief: Brief, year: Weather, seen: int, by: Person) -> None:
    """Let a brief in preparation name a file's year. Raises Newer, Frozen."""
    record_changes.keep(brief, WEATHER, [_kept(brief.studio, year)], seen, by)


def take_out(brief: Brief, seen: int, by: Person) -> None:
    """Let its year be made of the climate again. Raises Newer, Frozen."""
    record_changes.keep(brief, WEATHER, [], seen, by)


@transaction.atomic
def change_by_addendum(
    brief: Brief, year: Weather | None, by: Person, words: str, number: int
) -> Addendum:
    """Issue an addendum from which on a file's year holds, or the climate's. Raises Newer."""
    named = [_kept(brief.studio, year)] if year else []
    use = {WEATHER.slug: named}
    return brief_issuing.add_addendum(brief, by, words, number=number, use=use)


def _kept(studio: Studio, year: Weather) -> Cells:
    digest, held = as_record(year)
    WeatherFile.objects.get_or_create(studio=studio, digest=digest, defaults={"held": held})
    return {"digest": digest, "name": year.name[:LONGEST_NAME]}


def carried(named: Cells, old: Studio, new: Studio) -> Cells:
    """Return what next year's brief names: the same year, kept with its own studio."""
    held = WeatherFile.objects.get(studio=old, digest=named["digest"]).held
    WeatherFile.objects.get_or_create(studio=new, digest=named["digest"], defaults={"held": held})
    return dict(named)


@transaction.atomic
def take_figures(brief: Brief, names: Collection[str], seen: int, by: Person) -> int:
    """Write a file's figures into site sheet and climate, and whence; return how many.

    Each part is a change of its own, named alike. What stands already isn't written again.
    Raises Newer where other figures stand, or are offered, than were seen; Frozen.
    """
    held = hold(brief)
    offered, taken = _taken(held, names)
    if not taken:
        return 0
    if version_of(offered.as_seen) != seen:
        raise Newer(offered.as_seen, None)
    what = f"{len(taken)} figures taken from {offered.source}"
    with record_changes.logged(held, SITE_SHEET, by, what):
        SITE_SHEET.write(held, site_cells(held) | _site_changes(held, offered, taken))
    with record_changes.logged(held, MONTHLY, by, what):
        MONTHLY.write(held, climate_cells(held) | _of_months(taken))
    return len(taken)


@transaction.atomic
def take_figures_by_addendum(
    brief: Brief, names: Collection[str], by: Person, words: str, number: int
) -> Addendum:
    """Issue an addendum from which on a file's figures hold. Raises Newer."""
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    offered, taken = _taken(held, names)
    months = {each["month"]: dict(each) for each in held.leader_tables()["climate"]}
    for name, text in _of_months(taken).items():
        month, _, head = name.partition("-")
        months.setdefault(month, {"month": month})[head] = text
    climate = [months[month] for month in MONTHS if month in months]
    return brief_issuing.add_addendum(
        held,
        by,
        words,
        number=number,
        site=_site_changes(held, offered, taken),
        use={MONTHLY.slug: climate} if _of_months(taken) else {},
    )


def _taken(held: Brief, names: Collection[str]) -> tuple[FiguresOffered, Cells]:
    """What a file offers, and of it the figures of those names that would change what stands."""
    offered = figures_offered(held)
    if offered is None:
        raise Newer([], None)
    return offered, {n: f.text for n, f in offered.by_name.items() if n in names}


def _of_months(taken: Cells) -> Cells:
    return {name: text for name, text in taken.items() if "-" in name}


def _site_changes(held: Brief, offered: FiguresOffered, taken: Cells) -> Cells:
    """The figures of the site sheet, and a line that says whence all of them come."""
    site = {name: text for name, text in taken.items() if "-" not in name}
    note, line = held.site_record().get("note", ""), f"Figures of the weather file {offered.source}"
    longer = f"{note}\n{line}".strip()
    if taken and line not in note and len(longer) <= LONGEST_NOTE:
        site["note"] = longer
    return site
