"""What the daylight functions say to a room that could not be built or a number out of range."""

import math
from numbers import Real
from typing import Any

from criteria.errors import InputError


class ImpossibleInput(InputError):
    """A value that no room, window or sky could have.

    field       name of the attribute, as in ``Window.width_m``, for a form to find its field
    read        what was given, with its unit
    expected    what would have been taken, with its unit and the reason
    where       the thing it belongs to: "window W1", "rooflight 2", or "" for the room itself
    item        the same for a program: ("windows", 0), ("rooflights", 1), or None
    """

    def __init__(
        self,
        *,
        field: str,
        read: str,
        expected: str,
        where: str = "",
        item: tuple[str, int] | None = None,
    ) -> None:
        place = f"{where}, {field}" if where else field
        super().__init__(f"{place}: read {read}; expected {expected}")
        self.field = field
        self.read = read
        self.expected = expected
        self.where = where
        self.item = item


def number(value: float, unit: str) -> str:
    """Write a number with its unit for a message, to the millimetre at most."""
    gap = "" if unit in ("", "°") else " "
    return f"{value:.10g}{gap}{unit}"


def require_within(
    field: str,
    value: float,
    unit: str,
    *,
    above: float | None = None,
    at_least: float | None = None,
    below: float | None = None,
    at_most: float | None = None,
    why: str = "",
    where: str = "",
) -> float:
    """Return the value as a float; refuse it if it is no finite number or out of bounds.

    Bounds named `above` and `below` are themselves refused; `at_least` and `at_most` are taken.
    """
    words = [
        f"{word} {number(bound, unit)}"
        for word, bound in (
            ("more than", above),
            ("at least", at_least),
            ("less than", below),
            ("at most", at_most),
        )
        if bound is not None
    ]
    expected = (" and ".join(words) or "a finite number") + (f" ({why})" if why else "")
    if not isinstance(value, Real) or isinstance(value, bool) or not math.isfinite(value):
        raise ImpossibleInput(field=field, read=f"{value!r}", expected=expected, where=where)
    inside = (
        (above is None or value > above)
        and (at_least is None or value >= at_least)
        and (below is None or value < below)
        and (at_most is None or value <= at_most)
    )
    if not inside:
        raise ImpossibleInput(field=field, read=number(value, unit), expected=expected, where=where)
    return float(value)


def keep_within(thing: object, field: str, unit: str, **bounds: Any) -> None:
    """Refuse an attribute of a frozen dataclass as require_within does, and keep it as a float.

    A whole number of metres left an int would make whole numbers of every array filled with it.
    """
    value = require_within(field, getattr(thing, field), unit, **bounds)
    object.__setattr__(thing, field, value)
