"""Units people draw and write in, with exact factors to SI, and the scales that show them.

Factors: the international foot, pound and the US gallon as NIST Handbook 44 (2024),
Appendix C gives them, all exact; British thermal unit (International Table) as ISO 31-4;
standard gravity, 9.80665 m/s², as the 3rd CGPM (1901).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from enum import StrEnum
from fractions import Fraction

from criteria.errors import InputError


class System(StrEnum):
    """The two ways of showing figures that a person can choose."""

    METRIC = "metric"
    US = "us"


class DecimalSign(StrEnum):
    """What parts the whole of a number from its decimals."""

    POINT = "point"
    COMMA = "comma"


@dataclass(frozen=True)
class Notation:
    """How figures are written here: the system of bare numbers, and the decimal sign.

    The sign is a studio's, set with its brief; the system is a reader's. Text that is kept
    is in metric units, with its studio's sign.
    """

    system: System = System.METRIC
    decimal: DecimalSign = DecimalSign.POINT

    @property
    def kept(self) -> "Notation":
        """The notation in which text is kept: bare numbers are metric for every reader."""
        return Notation(decimal=self.decimal)

    def read_in(self, system: System) -> "Notation":
        """The same sign for a reader of a system."""
        return Notation(system, self.decimal)


PLAIN = Notation()
"""Metric, with a decimal point."""


@dataclass(frozen=True)
class Unit:
    """One unit.

    symbol      as written on screen
    dimension   what it measures, in words ("length")
    factor      SI units in one of it, exact
    offset      SI value of its zero (temperatures only) [SI]
    spellings   other ways people write it, in lower case
    """

    symbol: str
    dimension: str
    factor: Fraction
    offset: Fraction = Fraction(0)
    spellings: tuple[str, ...] = ()

    def to_si(self, number: Fraction) -> Fraction:
        """Return the SI value of a number of this unit."""
        return number * self.factor + self.offset

    def from_si(self, si: float | Fraction) -> Fraction:
        """Return how many of this unit an SI value is, exactly."""
        return (Fraction(si) - self.offset) / self.factor


def _unit(symbol: str, dimension: str, factor: str, *spellings: str, offset: str = "0") -> Unit:
    return Unit(symbol, dimension, Fraction(factor), Fraction(offset), spellings)


INCH = Fraction(254, 10_000)
FOOT = 12 * INCH
POUND = Fraction("0.45359237")
GALLON = 231 * INCH**3
BTU_PER_H = Fraction("1055.05585262") / 3600
RANKINE = Fraction(5, 9)
GRAVITY = Fraction("9.80665")

MM = _unit("mm", "length", "1/1000", "millimetre", "millimetres", "millimeter", "millimeters")
CM = _unit("cm", "length", "1/100", "centimetre", "centimetres", "centimeter", "centimeters")
M = _unit("m", "length", "1", "metre", "metres", "meter", "meters")
KM = _unit("km", "length", "1000", "kilometre", "kilometres")
IN = Unit("in", "length", INCH, spellings=("inch", "inches", '"', "in."))
FT = Unit("ft", "length", FOOT, spellings=("foot", "feet", "'", "ft."))
M2 = _unit("m²", "area", "1", "m2", "sqm", "sq m", "m^2", "square metres", "square meters")
FT2 = Unit("ft²", "area", FOOT**2, spellings=("ft2", "sqft", "sq ft", "sf", "ft^2", "square feet"))
M3 = _unit("m³", "volume", "1", "m3", "cum", "cu m", "m^3", "cubic metres", "cubic meters")
LITRE = _unit("L", "volume", "1/1000", "l", "litre", "litres", "liter", "liters", "ltr")
GAL = Unit("gal", "volume", GALLON, spellings=("gallon", "gallons", "us gal", "gals"))
FT3 = Unit("ft³", "volume", FOOT**3, spellings=("ft3", "cuft", "cu ft", "cf", "ft^3"))
L_S = _unit("L/s", "air or water flow", "1/1000", "l/s", "lps", "litres per second")
M3_H = _unit("m³/h", "air or water flow", "1/3600", "m3/h", "m3/hr", "m³/hr", "cmh")
CFM = Unit("cfm", "air or water flow", FOOT**3 / 60, spellings=("ft3/min", "ft³/min"))
GPM = Unit("gpm", "air or water flow", GALLON / 60, spellings=("gal/min",))
L_MIN = _unit("L/min", "air or water flow", "1/60000", "l/min", "lpm")
KG = _unit("kg", "mass", "1", "kgs", "kilo", "kilos", "kilogram", "kilograms")
TONNE = _unit("t", "mass", "1000", "tonne", "tonnes")
LB = Unit("lb", "mass", POUND, spellings=("lbs", "pound", "pounds"))
WATT = _unit("W", "power", "1", "w", "watt", "watts")
KW = _unit("kW", "power", "1000", "kw", "kwp")
BTU_H = Unit("Btu/h", "power", BTU_PER_H, spellings=("btu/h", "btu/hr", "btuh"))
WH = _unit("Wh", "energy", "3600", "wh")
KWH = _unit("kWh", "energy", "3600000", "kwh")
SECOND = _unit("s", "time", "1", "sec", "second", "seconds")
MINUTE = _unit("min", "time", "60", "minute", "minutes")
HOUR = _unit("h", "time", "3600", "hr", "hrs", "hour", "hours", "h/day")
DAY = _unit("days", "time", "86400", "day", "d")
WEEK = _unit("weeks", "time", "604800", "week")
CELSIUS = _unit("°C", "temperature", "1", "c", "degc", "celsius", offset="273.15")
FAHRENHEIT = Unit(
    "°F",
    "temperature",
    RANKINE,
    Fraction("273.15") - 32 * RANKINE,
    ("f", "degf", "fahrenheit"),
)
W_M2K = _unit("W/m²K", "U-value", "1", "w/m2k", "w/(m2k)", "w/m²k", "w/m2·k")
BTU_U = Unit(
    "Btu/h·ft²·°F",
    "U-value",
    BTU_PER_H / (FOOT**2 * RANKINE),
    spellings=("btu/h ft2 f", "btu/(h ft2 f)", "btu/hft2f"),
)
W_MK = _unit("W/mK", "conductivity", "1", "w/mk", "w/(mk)", "w/m·k")
BTU_IN = Unit(
    "Btu·in/h·ft²·°F",
    "conductivity",
    BTU_PER_H * INCH / (FOOT**2 * RANKINE),
    spellings=("btu in/h ft2 f", "btu in/(h ft2 f)"),
)
WH_M3K = _unit("Wh/m³K", "heat capacity of air", "3600", "wh/m3k", "wh/(m3k)")
BTU_FT3 = Unit(
    "Btu/ft³·°F",
    "heat capacity of air",
    BTU_PER_H * 3600 / (FOOT**3 * RANKINE),
    spellings=("btu/ft3 f", "btu/(ft3 f)"),
)
W_K = _unit("W/K", "heat loss rate", "1", "w/k")
BTU_HF = Unit("Btu/h·°F", "heat loss rate", BTU_PER_H / RANKINE, spellings=("btu/h f",))
KPA = _unit("kPa", "pressure", "1000", "kn/m2", "kn/m²")
KN = _unit("kN", "force", "1000")
LBF = Unit("lbf", "force", POUND * GRAVITY)
PSF = Unit("psf", "pressure", POUND * GRAVITY / FOOT**2, spellings=("lb/ft2", "lb/ft²"))
KG_M2 = _unit("kg/m²", "mass on area", "1", "kg/m2")
OZ_FT2 = Unit("oz/ft²", "mass on area", POUND / 16 / FOOT**2, spellings=("oz/ft2",))
W_M2 = _unit("W/m²", "irradiance", "1", "w/m2")
BTU_HF2 = Unit("Btu/h·ft²", "irradiance", BTU_PER_H / FOOT**2, spellings=("btu/h ft2",))
M2K_W = _unit("m²K/W", "thermal resistance", "1", "m2k/w", "rsi")
R_US = Unit(
    "h·ft²·°F/Btu",
    "thermal resistance",
    FOOT**2 * RANKINE / BTU_PER_H,
    spellings=("h ft2 f/btu", "hft2f/btu"),
)
PERCENT = _unit("%", "share", "1/100", "percent", "per cent", "pct")
ONE = _unit("", "share", "1")
DEGREE = _unit("°", "angle", "1", "deg", "degree", "degrees")
LUMEN = _unit("lm", "light", "1", "lumen", "lumens")
PPM = _unit("ppm", "concentration", "1/1000000")
LUX = _unit("lx", "illuminance", "1", "lux")
FOOTCANDLE = Unit("fc", "illuminance", 1 / FOOT**2, spellings=("footcandle", "footcandles"))
M_S = _unit("m/s", "speed", "1", "mps")
MPH = Unit("mph", "speed", 5280 * FOOT / 3600, spellings=("mi/h",))
KG_M3 = _unit("kg/m³", "density", "1", "kg/m3")
LB_FT3 = Unit("lb/ft³", "density", POUND / FOOT**3, spellings=("lb/ft3", "pcf"))
J_KGK = _unit("J/kgK", "specific heat", "1", "j/kgk", "j/(kgk)", "j/(kg·k)")
BTU_LB = Unit(
    "Btu/lb·°F",
    "specific heat",
    BTU_PER_H * 3600 / (POUND * RANKINE),
    spellings=("btu/lb f", "btu/(lb f)"),
)
PER_H = _unit("1/h", "air changes", "1/3600", "/h", "ach", "h-1")
L_DAY = _unit("L/day", "daily volume", "1/1000", "l/day", "l/d", "lpd")
GAL_DAY = Unit("gal/day", "daily volume", GALLON, spellings=("gal/d", "gpd"))

UNITS: tuple[Unit, ...] = tuple(value for value in globals().values() if isinstance(value, Unit))
"""Every unit that is read, and no other: an unknown word is refused, never guessed."""


@dataclass(frozen=True)
class Scale:
    """How one kind of figure is shown: a unit and decimal places in either system.

    inch_parts   parts of an inch to which a length is drawn in feet and inches where it stands
                 with its unit; 0 where it stays a number of its unit
    """

    metric: Unit
    us: Unit
    places: int = 0
    us_places: int = 0
    inch_parts: int = 0

    @property
    def dimension(self) -> str:
        """What the scale measures, in words."""
        return self.metric.dimension

    def unit(self, system: System = System.METRIC) -> Unit:
        """Return the unit that this scale shows in a system."""
        return self.us if system is System.US else self.metric

    def decimals(self, system: System = System.METRIC) -> int:
        """Return the decimal places that this scale shows in a system."""
        return self.us_places if system is System.US else self.places

    def number(self, si: float | Fraction, system: System = System.METRIC, more: int = 0) -> str:
        """Write an SI value as a number of the scale's unit, rounded once, half up.

        more   how many decimals more than usual
        What is something is never written as nothing, where a few decimals more will show it.

        >>> LENGTH.number(0.3716), LENGTH.number(1371.6, System.US), CONDUCTIVITY.number(0.0003)
        ('372', '54,000.00', '0.0003')
        """
        unit, places = self.unit(system), self.decimals(system) + more
        exact = unit.from_si(si)
        if not unit.offset and 0 < abs(exact) < Fraction(1, 2 * 10**places):
            shows = (n for n in range(1, FINER + 1) if abs(exact) * 2 * 10 ** (places + n) >= 1)
            places += next(shows, 0)
        return rounded(exact, places, system)

    def write(self, si: float | Fraction, system: System = System.METRIC, more: int = 0) -> str:
        """Write an SI value with its unit; lengths in US units as they are drawn.

        more   how much finer than usual: so many decimals, or halvings of a part of an inch

        >>> print(AREA.write(6.5), AREA.write(6.5, System.US), LENGTH.write(2.24, System.US))
        6.50 m² 70.0 ft² 7'-4 3/16"
        """
        if self.is_drawn(system):
            parts = self.inch_parts * 2**more
            while parts < FINEST_PARTS and 0 < abs(IN.from_si(si)) * 2 * parts < 1:
                parts *= 2
            return feet_and_inches(si, parts) if parts <= FINEST_PARTS else self._plain(si, more)
        return self._plain(si, more, system)

    def difference(self, si: float, system: System = System.METRIC, more: int = 0) -> str:
        """Write how far two SI values lie apart: a temperature's zero drops out.

        >>> TEMPERATURE.difference(5), TEMPERATURE.difference(5, System.US)
        ('5.0 °C', '9.0 °F')
        """
        return self.write(si + float(self.unit(system).offset), system, more)

    def is_drawn(self, system: System) -> bool:
        """Whether it is written in feet and inches."""
        return system is System.US and self.inch_parts > 0

    def _plain(self, si: float | Fraction, more: int, system: System = System.US) -> str:
        symbol = self.unit(system).symbol
        gap = "" if symbol in ("°", "") else " "
        return f"{self.number(si, system, more)}{gap}{symbol}"


FINER = 4
"""How many steps finer a figure is written, at most, to be told from another or from nothing."""

FINEST_PARTS = 64
"""A tape is divided no finer: what lies closer is written in decimals. Common practice."""


def feet_and_inches(si: float | Fraction, parts: int) -> str:
    """Write a length as it is drawn in US units, to so many parts of an inch, half away from zero.

    >>> print(feet_and_inches(0.9, 16), feet_and_inches(0.1, 16), feet_and_inches(-0.61, 1))
    2'-11 7/16" 3 15/16" -2'-0"
    """
    counted = Fraction(rounded(IN.from_si(abs(Fraction(si))) * parts, 0, None))
    feet, rest = divmod(counted, 12 * parts)
    whole, fraction = divmod(rest, parts)
    inches = [f"{whole}"] if whole or feet or not fraction else []
    inches += [str(Fraction(fraction, parts))] if fraction else []
    sign = "-" if si < 0 and counted else ""
    drawn = " ".join(inches)
    return f"{sign}{feet:,}'-{drawn}\"" if feet else f'{sign}{drawn}"'


_WIDE = Context(prec=400)
"""Digits enough for the largest binary number there is."""


THOUSANDS = {System.METRIC: "\u202f", System.US: ",", None: ""}
"""What parts thousands: a narrow space that doesn't break (ISO 80000-1, from memory), a comma."""


