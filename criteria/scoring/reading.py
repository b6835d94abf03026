"""Levels from a file, refused by row and column where they can't be read.

Columns: scheme, juror, criterion, level; optional: cohort, crit, position. One
row for each level, commas between, UTF-8. Lines that begin with # are notes.
An empty level means none yet; "not mine to judge" leaves the criterion to others.
"""

import csv
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from criteria.errors import Refused
from criteria.scoring.levels import NOT_MINE, NotJudged
from criteria.scoring.panel import Panel
from criteria.typed.csv_cells import as_typed

NEEDED = ("scheme", "juror", "criterion", "level")
OPTIONAL = ("cohort", "crit", "position")
NUMBER = re.compile(r"[+-]?(\d{1,18}(\.\d{0,18})?|\.\d{1,18})([eE][+-]?\d{1,2})?")
RESERVED = "totals"
"""Beside the criteria, the name under which agreement on the whole is given."""


class FileRefused(Refused):
    """A cell of a file that can't be read.

    file, row, column   where it stands; row counts lines from 1, the header's
    read, expected      what stands there, and what would have been read
    """

    def __init__(self, file: str, row: int, column: str, read: str, expected: str) -> None:
        super().__init__(read, expected)
        self.file, self.row, self.column = file, row, column

    def __str__(self) -> str:
        return (
            f"{self.file}, row {self.row}, column {self.column}: "
            f"read “{self.read}”; expected {self.expected}"
        )


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a CSV file and the line it stands on."""

    line: int
    cells: Mapping[str, str]


def read_levels(
    path: Path,
    *,
    weights: Mapping[str, Fraction] | None = None,
    scale: tuple[Fraction, Fraction] | None = None,
    schemes: Collection[str] | None = None,
    only: Mapping[str, str] | None = None,
    together: bool = False,
) -> tuple[Panel, ...]:
    """One panel for each cohort and crit in a file, in the order in which they come.

    weights    by criterion; without them criteria count alike
    scale      lowest and highest level allowed; without it any number is
    schemes    names allowed; without them any name is
    only       cohort, crit or both: rows of others are passed over
    together   the rows as one panel, whatever their cohort and crit

    Errors: FileRefused, for the first cell that can't be read.
    """
    file = path.name
    levels: dict[str, dict[tuple[str, str, str], Fraction | NotJudged]] = {}
    positions: dict[str, dict[tuple[str, str], float]] = {}
    lines: dict[tuple[str, str, str, str], int] = {}
    only = only or {}
    passed: dict[str, dict[str, int]] = {column: {} for column in only}
    for row in rows_of(path, (*NEEDED, *only), OPTIONAL):
        for column in only:
            passed[column].setdefault(row.cells[column], row.line)
        if any(row.cells[column] != name for column, name in only.items()):
            continue

        def refuse(column: str, expected: str, row: Row = row) -> FileRefused:
            return FileRefused(file, row.line, column, row.cells.get(column, ""), expected)

        for column in ("scheme", "juror", "criterion"):
            if not row.cells[column]:
                raise refuse(column, f"the name of a {column}")
        scheme, juror, criterion = (row.cells[c] for c in ("scheme", "juror", "criterion"))
        if schemes is not None and scheme not in schemes:
            raise refuse("scheme", f"a scheme of the list ({_some(schemes)})")
        if criterion == RESERVED:
            raise refuse("criterion", f"another name; “{RESERVED}” is the sum of the criteria")
        if weights is not None and criterion not in weights:
            raise refuse("criterion", f"a criterion with a weight ({_some(weights)})")
        name = "all crits" if together else _name(row)
        first = lines.setdefault((name, scheme, juror, criterion), row.line)
        if first != row.line:
            raise refuse(
                "level", f"one level for {scheme}, {juror}, {criterion}, which row {first} gives"
            )
        place = row.cells.get("position", "")
        if place:
            if not NUMBER.fullmatch(place):
                raise refuse("position", "a place in the order of the day, such as 3, or nothing")
            known = positions.setdefault(name, {}).setdefault((scheme, juror), float(place))
            if known != float(place):
                raise refuse("position", f"{known:g}, as for this sheet's other criteria")
        level = _level(row.cells["level"], scale)
        if isinstance(level, str):
            raise refuse("level", level)
        panel = levels.setdefault(name, {})
        if level is not None:
            panel[scheme, juror, criterion] = level
    if not levels:
        column = next((c for c in only if only[c] not in passed[c]), "crit")
        raise FileRefused(
            file, 1, column, ", ".join(passed.get(column, ())), f"{column} {only.get(column)}"
        )
    for name, found in levels.items():
        if not any(isinstance(level, Fraction) for level in found.values()):
            expected = "a number in at least one row"
            raise FileRefused(file, 2, "level", f"no level in {name}", expected)
    return tuple(
        Panel(name, found, _weights(found, weights), positions.get(name, {}), scale)
        for name, found in levels.items()
    )


def read_weights(path: Path) -> dict[str, Fraction]:
    """Weights by criterion from a file with the columns criterion and weight.

    Errors: FileRefused for a weight that is no number of 0 or more, a criterion
        given twice, or weights that add to 0.
    """
    result: dict[str, Fraction] = {}
    line = 1
    for row in rows_of(path, ("criterion", "weight"), ()):
        line, name, text = row.line, row.cells["criterion"], row.cells["weight"]
        if not name or name in result:
            expected = f"a criterion given once; {name} comes twice" if name else "a criterion"
            raise FileRefused(path.name, line, "criterion", name, expected)
        if not NUMBER.fullmatch(text) or Fraction(text) < 0:
            raise FileRefused(path.name, line, "weight", text, "a number of 0 or more, such as 15")
        result[name] = Fraction(text)
    if not sum(result.values()):
        raise FileRefused(path.name, line, "weight", "0 in all", "a weight above 0")
    return result


def read_names(path: Path) -> tuple[str, ...]:
    """The names of the schemes in a file."""
    names = (row.cells["scheme"] for row in rows_of(path, ("scheme",), ()))
    return tuple(dict.fromkeys(name for name in names if name))


def rows_of(path: Path, needed: Iterable[str], optional: Iterable[str]) -> Iterator[Row]:
    """The rows of a CSV file, with only the columns asked for, stripped of blanks.

    Errors: FileRefused where the file can't be opened or decoded, is empty,
        lacks a column, or a row has more cells than the header.
    """
    file, needed = path.name, tuple(needed)
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        reason = error.strerror or "error"
        raise FileRefused(file, 1, needed[0], reason, "a file that can be opened") from error
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        odd = error.object[error.start : error.start + 1].hex()
        raise FileRefused(file, line, needed[0], f"byte {odd}", "text in UTF-8") from error
    noted = ("\n" if line.startswith("#") else line for line in text.splitlines(keepends=True))
    reader = csv.reader(noted, strict=True)
    header: list[str] | None = None
    count = 0
    try:
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            if header is None:
                header = [cell.strip().lower() for cell in cells]
                _check_header(file, reader.line_num, header, needed)
                wanted = [c for c in (*needed, *optional) if c in header]
                continue
            if len(cells) > len(header):
                raise FileRefused(
                    file,
                    reader.line_num,
                    str(len(header) + 1),
                    cells[len(header)],
                    f"{len(header)} cells, as in the header",
                )
            named = dict(zip(header, (as_typed(cell).strip() for cell in cells), strict=False))
            count += 1
            yield Row(reader.line_num, {column: named.get(column, "") for column in wanted})
    except csv.Error as error:
        raise FileRefused(
            file, reader.line_num, needed[0], str(error), "cells between commas, quotes closed"
        ) from error
    if header is None:
        raise FileRefused(file, 1, needed[0], "an empty file", f"columns {', '.join(needed)}")
    if not count:
        raise FileRefused(file, reader.line_num + 1, needed[0], "no row", "a row for each level")


def _check_header(file: str, line: int, header: list[str], needed: Iterable[str]) -> None:
    for column in needed:
        if header.count(column) != 1:
            expected = f"column {column} once, beside {', '.join(c for c in needed if c != column)}"
            raise FileRefused(file, line, column, ", ".join(header), expected)


def _level(text: str, scale: tuple[Fraction, Fraction] | None) -> Fraction | NotJudged | str | None:
    """A level, not mine to judge, None for an empty cell; or, as text, what was expected."""
    if not text:
        return None
    if text.lower() == NOT_MINE.value:
        return NOT_MINE
    expected = f"a number, “{NOT_MINE.value}”, or nothing"
    if scale is not None:
        expected = f"a level from {scale[0]} to {scale[1]}, “{NOT_MINE.value}”, or nothing"
    if not NUMBER.fullmatch(text):
        return expected
    level = Fraction(text)
    if scale is not None and not scale[0] <= level <= scale[1]:
        return expected
    return level


def _weights(
    levels: Mapping[tuple[str, str, str], object], weights: Mapping[str, Fraction] | None
) -> dict[str, Fraction]:
    used = dict.fromkeys(criterion for _, _, criterion in levels)
    if weights is None:
        return dict.fromkeys(sorted(used), Fraction(1))
    return {name: weight for name, weight in weights.items() if name in used}


def _name(row: Row) -> str:
    parts = (row.cells.get("cohort", ""), row.cells.get("crit", ""))
    return " ".join(part for part in parts if part) or "the crit"


def _some(names: Iterable[str]) -> str:
    listed = list(names)
    return ", ".join(listed[:8]) + (f" and {len(listed) - 8} more" if len(listed) > 8 else "")
