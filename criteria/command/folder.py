"""Read a package from a folder of CSV files, one a schedule, named by the schedules' slugs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from criteria.errors import Refused
from criteria.package import Package, read_package
from criteria.schedules import CLIMATE, LEADER_SCHEDULES, SCHEDULES, SITE
from criteria.targets.reading import TARGETS, Target, read_targets
from criteria.targets.words import figures_of
from criteria.typed.rows import Schedule
from criteria.typed.tables import (
    Record,
    RefusedCell,
    match_head,
    match_heads,
    parse_block,
    under_head,
)
from criteria.units import PLAIN, Notation

SINGLE_VALUES = "single_values.csv"
"""A file that may hold the columns of all single-row schedules side by side."""


class Unreadable(ValueError):
    """Input that can't be read; each line of `problems` names file, row, column, read, expected."""

    def __init__(self, problems: list[str]) -> None:
        super().__init__("\n".join(problems))
        self.problems = problems


@dataclass(frozen=True)
class Table:
    """A CSV file as typed records, each with its row in the file (the heads are row 1)."""

    name: str
    records: tuple[Record, ...]
    rows: tuple[int, ...]

    def problem(self, cell: RefusedCell) -> str:
        """Write a refused cell with file and row."""
        mark = f" ({cell.mark})" if cell.mark else ""
        row = self.rows[cell.row - 1] if 0 < cell.row <= len(self.rows) else 1
        return (
            f"{self.name}, row {row}{mark}, column {cell.column}: read “{cell.read}”; "
            f"expected {cell.expected}"
        )


def read_table(path: Path, schedule: Schedule, only: Mapping[str, str]) -> Table:
    """Read one file; `only` keeps the rows whose cell under a head has a value, where it is there.

    Raises Unreadable where the file is no UTF-8 text or lacks a required column.
    """
    try:
        grid = parse_block(path.read_text(encoding="utf-8-sig"))
    except UnicodeDecodeError as error:
        row = error.object.count(b"\n", 0, error.start) + 1
        place = f"{path.name}, row {row}"
        read = f"read byte {error.object[error.start]:#04x}"
        raise Unreadable([f"{place}: {read}; expected text in UTF-8"]) from None
    except Refused as refusal:
        raise Unreadable([f"{path.name}: {refusal}"]) from None
    if not grid or not any(cell.strip() for cell in grid[0]):
        raise Unreadable([f"{path.name}, row 1: read nothing; expected heads"])
    heads = [cell.strip() for cell in grid[0]]
    columns = match_heads(schedule, heads)
    found = {match[0].head for match in columns if match}
    unmatched = [head for head, match in zip(heads, columns, strict=True) if not match]
    if again := [head for head in unmatched if match_head(schedule, head)]:
        raise Unreadable(
            [f"{path.name}, row 1, heads: read “{again[0]}” again; expected each column once"]
        )
    lacking = [c.head for c in schedule.columns if c.required and c.head not in found]
    if lacking:
        listed = ", ".join(heads)
        wanted = ", ".join(lacking)
        raise Unreadable(
            [f"{path.name}, row 1, heads: read “{listed}”; expected also a column {wanted}"]
        )
    records, rows, problems = [], [], []
    for number, line in enumerate(grid[1:], start=2):
        values = [cell.strip() for cell in line]
        cells = dict(zip(heads, values, strict=False))
        if not any(values) or any(
            head in cells and cells[head] != value for head, value in only.items()
        ):
            continue
        if extra := [cell for cell in values[len(heads) :] if cell]:
            problems.append(
                f"{path.name}, row {number}, beyond the last column: read “{extra[0]}”; "
                f"expected {len(heads)} cells in a row"
            )
        pairs = zip(columns, values, strict=False)
        records.append({m[0].head: under_head(cell, *m) for m, cell in pairs if m})
        rows.append(number)
    if problems:
        raise Unreadable(problems)
    return Table(path.name, tuple(records), tuple(rows))


def packages_in(folder: Path) -> list[tuple[str, str]]:
    """Return the schemes and revisions that the files of a folder hold, in file order."""
    found: dict[tuple[str, str], None] = {}
    for name in (*(f"{schedule.slug}.csv" for schedule in SCHEDULES), SINGLE_VALUES):
        for cells in _cells(folder / name):
            if cells.get("scheme"):
                found[(cells["scheme"], cells.get("rev", ""))] = None
    return list(found)


def _path_of(folder: Path, schedule: Schedule) -> Path:
    """Return a schedule's own file; one of a single row may stand in the shared one instead."""
    own = folder / f"{schedule.slug}.csv"
    shared = folder / SINGLE_VALUES
    is_shared = schedule.is_single and schedule is not SITE and not own.is_file()
    return shared if is_shared else own


def _cells(path: Path) -> Iterator[dict[str, str]]:
    if not path.is_file():
        return
    try:
        grid = parse_block(path.read_text(encoding="utf-8-sig", errors="replace"))
    except Refused:
        return  # read_table says so
    stripped = [[cell.strip() for cell in line] for line in grid]
    for line in stripped[1:]:
        yield dict(zip(stripped[0], line, strict=False))


def cohort_of(folder: Path, scheme: str) -> str:
    """Return the cohort that the folder's schemes.csv gives for a scheme, or nothing."""
    rows = _cells(folder / "schemes.csv")
    return next((r["cohort"] for r in rows if r.get("no") == scheme and "cohort" in r), "")