def rounded(number: Fraction | float, places: int, system: System | None = System.METRIC) -> str:
    """Write a number with a fixed count of decimals, half away from zero, thousands parted.

    A binary value a hair under the half (0.285 is stored as 0.28499999999999998) is
    taken for the half that was meant: the number is first read to 12 significant digits.

    >>> rounded(Fraction(5, 2), 0), rounded(-1234.5, 0, None), rounded(0.285, 2), rounded(-0.001, 1)
    ('3', '-1235', '0.29', '0.0')
    """
    read = Decimal(f"{float(number):.12g}")
    if not read.is_finite():
        raise InputError(f"only a finite number can be shown, not {number}")
    whole = read.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP, context=_WIDE)
    return f"{whole or abs(whole):,f}".replace(",", THOUSANDS[system])


def told_apart(scale: Scale, values: Iterable[float], system: System, same: float = 1e-9) -> int:
    """Return how much finer than usual figures are written for those that differ to show it.

    same   two figures nearer than this are one. Relative [1]

    >>> told_apart(DAYS, (86400 * 9.96, 86400 * 10), System.METRIC)
    1
    """
    kept: list[float] = []
    for value in values:
        if all(abs(value - each) > same * max(abs(value), abs(each)) for each in kept):
            kept.append(value)
    finer = (n for n in range(FINER) if len({scale.write(x, system, n) for x in kept}) == len(kept))
    return next(finer, 0)


