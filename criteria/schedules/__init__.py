"""Every schedule of a package, in the order in which a student meets them."""

from criteria.schedules.access import Door, Ramp, WaysOut
from criteria.schedules.air import Vent
from criteria.schedules.claims import Claim
from criteria.schedules.climate import Month
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
from criteria.schedules.site import Site
from criteria.schedules.stowage import Move, Stowage
from criteria.schedules.structure import Supports, Transport
from criteria.schedules.water import Tank
from criteria.typed.rows import Schedule

SCHEDULES: tuple[Schedule, ...] = (
    Room.schedule,
    Window.schedule,
    Lamp.schedule,
    Vent.schedule,
    Occupant.schedule,
    Tank.schedule,
    Fixture.schedule,
    Layer.schedule,
    Plant.schedule,
    Load.schedule,
    PowerPlant.schedule,
    Door.schedule,
    Ramp.schedule,
    WaysOut.schedule,
    Piece.schedule,
    Transport.schedule,
    Supports.schedule,
    Furniture.schedule,
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

LEADER_SCHEDULES: tuple[Schedule, ...] = (SITE, CLIMATE)

BY_SLUG: dict[str, Schedule] = {
    schedule.slug: schedule for schedule in (*SCHEDULES, *LEADER_SCHEDULES)
}
