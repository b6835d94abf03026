"""Weather out of a file: the open hourly format of building simulation, or plain columns.

The hourly format: eight lines of heads, the first of which names the place; then a row an hour of
35 fields, parted by commas, standard time all year, hour 1 to 24 the hour that ends there. Layout
and missing-value codes as the format's public data dictionary gives them. Figures and their limits
are held by `weather_held`; what can't be used is refused with its row and its reason.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from criteria.hourly.sun import positions
from criteria.hourly.weather import CELSIUS_K, Place, Weather
from criteria.hourly.weather_held import COMMON, Table, weather_of
from criteria.hourly.weather_refused import Fault, WeatherRefused, number

LARGEST = 8_000_000
"""Largest file that is read [bytes]; a year in this format takes under 2 MB."""
LONGEST_LINE = 10_000
"""Longest line that is read: heads carry lists of design figures [characters]."""

LONGEST_SOURCE = 200
"""Most that is kept of the line that says what a file is made of [characters]."""

HEADS = 8
FIELDS = {
    "dry_bulb": 7,
    "dew_point": 8,
    "pressure": 10,
    "long_wave": 13,
    "global": 14,
    "beam": 15,
    "diffuse": 16,
    "wind": 22,
    "cloud": 24,
    "snow": 31,
    "rain": 34,
}
"""Which field of a row holds what, counted from 1."""
LEAST_FIELDS = 22
"""Fields that no row is without: the wind is the last that is needed."""
PLACE_FIELDS = {
    "latitude": (7, 90),
    "longitude": (8, 180),
    "time zone": (9, 14),
    "altitude": (10, 6000),
}
"""Fields of the first line, from 1, and the most that each can be to either side of nought."""

COLUMNS = {
    "dry_bulb_c": "dry_bulb",
    "dew_point_c": "dew_point",
    "pressure_pa": "pressure",
    "ir_wh_m2": "long_wave",
    "global_horizontal_wh_m2": "global",
    "direct_normal_wh_m2": "beam",
    "diffuse_horizontal_wh_m2": "diffuse",
    "wind_m_s": "wind",
    "cloud_tenths": "cloud",
    "snow_cm": "snow",
    "rain_mm": "rain",
}
"""Heads of plain columns, and what each holds."""
TIME_COLUMNS = ("month", "day", "hour")
NEEDED_COLUMNS = (
    *TIME_COLUMNS,
    *("dry_bulb_c", "dew_point_c", "wind_m_s"),
    *("global_horizontal_wh_m2", "direct_normal_wh_m2", "diffuse_horizontal_wh_m2"),
)


def read_epw(data: bytes) -> Weather:
    """Return the weather of a file in the hourly format.

    Raises WeatherRefused with what was read and what was expected, row by row.
    """
    lines = _lines_of(data)
    place, name = _place_of(lines)
    for at, head in enumerate(lines[1:HEADS], start=2):
        if re.match(r"\s*\d", head):
            raise WeatherRefused(
                Fault(f"line {at}", head, f"a head: rows follow {HEADS} lines of heads")
            )
    _hold_to_one_period(lines)
    rows = [line.split(",") for line in lines[HEADS:]]
    for at, row in enumerate(rows, start=1):
        if len(row) < LEAST_FIELDS:
            few = f"35 fields, the first {LEAST_FIELDS} at least, parted by commas"
            raise WeatherRefused(Fault(f"row {at:,}", ",".join(row), few))
    shared = min(map(len, rows), default=0)
    columns = list(zip(*(row[:shared] for row in rows), strict=True))
    cells = {what: columns[at - 1] for what, at in FIELDS.items() if at <= shared}
    year = weather_of(Table(tuple(zip(*columns[1:4], strict=True)), cells), place, name)
    return replace(year, source=_plain(lines[0]))


def read_weather_csv(data: bytes, place: Place, name: str = "plain columns") -> Weather:
    """Return the weather of plain columns under heads that name what they hold and its unit.

    Lines that begin with # are passed over. `place` is said beside the file.
    Raises WeatherRefused as `read_epw` does.
    """
    lines = [line for line in _lines_of(data) if not line.lstrip().startswith("#")]
    heads = [head.strip() for head in lines[0].split(",")] if lines else []
    if lacking := [head for head in NEEDED_COLUMNS if head not in heads]:
        raise WeatherRefused(Fault("heads", ",".join(heads), f"a column {', '.join(lacking)}"))
    rows = [line.split(",") for line in lines[1:]]
    for at, row in enumerate(rows, start=1):
        if len(row) != len(heads):
            raise WeatherRefused(
                Fault(f"row {at:,}", ",".join(row), f"{len(heads)} fields, as there are heads")
            )
    across = list(zip(*rows, strict=True)) or [()] * len(heads)
    columns = dict(zip(heads, across, strict=True))
    times = tuple(zip(*(columns[head] for head in TIME_COLUMNS), strict=True))
    cells = {held: columns[head] for head, held in COLUMNS.items() if head in columns}
    return weather_of(Table(times, cells), place, name)


def write_weather_csv(year: Weather) -> str:
    """Return a year as the plain columns that `read_weather_csv` reads, under what was said of it.

    Temperatures to a hundredth; what isn't known of rain and snow has no column.
    """
    place, sun = year.place, positions(year.place)
    columns = {
        "dry_bulb_c": year.air_k - CELSIUS_K,
        "dew_point_c": year.dew_k - CELSIUS_K,
        "pressure_pa": year.pressure_pa,
        "ir_wh_m2": year.long_wave_w_m2,
        "global_horizontal_wh_m2": year.diffuse_w_m2 + year.beam_w_m2 * np.maximum(sun.up, 0.0),
        "direct_normal_wh_m2": year.beam_w_m2,
        "diffuse_horizontal_wh_m2": year.diffuse_w_m2,
        "wind_m_s": year.wind_m_s,
        "snow_cm": year.has_snow.astype(np.float64),
    }
    if year.rain_m is not None:
        columns["rain_mm"] = year.rain_m * 1000
    figures = np.column_stack(list(columns.values())).tolist()
    rows = (
        [*map(str, time), *(f"{figure:.2f}".rstrip("0").rstrip(".") for figure in row)]
        for time, row in zip(COMMON, figures, strict=True)
    )
    told = (
        f"{year.name}: latitude {place.latitude_deg:g}, longitude {place.longitude_deg:g}, "
        f"UTC {place.zone_h:+g} h, altitude {place.altitude_m:g} m",
        "Global sun is beam and diffuse together. Snow: 1 where it lies.",
        *year.said,
    )
    head = [f"# {line}" for line in told]
    return "\n".join([*head, ",".join((*TIME_COLUMNS, *columns)), *map(",".join, rows), ""])


def _lines_of(data: bytes) -> list[str]:
    """Return the lines of plain text. Nothing is decoded before its size is known."""
    if len(data) > LARGEST:
        most = f"a year of hours, at most {LARGEST / 1e6:.0f} MB"
        raise WeatherRefused(Fault("file", f"{len(data) / 1e6:.1f} MB", most))
    if b"\0" in data or not data.strip():
        read = "signs that no text has" if data.strip() else "nothing"
        raise WeatherRefused(Fault("file", read, "plain text, a row an hour"))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("latin-1")
    lines = re.split(r"\r\n|\n|\r", text)
    while not lines[-1].strip():
        lines.pop()
    for at, line in enumerate(lines, start=1):
        if len(line) > LONGEST_LINE:
            most = f"lines of at most {LONGEST_LINE:,} characters"
            raise WeatherRefused(Fault(f"line {at:,}", line, most))
    return lines


def _place_of(lines: Sequence[str]) -> tuple[Place, str]:
    """Return where the file was taken, and what it is called."""
    fields = [field.strip() for field in lines[0].split(",")]
    if fields[0].upper() != "LOCATION" or len(fields) < 10:
        expected = (
            "LOCATION, city, state, country, source, number, latitude, longitude, time zone, "
            "altitude, as an EPW file begins"
        )
        raise WeatherRefused(Fault("line 1", lines[0], expected))
    found: dict[str, float] = {}
    faults = []
    for what, (at, most) in PLACE_FIELDS.items():
        figure = number(fields[at - 1])
        if figure is None or abs(figure) > most:
            faults.append(Fault(f"line 1, {what}", fields[at - 1], f"a number, −{most} to {most}"))
        else:
            found[what] = figure
    if faults:
        raise WeatherRefused(*faults)
    named = [re.sub(r"[^\w .'()/-]", "", field)[:60].strip() for field in (fields[1], fields[3])]
    place = Place(
        latitude_deg=found["latitude"],
        longitude_deg=found["longitude"],
        zone_h=found["time zone"],
        altitude_m=found["altitude"],
    )
    return place, ", ".join(filter(None, named)) or "a place without a name"


def _plain(line: str) -> str:
    """Return a line's fields as they can stand in a sentence."""
    return re.sub(r"[^\w .,'()/+-]", "", line)[:LONGEST_SOURCE].strip()


def _hold_to_one_period(lines: Sequence[str]) -> None:
    """Refuse a file of several periods, or with several rows an hour, by its eighth line."""
    line = lines[HEADS - 1] if len(lines) >= HEADS else ""
    fields = [field.strip() for field in line.split(",")]
    if fields[0].upper() != "DATA PERIODS":
        raise WeatherRefused(
            Fault(f"line {HEADS}", line or "nothing", "DATA PERIODS, the last of the heads")
        )
    if fields[1:3] != ["1", "1"]:
        raise WeatherRefused(
            Fault(f"line {HEADS}", line, "DATA PERIODS,1,1: one period, one row an hour")
        )
