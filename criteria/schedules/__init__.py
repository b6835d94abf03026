"""Every schedule of a package, in the order in which a student meets them."""

from criteria.columns import Schedule
from criteria.schedules.access import Door, Ramp, WaysOut
from criteria.schedules.air import Vent
from criteria.schedules.claims import Claim
from criteria.schedules.envelope import Layer
from criteria.schedules.moving import Piece
from criteria.schedules.openings import Window
from criteria.schedules.people import Occupant
from criteria.schedules.plant import Plant
from criteria.schedules.power import Load, PowerPlant
from criteria.schedules.precedents import Precedent
from criteria.schedules.rooms import Room
from criteria.schedules.site import Site
from criteria.schedules.stowage import Move, Stowage
from criteria.schedules.water import Tank

SCHEDULES: tuple[Schedule, ...] = (
    Room.schedule,
    Window.schedule,
    Vent.schedule,
    Occupant.schedule,
    Tank.schedule,
    Layer.schedule,
    Plant.schedule,
    Load.schedule,
    PowerPlant.schedule,
    Door.schedule,
    Ramp.schedule,
    WaysOut.schedule,
    Piece.schedule,
    Stowage.schedule,
    Move.schedule,
    Precedent.schedule,
    Claim.schedule,
)
"""What a student fills in."""

SITE: Schedule = Site.schedule
"""What the studio leader fills in, once, with the brief."""

BY_SLUG: dict[str, Schedule] = {schedule.slug: schedule for schedule in (*SCHEDULES, SITE)}
