"""A crit's day before anybody is invited: how long it takes in one, two and three rooms."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time
from typing import Any

from criteria.crit_day.crossing import MOST_SCHEMES
from criteria.crit_day.panels import LEAST_PANEL
from criteria.crit_day.timetable import Hours, Plan, Timetable, hours, lay_out
from criteria.crit_day.warnings import MOST_IN_A_ROW, MOST_MINUTES
from reviews.moments import span_words
from reviews.pages.day_grid import Cell, Grid, Pause, day_grid

MOST_ROOMS = 3


@dataclass(frozen=True)
class RoomsRow:
    """What a day takes in so many rooms.

    ends      the hour of the last end; None past midnight
    a_juror   most schemes that one juror sees, and how long they sit before them
    says      what asks too much
    """

    hours: Hours
    is_asked: bool
    slots: str
    whole: str
    ends: time | None
    sits: str
    says: list[str]


def plan_page(plan: Plan, schemes: int, jurors: int) -> dict[str, Any]:
    """What the page of hours shows of a plan, for so many schemes and jurors."""
    rooms = max(1, len(plan.rooms))
    found = hours(schemes, plan, most_rooms=max(MOST_ROOMS, rooms))
    rows = [_row(each, plan, jurors, is_asked=each.rooms == rooms) for each in found]
    timetable = lay_out([str(n) for n in range(1, schemes + 1)], plan)
    grid = None if timetable.is_past_midnight else _grid(timetable)
    return {"rows": rows, "grid": grid, "asked": rows[rooms - 1]}


def _row(day: Hours, plan: Plan, jurors: int, *, is_asked: bool) -> RoomsRow:
    sits = day.a_juror * plan.parts.busy_min
    ends = _ends(plan, day)
    return RoomsRow(
        day,
        is_asked,
        span_words(day.slots_min),
        span_words(day.minutes),
        ends,
        span_words(sits),
        [*_says(day, plan, jurors, sits), *([] if ends else ["It ends after midnight."])],
    )


def _ends(plan: Plan, day: Hours) -> time | None:
    """The hour at which a day ends; None past midnight."""
    timetable = Timetable(plan.first, (), ())
    whole = plan.first.hour * 60 + plan.first.minute + day.minutes
    return timetable.hour(day.minutes) if whole < 24 * 60 else None


def _says(day: Hours, plan: Plan, jurors: int, sits: int) -> list[str]:
    found = []
    if day.a_juror > MOST_SCHEMES:
        found.append(
            f"A juror sees {day.a_juror} schemes; more than {MOST_SCHEMES} in a day tire a juror."
        )
    if sits > MOST_MINUTES:
        found.append(
            f"A juror sits before schemes for {span_words(sits)}; "
            f"more than {MOST_MINUTES // 60} h in a day tire a juror."
        )
    if day.a_juror > MOST_IN_A_ROW and not 0 < plan.break_every <= MOST_IN_A_ROW:
        found.append(f"A break after every {MOST_IN_A_ROW} slots is usual.")
    wanted = day.rooms * LEAST_PANEL
    if jurors and jurors < wanted:
        found.append(f"{wanted} jurors are wanted, {LEAST_PANEL} a room; there are {jurors}.")
    return found


def _grid(timetable: Timetable) -> Grid:
    cells = [
        Cell(turn.number, "", timetable.hour(turn.starts), turn.room, place=n)
        for n, turn in enumerate(timetable.placed, start=1)
    ]
    return day_grid(cells, pauses_of(timetable))


def pauses_of(timetable: Timetable) -> list[Pause]:
    """The breaks of a day laid out."""
    return [
        Pause(timetable.hour(each.starts), each.minutes, each.words, each.room)
        for each in timetable.breaks
    ]
