"""Which weather a brief's year by the hour stands in, as it is read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Origin, Spell, Weather
from criteria.hourly.weather_file import write_weather_csv
from criteria.own_words import in_units
from criteria.package import Package
from criteria.typed.cells import Lacking
from criteria.units import ALTITUDE, TEMPERATURE, WIND, System
from reviews.models import Brief
from reviews.models.weather import WEATHER, read_tables
from reviews.reading.brief_reading import BriefReading
from reviews.worked_out import Told

WORST = {
    Spell.COLD: "the coldest night to design for",
    Spell.HOT: "the hottest afternoon to design for",
}
"""What a spell brings."""
UNSETTLED = {
    Spell.COLD: "The site sheet has no design outside, so the coldest night to design for isn’t in "
    "it: no claim about the worst night is settled by it.",
    Spell.HOT: "The site sheet has no design summer outside, so the hottest afternoon to design "
    "for isn’t in it: no claim about the worst heat is settled by it.",
}
"""What a year doesn't tell without a spell."""


@dataclass(frozen=True)
class WeatherShown:
    """The year that checks of the hours stand in.

    words    where it comes from, in one sentence
    facts    what it holds, each with a label
    said     what was corrected, filled or assumed
    amiss    what it doesn't tell, or what it lacks
    is_of_file  whether the brief names a file
    """

    words: str
    facts: Sequence[tuple[str, str]] = ()
    said: Sequence[str] = ()
    amiss: Sequence[str] = ()
    is_of_file: bool = False

    @property
    def is_there(self) -> bool:
        """Whether there is a year."""
        return bool(self.facts)


def weather_shown(read: BriefReading, system: System) -> WeatherShown:
    """Return what a page shows of the weather in force."""
    try:
        year = year_in_force(read)
    except Lacking as lacks:
        named = read.brief.leader_tables()[WEATHER]
        words = f"{named[0]['name']} can’t be used." if named else "There is no year yet."
        amiss = tuple(f"It lacks: {in_units(str(cell), system)}." for cell in lacks.cells)
        return WeatherShown(words, amiss=amiss, is_of_file=bool(named))
    return WeatherShown(
        _origin(year),
        _facts(year, system),
        tuple(in_units(sentence, system) for sentence in year.said),
        tuple(UNSETTLED[spell] for spell in year.without),
        is_of_file=year.origin is Origin.FILE,
    )


def _origin(year: Weather) -> str:
    if year.origin is Origin.FILE:
        return f"Read of the file of {year.name}."
    held = (f"with{'out' * (spell in year.without)} {WORST[spell]}" for spell in Spell)
    return f"Made of the twelve months, {', '.join(held)}."


def year_in_force(read: BriefReading) -> Weather:
    """Return the weather in force. Raises Lacking where there is none."""
    tables = read.brief.leader_tables()
    of_file = read_tables(Told.of({WEATHER: tables[WEATHER]}), read.brief.notation).package
    package = Package(
        site=read.site, climate=read.months, weather=of_file.weather, unread=of_file.unread
    )
    return weather_of(package)


def year_table(read: BriefReading) -> str:
    """Return the weather in force as plain columns; where there is none, what it lacks."""
    try:
        return write_weather_csv(year_in_force(read))
    except Lacking as lacks:
        return "".join(f"# There is no year yet. It lacks: {cell}.\n" for cell in lacks.cells)


def _facts(year: Weather, system: System) -> list[tuple[str, str]]:
    place = year.place
    air = TEMPERATURE.write
    return [
        ("Place", f"{_turned(place.latitude_deg, 'NS')}, {_turned(place.longitude_deg, 'EW')}"),
        ("Clock", f"UTC {place.zone_h:+g} h, all year"),
        ("Height", ALTITUDE.write(place.altitude_m, system)),
        ("Coldest hour", air(year.air_k.min(), system)),
        ("Mean", air(year.air_k.mean(), system)),
        ("Hottest hour", air(year.air_k.max(), system)),
        ("Wind, mean", WIND.write(year.wind_m_s.mean(), system)),
    ]


def _turned(angle_deg: float, ways: str) -> str:
    """Write a latitude or a longitude with the way that it lies."""
    return f"{abs(angle_deg):g}° {ways[angle_deg < 0]}"


def weather_warnings(read: BriefReading) -> list[str]:
    """What a leader should know of the weather before the issue: a file that can't be used."""
    brief: Brief = read.brief
    if not brief.leader_tables()[WEATHER]:
        return []
    shown = weather_shown(read, System.METRIC)
    return [] if shown.is_there else [shown.words, *shown.amiss]
