"""What a brief's weather file says of its site sheet and climate, beside what stands there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from criteria.hourly.climate_figures import ClimateFigures, MonthFigures, climate_figures
from criteria.hourly.site_weather import LEVEL_M, at_altitude
from criteria.hourly.weather import Weather
from criteria.schedules import CLIMATE, SITE
from criteria.schedules.site import MONTHS
from criteria.typed.columns import Column
from criteria.typed.rows import Row
from reviews.exchange.proposed import figure_of
from reviews.models import Brief
from reviews.models.weather import WEATHER, read_tables
from reviews.worked_out import Told

Record = Mapping[str, str]

BLANK, SAME, DIFFERS = "blank", "same", "differs"
"""What stands beside a figure of the file."""

_FROM_HEAD = "as its first line says"
SITE_FIGURES = {
    "latitude": (2, _FROM_HEAD),
    "longitude": (2, _FROM_HEAD),
    "time_zone_h": (2, _FROM_HEAD),
    "altitude_m": (0, _FROM_HEAD),
    "design_outside_c": (1, "99.6 % of its hours are warmer"),
    "summer_outside_c": (1, "0.4 % of its hours are hotter"),
    "median_diffuse_lx": (-2, "median of the 4,380 brightest hours, of its diffuse sun"),
    "sun_hours": (1, "a day of the design month, on 60° towards the equator"),
}
"""By head: places to which a figure is written, and how it is known."""
MONTH_FIGURES = {"mean_c": 1, "mean_min_c": 1, "sun_hours_60s": 1, "wind_ms": 1}


@dataclass(frozen=True)
class FileFigure:
    """One figure as a weather file has it.

        name     of its cell: a head of the site sheet, or month and head, “Jan-mean_c”
        text     as it would be kept, in its column's metric unit
        stands   what stands in the cell, as typed
        beside   how both compare: Record = Mapping[str, str]

    BLANK, SAME or DIFFERS
        how      how the file knows it
    """

    name: str
    column: Column
    text: str
    stands: str
    beside: str
    how: str = ""


@dataclass(frozen=True)
class FiguresOffered:
    """All that a file says of a brief.

    source   the line in which it says what it is made of
    site, climate   its figures
    said     what has to be known of them, each a sentence of ours
    """

    source: str
    site: tuple[FileFigure, ...]
    climate: tuple[FileFigure, ...]
    said: tuple[str, ...]

    @cached_property
    def by_name(self) -> dict[str, FileFigure]:
        """Each figure that would change what stands."""
        return {f.name: f for f in (*self.site, *self.climate) if f.beside != SAME}

    @property
    def as_seen(self) -> list[tuple[str, str, str]]:
        """What whoever looks at it sees."""
        return [(f.name, f.text, f.stands) for f in (*self.site, *self.climate)]


def figures_offered(brief: Brief) -> FiguresOffered | None:
    """Return what a brief's weather file says; None where there is no file that can be used."""
    tables = brief.leader_tables()
    year = read_tables(Told.of({WEATHER: tables[WEATHER]}), brief.notation).package.weather
    if year is None:
        return None
    record = tables["site"][0]
    site = SITE.parse(record, brief.notation)
    altitude_m = site.typed("altitude_m")
    at_site = year if altitude_m is None else at_altitude(year, altitude_m)
    figures = climate_figures(at_site)
    known = _of_site(year, figures, site.typed("design_month"))
    if altitude_m is not None and abs(altitude_m - year.place.altitude_m) >= LEVEL_M:
        # the site stands where it stands: its temperatures are carried there
        del known["altitude_m"]
    stands = {each["month"]: each for each in tables["climate"]}
    return FiguresOffered(
        source=year.source or year.name,
        site=tuple(_figures("", site, record, known)),
        climate=tuple(
            figure
            for month, told in zip(MONTHS, figures.months, strict=True)
            for figure in _of_month(month, told, stands.get(month, {"month": month}), brief)
        ),
        said=at_site.said[len(year.said) :],
    )


def _of_month(month: str, told: MonthFigures, record: Record, brief: Brief) -> Iterator[FileFigure]:
    known = {h: getattr(told, CLIMATE.column(h).attribute) for h in MONTH_FIGURES}
    return _figures(f"{month}-", CLIMATE.parse(record, brief.notation), record, known)


def _of_site(year: Weather, figures: ClimateFigures, design_month: str | None) -> dict[str, float]:
    """What a file gives of the site sheet, in SI, by head."""
    place = year.place
    known = {
        "latitude": place.latitude_deg,
        "longitude": place.longitude_deg,
        "time_zone_h": place.zone_h * 3600,
        "altitude_m": place.altitude_m,
        "design_outside_c": figures.heating_k,
        "summer_outside_c": figures.cooling_k,
        "median_diffuse_lx": figures.median_diffuse_lx,
    }
    if design_month:
        known["sun_hours"] = figures.months[MONTHS.index(design_month)].sun_s
    return known


def _figures(
    month: str, row: Row, record: Record, known: Mapping[str, float]
) -> Iterator[FileFigure]:
    """Each figure beside what stands in its row; none of what no such cell may hold."""
    for head, si in known.items():
        column = row.schedule.column(head)
        places, how = SITE_FIGURES.get(head) or (MONTH_FIGURES[head], "")
        text, stands = figure_of(column, si, places), record.get(head, "").strip()
        now = row.typed(column.attribute)
        is_same = now is not None and figure_of(column, now, places) == text
        beside = SAME if is_same else DIFFERS if stands else BLANK
        if not row.schedule.parse({head: text}).refused.get(column.attribute):
            yield FileFigure(f"{month}{head}", column, text, stands, beside, how)
