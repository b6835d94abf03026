"""Write the schedules of the demo's other schemes, once: `python -m reviews.demo.generate`.

Four packages of the scenario are given row by row. Of the rest only headline figures are
told. This finds sizes that a student might have drawn and that land near those figures: the
check values themselves are never written, they are computed like anybody's.
"""

import csv
from collections.abc import Callable, Iterable

from criteria.check_sheet.sheet import CheckSheet, check_sheet
from criteria.package import read_package
from reviews.demo.drafting import Cohort, draft
from reviews.demo.tables import GENERATED, TABLES, Rows, given, read_csv, typed

GIVEN = {"H03", "H07", "E11"}
"""Schemes whose packages are given row by row."""
GIVEN_LATER = {"H14"}
"""Of which the last revision is, on what was drafted of the earlier."""

FLIPS = (
    *("grey", "wall", "urine", "battery", "kitchen", "weight", "floor_u", "air", "precedents"),
    *("light", "door", "solids", "change", "roof", "size", "travel", "threshold", "openable"),
    "ways",
)
"""Design slips; a scheme makes as many as its headline says, from a start of its own."""


def headlines() -> dict[str, dict[str, float]]:
    """Return the headline figures of every scheme, by number."""
    found = {}
    for cohort in "HE":
        for row in read_csv(f"headline_{cohort}"):
            number = row.pop("no.")
            found[number] = {head: float(value.replace(",", "")) for head, value in row.items()}
    return found


def scheme_tables(number: str, told: dict[str, float], cohort: Cohort) -> dict[str, Rows]:
    """Return every schedule of a scheme, with as many slips as its headline tells."""
    start = int(number[1:]) * 5 % len(FLIPS)
    order = FLIPS[start:] + FLIPS[:start]
    wanted = int(told["short/over of 30"])
    slips: set[str] = set()
    for slip in ("", *order):
        slips |= {slip} - {""}
        tables = draft(number, told, cohort, slips)
        if missed(tables, cohort) >= wanted:
            break
    return tables


def missed(tables: dict[str, Rows], cohort: Cohort) -> int:
    """Return how many of the brief's targets a scheme misses."""
    return sheet_of(tables, cohort).missed


def sheet_of(tables: dict[str, Rows], cohort: Cohort) -> CheckSheet:
    """Return the check sheet of a scheme's tables."""
    leaders = {"site": [cohort.site], "climate": cohort.climate}
    package = read_package({**typed(tables), **leaders}).package
    return check_sheet(package, cohort.targets)


def earlier(tables: dict[str, Rows]) -> dict[str, Rows]:
    """Return a package as it stood at the interim: less water, less stowage, a thinner roof.

    Nothing was furnished yet.
    """
    shrunk = {
        name: [_shrunk(row, head, share, step) if is_less(row) else row for row in tables[name]]
        for name, head, share, step, is_less in _SHRINKS
    }
    return {**tables, **shrunk, "furniture": []}


def as_drafted(tables: dict[str, Rows], drafted: dict[str, Rows]) -> dict[str, Rows]:
    """Return of a package given row by row what a drafted one says: earlier nobody said more."""
    heads = {name: set(rows[0]) for name, rows in drafted.items() if rows}
    return {
        name: [{h: v for h, v in row.items() if h in heads.get(name, row)} for row in rows]
        for name, rows in tables.items()
        if name in (*heads, "claims")
    }


def _shrunk(row: dict[str, str], head: str, share: float, step: int) -> dict[str, str]:
    return {**row, head: str(round(float(row[head] or 0) * share / step) * step)}


_SHRINKS: tuple[tuple[str, str, float, int, Callable[[dict[str, str]], bool]], ...] = (
    ("tanks", "litres", 0.9, 5, lambda row: row["holds"] == "potable"),
    ("stowage", "l_each", 0.85, 1, lambda row: True),
    ("envelope", "mm", 0.85, 1, lambda row: row["part"] == "roof" and float(row["mm"] or 0) > 150),
)
"""Table, column, share and rounding of what an interim had less of, and of which rows."""


def everything() -> Iterable[tuple[str, str, dict[str, Rows]]]:
    """Yield scheme, letter and tables of every package that the scenario doesn't give."""
    told = headlines()
    cohorts = {letter: Cohort(letter) for letter in "HE"}
    for number, figures in sorted(told.items()):
        if number in GIVEN:
            continue
        final = scheme_tables(number, figures, cohorts[number[0]])
        yield number, "A", earlier(final)
        if number not in GIVEN_LATER:
            yield number, "B", final
    hut, station = (as_drafted(given(*key), final) for key in (("H03", "B"), ("E11", "C")))
    yield "H03", "A", earlier(hut)
    yield "E11", "A", earlier(earlier(station))
    yield "E11", "B", earlier(station)


def main() -> None:
    """Write one file a schedule, with scheme and rev before its own columns."""
    GENERATED.mkdir(exist_ok=True)
    lines: dict[str, Rows] = {name: [] for name in TABLES}
    for number, rev, tables in everything():
        for name, table in tables.items():
            lines[name] += [{"scheme": number, "rev": rev, **row} for row in table]
    for name, rows in lines.items():
        if not rows:
            continue
        heads = list(dict.fromkeys(head for row in rows for head in row))
        with (GENERATED / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, heads, lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)


if __name__ == "__main__":
    main()
