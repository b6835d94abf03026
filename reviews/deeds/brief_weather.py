"""Bring a year of weather into a brief, or take it out; after the issue by an addendum."""

from __future__ import annotations

from django.db import transaction

from criteria.hourly.weather import Weather
from criteria.hourly.weather_record import as_record
from reviews.deeds import brief_issuing, record_changes
from reviews.deeds.brief_writing import WEATHER, Cells
from reviews.models import Addendum, Brief, Person, Studio, WeatherFile

LONGEST_NAME = 120


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
