"""Where rooms and furniture of a building model lie on a package's plan.

A package's plan is drawn with the wall upwards that looks north, or north-east where windows look
between the four winds (criteria.plans.of_package); so windows say how a model's rooms lie on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from criteria.schedules.openings import BEARINGS_DEG
from reviews.exchange.model_cells import named
from reviews.exchange.model_doors import DoorRead
from reviews.exchange.model_rooms import RoomRead, Rooms
from reviews.exchange.model_shapes import Figures
from reviews.exchange.model_windows import WindowRead
from reviews.exchange.proposed import How

ALIKE = 0.01
"""Walls that differ by less lie along one another [1], 0.6°. Ours."""
ONE_LEVEL_M = 0.3
"""Floors that differ by less are of one level. Ours."""
HIGHEST = 3
"""The highest level that a room schedule knows."""
STANDS_M = 0.05
"""What begins lower stands on the floor; what lies lower is stepped over (criteria.walking)."""


@dataclass(frozen=True)
class Plan:
    """How the plan lies in the model's axes.

    right, up  along the plan [1]
    rooms      rectangles along it whose own plan is known to lie so
    """

    right: Figures
    up: Figures
    rooms: tuple[RoomRead, ...]

    def low_of(self, room: RoomRead) -> Figures:
        """Lower left inner corner of a room, along right and up [m]."""
        assert room.floor is not None
        corners = self.at(np.array([(x, y, 0.0) for x, y in room.floor.outline]))
        return np.asarray(corners.min(axis=0))

    def at(self, points: Figures) -> Figures:
        """Points along right and up [m]."""
        return np.asarray(points @ np.stack((self.right, self.up), axis=1))

    def stand(
        self, middle: Figures, own: Figures, foot_m: float, room: RoomRead
    ) -> dict[str, float]:
        """Place [m], turn [°] and height over the floor [m] of a piece, by their columns.

        middle  of its box along its own axes [m]
        own     the axis along which it is as long as is said, level [1]
        foot_m  height of its lowest corner [m]
        """
        assert room.floor is not None
        x, y = self.at(middle) - self.low_of(room)
        turned = float(np.degrees(np.arctan2(own @ self.up, own @ self.right)))
        found = {"plan_x": float(x), "plan_y": float(y), "turn": round(turned, 1) % 180}
        if (under := foot_m - room.floor.level_m) > STANDS_M:
            found["under_mm"] = under
        return found


def plan_of(
    rooms: Rooms, windows: Sequence[WindowRead], doors: Sequence[DoorRead], said: list[str]
) -> Plan | None:
    """Say where rooms lie, all or none of them; None where windows don't say how a plan lies."""
    known = [window for window in windows if _says(window)]
    ups = [_up(window) for window in known]
    slanted = {BEARINGS_DEG[window.row.cells["faces"].text] % 90 for window in known}
    if not ups:
        return None
    if len(slanted) > 1 or max(float(np.abs(up - ups[0]).max()) for up in ups) > ALIKE:
        said.append("Windows look several ways that no one plan has: places on it are left blank.")
        return None
    up = ups[0]
    plan = Plan(np.array([up[1], -up[0], 0.0]), up, ())
    lit = [window.room for window in known]
    along = [room for room in rooms if room.sides_along(up) is not None]
    others = [room.mark for room in rooms if room not in along]
    if others:
        said.append(
            f"Places of rooms on the plan are left blank, for {named(others)} can't be drawn as "
            "one rectangle along the others."
        )
    elif len(along) > 1 and _levels(along, doors, said):
        _place(plan, along)
        return Plan(plan.right, up, tuple(along))
    return Plan(plan.right, up, tuple(room for room in along if room in lit))


def _says(window: WindowRead) -> bool:
    """Whether a window tells how its room's plan lies: surely, and in a wall."""
    place = window.place
    return (
        place is not None
        and not place.is_guessed
        and place.tilt_deg >= 80
        and window.room is not None
        and "faces" in window.row.cells
    )


def _up(window: WindowRead) -> Figures:
    """The way up its room's plan [1]."""
    assert window.place is not None
    x, y, _ = window.place.out
    for _ in range(BEARINGS_DEG[window.row.cells["faces"].text] // 90):
        x, y = -y, x
    return np.array([x, y, 0.0])


def _levels(rooms: Sequence[RoomRead], doors: Sequence[DoorRead], said: list[str]) -> bool:
    """Say on which level each room is; False where that isn't known."""
    found: list[list[RoomRead]] = []
    floors = [(room.floor.level_m, room) for room in rooms if room.floor is not None]
    for level_m, room in sorted(floors, key=lambda each: each[0]):
        first = found[-1][0].floor if found else None
        if first is not None and level_m < first.level_m + ONE_LEVEL_M:
            found[-1].append(room)
        else:
            found.append([room])
    if len(found) == 1:
        return True
    outside = [
        door.rooms[0]
        for door in doors
        if door.rooms and "outside" in door.row.cells and door.row.cells["outside"].text == "yes"
    ]
    if len(found) > HIGHEST + 1 or not any(room in found[0] for room in outside):
        said.append(
            "Places of rooms on the plan are left blank, for no outside door says which of "
            f"{len(found)} floors is the one by the door."
        )
        return False
    for level, together in enumerate(found):
        for room in together:
            room.row.words("level", str(level), How.MEASURED, "floors from the one by the door up")
    return True


def _place(plan: Plan, rooms: Sequence[RoomRead]) -> None:
    lows = {room.mark: plan.low_of(room) for room in rooms}
    corner = np.min(list(lows.values()), axis=0)
    for room in rooms:
        x, y = lows[room.mark] - corner
        room.row.figure("at_x", float(x), How.MEASURED, "its lower left corner on the plan")
        room.row.figure("at_y", float(y), How.MEASURED, "its lower left corner on the plan")
        if "depth_m" not in room.row.cells and (sides := room.sides_along(plan.up)) is not None:
            how = "sides of its floor up and across the plan: it has no window"
            room.row.figure("depth_m", sides[0], How.MEASURED, how)
            room.row.figure("width_m", sides[1], How.MEASURED, how)
