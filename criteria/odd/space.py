"""Odd values of rooms and people: floors, sides, beds, sleepers, the way out."""

import math
import re
from collections.abc import Iterator

from criteria.findings import Amount, Step
from criteria.odd.value import OddValue, ask, said
from criteria.package import Package
from criteria.schedules.people import is_there
from criteria.schedules.rooms import HEADROOM_COUNTED_M, Room
from criteria.units import DISTANCE, FLOOR

_LOFT = re.compile(r"loft|attic|gallery|gable|mezzanine", re.IGNORECASE)

OF_SIDES = (0.5, 1.5)
"""Floor to depth times width: rooms with corners cut off, and sides taken to other lines [1]."""
WALKED = (0.25, 3.0)
"""The way out to the side of a square as large as all floors [1]. Common practice."""
SPARE = 1.5
"""Rooms rarely sleep more than this many times the people who sleep here [1]. Practice."""


def whole_floor_m2(package: Package) -> float | None:
    """Return the floor of all rooms [m²], or None where one isn't known."""
    floors = [room.floor_m2 for room in package.rooms]
    return sum(floor for floor in floors if floor) if floors and None not in floors else None


def rooms(package: Package) -> Iterator[OddValue]:
    """Ask about floors that their low part, their sides or the way out contradict."""
    for room in package.rooms:
        yield from _room(room)
    whole, row = whole_floor_m2(package), package.ways_out
    walked = row.furthest_m / math.sqrt(whole) if whole and row.furthest_m else None
    if whole and walked and not WALKED[0] <= walked <= WALKED[1]:
        words = "The furthest bunk is {} from outside, in a building of {}. Which unit?"
        read = said(row, "furthest_m")
        yield ask(row, "furthest_m", words, read, Amount(whole, FLOOR), is_mismatch=True)


def _room(room: Room) -> Iterator[OddValue]:
    floor, low = room.floor_m2, room.low_headroom_m2
    head, read = Amount(HEADROOM_COUNTED_M, DISTANCE), said(room, "floor_m2")
    if floor is not None and low is not None and low > floor:
        words = "{}: {} under {} high in a floor of {}. Which is it?"
        lower = said(room, "low_headroom_m2")
        yield ask(room, "low_headroom_m2", words, room.mark, lower, head, read)
    if _LOFT.search(room.name or "") and not low:
        words = "{} is a loft with no floor under {} high. Is all of it that high?"
        yield ask(room, "low_headroom_m2", words, room.name, head, read=Step("nothing"))
    if floor and room.depth_m and room.width_m:
        made = room.depth_m * room.width_m
        if not OF_SIDES[0] <= floor / made <= OF_SIDES[1]:
            words = "{}: a floor of {}, and {} deep by {} wide make {}. Which is it?"
            sides = (said(room, "depth_m"), said(room, "width_m"), Amount(made, FLOOR))
            yield ask(room, "floor_m2", words, room.mark, read, *sides, is_mismatch=True)


def people(package: Package) -> Iterator[OddValue]:
    """Ask where people, sleepers, beds and the brief are counted differently."""
    here = [row for row in package.occupants if row.sleeps_here and row.n is not None]
    cases = [case.case for case in package.cases] or [""]
    number = max(sum(row.n for row in here if is_there(row, case)) for case in cases)
    asked = package.site.people
    if here and asked is not None and number != asked:
        who = "missing: a warden, staff, a visitor" if number < asked else "not in the brief"
        words = "The schedule sleeps {}, the brief asks for {}. Who is {}?"
        question = Step(words, (number, asked, who))
        read = Step("{}", (number,))
        yield OddValue("occupants", "", "n", read, question, is_mismatch=True)
    asleep = sum(room.sleepers or 0 for room in package.rooms)
    moves = any(row.sleepers is not None for row in package.rooms_by_state)
    if asleep and not moves and here and not number <= asleep <= SPARE * number:
        words = "The rooms sleep {}, and {} people sleep here. Which is it?"
        question = Step(words, (asleep, number))
        read = Step("{}", (asleep,))
        yield OddValue("rooms", "", "sleepers", read, question, is_mismatch=True)
    for row in package.occupants:
        if row.step_free and row.n is not None and row.step_free > row.n:
            words = "{}: {} of {} need a way without steps. Which is it?"
            figures = (row.who or row.mark, row.step_free, row.n)
            yield ask(row, "step_free", words, *figures, is_mismatch=True)


def beds(package: Package) -> Iterator[OddValue]:
    """Ask about rooms whose beds take others than the people who sleep there."""
    moved = {row.mark for row in package.furniture_by_state}
    by_state = {row.room for row in package.rooms_by_state}
    for room in package.rooms:
        rows = [row for row in package.furniture if row.room == room.mark and row.night]
        if room.mark in by_state or any(row.mark in moved for row in rows):
            continue  # who sleeps where is said by state
        places = sum((row.n or 1) * row.night for row in rows)
        if room.sleepers and places and places != room.sleepers:
            words = "{} sleeps {}, and its beds take {}. Which is it?"
            yield ask(room, "sleepers", words, room.mark, room.sleepers, places, is_mismatch=True)
