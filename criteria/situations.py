"""A package in the states of its building, and for the people of its brief's cases.

A package in a state is a package whose rows are those of that state: what a check reads of it
it reads as ever. Without states and cases there is one situation, the package as it stands.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from criteria.findings import Measured, nowhere
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.by_state import STATE_ROWS, StateRow
from criteria.schedules.people import Occupant, is_there
from criteria.schedules.rooms import Room
from criteria.schedules.states import BuildingState, PeopleCase, named_states
from criteria.typed.cells import Lacking, require_some
from criteria.typed.rows import Row

IN_ROOMS = tuple(
    (schedule.slug, column.attribute)
    for schedule in BY_SLUG.values()
    if schedule is not Room.schedule and not issubclass(schedule.row, StateRow)
    for column in schedule.columns
    if column.refers_to == Room.schedule.slug
)
"""What is in a room, and goes with one that is folded in: slug, and attribute of the room."""


@dataclass(frozen=True)
class Situation:
    """A state of the building and a number of people; None where neither is named."""

    state: BuildingState | None = None
    case: PeopleCase | None = None

    def of(self, package: Package) -> Package:
        """Return a package as it is then. Raises Lacking where it can't be said what is there."""
        if self == Situation():
            return package
        kept: dict[Situation, Package] = package.__dict__.setdefault("_situations", {})
        if self not in kept:
            kept[self] = _situated(package, self)
        return kept[self]


def states_of(package: Package, kinds: Sequence[str] = ()) -> tuple[BuildingState, ...]:
    """Return its states of some kinds, all where none is named; none where nothing changes.

    Raises Lacking where a state can't be told from others, or its kind can't be read.
    """
    rows = package.rows_of(BuildingState)
    if not rows and not any(package.rows_of(row) for row in STATE_ROWS):
        return ()
    return tuple(state for state in named_states(rows) if not kinds or state.kind in kinds)


def situations(
    package: Package, kinds: Sequence[str] = (), *, by_people: bool = False
) -> tuple[Situation, ...]:
    """Return the situations in which to ask: states of some kinds, and every case of people.

    No kind is the building as built. Raises Lacking as `states_of` does.
    """
    states = (states_of(package, kinds) if kinds else ()) or (None,)
    cases = (package.rows_of(PeopleCase) if by_people else ()) or (None,)
    return tuple(Situation(state, case) for case in cases for state in states)


def measured_in(
    package: Package,
    kinds: Sequence[str],
    by_people: bool,
    figure: Callable[[Package], Sequence[Measured]],
    in_case: str = "",
) -> list[Measured]:
    """Measure a package in each situation; what is the same in several stands once, with all.

    in_case   the one case that is asked for; every case where none is named
    """
    try:
        asked = situations(package, kinds, by_people=by_people)
        if in_case:
            asked = tuple(each for each in asked if each.case and each.case.case == in_case)
            require_some(asked, f"a case “{in_case}” (people cases)")
        held = [each.case is None or each.case.is_held for each in asked]
    except Lacking as lacks:
        return [_lacking(lacks)]
    if asked == (Situation(),):
        return list(figure(package))
    return _once(asked, held, [_measured(package, situation, figure) for situation in asked])


def _measured(
    package: Package, situation: Situation, figure: Callable[[Package], Sequence[Measured]]
) -> Sequence[Measured]:
    try:
        return figure(situation.of(package))
    except Lacking as lacks:
        return [_lacking(lacks)]


def _lacking(lacks: Lacking) -> Measured:
    return Measured(missing=tuple(dict.fromkeys(map(str, lacks.cells))))


def _once(
    asked: Sequence[Situation], held: Sequence[bool], found: Sequence[Sequence[Measured]]
) -> list[Measured]:
    """Name the situations of each figure, and those that don't differ together."""
    once: dict[Any, tuple[Measured, list[str], list[str]]] = {}
    for situation, is_held, figures in zip(asked, held, found, strict=True):
        case = situation.case
        for each in figures:
            each = replace(each, is_held=is_held)
            key = replace(each, reach=nowhere)
            _, states, cases = once.setdefault(key, (each, [], []))
            states += [situation.state.state] if situation.state else []
            cases += [case.case] if case else []
    return [
        replace(each, in_state=_named(states), in_case=_named(cases))
        for each, states, cases in once.values()
    ]


def _named(names: Sequence[str]) -> str:
    return ", ".join(dict.fromkeys(names))


def _situated(package: Package, situation: Situation) -> Package:
    changed: dict[str, Any] = {"state": situation.state, "case": situation.case}
    changed["as_built"] = package
    if situation.state:
        changed |= _in_state(package, situation.state)
    if situation.case:
        changed |= _in_case(package, situation.case)
    return package.but(**changed)


def _in_state(package: Package, state: BuildingState) -> dict[str, tuple[Row, ...]]:
    rows = {
        slug: tuple(_rows_in(package, slug, kind, state))
        for kind in STATE_ROWS
        for slug in kind.of
        if any(over.state == state.state for over in package.rows_of(kind))
    }
    if "rooms" not in rows:
        return rows
    gone = {room.mark for room in package.rows_of(BY_SLUG["rooms"].row)}
    gone -= {room.key for room in rows["rooms"]}
    if gone:
        for slug, room in IN_ROOMS:
            held = rows.get(slug, package.rows_of(BY_SLUG[slug].row))
            rows[slug] = tuple(row for row in held if row.typed(room) not in gone)
    return rows


def _rows_in(
    package: Package, slug: str, kind: type[StateRow], state: BuildingState
) -> Iterator[Row]:
    over = {row.base: row for row in package.rows_of(kind) if row.state == state.state}
    for base in package.rows_of(BY_SLUG[slug].row):
        row = over[base.key].changed(base, state) if base.key in over else base
        if row is not None:
            yield row


def _in_case(package: Package, case: PeopleCase) -> dict[str, tuple[Row, ...]]:
    rows = package.rows_of(Occupant)
    return {"occupants": tuple(row for row in rows if is_there(row, case.case))}
