"""Every schedule of a package, in the order in which a student meets them."""

from criteria.columns import Schedule
from criteria.schedules.openings import Window
from criteria.schedules.people import Occupant
from criteria.schedules.precedents import Precedent
from criteria.schedules.rooms import Room
from criteria.schedules.site import Site
from criteria.schedules.water import Tank

SCHEDULES: tuple[Schedule, ...] = (
    Room.schedule,
    Window.schedule,
    Occupant.schedule,
    Tank.schedule,
    Precedent.schedule,
)
"""What a student fills in."""

SITE: Schedule = Site.schedule
"""What the studio leader fills in, once, with the brief."""

BY_SLUG: dict[str, Schedule] = {schedule.slug: schedule for schedule in (*SCHEDULES, SITE)}
