"""Each room's tables, and every two rooms over the schemes that both saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.scoring.analysis import Analysis
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import PanelLevel, WeightedLevel, shown
from criteria.scoring.rooms import gap_of_rooms
from criteria.scoring.severity import Severity
from reviews.models import Scheme
from reviews.pages.jury_tables import NONE, JurorLine, ends, figure, juror_lines
from reviews.reading.crit_jury_numbers import (
    Between,
    RoomNumbers,
    between_rooms,
    jury_numbers,
    rooms_of,
)
from reviews.reading.crit_moderation_table import Table


@dataclass(frozen=True)
class RoomPart:
    """One room: its schemes with the mean of its own jurors, and its jurors.

    schemes   scheme, each juror's weighted level in the order of `names`, mean [level]
    """

    name: str
    names: tuple[str, ...]
    schemes: tuple[tuple[Scheme, tuple[str, ...], str], ...]
    jurors: tuple[JurorLine, ...]


@dataclass(frozen=True)
class BetweenPart:
    """Two rooms over what both saw: the sentence, and scheme, either mean and difference."""

    first: str
    second: str
    words: str
    pairs: tuple[tuple[Scheme, str, str, str], ...]


def room_parts(table: Table) -> tuple[list[RoomPart], list[BetweenPart]]:
    """Each room, and every two of them over what both saw."""
    rooms = rooms_of(table)
    found = jury_numbers(table) if rooms else NotAvailable("one room")
    severity = found.severity if isinstance(found, Analysis) else found
    jurors = {room.name: room.panel.jurors for room in rooms}
    between = [
        _between(each, _chance(severity, jurors[each.first], jurors[each.second]))
        for each in between_rooms(rooms)
    ]
    return [_room(room) for room in rooms], between


def _room(room: RoomNumbers) -> RoomPart:
    names = tuple(profile.juror for profile in room.jurors)
    schemes = []
    for row in room.rows:
        given = {cell.seat.name: cell.weighted for cell in row.counted}
        levels = tuple(
            figure(level.value) if isinstance(level := given.get(name), WeightedLevel) else NONE
            for name in names
        )
        mean = figure(row.panel.value) if isinstance(row.panel, PanelLevel) else NONE
        schemes.append((row.scheme, levels, mean))
    return RoomPart(room.name, names, tuple(schemes), juror_lines(room.jurors))


def _chance(severity: Severity | NotAvailable, first: Sequence[str], second: Sequence[str]) -> str:
    """Between which ends the difference lies, and whether that is chance; or why none."""
    gap = severity if isinstance(severity, NotAvailable) else gap_of_rooms(severity, first, second)
    interval = gap if isinstance(gap, NotAvailable) else gap.interval
    if isinstance(gap, NotAvailable) or isinstance(interval, NotAvailable):
        return f"no interval, {interval}"
    said = "no more than chance" if gap.holds(0) else "more than chance"
    return f"95 % interval {ends(gap)}, {gap.method}: {said}"


def _between(found: Between, chance: str) -> BetweenPart:
    count, gap = len(found.pairs), found.gap
    what = {1: "the one scheme that both saw", 2: "the opening pair"}.get(
        count, f"the {count} schemes that both saw"
    )
    way = "lower than" if gap < 0 else "higher than"
    said = f"{shown(abs(gap), 2)} {way}" if gap else "as much as"
    words = (
        f"Room {found.first} gave {what} {said} Room {found.second} ({chance}). It rests on "
        f"{count} scheme{'s' * (count != 1)}: a hint, and no correction."
    )
    pairs = tuple(
        (scheme, figure(a), figure(b), figure(a - b, signed=True)) for scheme, a, b in found.pairs
    )
    return BetweenPart(found.first, found.second, words, pairs)