LENGTH = Scale(MM, IN, 0, 2, inch_parts=16)
"""Sizes of things drawn: windows, doors, sills."""
THICKNESS = Scale(MM, IN, 0, 2)
"""Layers: they are worked with, not set out, so that inches stay decimal."""
AIR_LAYER = Scale(M, FT, 2, 2)
"""Still air that holds vapour back as much."""
ROOM_LENGTH = Scale(M, FT, 2, 2, inch_parts=8)
"""Sizes of rooms, heights and distances."""
ALTITUDE = Scale(M, FT, 0, 0)
DISTANCE = Scale(M, FT, 1, 1, inch_parts=1)
"""Ways walked."""
SNOW = Scale(CM, IN, 0, 0)
RAIN = Scale(MM, IN, 0, 1)
AREA = Scale(M2, FT2, 2, 1)
FLOOR = Scale(M2, FT2, 1, 1)
VOLUME = Scale(M3, FT3, 2, 1)
LITRES = Scale(LITRE, GAL, 0, 1)
WATER_FLOW = Scale(L_MIN, GPM, 1, 2)
LITRES_A_DAY = Scale(L_DAY, GAL_DAY, 2, 2)
AIR_FLOW = Scale(L_S, CFM, 1, 1)
MASS = Scale(KG, LB, 0, 0)
POWER = Scale(WATT, BTU_H, 0, 0)
ELECTRIC_POWER = Scale(WATT, WATT, 0, 0)
PEAK_POWER = Scale(KW, KW, 2, 2)
ENERGY = Scale(WH, WH, 0, 0)
STORED_ENERGY = Scale(KWH, KWH, 1, 1)
MINUTES = Scale(MINUTE, MINUTE, 1, 1)
WHOLE_MINUTES = Scale(MINUTE, MINUTE, 0, 0)
SECONDS = Scale(SECOND, SECOND, 0, 0)
HOURS = Scale(HOUR, HOUR, 1, 1)
WHOLE_HOURS = Scale(HOUR, HOUR, 0, 0)
DAYS = Scale(DAY, DAY, 1, 1)
TEMPERATURE = Scale(CELSIUS, FAHRENHEIT, 1, 1)
U_VALUE = Scale(W_M2K, BTU_U, 3, 4)
SUN = Scale(W_M2, BTU_HF2, 0, 0)
RESISTANCE = Scale(M2K_W, R_US, 3, 2)
HEAT_LOSS_RATE = Scale(W_K, BTU_HF, 2, 2)
AIR_HEAT = Scale(WH_M3K, BTU_FT3, 2, 4)
PRESSURE = Scale(KPA, PSF, 1, 0)
SNOW_LOAD = Scale(KPA, PSF, 2, 1)
MASS_ON_AREA = Scale(KG_M2, OZ_FT2, 2, 2)
CONDUCTIVITY = Scale(W_MK, BTU_IN, 3, 3)
DENSITY = Scale(KG_M3, LB_FT3, 0, 1)
SPECIFIC_HEAT = Scale(J_KGK, BTU_LB, 0, 3)
AIR_CHANGES = Scale(PER_H, PER_H, 2, 2)
ILLUMINANCE = Scale(LUX, FOOTCANDLE, 0, 1)
LUMENS = Scale(LUMEN, LUMEN, 0, 0)
CONCENTRATION = Scale(PPM, PPM, 0, 0)
SHARE_PERCENT = Scale(PERCENT, PERCENT, 1, 1)
SHARE = Scale(ONE, ONE, 2, 2)
RATIO = Scale(ONE, ONE, 2, 2)
SLOPE = Scale(ONE, ONE, 4, 4)
"""Rise over run, as 1/12 is written."""
COUNT = Scale(ONE, ONE, 0, 0)
FORCE = Scale(KN, LBF, 1, 0)
TOTAL_MASS = Scale(TONNE, LB, 1, 0)
VENTILATION = Scale(M3_H, CFM, 1, 1)
ANGLE = Scale(DEGREE, DEGREE, 0, 0)
WIND = Scale(M_S, MPH, 1, 1)
