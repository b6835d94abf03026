"""The weather of a package: its brief's file, brought to the site, or made of its climate."""

from dataclasses import replace
from functools import lru_cache

from criteria.errors import Refused
from criteria.hourly.months import MonthMeans, MonthRefused, weather_of_months
from criteria.hourly.sky_long_wave import standard_pressure_pa
from criteria.hourly.weather import Place, Weather
from criteria.package import Package
from criteria.schedules.climate import Month
from criteria.schedules.site import MONTHS, Site
from criteria.typed.cells import Lacking, lacking
from criteria.typed.rows import Row
from criteria.units import ALTITUDE, TEMPERATURE

NEAR_DEG = 0.5
"""Most by which a file's latitude may differ from its site's [°]."""
COLDER_K_M = 0.0065
"""By how much air is colder higher up [K/m]. ICAO standard atmosphere."""
LEVEL_M = 1.0
"""Heights that differ by less are one [m]."""


def weather_of(package: Package) -> Weather:
    """Return the year of weather that a package stands in.

    Raises Lacking where the site sheet or the climate lacks what it is made of, names more sun
    than its sky can give, or stands at another latitude than the brief's file.
    """
    site = package.site
    if lost := package.unread.get("weather"):
        raise lacking(
            f"weather, {lost[0].column}: read “{lost[0].read}”; expected {lost[0].expected}"
        )
    if package.weather is not None:
        if not is_near(package.weather, site.latitude_deg):
            near = f"a latitude near its weather file's, {package.weather.place.latitude_deg:g}°"
            raise _refused(site, "latitude_deg", near)
        return at_altitude(package.weather, site.altitude_m)
    rows = {row.month: row for row in package.climate}
    lacks = [month for month in MONTHS if month not in rows]
    if lacks:
        raise lacking(f"a row for {', '.join(lacks)} (climate by month)")
    place, assumed = _place_of(site)
    bare = [month for month in MONTHS if rows[month].unless_blank("snow_m") is None]
    try:
        made = weather_of_months(
            tuple(_means(rows[month]) for month in MONTHS),
            place,
            site.if_given("place") or "the site",
            site.unless_blank("design_outside_k"),
            site.unless_blank("summer_outside_k"),
        )
    except MonthRefused as refused:
        raise _refused(rows[MONTHS[refused.month]], refused.what, refused.expected) from None
    snow = (f"Snow isn't given for {', '.join(bare)}: none lies then.",) if bare else ()
    return replace(made, said=(*made.said, *assumed, *snow))


def is_near(weather: Weather, latitude_deg: float) -> bool:
    """Tell whether a file was taken at a site's latitude [°]."""
    return abs(weather.place.latitude_deg - latitude_deg) <= NEAR_DEG


@lru_cache(maxsize=8)
def at_altitude(weather: Weather, altitude_m: float) -> Weather:
    """Return a file's weather as it is so high up [m]: colder, and under less air.

    Dew point falls as far as the air, and the sky sends less as the air does: approximate.
    """
    higher_m = altitude_m - weather.place.altitude_m
    if abs(higher_m) < LEVEL_M:
        return weather
    colder_k = COLDER_K_M * higher_m
    air_k = weather.air_k - colder_k
    thinner = standard_pressure_pa(altitude_m) / standard_pressure_pa(weather.place.altitude_m)
    which, warm = ("higher", "colder") if higher_m > 0 else ("lower", "warmer")
    said = (
        f"The site stands {ALTITUDE.write(abs(higher_m))} {which} than the file's station: its air "
        f"is taken {TEMPERATURE.difference(abs(colder_k))} {warm}."
    )
    return replace(
        weather,
        place=replace(weather.place, altitude_m=altitude_m),
        air_k=air_k,
        dew_k=weather.dew_k - colder_k,
        pressure_pa=weather.pressure_pa * thinner,
        long_wave_w_m2=weather.long_wave_w_m2 * (air_k / weather.air_k) ** 4,
        said=(*weather.said, said),
    )


def _place_of(site: Site) -> tuple[Place, tuple[str, ...]]:
    """Return where a site is, and what was assumed of its clock."""
    longitude, zone_s = site.unless_blank("longitude_deg"), site.unless_blank("time_zone_s")
    said: tuple[str, ...] = ()
    if longitude is None and zone_s is None:
        longitude, zone_h = 0.0, 0.0
        said = ("Neither longitude nor time zone is given: its clock is the sun's.",)
    elif longitude is None:
        zone_h = zone_s / 3600
        longitude = 15 * zone_h
        said = (f"No longitude is given: {longitude:g}°, the middle of its time zone, stands.",)
    elif zone_s is None:
        zone_h = float(round(longitude / 15))
        said = (f"No time zone is given: the whole hour by its longitude, {zone_h:g} h, stands.",)
    else:
        zone_h = zone_s / 3600
    place = Place(
        latitude_deg=site.latitude_deg,
        longitude_deg=longitude,
        zone_h=zone_h,
        altitude_m=site.altitude_m,
    )
    return place, said


def _means(row: Month) -> MonthMeans:
    return MonthMeans(
        mean_k=row.mean_k,
        mean_min_k=row.mean_min_k,
        sun_h=row.sun_s / 3600,
        wind_m_s=row.wind_m_s,
        has_snow=bool(row.unless_blank("snow_m")),
        is_open=row.is_open,
    )


def _refused(row: Row, attribute: str, expected: str) -> Lacking:
    """Return what to raise of a cell that was read but can't be."""
    column = row.schedule.by_attribute[attribute]
    read = column.show(row.typed(attribute))
    return Lacking(replace(row.cell(attribute), refusal=Refused(read, expected)))
