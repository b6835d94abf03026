"""Tables in and out: CSV files, blocks pasted from a spreadsheet, typed records.

Everything becomes typed records (head → text, as typed) and what was refused, with row and
column, so that a page or a command can point at the cell.
"""

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.typed.columns import Column, Kind
from criteria.typed.csv_cells import as_typed, csv_of
from criteria.typed.rows import Row, Schedule, folded
from criteria.units import PLAIN, Notation, System

MOST_ROWS = 1000
"""Most rows read into one schedule: a small building has fewer, a slip of the paste more."""

Record = dict[str, str]
Heads = Sequence[tuple[Column, str] | None]
Lines = Sequence[Sequence[str]]


@dataclass(frozen=True)
class RefusedCell:
    """A cell that can't be read.

    row       counted from 1 below the heads; 0 is the heads
    mark      the row's mark, where it has one
    column    label of the column, or the head as read where there is no such column
    """

    row: int
    mark: str
    column: str
    read: str
    expected: str

    def __str__(self) -> str:
        where = f"row {self.row}" + (f" ({self.mark})" if self.mark else "")
        return f"{where}, {self.column}: read “{self.read}”; expected {self.expected}"


@dataclass(frozen=True)
class Reading:
    """What was read of one table.

    records   as typed
    rows      in SI, in the order of the records; None where a row can't be told from others
    refused   cells that couldn't be read, by row
    """

    records: tuple[Record, ...]
    rows: tuple[Row | None, ...]
    refused: tuple[RefusedCell, ...]
    ignored: tuple[str, ...] = ()

    @property
    def is_clean(self) -> bool:
        """Whether every cell was read."""
        return not self.refused

    @property
    def read(self) -> tuple[Row, ...]:
        """The rows that can be told apart, with or without refused cells."""
        return tuple(row for row in self.rows if row is not None)

    @property
    def unread(self) -> tuple[RefusedCell, ...]:
        """Of each row that can't be told from others, the cell that makes it so."""
        lost = {number for number, row in enumerate(self.rows, start=1) if row is None}
        first = {cell.row: cell for cell in reversed(self.refused) if cell.row in lost | {0}}
        return tuple(first[number] for number in sorted(first))


def read_records(
    schedule: Schedule,
    records: Iterable[Mapping[str, str]],
    notation: Notation = PLAIN,
    *,
    marks: Mapping[str, Iterable[str]] | None = None,
) -> Reading:
    """Read typed records.

    `marks` gives the known marks of other schedules, to which references are held. A row whose
    own mark can't be read, or stands on a row above, can't be told from others.
    """
    kept: list[Record] = []
    rows: list[Row | None] = []
    refused: list[RefusedCell] = []
    known = {slug: tuple(dict.fromkeys(found)) for slug, found in (marks or {}).items()}
    seen: set[str] = set()
    for number, record in enumerate(records, start=1):
        row = _held_to_marks(schedule.parse(record, notation, number=number), known)
        mark = schedule.name_of(record)
        if mark and mark in seen:
            again = Refused(mark, "a mark that no row above has")
            row = row.refusing(schedule.keys[0].attribute, again)
        seen.add(mark)
        kept.append({head: str(record.get(head) or "") for head in schedule.heads})
        rows.append(None if any(c.attribute in row.refused for c in schedule.keys) else row)
        refused += [
            RefusedCell(number, mark, column.label, why.read, why.expected)
            for column in schedule.columns
            if (why := row.refused.get(column.attribute))
        ]
    return Reading(tuple(kept), tuple(rows), tuple(refused))


def _held_to_marks(row: Row, marks: Mapping[str, tuple[str, ...]]) -> Row:
    """Refuse each reference of a row to a mark that isn't there."""
    for column in row.schedule.columns:
        value = row.typed(column.attribute) if column.kind is Kind.REFERENCE else None
        known = marks.get(column.refers_to)
        if value is not None and known is not None and value not in known:
            among = ", ".join(known) or "none yet"
            expected = f"a mark of the {column.refers_to} schedule ({among})"
            row = row.refusing(column.attribute, Refused(value, expected))
    return row


