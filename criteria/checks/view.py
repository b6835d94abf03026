"""What can be seen from a seat and from a bed."""

from collections.abc import Callable

from criteria.checks.check import Check, blank
from criteria.checks.reading import all_but
from criteria.findings import Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.sources import PRACTICE
from criteria.units import COUNT, LENGTH

SEATED_EYE_M = 1.2
"""Eye of a seated adult above the floor [m]. Common practice."""
LYING_EYE_M = 0.15
"""Eye of someone lying above the mattress [m]. Common practice."""
USUAL_MATTRESS_M = 0.45
"""Top of a mattress where no bed's height is scheduled [m]. Common practice."""

_HEADS = ("sill", "glass_h")
_SAT_IN = ("day", "kitchen", "lab", "work")


def sees_out(sill_m: float, head_m: float, eye_m: float) -> bool:
    """Tell whether an eye stands between sill and head, both included.

    >>> sees_out(0.9, 2.1, 1.2), sees_out(1.25, 2.1, 1.2)
    (True, False)
    """
    return sill_m * (1 - 1e-9) <= eye_m <= head_m * (1 + 1e-9)


def _view(package: Package, rooms: tuple[Room, ...], eye: Callable[[Room], float]) -> Measured:
    if not package.windows:
        return Measured(missing=("rows of the window schedule",))
    missing: list[str] = []
    outside, steps = [], []
    for room in rooms:
        height, sees = eye(room), []
        for window in package.windows_of(room):
            cells = blank(Window.schedule, window, *_HEADS)
            missing += cells
            if cells or window.faces == "up":
                continue
            sill, head = window.sill_m or 0, (window.sill_m or 0) + (window.glass_h_m or 0)
            sees.append(sees_out(sill, head, height))
            figures = (window.mark, *(Amount(x, LENGTH) for x in (sill, head, height)))
            steps.append(Step("{}: {} to {}, eye at {}", figures))
        if not any(sees):
            outside.append(room.name)
    return all_but(outside, missing, steps)


def _seated(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or _SAT_IN)
    return [_view(package, rooms, lambda room: SEATED_EYE_M)] if rooms else []


def _lying(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    beds = {
        row.room: row.height_m
        for row in sorted(package.furniture, key=lambda row: row.mark)
        if row.kind == "bed" and row.height_m is not None
    }
    rooms = package.rooms_used_for(uses or ("sleep",))

    def eye(room: Room) -> float:
        return beds.get(room.mark, USUAL_MATTRESS_M) + LYING_EYE_M

    return [_view(package, rooms, eye)] if rooms else []


SEATED_VIEW = Check(
    slug="seated_view",
    title="A view out from a seat",
    topic="Light and view",
    scales=(COUNT,),
    measure=_seated,
    schedules=("rooms", "windows"),
    uses=_SAT_IN,
    rule=Rule.ALL,
    is_count=True,
    formula="sill ≤ 1,200 mm ≤ head, for a window of each room",
    meaning="sill and head of the glass above the floor [mm]; 1,200 mm a seated eye",
    citations=(PRACTICE,),
    limits="Height alone: what stands outside, and where the seat is, the plan shows.",
    question="{value}: no view out from a seat. What does a person at the table look at?",
)

LYING_VIEW = Check(
    slug="lying_view",
    title="A view out from a bed",
    topic="Light and view",
    scales=(COUNT,),
    measure=_lying,
    schedules=("rooms", "windows", "furniture"),
    uses=("sleep",),
    rule=Rule.ALL,
    is_count=True,
    formula="sill ≤ mattress + 150 mm ≤ head, for a window of each room",
    meaning="mattress height of the furniture schedule, 450 mm where none is said",
    citations=(PRACTICE,),
    limits="The eye of someone on their side. Upper bunks see higher.",
    question="{value}: no view out from a bed. Lying awake, what is there to see?",
)

VIEW_CHECKS = (SEATED_VIEW, LYING_VIEW)
