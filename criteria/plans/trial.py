"""A trial of a room's openings: whether they can stand so, and the rows they would be."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from criteria.errors import Refused
from criteria.plans.openings import twin_mark
from criteria.plans.plan import Placed, RoomPlan
from criteria.schedules.openings import Window
from criteria.typed.columns import Column
from criteria.units import LENGTH, System

Record = Mapping[str, str]
TOUCH_M = 1e-6
"""Edges closer than this are one edge [m]."""
FRAME_M = (0.16, 0.16)
"""How much wider and higher a new window's frame is than its glass [m]. Common practice."""


@dataclass(frozen=True)
class Misplaced:
    """An opening that can't stand as given: which, whose field, what was read and expected.

    field   left, sill, width or height
    """

    index: int
    field: str
    read: str
    expected: str


def misplaced(plan: RoomPlan, system: System = System.METRIC) -> list[Misplaced]:
    """Return everything that keeps a plan's openings from being built, in their order."""
    found: list[Misplaced] = []
    for index, placed in enumerate(plan.openings):
        found += _beyond(plan, index, placed, system)
    wrong = {trouble.index for trouble in found}
    for (i, first), (j, second) in combinations(enumerate(plan.openings), 2):
        if first.face == second.face and not {i, j} & wrong and _overlap(first, second):
            where = "in the ceiling" if first.is_rooflight else f"in the {first.face} wall"
            read = f"{_run(second, system)} {where}"
            expected = f"clear of {first.mark}, which takes {_run(first, system)}"
            found.append(Misplaced(j, "left", read, expected))
    return sorted(found, key=lambda each: each.index)


def _beyond(plan: RoomPlan, index: int, placed: Placed, system: System) -> Iterator[Misplaced]:
    shell = plan.shell
    if placed.is_rooflight:
        across, across_is = shell.length_m, "the length of the room"
        up, up_is = shell.width_m, "the width of the room"
    else:
        across = shell.wall_length_m(plan.wall_of(placed.face))
        across_is = f"the length of the {placed.face} wall"
        up, up_is = shell.height_m, "the height of the room"
    for start, size, most, is_, fields in (
        (placed.left_m, placed.width_m, across, across_is, ("left", "width")),
        (placed.sill_m, placed.height_m, up, up_is, ("sill", "height")),
    ):
        if start + size > most + TOUCH_M:
            parts = (LENGTH.write(x, system) for x in (start, size, start + size))
            field, read = fields[0] if size <= most else fields[1], "{} + {} = {}".format(*parts)
            yield Misplaced(index, field, read, f"at most {LENGTH.write(most, system)}, {is_}")


def _overlap(first: Placed, second: Placed) -> bool:
    across = _meet(first.left_m, first.width_m, second.left_m, second.width_m)
    return across and _meet(first.sill_m, first.height_m, second.sill_m, second.height_m)


def _meet(start_a: float, size_a: float, start_b: float, size_b: float) -> bool:
    return start_a + size_a > start_b + TOUCH_M and start_b + size_b > start_a + TOUCH_M


def _run(placed: Placed, system: System) -> str:
    ends = (placed.left_m, placed.left_m + placed.width_m)
    return " to ".join(LENGTH.write(end, system) for end in ends)


def adopted_records(
    records: Sequence[Record], own: RoomPlan, trial: RoomPlan
) -> list[dict[str, str]]:
    """Return the window schedule with a trial in it, as typed.

    Every window of the room gets a row and a place of its own; cells that say the same already
    stay as they were typed, and rows of other rooms are left alone. A window that the trial adds
    follows the room's first in all that the trial doesn't say.
    """
    taken = {(record.get("mark") or "").strip() for record in records}
    was = {placed.mark: placed for placed in own.openings}
    made: list[dict[str, str]] = []
    first: Record = {}
    for record in records:
        if (record.get("room") or "").strip() != own.mark:
            made.append(dict(record))
            continue
        first = first or record
        mark = (record.get("mark") or "").strip()
        mine = [placed for placed in trial.openings if placed.row == mark]
        for number, placed in enumerate(mine):
            given = mark if number == 0 else _free_mark(mark, number, taken)
            taken.add(given)
            made.append(_row(record, placed, was.get(placed.mark), given))
    for placed in trial.openings:
        if not placed.row:
            made.append(_row(_like(first, own.mark), placed, None, placed.mark))
    return made


def _free_mark(mark: str, number: int, taken: set[str]) -> str:
    while (found := twin_mark(mark, number)) in taken:
        number += 1
    return found


def _like(first: Record, room: str) -> dict[str, str]:
    """A new row's cells: those of the first that say what it is, not where."""
    kept = ("opens", "open_share", "u", "transmittance", "solar_factor", "kept", "shutter_r")
    return {"room": room, **{head: first[head] for head in kept if first.get(head)}}


def _row(record: Record, placed: Placed, was: Placed | None, mark: str) -> dict[str, str]:
    cells = {**record, "mark": mark, "n": "1"}
    cells.pop("gap", None)
    upright = "from_wall" if placed.is_rooflight else "sill"
    frame = placed.frame_m
    said: dict[str, float | None] = {
        "left": placed.left_m,
        upright: placed.sill_m,
        "glass_w": placed.width_m,
        "glass_h": placed.height_m,
        "frame_w": None if frame is None else placed.width_m + frame[0],
        "frame_h": None if frame is None else placed.height_m + frame[1],
    }
    for head, value in said.items():
        column = Window.schedule.column(head)
        if value is not None and not _says(column, cells.get(head, ""), value):
            cells[head] = f"{round(1000 * value, 2):.10g}"
    if not placed.is_rooflight and (was is None or was.face != placed.face):
        cells["faces"] = placed.face
    return {head: text for head, text in cells.items() if text}


def _says(column: Column, text: str, value_m: float) -> bool:
    """Whether a cell as typed says this length to a tenth of a millimetre."""
    try:
        read = column.read(text)
    except Refused:
        return False
    return read is not None and abs(read - value_m) < 1e-4
