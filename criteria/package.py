"""A package: every schedule of one revision with its site sheet, ready to be measured."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from criteria.schedules import BY_SLUG
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
from criteria.typed.columns import Schedule
from criteria.typed.tables import RefusedCell, read_records
from criteria.units import PLAIN, Notation


@dataclass(frozen=True, kw_only=True)
class Package:
    """All rows of one revision, in SI. Fields are named as the schedules' slugs."""

    site: Site = field(default_factory=Site)
    climate: tuple[Month, ...] = ()
    rooms: tuple[Room, ...] = ()
    windows: tuple[Window, ...] = ()
    lights: tuple[Lamp, ...] = ()
    vents: tuple[Vent, ...] = ()
    occupants: tuple[Occupant, ...] = ()
    tanks: tuple[Tank, ...] = ()
    fixtures: tuple[Fixture, ...] = ()
    envelope: tuple[Layer, ...] = ()
    plant: Plant = field(default_factory=Plant)
    loads: tuple[Load, ...] = ()
    power: PowerPlant = field(default_factory=PowerPlant)
    doors: tuple[Door, ...] = ()
    ramp: Ramp = field(default_factory=Ramp)
    ways_out: WaysOut = field(default_factory=WaysOut)
    pieces: tuple[Piece, ...] = ()
    transport: Transport = field(default_factory=Transport)
    supports: Supports = field(default_factory=Supports)
    furniture: tuple[Furniture, ...] = ()
    stowage: tuple[Stowage, ...] = ()
    moves: tuple[Move, ...] = ()
    finishes: tuple[Finish, ...] = ()
    precedents: tuple[Precedent, ...] = ()
    plan_marks: tuple[PlanMarks, ...] = ()
    claims: tuple[Claim, ...] = ()

    def windows_of(self, room: Room) -> tuple[Window, ...]:
        """Return the windows that light a room."""
        return tuple(window for window in self.windows if window.room == room.mark)

    def rooms_used_for(self, uses: Iterable[str]) -> tuple[Room, ...]:
        """Return the rooms of some uses, in schedule order; all rooms where no use is named."""
        wanted = tuple(uses)
        return tuple(room for room in self.rooms if not wanted or room.use in wanted)


@dataclass(frozen=True)
class PackageReading:
    """A package and, by schedule, the cells that could not be read."""

    package: Package
    refused: Mapping[str, tuple[RefusedCell, ...]]


def read_package(
    tables: Mapping[str, Iterable[Mapping[str, str]]],
    notation: Notation = PLAIN,
    *,
    unread: Collection[str] = (),
) -> PackageReading:
    """Make a package of typed records by schedule slug; absent schedules are empty.

    References between schedules are held to the marks that are there, but for schedules
    that are there and could not be read (`unread`).
    """
    typed = {slug: [dict(record) for record in records] for slug, records in tables.items()}
    marks = {
        slug: [mark for record in records if (mark := (record.get("mark") or "").strip())]
        for slug, records in typed.items()
    }
    values: dict[str, Any] = {}
    refused = {}
    for part in fields(Package):
        schedule: Schedule = BY_SLUG[part.name]
        known = {
            column.refers_to: marks.get(column.refers_to, [])
            for column in schedule.columns
            if column.refers_to not in unread
        }
        records = typed.get(part.name, [])
        reading = read_records(schedule, records, notation, marks=known)
        refused[part.name] = reading.refused
        if schedule.is_single and len(records) > 1:
            second = RefusedCell(2, "", "rows", f"{len(records)} rows", "one row")
            refused[part.name] = (*reading.refused, second)
        if schedule.is_single:
            values[part.name] = reading.rows[0] if reading.rows else schedule.row()
        else:
            values[part.name] = reading.rows
    return PackageReading(Package(**values), {slug: r for slug, r in refused.items() if r})
