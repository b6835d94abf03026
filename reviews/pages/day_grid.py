"""A day as a grid: hours down, rooms side by side, what all jurors see across, breaks between."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import time


@dataclass(frozen=True)
class Cell:
    """One scheme in the order, or a break of one room.

    place   where it stands in the order drawn; 0 of a break
    notes   who takes notes
    """

    number: str
    name: str
    at: time | None
    room: str = ""
    by: str = ""
    place: int = 0
    notes: str = ""
    is_own: bool = False


@dataclass(frozen=True)
class Pause:
    """A break; room "" is all rooms."""

    at: time
    minutes: int
    words: str
    room: str = ""


@dataclass(frozen=True)
class GridRow:
    """What begins at one hour.

    across   what all rooms see
    cells    for each room what is on there; none where nothing begins
    pauses   breaks of all rooms
    """

    at: time | None
    across: tuple[Cell, ...]
    cells: tuple[tuple[Cell | Pause, ...], ...]
    pauses: tuple[Pause, ...]

    @property
    def has_cells(self) -> bool:
        """Whether any room has something of its own."""
        return any(self.cells)


@dataclass(frozen=True)
class Grid:
    """A day: heads of rooms, and rows in the order of the hour."""

    rooms: tuple[str, ...]
    rows: tuple[GridRow, ...]

    @property
    def width(self) -> int:
        """Columns beside the hour."""
        return max(1, len(self.rooms))


def day_grid(cells: Iterable[Cell], pauses: Iterable[Pause] = ()) -> Grid:
    """Lay a day out by hour and room; what has no hour stands last."""
    shown, breaks = list(cells), list(pauses)
    every: list[Cell | Pause] = [*shown, *breaks]
    rooms = tuple(sorted({each.room for each in every if each.room}))
    hours = {each.at for each in every}
    rows = [
        _row(at, rooms, shown, breaks)
        for at in sorted(hours, key=lambda at: (at is None, at or time.min))
    ]
    return Grid(rooms, tuple(rows))


def _row(
    at: time | None, rooms: Sequence[str], cells: Sequence[Cell], pauses: Sequence[Pause]
) -> GridRow:
    every: list[Cell | Pause] = [*pauses, *cells]
    here = [each for each in every if each.at == at and each.room]
    return GridRow(
        at,
        tuple(cell for cell in cells if cell.at == at and not cell.room),
        tuple(tuple(each for each in here if each.room == room) for room in rooms),
        tuple(pause for pause in pauses if pause.at == at and not pause.room),
    )
