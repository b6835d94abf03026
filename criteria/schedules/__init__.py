"""Every schedule of a package, in the order in which a student meets them."""

from collections.abc import Iterable, Mapping
from typing import cast

from criteria.schedules.access import Door, Ramp, WaysOut
from criteria.schedules.air import Vent
from criteria.schedules.by_state import (
    OPENINGS,
    STATE_ROWS,
    FurnitureState,
    LegState,
    OpeningState,
    PieceState,
    RoomState,
    TankState,
)
from criteria.schedules.claims import Claim
from criteria.schedules.climate import Month
from criteria.schedules.climbs import Climb
from criteria.schedules.envelope import Layer
from criteria.schedules.finishes import Finish
from criteria.schedules.fixtures import Fixture
from criteria.schedules.furniture import Furniture
from criteria.schedules.lighting import Lamp
from criteria.schedules.moving import Piece
from criteria.schedules.openings import Window
from criteria.schedules.people import Occupant
from criteria.schedules.plan import PlanMarks
from criteria.schedules.plant import Plant
from criteria.schedules.power import Load, PowerPlant
from criteria.schedules.precedents import Precedent
from criteria.schedules.rooms import Room
from criteria.schedules.setting_up import SetUpStep
from criteria.schedules.site import Site
from criteria.schedules.standing import Leg
from criteria.schedules.states import BuildingState, PeopleCase, named_states
from criteria.schedules.stowage import Move, Stowage
from criteria.schedules.structure import Supports, Transport
from criteria.schedules.water import Tank
from criteria.typed.rows import Schedule

SCHEDULES: tuple[Schedule, ...] = (
    Room.schedule,
    RoomState.schedule,
    Window.schedule,
    Lamp.schedule,
    Vent.schedule,
    Occupant.schedule,
    Tank.schedule,
    TankState.schedule,
    Fixture.schedule,
    Layer.schedule,
    Plant.schedule,
    Load.schedule,
    PowerPlant.schedule,
    Door.schedule,
    OpeningState.schedule,
    Ramp.schedule,
    WaysOut.schedule,
    Climb.schedule,
    Piece.schedule,
    PieceState.schedule,
    Transport.schedule,
    SetUpStep.schedule,
    Supports.schedule,
    Leg.schedule,
    LegState.schedule,
    Furniture.schedule,
    FurnitureState.schedule,
    Stowage.schedule,
    Move.schedule,
    Finish.schedule,
    Precedent.schedule,
    PlanMarks.schedule,
    Claim.schedule,
)
"""What a student fills in."""

SITE: Schedule = Site.schedule
"""What the studio leader fills in, once, with the brief."""

CLIMATE: Schedule = Month.schedule
"""What the studio leader may add: a row for each month."""

STATES: Schedule = BuildingState.schedule
CASES: Schedule = PeopleCase.schedule
"""What the studio leader may name: states of the building, and for how many people it is."""

LEADER_SCHEDULES: tuple[Schedule, ...] = (SITE, CLIMATE, STATES, CASES)

BY_SLUG: dict[str, Schedule] = {
    schedule.slug: schedule for schedule in (*SCHEDULES, *LEADER_SCHEDULES)
}


def beside(schedule: Schedule) -> tuple[Schedule, ...]:
    """Return the schedules that say what differs of one in a state, or of which one says it."""
    of_states = {row.schedule: tuple(BY_SLUG[slug] for slug in row.of) for row in STATE_ROWS}
    return of_states.get(schedule) or tuple(
        state for state, bases in of_states.items() if schedule in bases
    )


def marks_known(
    schedule: Schedule, tables: Mapping[str, Iterable[Mapping[str, str]]]
) -> dict[str, list[str]]:
    """Return the marks that the references of a schedule are held to, by what they refer to."""
    marks = marks_in(tables)
    return {c.refers_to: marks.get(c.refers_to, []) for c in schedule.columns if c.refers_to}


def marks_in(tables: Mapping[str, Iterable[Mapping[str, str]]]) -> dict[str, list[str]]:
    """Return the marks to which references are held, by schedule, of typed records.

    Day and night are states of every building; windows and doors are known as openings too.
    """
    marks = {
        slug: [name for record in records if (name := BY_SLUG[slug].name_of(record))]
        for slug, records in tables.items()
        if slug in BY_SLUG
    }
    rows = [STATES.parse(record) for record in tables.get(STATES.slug, ())]
    marks[STATES.slug] = [row.key for row in named_states(cast("list[BuildingState]", rows))]
    marks[OPENINGS] = [*marks.get(Window.schedule.slug, ()), *marks.get(Door.schedule.slug, ())]
    return marks
