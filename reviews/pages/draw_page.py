"""The draw in front of the class: the order drawn with hours and rooms, and who sits where."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from criteria.crit_day.panels import names_of
from reviews.deeds.crit_drawing import Drawn
from reviews.pages.day_grid import Cell, Grid, day_grid
from reviews.pages.plan_page import pauses_of


@dataclass(frozen=True)
class RoomJurors:
    """Who sits in a room, and who of them changes at half-time."""

    room: str
    names: str


@dataclass(frozen=True)
class DrawnDay:
    """What was drawn, as the class sees it."""

    drawn: Drawn

    @cached_property
    def grid(self) -> Grid:
        """The day drawn."""
        drawn = self.drawn
        cells = [
            Cell(
                turn.number,
                drawn.schemes[turn.number].marked_name,
                drawn.timetable.hour(turn.starts),
                turn.room,
                place=n,
            )
            for n, turn in enumerate(drawn.timetable.placed, start=1)
        ]
        return day_grid(cells, pauses_of(drawn.timetable))

    @property
    def spared(self) -> str:
        """Schemes of the first third at the crit before, as they are said."""
        return names_of(self.drawn.spared)

    @property
    def rooms(self) -> list[RoomJurors]:
        """Who sits where, where jurors are shared too."""
        if self.drawn.arrangement is None:
            return []
        moved = dict(self.drawn.arrangement.changes)
        jurors = self.drawn.arrangement.sees.jurors
        return [
            RoomJurors(
                room,
                ", ".join(
                    f"{juror.name} (then room {moved[juror.name]})"
                    if juror.name in moved
                    else juror.name
                    for juror in jurors
                    if juror.room == room
                ),
            )
            for room in sorted({juror.room for juror in jurors})
        ]

    @property
    def compares(self) -> str:
        """What can be compared, by this draw's jurors."""
        return self.drawn.arrangement.design.sentence if self.drawn.arrangement else ""
