"""A cell that was asked for and holds nothing that can be used."""

from collections.abc import Iterator, Mapping, Sized
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from criteria.errors import Refused

if TYPE_CHECKING:
    from criteria.typed.columns import Column


@dataclass(frozen=True, kw_only=True)
class Cell:
    """A blank or refused cell, or rows that can't be read, as a finding names them.

    where     row, column and schedule in words: "W3, Glass h (window schedule)"
    refusal   what was read there and what was expected; None where the cell is blank
    schedule, mark, head   address of the cell; the head is empty where whole rows lack
    column    what the cell may hold; None where whole rows lack
    row       identity of the row, by which a value can stand in for the cell
    """

    where: str
    refusal: Refused | None = None
    schedule: str = ""
    mark: str = ""
    head: str = ""
    column: "Column | None" = None
    row: int = 0

    def __str__(self) -> str:
        return f"{self.where}: {self.refusal}" if self.refusal else self.where


class Lacking(Exception):
    """Raised by whatever asks for a cell that holds no value: what it measures isn't known."""

    def __init__(self, *cells: Cell) -> None:
        super().__init__("; ".join(map(str, cells)))
        self.cells = cells


def lacking(words: str) -> Lacking:
    """Return what to raise where a thing lacks that is no cell: “an outside door (…)”."""
    return Lacking(Cell(where=words))


def require_some(things: Sized, words: str) -> None:
    """Raise Lacking where there is none of what the words name."""
    if not things:
        raise lacking(words)


Standing = Mapping[tuple[int, str], Any]
"""Values by row and attribute that stand in for cells."""

_STANDING: ContextVar[Standing] = ContextVar("standing", default=MappingProxyType({}))


@contextmanager
def standing_in(values: Standing) -> Iterator[None]:
    """Let values stand in for cells that lack: to learn what else lacks, or how far it reaches.

    What is measured meanwhile is of a package that nobody typed, and is never a finding.
    """
    token = _STANDING.set(values)
    try:
        yield
    finally:
        _STANDING.reset(token)


def is_supposed() -> bool:
    """Tell whether values stand in for cells: what is made then is no one's, and never kept."""
    return bool(_STANDING.get())


def stands_in(row: int, attribute: str) -> tuple[Any, ...]:
    """Return the value that stands in for a cell, alone in a tuple; else an empty one."""
    standing = _STANDING.get()
    return (standing[row, attribute],) if (row, attribute) in standing else ()
