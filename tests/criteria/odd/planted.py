"""Slips planted in the demo's packages and honest variations of them, and what is asked of each.

`data/slips.csv` and `data/honest.csv` say, a line each, which cell of which row is changed and
how, on text as it is typed. Both were written before the rules that they try. The demo's
packages lack a few schedules; `data/additions.csv` and `data/sizes.csv` fill them in honestly.

Edits, parted by semicolons: `head := text`, `head * 10`, `head / 10`, `head <- other`,
`head <- schedule.other unit`, `head <-> other`, or `remove` for the whole row. The row is the
first that fits `where` and has something under every head that is reckoned with.
"""

import csv
import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from criteria.check_sheet.sheet import check_sheet
from criteria.odd.values import asked_by_rule
from criteria.package import read_package
from criteria.schedules import LEADER_SCHEDULES, SCHEDULES
from criteria.targets.reading import Target, read_targets
from criteria.targets.words import figures_of

DATA = Path(__file__).parent / "data"
DEMO = Path(__file__).parents[3] / "reviews" / "demo" / "data"
PACKAGES = ("H03 B", "H07 A", "H07 B", "E11 C")
FOLDING = "folding"
"""A building that folds, in `data/folding.csv`: ours, every schedule of states in it."""

Row = dict[str, str]
Tables = dict[str, list[Row]]
Place = tuple[str, str, int, str]
"""Schedule, mark, row and head of what is asked about."""


@dataclass(frozen=True)
class Change:
    """One line of a list: what it is, and what it does to which row."""

    name: str
    schedule: str
    where: str
    edit: str


@dataclass(frozen=True)
class Outcome:
    """What came of a change in one package.

    asked     places asked about that weren't before
    rules     names of the rules that ask
    stays     whether a cell that was changed is asked about as it was before
    refused   whether a cell of it is refused by its column
    """

    package: str
    change: Change
    asked: frozenset[Place]
    rules: frozenset[str]
    stays: bool
    refused: bool

    @property
    def is_seen(self) -> bool:
        """Whether a reader is told of it."""
        return self.refused or self.stays or bool(self.asked)

    @property
    def is_new(self) -> bool:
        """Whether a reader is told what wasn't told before."""
        return self.refused or bool(self.asked)


