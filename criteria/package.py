"""A package: every schedule of one revision with its site sheet, ready to be measured."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, TypeVar

from criteria.errors import Refused
from criteria.hourly.weather import Weather
from criteria.schedules import BY_SLUG, marks_in
from criteria.schedules.access import Door, Ramp, WaysOut
from criteria.schedules.air import Vent
from criteria.schedules.by_state import (
    OPENINGS,
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
from criteria.schedules.states import BuildingState, PeopleCase
from criteria.schedules.stowage import Move, Stowage
from criteria.schedules.structure import Supports, Transport
from criteria.schedules.water import Tank
from criteria.typed.cells import Cell, Lacking, stands_in
from criteria.typed.rows import Row
from criteria.typed.tables import RefusedCell, read_records
from criteria.units import PLAIN, Notation, System

R = TypeVar("R", bound=Row)


def _blank(row: Callable[..., Any]) -> Callable[[], Any]:
    """A schedule of one row, before anything is given; each of its columns may be blank."""
    return row


def _rows() -> Any:
    return field(default_factory=tuple)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Package:
    """All rows of one revision, in SI. Fields are named as the schedules' slugs.

    Asking for a schedule that has no rows, or one with a row that can't be told from others,
    raises Lacking. `rows_of` asks where there may be none; `leniently` is for drawings and prose.

    weather   the year of the brief's file; None is made of its climate
    unread    by schedule, the cells for which rows couldn't be told from others
    notation  in which it is typed and kept
    state     in which it is looked at, its rows being those of that state; None is as built
    case      for how many people it is looked at; None is the site sheet's
    as_built  the package whose rows are changed in that state; None of one as built
    """

    site: Site = field(default_factory=_blank(Site))
    climate: tuple[Month, ...] = _rows()
    rooms: tuple[Room, ...] = _rows()
    windows: tuple[Window, ...] = _rows()
    lights: tuple[Lamp, ...] = _rows()
    vents: tuple[Vent, ...] = _rows()
    occupants: tuple[Occupant, ...] = _rows()
    tanks: tuple[Tank, ...] = _rows()
    fixtures: tuple[Fixture, ...] = _rows()
    envelope: tuple[Layer, ...] = _rows()
    plant: Plant = field(default_factory=_blank(Plant))
    loads: tuple[Load, ...] = _rows()
    power: PowerPlant = field(default_factory=_blank(PowerPlant))
    doors: tuple[Door, ...] = _rows()
    ramp: Ramp = field(default_factory=_blank(Ramp))
    ways_out: WaysOut = field(default_factory=_blank(WaysOut))
    climbs: tuple[Climb, ...] = _rows()
    pieces: tuple[Piece, ...] = _rows()
    transport: Transport = field(default_factory=_blank(Transport))
    steps: tuple[SetUpStep, ...] = _rows()
    supports: Supports = field(default_factory=_blank(Supports))
    furniture: tuple[Furniture, ...] = _rows()
    stowage: tuple[Stowage, ...] = _rows()
    moves: tuple[Move, ...] = _rows()
    finishes: tuple[Finish, ...] = _rows()
    precedents: tuple[Precedent, ...] = _rows()
    plan_marks: tuple[PlanMarks, ...] = _rows()
    claims: tuple[Claim, ...] = _rows()
    states: tuple[BuildingState, ...] = _rows()
    cases: tuple[PeopleCase, ...] = _rows()
    rooms_by_state: tuple[RoomState, ...] = _rows()
    furniture_by_state: tuple[FurnitureState, ...] = _rows()
    openings_by_state: tuple[OpeningState, ...] = _rows()
    pieces_by_state: tuple[PieceState, ...] = _rows()
    tanks_by_state: tuple[TankState, ...] = _rows()
    legs: tuple[Leg, ...] = _rows()
    legs_by_state: tuple[LegState, ...] = _rows()
    weather: Weather | None = None
    unread: Mapping[str, tuple[RefusedCell, ...]] = field(default_factory=dict)
    notation: Notation = PLAIN
    state: BuildingState | None = None
    case: PeopleCase | None = None
    as_built: "Package | None" = None

    def __post_init__(self) -> None:
        held = {slug: self.__dict__[slug] for slug in BY_SLUG}
        self.__dict__["_held"] = held
        for slug, rows in held.items():
            if not rows or slug in self.unread:
                del self.__dict__[slug]

    def __getattr__(self, slug: str) -> Any:
        schedule = BY_SLUG.get(slug)
        if schedule is None:
            raise AttributeError(f"a package has no {slug}")
        if cells := self._unread_cells(slug):
            if stands_in(id(self), slug):
                return self._held[slug]
            raise Lacking(*cells)
        raise Lacking(Cell(where=f"rows of the {schedule.title.lower()}", schedule=slug))

    def _unread_cells(self, slug: str) -> tuple[Cell, ...]:
        title = BY_SLUG[slug].title.lower()
        return tuple(
            Cell(
                where=f"row {cell.row}, {cell.column} ({title})",
                refusal=Refused(cell.read, cell.expected),
                schedule=slug,
                row=id(self),
            )
            for cell in self.unread.get(slug, ())
        )

    def rows_of(self, row: type[R]) -> tuple[R, ...]:
        """Return the rows of a schedule, of which there may be none.

        Raises Lacking where one can't be told from others.
        """
        slug = row.schedule.slug
        rows: tuple[R, ...] = getattr(self, slug) if slug in self.unread else self._held[slug]
        return rows

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Package):
            return NotImplemented
        return self._held == other._held and self.unread == other.unread

    __hash__ = None  # type: ignore[assignment]

    @cached_property
    def leniently(self) -> "Package":
        """The same package for drawings and prose: what isn't known is None or no row.

        Its own `strictly` is the package again.
        """
        return self if "strictly" in self.__dict__ else _lenient(self)

    def but(self, **rows: Any) -> "Package":
        """Return the package with other rows of some schedules, or in another state or case."""
        beside = ("weather", "unread", "notation", "state", "case", "as_built")
        kept = {name: getattr(self, name) for name in beside}
        return Package(**{**self._held, **kept, **rows})

    @property
    def people(self) -> int:
        """How many are in it: by its state, else its case, else the site sheet."""
        return self._counted("people")

    @property
    def sleepers(self) -> int:
        """How many sleep in it, the same way."""
        return self._counted("sleepers")

    def _counted(self, of_case: str) -> int:
        given = self.state.unless_blank("people") if self.state else None
        if given is None:
            given = getattr(self.case, of_case) if self.case else self.site.people
        return int(given)

    def windows_of(self, room: Room) -> tuple[Window, ...]:
        """Return the windows that light a room."""
        return tuple(window for window in self.windows if window.room == room.mark)

    def rooms_used_for(self, uses: Iterable[str]) -> tuple[Room, ...]:
        """Return the rooms of some uses, in schedule order; all rooms where no use is named."""
        wanted = tuple(uses)
        return tuple(room for room in self.rooms if not wanted or room.use in wanted)

    @property
    def is_us(self) -> bool:
        """Whether the inch-pound figure of a standard that prints two is what holds."""
        return self.site.units == "US"

    @property
    def drawn_in(self) -> Notation:
        """How figures stand on its sheets: in the studio's units, with its decimal sign."""
        system = System.US if self.leniently.site.units == "US" else System.METRIC
        return replace(self.notation, system=system)

    @property
    def slept_in(self) -> tuple[Room, ...]:
        """The rooms in which somebody sleeps, whatever their use is called."""
        return tuple(room for room in self.rooms if room.sleepers > 0)


