"""Read what people type, 4'-6" or 1.2 m or 86 sq ft, as exact SI.

The text stays as typed wherever it is kept; this module only says what it means. The
grammar is closed: a number (or feet and inches) and a unit of the list in
criteria.units. Whatever else is typed is refused, with what was read and what would be.

A comma, a point or a space parts thousands only in groups of three behind a figure that isn't
0, and decimals only once, at the end: “22,4”, “0,045” and “1.234,5” have one reading each, whatever
the decimal sign. “1,200” and “1.200” have two. Where the sign is a point they are 1200 and
1.2; where it is a comma too many people mean either, and both are refused.
"""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from criteria.errors import Refused
from criteria.units import FT, IN, PLAIN, UNITS, DecimalSign, Notation, Scale, System, Unit

LONGEST = 40
"""Longest text read as one quantity [characters]."""

MOST_READ = 8192
"""Texts whose reading is remembered: a package is read whole whenever one cell of it changes."""

_SIGNS = str.maketrans("′’‘ʹ″”“ʺ−–—‐‑⁄\u00a0\u2009\u202f", 4 * "'" + 4 * '"' + "-----/   ")

_FRACTION = r"\d+\s*/\s*\d+"
_BY_POINT = re.compile(r"(?:[1-9]\d{0,2}(?:(?:,\d{3})+|(?: \d{3})+)|\d+)(?:\.\d*)?|\.\d+")
_BY_COMMA = re.compile(r"(?:[1-9]\d{0,2}(?:(?:\.\d{3})+|(?: \d{3})+)|\d+)(?:,\d+)?|,\d+")
_DECIMAL = rf"(?:{_BY_POINT.pattern}|{_BY_COMMA.pattern})(?![\d.,])"
_MIXED = re.compile(r"(?:(?P<whole>\d+)[ -]+)?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)")
_NUMBER = rf"(?:{_FRACTION}|\d+[ -]+{_FRACTION}|{_DECIMAL})"
_FOOT_MARK = r"(?:'|ft\.?|feet|foot)"
_INCH_MARK = r"(?:\"|''|in\.?|inch|inches)"
_FEET_INCHES = re.compile(
    rf"(?P<sign>-?)\s*(?P<feet>{_DECIMAL})\s*{_FOOT_MARK}[\s-]*(?P<inches>{_NUMBER})\s*{_INCH_MARK}"
)
_PLAIN = re.compile(rf"(?P<sign>[+-]?)\s*(?P<number>{_NUMBER})\s*(?P<unit>.*)")


def _spelled(word: str) -> str:
    plain = unicodedata.normalize("NFKC", word).translate(_SIGNS)
    return re.sub(r"\s+", " ", plain).strip().lower()


_BY_SPELLING = {_spelled(name): unit for unit in UNITS for name in (unit.symbol, *unit.spellings)}


@dataclass(frozen=True)
class Quantity:
    """A reading: the text as typed and what it is in SI, exactly."""

    text: str
    si: Fraction
    unit: Unit

    def __float__(self) -> float:
        return float(self.si)


class _Ambiguous(ValueError):
    """A number with two readings, each written so that it has one."""


def _number(text: str, decimal: DecimalSign) -> Fraction:
    """Read a number. Raises _Ambiguous where the decimal sign doesn't decide between two."""
    text = text.strip()
    if parts := _MIXED.fullmatch(text):
        return int(parts["whole"] or 0) + Fraction(int(parts["top"]), int(parts["bottom"]))
    readings = []
    if _BY_POINT.fullmatch(text):
        readings.append(re.sub("[, ]", "", text))
    if _BY_COMMA.fullmatch(text):
        readings.append(re.sub("[. ]", "", text).replace(",", "."))
    # Fraction reads "12." and ".5" as people write them once padded
    values = [Fraction(f"0{digits}" + "0" * digits.endswith(".")) for digits in readings]
    if len(set(values)) > 1 and decimal is DecimalSign.COMMA:
        whole, parted = sorted(readings, key=lambda digits: "." in digits)
        raise _Ambiguous(f"{plain(parted).replace('.', ',')} or {whole}")
    return values[0]


def plain(digits: str) -> str:
    """Write digits with a decimal point so that they read alike whatever the decimal sign.

    >>> plain("1.200"), plain("1.234"), plain("0.045"), plain("22.4")
    ('1.2', '1.2340', '0.045', '22.4')
    """
    short = digits.rstrip("0").rstrip(".") if "." in digits else digits
    return f"{short}0" if re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", short) else short


_EXAMPLES = {
    "mm": "1200, 1200 mm, 1.2 m or 4'-6\"",
    "in": "54, 54 in or 4'-6\"",
    "m": "2.4, 2400 mm or 7'-10\"",
    "ft": "8, 8 ft or 7'-10\"",
    "m²": "12.5, 12.5 m² or 86 sq ft",
    "ft²": "86 or 86 sq ft",
    "L": "1900, 1900 L, 1.9 m³ or 40 gal",
    "gal": "40 or 40 gal",
    "L/s": "12, 12 L/s or 25 cfm",
    "cfm": "25 or 25 cfm",
    "°C": "-18, -18 °C or 0 °F",
    "°F": "0 or 0 °F",
    "kg": "750, 750 kg or 1650 lb",
    "lb": "1650 or 1650 lb",
    "W/m²K": "0.18 or 0.18 W/m²K",
    "W/mK": "0.040 or 0.040 W/mK",
    "m²K/W": "0.5 or 0.5 m²K/W",
    "W": "60 or 60 W",
    "kW": "1.44 or 1440 W",
    "kWh": "9.6 or 9600 Wh",
    "s": "45 or 45 s",
    "h": "6 or 6 h",
    "days": "14 or 14 days",
    "°": "45 or 45 °",
    "L/day": "12 or 12 L/day",
    "gal/day": "3 or 3 gal/day",
    "Btu/h·ft²·°F": "0.03 or 0.03 Btu/h·ft²·°F",
    "Btu·in/h·ft²·°F": "0.28 or 0.28 Btu·in/h·ft²·°F",
    "h·ft²·°F/Btu": "20 or 20 h·ft²·°F/Btu",
    "Wh/m³K": "0.33 or 0.33 Wh/m³K",
    "Btu/ft³·°F": "0.018 or 0.018 Btu/ft³·°F",
    "W/m²": "700 or 700 W/m²",
    "Btu/h·ft²": "220 or 220 Btu/h·ft²",
    "m/s": "40, 40 m/s or 90 mph",
    "mph": "90 or 90 mph",
    "Btu/h": "17000 or 17000 Btu/h",
    "%": "75 or 75 %",
    "": "0.75 or 75 %",
}
"""Examples by the unit that a bare number takes; the first of each is bare."""


