"""What can be seen from a seat and from a bed."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import all_without, gathered
from criteria.findings import Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import Window
from criteria.schedules.rooms import SAT_IN, Room
from criteria.schedules.states import AWAKE_KINDS, NIGHT
from criteria.sources import PRACTICE
from criteria.units import LENGTH

SEATED_EYE_M = 1.2
"""Eye of a seated adult above the floor [m]. Common practice."""
LYING_EYE_M = 0.15
"""Eye of someone lying above the mattress [m]. Common practice."""
USUAL_MATTRESS_M = 0.45
"""Top of a mattress where no bed is scheduled [m]. Common practice."""


def sees_out(sill_m: float, head_m: float, eye_m: float) -> bool:
    """Tell whether an eye stands between sill and head, both included.

    >>> sees_out(0.9, 2.1, 1.2), sees_out(1.25, 2.1, 1.2)
    (True, False)
    """
    return sill_m * (1 - 1e-9) <= eye_m <= head_m * (1 + 1e-9)


def _view(
    package: Package, rooms: tuple[Room, ...], eye: Callable[[Room], float]
) -> list[Measured]:
    """Measure the rooms without a window, roof lights left out, that an eye looks out of."""
    steps: dict[str, Step] = {}

    def sees(room: Room) -> bool:
        height = eye(room)

        def through(window: Window) -> bool:
            if window.is_rooflight:
                return False
            sill, head = window.sill_m, window.sill_m + window.glass_h_m
            ends = [Amount(x, LENGTH) for x in (sill, head, height)]
            steps[window.mark] = Step("{}: {} to {}, eye at {}", (window.mark, *ends))
            return sees_out(sill, head, height)

        return any(gathered(package.windows_of(room), through))

    if not rooms:
        return []
    found = all_without(rooms, lambda room: None if sees(room) else room.name)
    return [replace(found, steps=tuple(steps.values()))]


def _seated(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _view(package, package.rooms_used_for(uses or SAT_IN), lambda room: SEATED_EYE_M)


def lying_eye_m(package: Package, room: Room) -> float:
    """Return how high the eye of someone lying in a room is, in its lowest bed [m].

    Raises Lacking where a bed says no height, or not where it stands.
    """
    beds = [row for row in package.rows_of(Furniture) if row.kind == "bed"]
    own = gathered([bed for bed in beds if bed.room == room.mark], lambda bed: bed.height_m)
    return float(min(own, default=USUAL_MATTRESS_M)) + LYING_EYE_M


def _lying(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return _view(package, package.slept_in, partial(lying_eye_m, package))


VIEW_CHECKS = (
    Check(
        slug="seated_view",
        title="A view out from a seat",
        topic="Light and view",
        kinds=AWAKE_KINDS,
        measure=_seated,
        schedules=("rooms", "windows"),
        uses=SAT_IN,
        rule=Rule.ALL,
        formula="sill ≤ 1,200 mm ≤ head, for a window of each room",
        meaning="sill and head of the glass above the floor [mm]; 1,200 mm a seated eye",
        citations=(PRACTICE,),
        limits="Height alone: what stands outside, and where the seat is, the plan shows.",
        question="{value}: no view out from a seat. What does a person at the table look at?",
    ),
    Check(
        slug="lying_view",
        title="A view out from a bed",
        topic="Light and view",
        kinds=(NIGHT,),
        measure=_lying,
        schedules=("rooms", "windows", "furniture"),
        uses=("sleep",),
        rule=Rule.ALL,
        formula="sill ≤ mattress + 150 mm ≤ head, for a window of each room",
        meaning="mattress height of the lowest bed scheduled for the room, 450 mm where no bed is",
        citations=(PRACTICE,),
        limits="Every room with sleepers. The eye of someone on their side. Upper bunks see "
        "higher.",
        question="{value}: no view out from a bed. Lying awake, what is there to see?",
    ),
)