def read_csv(path: Path) -> list[Row]:
    """Read a table of text."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def changes(name: str) -> list[Change]:
    """Read a list of changes: "slips" or "honest"."""
    return [Change(*row.values()) for row in read_csv(DATA / f"{name}.csv")]


def _of_package(name: str, package: str) -> list[Row]:
    scheme, rev = package.split()
    rows = [r for r in read_csv(DEMO / f"{name}.csv") if (r["scheme"], r["rev"]) == (scheme, rev)]
    return [{h: text for h, text in row.items() if h not in ("scheme", "rev")} for row in rows]


@cache
def _targets(cohort: str) -> tuple[list[Row], tuple[Target, ...]]:
    rows = [row for row in read_csv(DEMO / "targets.csv") if row["cohort"] == cohort]
    return rows, read_targets(rows).targets


def extra(name: str, package: str) -> Tables:
    """Return the rows of a package in a file of rows: "head=text; head=text" a line."""
    tables: Tables = {}
    for line in read_csv(DATA / f"{name}.csv"):
        if line["package"] == package:
            cells = dict(part.strip().split("=", 1) for part in line["cells"].split(";"))
            tables.setdefault(line["schedule"], []).append(cells)
    return tables


@cache
def typed(package: str) -> Tables:
    """Return a demo package as typed records, with what the demo leaves out, or the folding one."""
    if package == FOLDING:
        return extra(FOLDING, package)
    tables: Tables = {}
    single = _of_package("single_values", package)[0]
    for schedule in SCHEDULES:
        if schedule in LEADER_SCHEDULES:
            continue
        if (DEMO / f"{schedule.slug}.csv").is_file():
            tables[schedule.slug] = _of_package(schedule.slug, package)
        elif schedule.is_single and (held := set(schedule.heads) & set(single)):
            tables[schedule.slug] = [{head: single[head] for head in held}]
    given = extra("additions", package)
    tables |= {slug: rows for slug, rows in given.items() if not tables.get(slug)}
    for line in read_csv(DATA / "sizes.csv"):
        for room in tables["rooms"]:
            if (line["package"], line["mark"]) == (package, room["mark"]):
                room.update(depth_m=line["depth_m"], width_m=line["width_m"])
    cohort = package[0]
    site = next(row for row in read_csv(DEMO / "site.csv") if row["cohort"] == cohort)
    for target in _targets(cohort)[0]:
        for head, text in figures_of(target).items():
            site[head] = site.get(head) or text
    tables["site"] = [site]
    for slug in ("states", "cases"):
        rows = [row for row in read_csv(DEMO / f"{slug}.csv") if row.pop("cohort") == cohort]
        tables[slug] = rows
    return tables


def _fits(row: Row, where: str) -> bool:
    for condition in filter(None, where.split("&")):
        head, sign, wanted = re.split(r"(!=|=|~|>)", condition, maxsplit=1)
        text = row.get(head, "")
        if sign == "~":
            fits = re.search(wanted, text, re.IGNORECASE) is not None
        elif sign == ">":
            fits = float(text or 0) > float(row.get(wanted, wanted))
        else:
            fits = (text == wanted) is (sign == "=")
        if not fits:
            return False
    return True


_BY: dict[str, Callable[[float, float], float]] = {
    "*": lambda a, b: a * b,
    "/": lambda a, b: a / b,
}


def _edit(row: Row, edit: str, tables: Tables) -> None:
    head, sign, rest = (*edit.split(" ", 2), "")[:3]
    if sign == ":=":
        row[head] = rest
    elif sign == "<->":
        row[head], row[rest] = row[rest], row[head]
    elif sign == "<-" and "." in rest:
        place, unit = rest.split(" ")
        schedule, other = place.split(".")
        row[head] = f"{tables[schedule][0][other]} {unit}"
    elif sign == "<-":
        row[head] = row[rest]
    else:
        row[head] = f"{_BY[sign](float(row[head]), float(rest)):.6g}"


def changed(tables: Tables, change: Change) -> Tables | None:
    """Return the tables with a change made, or None where no row takes it."""
    edits = [edit.strip() for edit in change.edit.split(";")]
    needs = [e.split(" ")[0] for e in edits if e != "remove" and " := " not in f"{e} "]
    if any(source not in tables for source in re.findall(r"<- (\w+)\.", change.edit)):
        return None
    rows = deepcopy(tables.get(change.schedule, []))
    fitting = (r for r in rows if _fits(r, change.where) and all(_is_some(r, h) for h in needs))
    row = next(fitting, None)
    if row is None:
        return None
    if edits == ["remove"]:
        rows.remove(row)
    else:
        for edit in edits:
            _edit(row, edit, tables)
    made = {**tables, change.schedule: rows}
    return None if made == tables else made


def _is_some(row: Row, head: str) -> bool:
    return row.get(head, "") not in ("", "0", "0.0")


@cache
def _before(package: str) -> tuple[dict[Place, str], int]:
    return _asked(typed(package))


def _asked(tables: Tables) -> tuple[dict[Place, str], int]:
    reading = read_package(tables)
    refused = sum(len(cells) for cells in reading.refused.values())
    odd = asked_by_rule(reading.package)
    return {(o.schedule, o.mark, o.row, o.head): rule for rule, o in odd}, refused


def asked_of(package: str) -> frozenset[Place]:
    """Return where a package is asked about as it stands."""
    return frozenset(_before(package)[0])


def passes(package: str, change: Change) -> tuple[str, ...]:
    """Return the targets that a change turns from missed to met."""
    made = changed(typed(package), change)
    if made is None:
        return ()
    targets = _targets(package[0])[1]
    before, after = (
        check_sheet(read_package(tables).package, targets) for tables in (typed(package), made)
    )
    missed = {f.ref for f in before.asked if f.state.is_missed}
    return tuple(f.ref for f in after.asked if f.ref in missed and f.state.is_met)


@cache
def outcome(package: str, change: Change) -> Outcome | None:
    """Return what came of a change in a package, or None where nothing there takes it."""
    made = changed(typed(package), change)
    if made is None:
        return None
    (before, refused_before), (after, refused) = _before(package), _asked(made)
    heads = {edit.strip().split(" ")[0] for edit in change.edit.split(";")}
    rows = typed(package)[change.schedule]
    marks = {row.get("mark", "") for row in made[change.schedule] if row not in rows}
    stays = any(
        schedule == change.schedule and mark in marks and head in heads
        for schedule, mark, _, head in after.keys() & before
    )
    asked = {place: rule for place, rule in after.items() if place not in before}
    rules = frozenset(asked.values())
    return Outcome(package, change, frozenset(asked), rules, stays, refused > refused_before)


def outcomes(name: str) -> Iterator[Outcome]:
    """Try every change of a list in every package of the demo."""
    for change in changes(name):
        for package in (*PACKAGES, FOLDING):
            found = outcome(package, change)
            if found:
                yield found
