"""What cells usually hold: a figure far outside is asked about, with the unit that would mend it.

One table, a line a column (or a column of some rows). The limits are wide: a figure outside is
rarely meant. They are common practice in small relocatable buildings, where no source is named.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from criteria.errors import Refused
from criteria.findings import Amount, Step
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.by_state import says_something
from criteria.schedules.rooms import LIVED_IN
from criteria.typed import quantities
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Row
from criteria.units import CFM, CM, IN, KW, M3, M3_H, MINUTE, TONNE, M, Unit

MENDS: dict[str, tuple[Unit, ...]] = {
    "length": (CM, M, IN),
    "mass": (TONNE,),
    "power": (KW,),
    "volume": (M3,),
    "time": (MINUTE,),
    "air or water flow": (M3_H, CFM),
}
"""Units that are typed bare by mistake, by what they measure, the likeliest first."""


@dataclass(frozen=True)
class Usual:
    """What a column usually holds.

    schedule, head   where it stands
    least, most      limits, inclusive [SI]; None is open
    words            of what a row must say that it is, to be meant; "" is every row
    where            what else must hold of the row
    """

    schedule: str
    head: str
    least: float | None = None
    most: float | None = None
    words: str = ""
    where: Callable[[Any], bool] = lambda row: True

    def fits(self, row: Any, name: str) -> bool:
        """Tell whether a row is one that is meant."""
        said = re.search(self.words, name, re.IGNORECASE) if self.words else True
        return bool(said) and self.where(row)

    def holds(self, si: float) -> bool:
        """Tell whether a figure is a usual one."""
        low = self.least is not None and si < self.least * (1 - 1e-9)
        return not low and (self.most is None or si <= self.most * (1 + 1e-9))


UNIT, WHICH = "Which unit was meant?", "Which is it?"
HOUR = 3600.0


def _of(*kinds: str) -> Callable[[Any], bool]:
    return lambda row: row.kind in kinds


USUAL: tuple[Usual, ...] = (
    Usual("rooms", "floor_m2", 0.5, 60),
    Usual("rooms", "floor_m2", 4, where=lambda row: row.use == "day"),
    Usual("rooms", "clear_height_m", 1.2, 6, where=lambda row: row.use in LIVED_IN[:2]),
    Usual("rooms", "clear_height_m", 0.8, 6, where=lambda row: row.use in LIVED_IN),
    Usual("windows", "frame_w", 0.1, 4),
    Usual("windows", "frame_h", 0.1, 4),
    Usual("vents", "l_s_each", 0.0015, 0.025, where=lambda row: not _is_fan(row)),
    Usual("vents", "l_s_each", 0.0015, 0.150, where=lambda row: _is_fan(row)),
    Usual("envelope", "mm", None, 0.6),
    Usual("envelope", "mm", 0.040, None, r"\bwool\b|batt\b|flexible|cellulose|blown"),
    Usual("envelope", "mm", 0.010, None, r"fib(?:re|er)[ -]?board"),
    Usual("loads", "w_each", 0.2, 5000),
    Usual("loads", "w_each", None, 60, r"\bled\b|lamp|light"),
    Usual("loads", "w_each", None, 500, r"pump"),
    Usual("loads", "w_each", None, 300, r"fridge|freezer"),
    Usual("loads", "w_each", None, 200, r"fan\b|fans\b|laptop|radio|router|steriliser"),
    Usual("loads", "w_each", None, 60, r"phone"),
    Usual("loads", "h_day", None, 4 * HOUR, r"water pump|pressure pump|kettle|\bhob\b"),
    Usual("loads", "n", None, 6, r"radio|router|fridge|freezer|pump|kettle|\bhob\b|steriliser"),
    Usual("power", "battery_kwh", 0.2 * 3.6e6, 50 * 3.6e6),
    Usual("fixtures", "minutes", None, 20 * 60),
    Usual("stowage", "l_each", 0.001, 0.6, where=lambda row: row.is_for_guests),
    Usual("moves", "s", 3),
    Usual("moves", "people", None, 6),
    Usual("moves", "height_mm", 0.35, 1.1),
    Usual("furniture", "height_mm", 0.35, 0.80, where=_of("seat")),
    Usual("furniture", "height_mm", 0.38, 1.1, where=_of("table", "desk", "worktop")),
    Usual("furniture", "height_mm", 0.1, 2.5, where=_of("bed")),
    Usual("furniture_by_state", "h", 0.1, 2.5, where=lambda row: not says_something(row.inside)),
)
"""Seats 350 to 550 mm, stools to 800, and tables 380 to 1,100: EN 527-1 and practice, from memory.
Nothing weighs over 25 kg a pair of hands (ISO 11228-1) is asked in `moving`."""


_BLOWN = re.compile(r"\bfan\b|supply|recovery|mechanical|extract", re.IGNORECASE)
_PASSIVE = re.compile(r"trickle|slot|ridge|wall vent|grille", re.IGNORECASE)


def _is_fan(row: Any) -> bool:
    said = row.type or ""
    return _BLOWN.search(said) is not None and _PASSIVE.search(said) is None


def unusual(package: Package) -> Iterator[OddValue]:
    """Ask about figures far outside what their columns usually hold."""
    for usual in USUAL:
        schedule = BY_SLUG[usual.schedule]
        column = schedule.column(usual.head)
        held = getattr(package, usual.schedule)
        for number, row in enumerate((held,) if schedule.is_single else held, start=1):
            value = row.if_given(column.attribute)
            if value and not usual.holds(value) and usual.fits(row, _name(row)):
                is_found = schedule.mark_head or schedule.is_single
                yield _asked(usual, column, row, 0 if is_found else number)


def _name(row: Row) -> str:
    column = next((c for c in row.schedule.columns if c.kind is Kind.TEXT), None)
    return str(row.if_given(column.attribute) or "") if column else ""


def _asked(usual: Usual, column: Column, row: Row, number: int) -> OddValue:
    scale = column.scale
    assert scale is not None
    limits = [Amount(si, scale) for si in (usual.least, usual.most) if si is not None]
    if len(limits) == 2:
        range_ = Step("{} to {}", tuple(limits))
    else:
        range_ = Step("{} or " + ("more" if usual.most is None else "less"), tuple(limits))
    mark, name = row.if_given("mark"), _name(row)
    called = f"{mark} ({name})" if mark and name else mark or name or row.schedule.title
    mended = mend(column, row.if_given(column.attribute), usual)
    asks = f"Is it {mended}?" if mended else UNIT if column.unit() else WHICH
    words = "{}: {} reads {}; {} is usual. {}"
    figures = (called, column.label.lower(), said(row, column.head), range_, asks)
    return ask(row, column.head, words, *figures, mended=mended, number=number)


def mend(column: Column, value: float, usual: Usual) -> str:
    """Return the same number in a unit in which it is a usual figure, as it would be typed."""
    assert column.scale is not None
    number = float(column.scale.metric.from_si(value))
    for unit in MENDS.get(column.scale.dimension, ()):
        typed = f"{number:.6g} {unit.symbol}"
        try:
            meant = float(quantities.read(typed, column.scale).si)
            column.read(typed)
        except Refused:
            continue
        if unit != column.scale.metric and usual.holds(meant):
            return typed
    return ""
