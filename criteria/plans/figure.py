"""One figure of a room's light or heat, as it is shown."""

from dataclasses import dataclass

from criteria.units import Scale


@dataclass(frozen=True, kw_only=True)
class Figure:
    """One figure of a room.

    value       in SI (shares as fractions), None where it is in words or can't be had
    words       what it is in words, where a number says less
    working     the formula with this room's numbers
    missing     the cells that are blank
    note        what a reader must know of this figure
    """

    key: str
    name: str
    scale: Scale
    value: float | None = None
    words: str = ""
    working: str = ""
    source: str = ""
    limits: str = ""
    missing: tuple[str, ...] = ()
    note: str = ""