def expected_words(scale: Scale, system: System = System.METRIC) -> str:
    """Say what a place of this scale takes, with two examples, for a message."""
    unit = scale.unit(system).symbol
    examples = _EXAMPLES.get(unit, f"12 or 12 {unit}")
    article = "an" if scale.dimension[0] in "aeiou" else "a"
    name = "number" if scale.dimension == "share" else scale.dimension
    return f"{article if name != 'number' else 'a'} {name}, such as {examples}"


def read(text: str, scale: Scale, notation: Notation = PLAIN) -> Quantity:
    """Read one quantity; a bare number takes the scale's unit in the notation's system.

    Raises Refused where the text is no quantity, one of another dimension, or has two readings.

    >>> from criteria.units import LENGTH, LITRES
    >>> float(read("4'-6 1/2\\"", LENGTH)), float(read("1200", LENGTH))
    (1.3843, 1.2)
    >>> float(read("1.9 m³", LITRES))
    1.9
    >>> float(read("22,4 m", LENGTH)), float(read("1,200", LENGTH))
    (22.4, 1.2)
    >>> read("1,200", LENGTH, Notation(decimal=DecimalSign.COMMA))
    Traceback (most recent call last):
    criteria.errors.Refused: read “1,200”; expected 1,2 or 1200: it could be either
    >>> read("12 kg", LENGTH)
    Traceback (most recent call last):
    criteria.errors.Refused: read “12 kg”; expected a length, such as 1200, 1200 mm, 1.2 m \
or 4'-6" (kg is a mass)
    """
    try:
        number, unit = _said(text, notation.decimal)
    except _Ambiguous as two:
        raise Refused(text, f"{two}: it could be either") from None
    except (ValueError, ZeroDivisionError):
        raise Refused(text, expected_words(scale, notation.system)) from None
    if unit is None:
        unit = scale.unit(notation.system)
        return Quantity(text, unit.to_si(number), unit)
    if unit.dimension != scale.dimension:
        article = "an" if unit.dimension[0] in "aeiou" else "a"
        # (a share has no unit of its own to name)
        expected = expected_words(scale, notation.system)
        raise Refused(text, f"{expected} ({unit.symbol} is {article} {unit.dimension})")
    return Quantity(text, number, unit)


def _folded(text: str) -> str:
    """Write a text in the signs of the grammar, digits of every script as 0 to 9.

    A raised or vulgar number is parted from the digit before it: 6½ isn't 61/2, 12² isn't 122.
    """
    spaced = re.sub(r"(?<=\d)(?=[^\W\d_a-zA-Z])", " ", text)
    signs = unicodedata.normalize("NFKC", spaced).translate(_SIGNS).strip()
    return re.sub(r"\d", lambda digit: str(int(digit[0])), signs)


@lru_cache(maxsize=MOST_READ)
def _said(text: str, decimal: DecimalSign) -> tuple[Fraction, Unit | None]:
    """What a text says: SI with the unit that it names, or a bare number."""
    signs = _folded(text)
    if len(signs) > LONGEST:
        raise ValueError(signs)
    if match := _FEET_INCHES.fullmatch(signs.lower()):
        feet, inches = _number(match["feet"], decimal), _number(match["inches"], decimal)
        if inches >= 12 or feet.denominator != 1:
            raise ValueError(signs)  # 6'-14" is a slip: of which figure, only its writer knows
        length = FT.to_si(feet) + IN.to_si(inches)
        return (-length if match["sign"] else length), FT
    match = _PLAIN.fullmatch(signs)
    if match is None:
        raise ValueError(signs)
    number = _number(match["number"], decimal)
    if match["sign"] == "-":
        number = -number
    word = _spelled(match["unit"])
    if not word:
        return number, None
    unit = IN if word == "''" else _BY_SPELLING.get(word)
    if unit is None:
        raise ValueError(word)
    return unit.to_si(number), unit


def is_unit(word: str) -> bool:
    """Tell whether a word is a unit that is read here."""
    return _spelled(word) in _BY_SPELLING


def is_bare(text: str) -> bool:
    """Tell whether a text is a number without a unit."""
    match = _PLAIN.fullmatch(_folded(text))
    return match is not None and not match["unit"].strip()


def with_unit(text: str, scale: Scale, system: System = System.METRIC) -> str:
    """Name the unit of a bare number, where it isn't the same in either system.

    >>> from criteria.units import ANGLE, LENGTH
    >>> with_unit("36", LENGTH, System.US), with_unit("36", LENGTH), with_unit("36", ANGLE)
    ('36 in', '36 mm', '36')
    """
    if scale.us == scale.metric or not is_bare(text):
        return text
    return f"{text.strip()} {scale.unit(system).symbol}"