def read_grid(
    schedule: Schedule,
    grid: Sequence[Sequence[str]],
    notation: Notation = PLAIN,
    *,
    marks: Mapping[str, Iterable[str]] | None = None,
) -> Reading:
    """Read a grid of cells whose first row may hold heads.

    Heads are known by name or by label; a unit behind one, "Frame w [in]" or "sill (in)",
    is the unit of the bare numbers under it, and the notation's system is theirs where it
    names none; the records say so. Below the heads may stand what the columns are called, and
    their units, as workbooks of ours have them. Without heads the columns stand in the schedule's
    own order. A head that comes twice is read once; the other is ignored.
    """
    lines = [[cell.strip() for cell in line] for line in grid]
    lines = [line for line in lines if any(line)]
    if not lines:
        return Reading((), (), (RefusedCell(0, "", "heads", "nothing", "at least one row"),))
    matched: Heads = match_heads(schedule, lines[0])
    found = [match for match in matched if match]
    if len(found) >= max(1, min(2, len(lines[0]))) and not _is_data(schedule, lines[0]):
        matched, body = _below_heads(matched, lines[1:])
    else:
        matched, body = [(column, "") for column in schedule.columns], lines
    if len(body) > MOST_ROWS:
        few = f"at most {MOST_ROWS} rows"
        return Reading((), (), (RefusedCell(0, "", "rows", str(len(body)), few),))
    ignored = tuple(
        cell for cell, match in zip(lines[0], matched, strict=False) if not match and cell
    )
    refused, records = [], []
    for number, line in enumerate(body, start=1):
        record: Record = {}
        for match, cell in zip(matched, line, strict=False):
            if match:
                column, unit = match
                record[column.head] = under_head(cell, column, unit, notation.system)
        if extra := [cell for cell in line[len(matched) :] if cell]:
            places = f"{len(matched)} cells in a row"
            refused.append(RefusedCell(number, line[0], "beyond the last", extra[0], places))
        records.append(record)
    reading = read_records(schedule, records, notation.kept, marks=marks)
    return Reading(reading.records, reading.rows, (*refused, *reading.refused), ignored)


def _below_heads(matched: Heads, lines: Sequence[Sequence[str]]) -> tuple[Heads, Lines]:
    """Pass over what columns are called below their heads; give those without one their unit."""
    if lines and are_labels(matched, lines[0]):
        lines = lines[1:]
    if lines and are_units(matched, lines[0]):
        units = [*lines[0], *[""] * len(matched)]
        matched = [
            (match[0], match[1] or unit) if match else None
            for match, unit in zip(matched, units, strict=False)
        ]
        lines = lines[1:]
    return matched, lines


def are_labels(heads: Heads, line: Sequence[str]) -> bool:
    """Whether a line says what columns are called; a few may be called otherwise by now."""
    are_so = [
        folded(text) == folded(match[0].label)
        for match, text in zip(heads, line, strict=False)
        if match and text.strip()
    ]
    return sum(are_so) * 2 > len(are_so)


def are_units(heads: Heads, line: Sequence[str]) -> bool:
    """Whether a line holds units and nothing else: no word, no mark and no figure."""
    filled = [
        (text.strip(), match[0].is_number)
        for match, text in zip(heads, line, strict=False)
        if match and text.strip()
    ]
    are_no_cells = all(number and not quantities.is_bare(text) for text, number in filled)
    return are_no_cells and any(quantities.is_unit(text) for text, _ in filled)


def _is_data(schedule: Schedule, line: Sequence[str]) -> bool:
    """Tell a first row of data from heads: its mark reads as a mark, digits and all."""
    return bool(re.fullmatch(rf"{schedule.mark_prefix or '~'}\d+\w?", line[0]))


def under_head(cell: str, column: Column, unit: str, system: System = System.METRIC) -> str:
    """Return the text to keep of a cell: a bare number takes the unit that its head names.

    Where it names none the number is in the column's unit of the system. What is metric stays
    bare, and what has its own unit keeps it.
    """
    if column.scale is None or unit == column.unit() or not quantities.is_bare(cell):
        return cell
    if unit:
        return f"{cell} {unit}"
    is_metric = system is System.METRIC
    return cell if is_metric else quantities.with_unit(cell, column.scale, system)


