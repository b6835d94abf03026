"""Odd values of rows by state: those that change nothing."""

from collections.abc import Iterator

from criteria.findings import Step
from criteria.odd.value import OddValue, ask
from criteria.package import Package
from criteria.schedules.by_state import STATE_ROWS
from criteria.schedules.states import named_states
from criteria.typed.rows import Row


def unchanged(package: Package) -> Iterator[OddValue]:
    """Ask about rows by state that say nothing else than their base row does."""
    kinds = {state.key: state.if_given("kind") or "" for state in named_states(package.states)}
    for kind in STATE_ROWS:
        for row in getattr(package, kind.schedule.slug):
            other = kind.stands_for(kinds.get(row.state, ""))
            own = [c.attribute for c in kind.schedule.columns if not c.is_key]
            if any(name in row.refused for name in own):
                continue
            said = {name: row.typed(name) for name in own if row.typed(name) is not None}
            cells = {other.get(name, name): value for name, value in said.items()}
            bases = [b for slug in kind.of for b in getattr(package, slug) if b.key == row.base]
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
