"""A year of weather kept and read again, figure by figure."""

import base64
import hashlib
import zlib
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.weather import HOURS, Weather
from criteria.hourly.weather_record import as_record, from_record
from tests.criteria.hourly.epw_made import denver

ARRAYS = [name for name, held in vars(denver()).items() if isinstance(held, np.ndarray)]


def rainy() -> Weather:
    return replace(
        denver(),
        source="LOCATION,Denver",
        rain_m=np.linspace(0, 1e-3, HOURS),
        has_snow=denver().air_k < 273,
    )


@pytest.mark.parametrize("weather", [denver(), rainy()], ids=["dry", "rainy"])
def test_every_figure_comes_back_as_it_was(weather):
    digest, text = as_record(weather)
    again = from_record(digest, text)
    for name in ARRAYS:
        assert np.array_equal(getattr(again, name), getattr(weather, name)), name
    assert (weather.rain_m is None) == (again.rain_m is None)
    beside = ("place", "origin", "name", "said", "has_spells", "without", "source")
    assert [getattr(again, n) for n in beside] == [getattr(weather, n) for n in beside]
    assert as_record(again) == (digest, text)


def test_other_years_have_other_digests_and_the_text_is_short():
    digest, text = as_record(denver())
    assert as_record(replace(denver(), name="elsewhere"))[0] != digest
    assert as_record(rainy())[0] != digest
    assert len(text) < 300_000


def changed(text: str) -> str:
    raw = bytearray(zlib.decompress(base64.b64decode(text)))
    raw[-1] ^= 1
    return base64.b64encode(zlib.compress(bytes(raw))).decode()


def forged(change: Callable[[bytes, bytes], bytes]) -> tuple[str, str]:
    """A year that was changed by somebody who made its digest anew."""
    raw = zlib.decompress(base64.b64decode(as_record(denver())[1]))
    made = change(*raw.split(b"\n", 1))
    return hashlib.sha256(made).hexdigest(), base64.b64encode(zlib.compress(made)).decode()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda head, rest: head + b"\n" + b"\xff" * len(rest), "what is no figure"),
        (lambda head, rest: b"[]\n" + rest, "where it was taken"),
        (lambda head, rest: b"{\n" + rest, "where it was taken"),
        (lambda head, rest: head.replace(b"altitude_m", b"height") + b"\n" + rest, "where it was"),
        (lambda head, rest: b"[" * 9000 + b"\n" + rest, "where it was taken"),
    ],
    ids=["no figures", "a list", "no JSON", "no altitude", "deep"],
)
def test_what_is_forged_is_refused(change, said):
    with pytest.raises(InputError, match=said):
        from_record(*forged(change))


@pytest.mark.parametrize(
    "spoiled",
    [
        lambda text: text[:-800],
        lambda text: "é" + text,
        lambda text: base64.b64encode(b"no year").decode(),
        lambda text: base64.b64encode(zlib.compress(b"\0" * 100_000_000)).decode(),
        changed,
    ],
    ids=["cut", "odd signs", "unpacked", "endless", "one bit"],
)
def test_what_isnt_as_it_was_kept_is_refused(spoiled):
    digest, text = as_record(denver())
    with pytest.raises(InputError, match="a year of weather"):
        from_record(digest, spoiled(text))