@dataclass(frozen=True)
class FolderReading:
    """What was read of a folder.

    figures     figures of the site sheet that only the targets' words gave, by label
    refused     cells that couldn't be read, each with file, row, column, read and expected
    records     what was typed, by schedule
    """

    package: Package
    targets: tuple[Target, ...]
    figures: Mapping[str, str]
    refused: tuple[str, ...] = ()
    records: Mapping[str, list[Record]] = field(default_factory=dict)


def read_folder(
    folder: Path,
    *,
    targets_file: Path | None = None,
    site_file: Path | None = None,
    scheme: str = "",
    rev: str = "",
    cohort: str = "",
    notation: Notation = PLAIN,
) -> FolderReading:
    """Read the package of a folder and the targets it is held to.

    Raises Unreadable with every file or head that can't be read, so that all can be mended at
    once; a cell that can't is named in `refused`, and what asks for it has no data.
    """
    if not folder.is_dir():
        raise Unreadable([f"{folder}: read no folder; expected a folder of schedule CSVs"])
    scheme, rev = _choose(folder, scheme, rev)
    cohort = cohort or cohort_of(folder, scheme)
    only = {k: v for k, v in {"scheme": scheme, "rev": rev, "cohort": cohort}.items() if v}
    problems: list[str] = []
    tables: dict[str, Table] = {}
    unread: set[str] = set()
    for schedule in (*SCHEDULES, *LEADER_SCHEDULES):
        path = _path_of(folder, schedule)
        if schedule is SITE and site_file:
            path = site_file
            if not path.is_file():
                problems.append(f"{path}: read no file; expected a CSV of the site sheet")
        is_climate = schedule is CLIMATE
        held = _climate_of(path, tables.get(SITE.slug)) if is_climate else only
        if path.is_file() and held is not None:
            try:
                tables[schedule.slug] = read_table(path, schedule, held)
            except Unreadable as unreadable:
                problems += unreadable.problems
                unread.add(schedule.slug)
    if not tables and not problems:
        names = ", ".join(f"{schedule.slug}.csv" for schedule in SCHEDULES)
        problems.append(f"{folder}: read no schedule; expected any of {names}")
    path = targets_file or folder / "targets.csv"
    refused: list[str] = []
    are_there = targets_file or path.is_file()
    targets, words = _targets(path, only, problems, refused, notation) if are_there else ((), {})
    records = {slug: list(table.records) for slug, table in tables.items()}
    given = (records.get("site") or [{}])[0]
    figures = {head: text for head, text in words.items() if not given.get(head)}
    records["site"] = [{**given, **figures}, *records.get("site", [])[1:]]
    reading = read_package(records, notation, unread=unread)
    for slug, cells in reading.refused.items():
        from_words = Table(f"{path.name}, in words", (), ())
        refused += [tables.get(slug, from_words).problem(cell) for cell in cells]
    if problems:
        raise Unreadable(problems)
    labels = {SITE.column(head).label: text for head, text in figures.items()}
    return FolderReading(reading.package, targets, labels, tuple(refused), records)


def _climate_of(path: Path, site: Table | None) -> dict[str, str] | None:
    """Return which rows of the climate table are the site's; None where that isn't known."""
    places = {cells["site"] for cells in _cells(path) if "site" in cells}
    if len(places) < 2:
        return {}
    named = site.records[0].get("climate_site", "") if site and site.records else ""
    return {"site": named} if named in places else None


def _choose(folder: Path, scheme: str, rev: str) -> tuple[str, str]:
    held = packages_in(folder)
    fitting = [p for p in held if scheme in ("", p[0]) and rev in ("", p[1])]
    if not held or len(fitting) == 1:
        return fitting[0] if fitting else (scheme, rev)
    listed = ", ".join(f"{s} {r}".strip() for s, r in held)
    asked = f"{scheme} {rev}".strip() or "no --scheme and --rev"
    raise Unreadable([f"{folder}: read {asked}; expected one package among {listed}"])


def _targets(
    path: Path,
    only: Mapping[str, str],
    problems: list[str],
    refused: list[str],
    notation: Notation,
) -> tuple[tuple[Target, ...], dict[str, str]]:
    if not path.is_file():
        problems.append(f"{path}: read no file; expected a CSV of targets")
        return (), {}
    try:
        table = read_table(path, TARGETS, {k: v for k, v in only.items() if k == "cohort"})
    except Unreadable as unreadable:
        problems += unreadable.problems
        return (), {}
    cohorts = list(dict.fromkeys(row["cohort"] for row in _cells(path) if row.get("cohort")))
    cohort = only.get("cohort", "")
    is_one = cohort in cohorts if cohort else len(cohorts) < 2
    if cohorts and not is_one:
        problems.append(
            f"{path.name}, column cohort: read {cohort or 'no --cohort'}; "
            f"expected one cohort among {', '.join(cohorts)}"
        )
        return (), {}
    reading = read_targets(table.records, notation)
    refused += [table.problem(cell) for cell in reading.refused]
    figures: dict[str, str] = {}
    for record in table.records:
        for head, text in figures_of(record).items():
            figures.setdefault(head, text)
    return reading.targets, figures