def _lenient(package: Package) -> Package:
    same = object.__new__(Package)
    for slug, held in package._held.items():
        is_single = BY_SLUG[slug].is_single
        same.__dict__[slug] = held.leniently if is_single else tuple(row.leniently for row in held)
    same.__dict__.update(
        _held=dict(same.__dict__),
        weather=package.weather,
        unread={},
        notation=package.notation,
        state=package.state,
        case=package.case,
        strictly=package,
    )
    return same


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
    weather: Weather | None = None,
) -> PackageReading:
    """Make a package of typed records by schedule slug; absent schedules are empty.

    References between schedules are held to the marks that are there, but for schedules
    that are there and could not be read (`unread`).
    """
    typed = {slug: [dict(record) for record in records] for slug, records in tables.items()}
    marks = marks_in(typed)
    closed = {*unread} | ({OPENINGS} if {"windows", "doors"} & {*unread} else set())
    values: dict[str, Any] = {}
    refused: dict[str, tuple[RefusedCell, ...]] = {}
    lost: dict[str, tuple[RefusedCell, ...]] = {}
    for slug, schedule in BY_SLUG.items():
        known = {
            column.refers_to: marks.get(column.refers_to, [])
            for column in schedule.columns
            if column.refers_to and column.refers_to not in closed
        }
        records = typed.get(slug, [])
        reading = read_records(schedule, records, notation, marks=known)
        refused[slug], lost[slug] = reading.refused, reading.unread
        if schedule.is_single and len(records) > 1:
            second = RefusedCell(2, "", "rows", f"{len(records)} rows", "one row")
            refused[slug], lost[slug] = (*reading.refused, second), (second,)
        if slug in unread:
            gone = RefusedCell(0, "", "file", "what can't be read", "a table of its schedule")
            lost[slug] = (*lost[slug], gone)
        rows = reading.read
        values[slug] = (rows[0] if rows else schedule.row()) if schedule.is_single else rows
    unread_cells = {slug: cells for slug, cells in lost.items() if cells}
    package = Package(**values, unread=unread_cells, notation=notation, weather=weather)
    return PackageReading(package, {slug: cells for slug, cells in refused.items() if cells})