def match_heads(schedule: Schedule, cells: Sequence[str]) -> list[tuple[Column, str] | None]:
    """Match each heading, None where it means no column or one that another meant before."""
    matched: list[tuple[Column, str] | None] = []
    for cell in cells:
        match = match_head(schedule, cell)
        is_new = match and match[0] not in [m[0] for m in matched if m]
        matched.append(match if is_new else None)
    return matched


def match_head(schedule: Schedule, text: str) -> tuple[Column, str] | None:
    """Return the column that a heading means, and the unit it names, if any."""
    match = re.fullmatch(r"\s*(.*?)\s*(?:[\[(]([^\])]*)[\])]|,\s*(\S+))?\s*", text, re.DOTALL)
    assert match
    name, unit = match[1], (match[2] or match[3] or "").strip()
    whole, named = folded(text), folded(name)
    for column, known in schedule.called:
        is_whole = whole in known
        if is_whole or named in known:
            has_unit = column.scale and (quantities.is_unit(unit) or not is_whole)
            return column, (unit if has_unit else "")
    return _as_shown(schedule, text)


def _as_shown(schedule: Schedule, text: str) -> tuple[Column, str] | None:
    """Return the column of a head taken off a page, its unit close behind: “Frame widthmm”."""
    for column in schedule.columns:
        for unit in dict.fromkeys(column.unit(system) for system in System):
            name = text.strip().removesuffix(unit)
            if unit and name != text.strip() and folded(name) == folded(column.label):
                return column, unit
    return None


def parse_block(text: str) -> list[list[str]]:
    """Part a pasted block into cells: tabs where there are any, else commas or semicolons.

    A comma between two digits may be a decimal sign, so it doesn't speak against semicolons.
    A cell may begin with an inch sign, which looks like a quote. Quotes are plain signs
    where reading them as quotes leaves rows of unequal width or swallows rows.

    Raises Refused where a cell is longer than any cell may be.
    """
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    first = next((line for line in text.split("\n") if line.strip()), "")
    commas = len(re.findall(r"(?<!\d),|,(?!\d)", first))
    sign = "\t" if "\t" in first else ";" if first.count(";") > commas else ","
    try:
        quoted = list(csv.reader(io.StringIO(text), delimiter=sign))
        plain = list(csv.reader(io.StringIO(text), delimiter=sign, quoting=csv.QUOTE_NONE))
    except csv.Error:
        longest = f"cells of at most {csv.field_size_limit():,} characters"
        raise Refused(text, longest) from None
    are_swallowed = len(plain) > len(quoted)
    if are_swallowed and not _are_quotes_closed(text, sign):
        return _unguarded(plain)
    if _is_even(plain) and (are_swallowed or not _is_even(quoted)):
        return _unguarded(plain)
    return _unguarded(quoted)


def _is_even(grid: Sequence[Sequence[str]]) -> bool:
    return len({len(line) for line in grid if line}) < 2


def _are_quotes_closed(text: str, sign: str) -> bool:
    """Tell whether each cell that begins with a quote ends with one."""
    try:
        list(csv.reader(io.StringIO(text), delimiter=sign, strict=True))
    except csv.Error:
        return False
    return True


def _unguarded(grid: Sequence[Sequence[str]]) -> list[list[str]]:
    return [[as_typed(cell) for cell in line] for line in grid]


def write_csv(
    schedule: Schedule, records: Iterable[Mapping[str, str]], units: System | None = None
) -> str:
    """Write typed records as CSV, as typed; heads name their units of a system, where one is.

    A head in US units is the label: the other, such as floor_m2, names a metric unit by itself.
    """
    is_us = units is System.US
    named = [
        (c.label if is_us else c.head, c.unit(units) if units else "") for c in schedule.columns
    ]
    heads = [f"{head} [{unit}]" if unit else head for head, unit in named]
    return csv_of([heads, *([record.get(h, "") for h in schedule.heads] for record in records)])
