"""Where a room's windows stand: at their place, or evenly spread where rows give none."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from criteria.daylight import Wall
from criteria.plans.plan import Placed, RoomPlan
from criteria.schedules.openings import CLEAR_DOUBLE
from criteria.schedules.openings import Window as WindowRow

SILL_M = 0.9
"""Sill taken where none is given [m]. Common practice."""


def frame_width_m(window: WindowRow) -> float:
    """Width that one window takes of its wall: the frame's, or the glass's where that is wider."""
    return max(window.unless_blank("frame_w_m") or 0.0, window.glass_w_m)


def twin_mark(mark: str, which: int) -> str:
    """Mark of one of several alike: the first keeps the row's.

    >>> twin_mark("W1", 0), twin_mark("W1", 1), twin_mark("W1", 27)
    ('W1', 'W1b', 'W1-28')
    """
    if which == 0:
        return mark
    return f"{mark}{chr(ord('a') + which)}" if which < 26 else f"{mark}-{which + 1}"


def place_openings(
    plan: RoomPlan, windows: Sequence[WindowRow], walls: dict[str, Wall | None], said: list[str]
) -> tuple[Placed, ...]:
    """Stand every window of a room, row by row; what is taken is added to `said`.

    walls   the wall of each row by its mark, None for roof lights
    """
    found: dict[str, list[Placed]] = {}
    for wall in Wall:
        own = [window for window in windows if walls[window.mark] is wall]
        for placed in _along(plan, wall, own):
            found.setdefault(placed.row, []).append(placed)
    for placed in _overhead(plan, [w for w in windows if walls[w.mark] is None]):
        found.setdefault(placed.row, []).append(placed)
    openings = tuple(each for window in windows for each in found.get(window.mark, ()))
    if spread := list(dict.fromkeys(each.row for each in openings if each.is_assumed)):
        said.insert(0, f"{', '.join(spread)}: no place given, evenly spread along the wall")
    if sills := [
        w.mark for w in windows if w.unless_blank("sill_m") is None and walls[w.mark] is not None
    ]:
        said.append(f"{', '.join(sills)}: no sill given, taken at 900 mm or as high as it fits")
    if kept := [w.mark for w in windows if w.typed("transmittance") is None]:
        said.append(f"{', '.join(kept)}: no transmittance given, {CLEAR_DOUBLE:g} taken")
    return openings


def _along(plan: RoomPlan, wall: Wall, windows: Sequence[WindowRow]) -> list[Placed]:
    """Stand the windows of one wall: those with a place at it, the others in what is left."""
    length = plan.shell.wall_length_m(wall)
    face = plan.face_of(wall)
    placed = [
        _stood(plan, window, face, which, left)
        for window in windows
        if window.left_m is not None
        for which, left in enumerate(_lefts(window, length))
    ]
    loose = [
        (window, which) for window in windows if window.left_m is None for which in range(window.n)
    ]
    if not loose:
        return placed
    start, end = longest_gap_m(placed, length)
    free = end - start - sum(frame_width_m(window) for window, _ in loose)
    gap, at = free / (len(loose) + 1), start
    for window, which in loose:
        at += gap
        side = (frame_width_m(window) - window.glass_w_m) / 2
        placed.append(
            replace(_stood(plan, window, face, which, round(at + side, 3)), is_assumed=True)
        )
        at += frame_width_m(window)
    return placed


def _lefts(window: WindowRow, length_m: float) -> list[float]:
    """Where each of a placed row's windows begins [m]."""
    left, n, wide = window.left_m or 0.0, window.n, window.glass_w_m
    if n < 2:
        return [left] * n
    step = (
        wide + window.gap_m
        if window.gap_m is not None
        else ((length_m - 2 * left - wide) / (n - 1))
    )
    return [round(left + which * step, 4) for which in range(n)]


def longest_gap_m(placed: Sequence[Placed], length_m: float) -> tuple[float, float]:
    """The longest stretch of a wall without a window, the leftmost of those as long [m, m]."""
    taken = sorted((each.left_m, each.left_m + each.width_m) for each in placed)
    edges = [(0.0, 0.0), *taken, (length_m, length_m)]
    gaps = [(end, start) for (_, end), (start, _) in pairwise(edges)]
    return max(gaps, key=lambda gap: round(gap[1] - gap[0], 6))


def _stood(plan: RoomPlan, window: WindowRow, face: str, which: int, left_m: float) -> Placed:
    sill = window.unless_blank("sill_m")
    fitting = max(min(SILL_M, plan.shell.height_m - window.glass_h_m), 0.0)
    return Placed(
        mark=twin_mark(window.mark, which),
        row=window.mark,
        face=face,
        left_m=left_m,
        sill_m=fitting if sill is None else sill,
        **_pane(window),
    )


def _pane(window: WindowRow) -> dict[str, Any]:
    wide, high = window.glass_w_m, window.glass_h_m
    around = window.unless_blank("frame_w_m"), window.unless_blank("frame_h_m")
    frame = None if None in around else (max(around[0] - wide, 0.0), max(around[1] - high, 0.0))
    return {
        "width_m": wide,
        "height_m": high,
        "frame_m": frame,
        "u_w_m2k": window.unless_blank("u_w_m2k"),
        "solar_factor": window.unless_blank("solar_factor"),
        "transmittance": window.transmittance,
        "kept_share": window.kept_share,
        "shutter_m2k_w": window.shutter_m2k_w,
        "sun_share": window.sun_share,
    }


def _overhead(plan: RoomPlan, windows: Sequence[WindowRow]) -> list[Placed]:
    """Lay the roof lights of a room into its ceiling."""
    each = [(window, which) for window in windows for which in range(window.n)]
    room, found = plan.shell, []
    free = room.length_m - sum(window.glass_w_m for window, _ in each)
    gap, at = free / (len(each) + 1), 0.0
    for window, which in each:
        wide, high = window.glass_w_m, window.glass_h_m
        at += gap
        is_given = window.left_m is not None and window.from_wall_m is not None
        lefts = _lefts(window, room.length_m) if is_given else []
        found.append(
            Placed(
                mark=twin_mark(window.mark, which),
                row=window.mark,
                face="up",
                left_m=lefts[which] if is_given else round(at, 3),
                sill_m=(window.from_wall_m or 0.0)
                if is_given
                else round((room.width_m - high) / 2, 3),
                is_assumed=not is_given,
                **_pane(window),
            )
        )
        at += wide
    return found
