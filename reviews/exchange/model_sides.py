"""What a building model's windows say of its rooms: window wall, depth and wall thickness."""

from __future__ import annotations

from collections.abc import Sequence

from reviews.exchange.model_cells import named
from reviews.exchange.model_envelope import Envelope
from reviews.exchange.model_rooms import RoomRead
from reviews.exchange.model_windows import WindowRead
from reviews.exchange.proposed import How


def wall_thicknesses(envelope: Envelope, windows: Sequence[WindowRead]) -> None:
    """Say how thick each room's outside walls are, where its windows stand in one thickness."""
    found: dict[str, set[float]] = {}
    rooms: dict[str, RoomRead] = {}
    for window in windows:
        room, place = window.room, window.place
        if room is None or place is None or place.wall is None or place.tilt_deg < 80:
            continue
        thickness = envelope.thickness_of(place.wall, place.out)
        if thickness is not None:
            rooms[room.mark] = room
            found.setdefault(room.mark, set()).add(round(thickness, 3))
    for mark, thicknesses in found.items():
        if len(thicknesses) == 1:
            row = rooms[mark].row
            row.figure("wall_mm", thicknesses.pop(), How.WRITTEN, "the walls its windows are in")


def sides(windows: Sequence[WindowRead], said: list[str]) -> None:
    """Say depth and width of each rectangular room, by the wall with most glass."""
    angled: list[str] = []
    glass: dict[str, dict[str, float]] = {}
    outs: dict[tuple[str, str], WindowRead] = {}
    for window in windows:
        room, place = window.room, window.place
        if room is None or place is None or place.tilt_deg < 80:
            continue
        wide, high = place.size_m
        area = window.panes.area_m2 if window.panes else wide * high
        key = f"{place.out[0]:.2f} {place.out[1]:.2f}"
        by_wall = glass.setdefault(room.mark, {})
        by_wall[key] = by_wall.get(key, 0.0) + area
        outs.setdefault((room.mark, key), window)
    for mark, by_wall in glass.items():
        wall = max(by_wall, key=lambda key: (round(by_wall[key], 4), key))
        window = outs[mark, wall]
        assert window.room is not None
        assert window.place is not None
        if (found := window.room.sides_along(window.place.out)) is not None:
            how = "sides of its floor, by the wall with most glass"
            window.room.row.figure("depth_m", found[0], How.MEASURED, how)
            window.room.row.figure("width_m", found[1], How.MEASURED, how)
        else:
            angled.append(mark)
    if angled:
        said.append(
            f"No rectangle along their windows are {named(angled)}: depth and width are left "
            "blank. Give each leg a row of its own."
        )
