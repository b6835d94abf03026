"""Years of weather that leaders brought in, each by its digest; packages read beside theirs."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from django.db import models

from criteria.errors import InputError
from criteria.hourly.weather import Weather
from criteria.hourly.weather_record import from_record
from criteria.package import PackageReading, read_package
from criteria.typed.tables import RefusedCell
from criteria.units import Notation
from reviews.models.briefs import Frozen
from reviews.models.studios import Studio
from reviews.worked_out import MOST_PACKAGES, Tables, Told, kept

WEATHER = "weather"
"""Under which a brief and what is issued name their year, as they do a schedule."""
MOST_YEARS = 16
"""Years that a process keeps unpacked, of under a megabyte each."""
_LOST = RefusedCell(0, "", "file", "what isn't as it was kept", "the year that the brief names")


class WeatherFile(models.Model):
    """A year that was read of a file: it stands for good, whatever a brief names later.

    digest   SHA-256 of the year as it was read
    held     the year itself, as `criteria.hourly.weather_record` writes it
    """

    studio = models.ForeignKey(Studio, on_delete=models.CASCADE, related_name="weather_files")
    digest = models.CharField(max_length=64)
    held = models.TextField()

    class Meta:
        ordering = ["studio", "pk"]
        constraints = [models.UniqueConstraint("studio", "digest", name="one_year_a_digest")]

    def __str__(self) -> str:
        return f"Weather {self.digest[:8]} of {self.studio}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk and not self._state.adding:
            raise Frozen("A year of weather does not change.")
        super().save(*args, **kwargs)


@kept(MOST_YEARS)
def year_of(digest: str) -> Weather:
    """Return the year of a digest, whichever studio's row is as it was kept.

    Raises InputError where none is.
    """
    for held in WeatherFile.objects.filter(digest=digest).values_list("held", flat=True):
        with suppress(InputError):  # a studio that was brought in may hold anything
            return from_record(digest, held)
    raise InputError(f"no year of weather is kept as {digest}")


@kept(MOST_PACKAGES)
def read_tables(tables: Told[Tables], notation: Notation) -> PackageReading:
    """Read a package's tables as typed, with the weather they name; the same are read once."""
    named = tables.holds.get(WEATHER)
    if not named:
        return read_package(tables.holds, notation)
    try:
        return read_package(tables.holds, notation, weather=year_of(named[0]["digest"]))
    except InputError:
        read = read_package(tables.holds, notation)
        lost = {**read.package.unread, WEATHER: (_LOST,)}
        return PackageReading(read.package.but(unread=lost), read.refused)
