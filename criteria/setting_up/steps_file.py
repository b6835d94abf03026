"""Steps of a set-up as CSV: `step, minutes, people, after, tool`.

Marks of `after` are parted by spaces, tools by commas; both may be missing. The schedule of
set-up steps as it is exported is read too: `mark` is then the mark, and every row counts, from
whatever state it leads.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from criteria.errors import InputError, Refused
from criteria.schedules.setting_up import SetUpStep
from criteria.setting_up.network import MOST_STEPS, Network, Step

HEADS = ("step", "minutes", "people", "after", "mark", "tool")
NEEDED = HEADS[:3]
MOST_BYTES = 2**20


@dataclass(frozen=True)
class StepsFile:
    """Steps that were read, and the columns that mean nothing here."""

    network: Network
    unread: tuple[str, ...]


class UnreadableSteps(ValueError):
    """A file of steps that can't be read: file, row, column, what was read, what was expected."""

    def __init__(self, path: Path, place: str, read: str, expected: str) -> None:
        super().__init__(f"{path}{place}: read {read}; expected {expected}")


def read_steps(path: Path) -> StepsFile:
    """Read steps from a CSV. Raises UnreadableSteps, with the row's line in the file."""
    try:
        raw = path.read_bytes()[: MOST_BYTES + 1]
        text = raw.decode("utf-8-sig")
    except OSError as error:
        raise UnreadableSteps(path, "", error.strerror or "no file", "a CSV of steps") from None
    except UnicodeDecodeError as error:
        raise UnreadableSteps(path, "", f"byte {error.start}, no UTF-8", "UTF-8 text") from None
    if len(raw) > MOST_BYTES:
        raise UnreadableSteps(path, "", f"over {MOST_BYTES:,} bytes", "a CSV of steps")
    try:
        table = csv.reader(io.StringIO(text, newline=""), strict=True)
        heads = [head.strip().lower() for head in next(table, [])]
        rows = [(table.line_num, row) for row in table if any(row)]
    except csv.Error as error:
        raise UnreadableSteps(path, "", str(error), "a CSV of steps") from None
    if missing := [head for head in NEEDED if head not in heads]:
        read = ", ".join(heads) or "no heads"
        raise UnreadableSteps(path, ", row 1", read, f"the head {missing[0]}")
    if twice := next((head for n, head in enumerate(heads) if head in heads[:n]), None):
        raise UnreadableSteps(path, ", row 1", f"the head {twice} twice", "each head once")
    if long := next(((line, row) for line, row in rows if len(row) > len(heads)), None):
        read = f"{len(long[1])} cells"
        raise UnreadableSteps(path, f", row {long[0]}", read, f"at most {len(heads)}, as in row 1")
    if len(rows) > MOST_STEPS:
        raise UnreadableSteps(path, "", f"{len(rows):,} rows", f"at most {MOST_STEPS}")
    steps = [_step(path, line, dict(zip(heads, row, strict=False))) for line, row in rows]
    try:
        network = Network(steps)
    except InputError as error:
        raise UnreadableSteps(path, "", str(error), "steps in an order that can be done") from None
    return StepsFile(network, tuple(head for head in heads if head not in HEADS))


def _step(path: Path, line: int, cells: dict[str, str]) -> Step:
    """Read one step by the columns of the set-up steps, which say what each cell takes."""
    own = "mark" if "mark" in cells else "step"
    mark = cells[own].strip()
    if not mark or len(mark.split()) > 1:
        raise UnreadableSteps(path, f", row {line}, {own}", _quoted(mark), "a mark in one word")

    def whole(head: str) -> int:
        column, read = SetUpStep.schedule.column(head), cells.get(head, "").strip()
        try:
            value: int | None = column.read(read) if read.isascii() else None
        except Refused:
            value = None
        if value is None:
            expected = column.expected().replace(",", "", 1)
            raise UnreadableSteps(path, f", row {line}, {head}", _quoted(read), expected)
        return value

    row = SetUpStep(mark=mark, after=cells.get("after"), tool=cells.get("tool"))
    return Step(mark, whole("minutes"), whole("people"), row.forerunners, row.tools)


def _quoted(read: str) -> str:
    return f"“{read[:40]}”" if read else "nothing"
