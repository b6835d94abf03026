"""Odd values of windows: against their frame, their room and their own clear opening."""

from collections.abc import Iterator

from criteria.findings import SAME, Amount, Step
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.units import AREA, LENGTH

FRAME_SHARE = 0.95
"""Glass at this share of the frame both ways is probably the frame itself [1]. Common practice."""
LEAST_OF_FRAME = 0.4
"""Glass is rarely less of its frame's side than this [1]. Common practice."""
MOST_OF_FLOOR = 0.6
"""Clear glass is rarely more of a room's floor than this [1]. Common practice."""
OVER_CEILING_M = 0.05
"""Glass may stand this much over the ceiling's height: it is a mean, or rounded [m]."""
LOW_SILL_M, LOWEST_SILL_M, LOW_HEAD_M = 0.12, 0.02, 1.7
"""A sill so low is a glazed door's or a slip; a glazed door's glass ends higher than this [m]."""


def windows(package: Package) -> Iterator[OddValue]:
    """Ask about glass that its frame, its room or its clear opening contradicts."""
    rooms = {room.mark: room for room in package.rooms}
    for window in package.windows:
        yield from _of_frame(window)
        if window.is_fixed and (window.open_share or 0) > 0:
            words = "{} is fixed but counted as opening. Which is it?"
            share = Step("{}", (f"{window.open_share:g}",))
            yield ask(
                window, "open_share", words, window.mark, mended="0", read=share, is_mismatch=True
            )
        if window.opens != "roof light":
            yield from _of_height(window, rooms.get(window.room or ""))
    for room in package.rooms:
        yield from _of_floor(room, package.windows_of(room))


def _of_frame(window: Window) -> Iterator[OddValue]:
    mark = window.mark
    sides = (
        ("glass_w", window.glass_w_m, "frame_w", window.frame_w_m, "escape_w", window.escape_w_m),
        ("glass_h", window.glass_h_m, "frame_h", window.frame_h_m, "escape_h", window.escape_h_m),
    )
    if all(glass and frame and glass >= FRAME_SHARE * frame for _, glass, _, frame, *_ in sides):
        words = "{}: the glass is as large as its frame. Was the frame measured?"
        yield ask(window, "glass_w", words, mark)
    for head, glass, around, frame, clear_head, clear in sides:
        figures = (mark, said(window, head), said(window, around))
        if glass and frame and glass > frame:
            yield ask(window, head, "{}: glass {} in a frame of {}. Which is it?", *figures)
        elif glass and frame and glass < LEAST_OF_FRAME * frame:
            words = "{}: glass {} in a frame of {}. Is all the rest frame?"
            mended = f"{glass * 1000:.6g} cm" if 10 * glass <= frame else ""
            yield ask(window, head, words, *figures, mended=mended, is_mismatch=True)
        opening = around if frame else head
        if clear and clear > (frame or glass or clear):
            words = "{}: {} clear in an opening of {}. Which is it?"
            figures = (mark, said(window, clear_head), said(window, opening))
            yield ask(window, clear_head, words, *figures, is_mismatch=True)


def _of_height(window: Window, room: Room | None) -> Iterator[OddValue]:
    sill, glass, mark = window.sill_m, window.glass_h_m, window.mark
    if sill is None or glass is None:
        return
    top = Amount(sill + glass, LENGTH)
    if LOWEST_SILL_M <= sill < LOW_SILL_M and sill + glass < LOW_HEAD_M:
        words = "{}: a sill of {} and a head of {}. Is it glass at the floor, or a sill of {}?"
        mended = f"{sill * 1000:.6g} cm"
        yield ask(window, "sill", words, mark, said(window, "sill"), top, mended, mended=mended)
    height = room.clear_height_m if room and not room.low_headroom_m2 else None
    if room and height and sill + glass > (height + OVER_CEILING_M) * (1 + SAME):
        words = "{}: a sill of {} and glass of {} end at {}; {} is {} high. Which is it?"
        figures = (mark, said(window, "sill"), said(window, "glass_h"), top)
        high = said(room, "clear_height_m")
        yield ask(window, "sill", words, *figures, room.mark, high, is_mismatch=True)


def _of_floor(room: Room, windows: tuple[Window, ...]) -> Iterator[OddValue]:
    areas = [(w.n or 0) * (w.glass_w_m or 0) * (w.glass_h_m or 0) for w in windows]
    if room.floor_m2 and sum(areas) > MOST_OF_FLOOR * room.floor_m2:
        largest = windows[areas.index(max(areas))]
        words = "{}: {} of clear glass to a floor of {}. Are {} really {} alike?"
        figures = (room.mark, Amount(sum(areas), AREA), said(room, "floor_m2"))
        yield ask(largest, "n", words, *figures, largest.mark, said(largest, "n"), is_mismatch=True)
