"""A year of weather as it is kept: each figure as it was read, and a digest that tells it apart."""

import base64
import binascii
import hashlib
import json
import zlib
from dataclasses import asdict

import numpy as np

from criteria.errors import InputError
from criteria.hourly.weather import HOURS, Origin, Place, Weather

FORMAT = 1
COLUMNS = (
    *("air_k", "dew_k", "pressure_pa", "beam_w_m2", "diffuse_w_m2", "long_wave_w_m2"),
    *("wind_m_s", "rain_m", "snow"),
)
LONGEST_HEAD = 20_000
"""Longest head that is read [bytes]."""
_FIGURES = len(COLUMNS) * HOURS
_BYTES = 8


def as_record(weather: Weather) -> tuple[str, str]:
    """Return the digest of a file's year (SHA-256), and its text in plain signs.

    The text is a line of JSON and columns of binary64, packed. The same year has the same digest,
    whoever packs it.
    """
    head = {
        "format": FORMAT,
        "name": weather.name,
        "place": asdict(weather.place),
        "said": weather.said,
        "has_rain": weather.rain_m is not None,
        **({"source": weather.source} if weather.source else {}),
    }
    rain = np.zeros(HOURS) if weather.rain_m is None else weather.rain_m
    held = {**vars(weather), "rain_m": rain, "snow": weather.has_snow.astype(np.float64)}
    columns = np.concatenate([held[name] for name in COLUMNS]).astype("<f8")
    # like bytes of all figures beside each other: they pack to less than half
    beside = columns.view(np.uint8).reshape(-1, _BYTES).T.tobytes()
    raw = json.dumps(head, sort_keys=True).encode() + b"\n" + beside
    return hashlib.sha256(raw).hexdigest(), base64.b64encode(zlib.compress(raw, 9)).decode()


def from_record(digest: str, text: str) -> Weather:
    """Return the year of a digest and its text. Raises InputError where it isn't as it was kept."""
    longest = _FIGURES * _BYTES + LONGEST_HEAD
    try:
        packed = base64.b64decode(text, validate=True)
        raw = zlib.decompressobj().decompress(packed, longest)
    except (binascii.Error, ValueError, zlib.error):
        raise InputError("a year of weather can't be unpacked") from None
    line, _, beside = raw.partition(b"\n")
    if hashlib.sha256(raw).hexdigest() != digest or len(beside) != _FIGURES * _BYTES:
        raise InputError(f"a year of weather isn't as it was kept: {digest}")
    figures = np.frombuffer(beside, np.uint8).reshape(_BYTES, -1).T.copy().view("<f8").ravel()
    if not np.isfinite(figures).all():
        raise InputError("a year of weather holds what is no figure")
    held = dict(zip(COLUMNS, figures.reshape(len(COLUMNS), HOURS), strict=True))
    try:
        head = json.loads(line)
        place = Place(**{name: float(figure) for name, figure in head["place"].items()})
        name, said, has_rain = str(head["name"]), tuple(map(str, head["said"])), head["has_rain"]
        source = str(head.get("source", ""))
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        raise InputError("a year of weather doesn't say where it was taken") from None
    return Weather(
        place=place,
        origin=Origin.FILE,
        name=name,
        air_k=held["air_k"],
        dew_k=held["dew_k"],
        pressure_pa=held["pressure_pa"],
        beam_w_m2=held["beam_w_m2"],
        diffuse_w_m2=held["diffuse_w_m2"],
        long_wave_w_m2=held["long_wave_w_m2"],
        wind_m_s=held["wind_m_s"],
        rain_m=held["rain_m"] if has_rain else None,
        has_snow=held["snow"] > 0,
        has_spells=True,
        said=said,
        source=source,
    )
