"""Our own sentences in a reader's units: each is written once, with metric figures.

Only words of this library go through here: help, limits, meanings, workings. What people type
stays as they typed it, and what is computed is written by its own scale.
"""

import math
import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from criteria import units
from criteria.typed.columns import Column
from criteria.units import IN, THOUSANDS, Scale, System, Unit, feet_and_inches, rounded

_SCALES: dict[str, Scale] = {
    scale.metric.symbol: scale
    for scale in (
        *(units.LENGTH, units.SNOW, units.ROOM_LENGTH, units.AREA, units.VOLUME, units.LITRES),
        *(units.AIR_FLOW, units.WATER_FLOW, units.LITRES_A_DAY, units.VENTILATION, units.MASS),
        *(units.TEMPERATURE, units.U_VALUE, units.CONDUCTIVITY, units.RESISTANCE, units.SUN),
        *(units.HEAT_LOSS_RATE, units.AIR_HEAT, units.PRESSURE, units.FORCE, units.WIND),
        *(units.MASS_ON_AREA, units.ILLUMINANCE),
    )
}
_NUMBER = r"[−-]?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?"
_UNIT = "|".join(map(re.escape, sorted((*_SCALES, "K"), key=len, reverse=True)))
_US = "|".join(map(re.escape, sorted({s.us.symbol for s in _SCALES.values()}, key=len)))
_END = r"(?![\w/²³·])"
_FIGURES = re.compile(
    rf"(?<![\w.,])((?:{_NUMBER}(?: to | and | by | × |, ))*{_NUMBER}) ({_UNIT}){_END}"
)
_BESIDE = re.compile(rf"{_NUMBER} (?:{_UNIT}){_END} \(([\d¼½¾,.]+ (?:{_US}))\)")
_BEHIND = re.compile(rf"([\d,.]+ (?:{_US})) \({_NUMBER} (?:{_UNIT}){_END}\)")
_BARE = re.compile(rf"\d\.\d+(?!\d| (?:{_UNIT}|{_US}){_END})|\d W\b")
"""A constant whose unit goes unsaid, or watts beside figures that aren't in them."""
_LEGEND = re.compile(rf"\[((?:{_UNIT})(?:, (?:{_UNIT}))*)\]")
_COMMA = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")
_QUOTED = re.compile("(“[^”]*”)")
"""What somebody typed, told back."""

EXACT = 0.003
"""A length is drawn in the coarsest part of an inch that is this near it. Relative [1]."""


@lru_cache(maxsize=1024)
def in_units(words: str, system: System) -> str:
    """Write a sentence of ours with its figures in a reader's units.

    >>> print(in_units("Seats 400 to 480 mm, in 18.6 m² (200 ft²), at 20 °C", System.US))
    Seats 1'-3 3/4" to 1'-6 7/8", in 200 ft², at 68 °F
    >>> in_units("1,200 mm [m²]", System.METRIC)
    '1\\u202f200 mm [m²]'
    """
    if system is System.METRIC:
        return _COMMA.sub(THOUSANDS[system], words)
    return "".join(
        part if part.startswith("“") else _converted(part) for part in _QUOTED.split(words)
    )


def _converted(words: str) -> str:
    words = _BEHIND.sub(r"\1", _BESIDE.sub(r"\1", words))
    return _FIGURES.sub(_figures, _LEGEND.sub(_legend, words))


def in_si(formula: str, words: str, system: System) -> str:
    """Write the meaning of a formula; one whose constants have units that go unsaid stays in SI.

    >>> in_si("U = 1 ÷ (0.17 + R)", "R [m²K/W]", System.US)
    'R [m²K/W], in SI units'
    >>> in_si("a = A ÷ n", "A floor [m²]", System.US)
    'A floor [ft²]'
    """
    if system is System.US and words and _BARE.search(formula):
        return f"{words}, in SI units"
    return in_units(words, system)


def column_in(column: Column, system: System) -> Column:
    """Return a column as readers of a system have it: its help. A label names no unit.

    >>> from criteria.schedules import BY_SLUG
    >>> print(column_in(BY_SLUG["rooms"].column("low_headroom_m2"), System.US).help)
    Part of the floor with less than 4'-11" headroom; blank is none.
    """
    return (
        column if system is System.METRIC else replace(column, help=in_units(column.help, system))
    )


def _legend(found: re.Match[str]) -> str:
    named = (_SCALES[x].us.symbol if x in _SCALES else "°F" for x in found[1].split(", "))
    return f"[{', '.join(named)}]"


def _figures(found: re.Match[str]) -> str:
    numbers, symbol = found[1], found[2]
    if symbol == "K":  # a difference: no zero
        scale = units.TEMPERATURE
        written = re.sub(_NUMBER, lambda n: _plain(n[0], Fraction(9, 5) * _read(n[0])), numbers)
        return f"{written} {scale.us.symbol}"
    scale = _SCALES[symbol]
    if scale.is_drawn(System.US) or scale.us is IN:
        return re.sub(_NUMBER, lambda n: _drawn(n[0], scale.metric), numbers)
    si = scale.metric.to_si

    def converted(found: re.Match[str]) -> str:
        number = scale.us.from_si(si(_read(found[0])))
        if scale.us.offset:  # a degree is a degree, wherever zero lies
            return rounded(number, len(found[0].partition(".")[2]), System.US)
        return _plain(found[0], number)

    return f"{re.sub(_NUMBER, converted, numbers)} {scale.us.symbol}"


def _read(number: str) -> Fraction:
    return Fraction(number.replace("−", "-").replace(",", ""))


def _plain(typed: str, number: Fraction) -> str:
    """As many figures as were typed, two at least; of round thousands, three."""
    if not number:
        return "0"
    digits = re.sub(r"\D", "", typed).lstrip("0")
    figures = max(2, min(len(digits), max(3, len(digits.rstrip("0")))))
    places = figures - 1 - math.floor(math.log10(abs(number)))
    whole = round(number, places) if places < 0 else number
    return rounded(whole, max(0, places), System.US)


def _drawn(typed: str, unit: Unit) -> str:
    si = unit.to_si(_read(typed))
    decimals = len(typed.partition(".")[2])
    last = min(Fraction(1, 1000), unit.factor / 10**decimals) / 2
    near = max(last, abs(si) * Fraction(EXACT)) / IN.factor
    inches = abs(IN.from_si(si))
    fits = (n for n in (1, 2, 4, 8) if abs(Fraction(round(inches * n), n) - inches) <= near)
    return feet_and_inches(si, next(fits, 16))
