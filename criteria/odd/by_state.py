"""Odd values of what a state changes: rows that change nothing, beds, who lies in them."""

from collections.abc import Iterator, Sequence

from criteria.findings import Amount, Step
from criteria.odd.value import OddValue, ask
from criteria.package import Package
from criteria.schedules.by_state import STATE_ROWS, says_something
from criteria.schedules.furniture import Furniture
from criteria.schedules.states import NIGHT, named_states
from criteria.situations import situations
from criteria.typed.cells import Lacking
from criteria.typed.rows import Row
from criteria.units import LENGTH
from criteria.walking.of_package import is_bed

STANDING = ("rooms", "doors", "furniture")
"""Schedules of what is walked round and through."""
BED_M = (1.85, 0.60)
"""A bed is rarely shorter or narrower [m]. Common practice."""


def unchanged(package: Package) -> Iterator[OddValue]:
    """Ask about rows by state that say nothing else than their base row does."""
    kinds = {state.key: state.if_given("kind") or "" for state in named_states(package.states)}
    for kind in STATE_ROWS:
        rows = getattr(package, kind.schedule.slug)
        held = [(base.key, base) for slug in kind.of if rows for base in getattr(package, slug)]
        for row in rows:
            other = kind.stands_for(kinds.get(row.state, ""))
            own = [c.attribute for c in kind.schedule.columns if not c.is_key]
            if any(name in row.refused for name in own):
                continue
            said = {name: row.typed(name) for name in own if row.typed(name) is not None}
            cells = {other.get(name, name): value for name, value in said.items()}
            bases = [base for key, base in held if key == row.base]
            same = [all(_has(base, name, value) for name, value in cells.items()) for base in bases]
            if bases and all(same):
                words = "{}: nothing differs from the {}. What changes in this state?"
                title = bases[0].schedule.title.lower()
                head = kind.schedule.keys[1].head
                yield ask(row, head, words, row.key, title, read=Step("{}", (row.state,)))


def _has(base: Row, attribute: str, value: object) -> bool:
    """Whether a base row has the cell, and the same in it."""
    held = {column.attribute for column in base.schedule.columns}
    return attribute in held and bool(base.if_given(attribute) == value)


def in_states(
    package: Package, kinds: Sequence[str], *, by_people: bool = False
) -> Iterator[tuple[Step, Package]]:
    """Give a package in each of its states, with words that name it; nothing that can't be read.

    Nor any where a row of what stands there has no mark of its own: its schedule is closed then.
    """
    if not package.strictly.unread.keys().isdisjoint(STANDING):
        return
    try:
        for each in situations(package.strictly, kinds, by_people=by_people):
            names = [row.key for row in (each.state, each.case) if row]
            named = Step(" ({})" if names else "{}", (", ".join(names),))
            yield named, each.of(package.strictly)
    except Lacking:
        return


def put_away(package: Package) -> Iterator[OddValue]:
    """Ask about furniture that is put away and stands in the room, in one state."""
    for row in package.furniture_by_state:
        stands = row.seats or row.sleeps or row.is_made or row.room or row.plan_x_m is not None
        if says_something(row.inside) and stands:
            words = "{} is in {} then, and used in a room. Which is it?"
            yield ask(row, "inside", words, row.key, row.inside or "", is_mismatch=True)


def beds(package: Package) -> Iterator[OddValue]:
    """Ask about beds shorter or narrower than people."""
    for named, then in in_states(package, (NIGHT,)):
        for piece in then.rows_of(Furniture):
            sizes = piece.typed("used_l_m"), piece.typed("used_w_m")
            if None in sizes or not _lies_made(then, piece):
                continue
            length, width = max(sizes), min(sizes)
            if length < BED_M[0] or width < BED_M[1]:
                words = "{} ({}){}: a bed of {} by {}. Who lies in it?"
                figures = (Amount(length, LENGTH), Amount(width, LENGTH))
                row = piece.leniently
                yield ask(row, "l", words, row.mark, row.item or "", named, *figures)


def _lies_made(package: Package, piece: Furniture) -> bool:
    try:
        return is_bed(package, piece)
    except Lacking:
        return False


def sleepers(package: Package) -> Iterator[OddValue]:
    """Ask where more sleep than there are beds made, in a night and for a people case."""
    for named, then in in_states(package, (NIGHT,), by_people=True) if package.cases else ():
        rows = [row.leniently for row in then.rows_of(Furniture)]
        places = sum((row.n or 1) * (row.night or 0) for row in rows)
        people = _asleep(then)
        if places and people > places:
            words = "{} sleep here{}, and beds made take {}. Who lies where?"
            question, read = Step(words, (people, named, places)), Step("{}", (places,))
            yield OddValue("furniture", "", "night", read, question, is_mismatch=True)


def _asleep(package: Package) -> int:
    try:
        return package.sleepers
    except Lacking:
        return 0
