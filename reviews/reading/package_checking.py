"""Check a package: what its brief has in force, held against its schedules."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

import criteria.package
from criteria.check_sheet.sheet import CheckSheet, asked_sheet, check_sheet
from criteria.targets.reading import Target, read_targets
from criteria.typed.tables import RefusedCell
from criteria.units import Notation
from reviews.models import Brief, Package, Revision, Sheet
from reviews.models.weather import read_tables
from reviews.reading.brief_reading import MOST_BRIEFS, Record, with_figures_in_words
from reviews.reading.check_asides import standing_words, without
from reviews.reading.package_older_claims import older_claims, with_older_claims
from reviews.reading.sheet_marks import SheetMarks, marks_of_sheets, with_read_marks
from reviews.worked_out import MOST_PACKAGES, Tables, Told, fingerprint, kept

ASKED_BY = "asked_by"
"""Key under which a target's record says where it comes from: the brief, Addendum 1."""

Targets = list[Record]


class Asked(NamedTuple):
    """What a brief asks, as typed: its schedules, and targets with where each comes from.

    decimal   the sign in which figures are typed
    """

    site: Record
    targets: list[Record]
    climate: list[Record]
    states: list[Record]
    cases: list[Record]
    weather: list[Record]
    decimal: str

    @property
    def tables(self) -> dict[str, list[Record]]:
        """The schedules of the brief by slug."""
        return {
            "site": [self.site],
            "climate": self.climate,
            "states": self.states,
            "cases": self.cases,
            "weather": self.weather,
        }


def asked_by(brief: Brief) -> Asked:
    """Return what a brief asks: the latest addendum to change a line holds.

    A brief in preparation asks nothing yet.
    """
    if not brief.is_issued:
        return Asked({}, [], [], [], [], [], brief.decimal)
    targets = [{**line.cells, ASKED_BY: line.asked_by} for line in brief.lines_in_force()]
    tables = brief.leader_tables()
    site = with_figures_in_words(tables.pop("site")[0], targets)
    return Asked(site, targets, **tables, decimal=brief.decimal)


def targets_of(records: list[Record], notation: Notation) -> tuple[Target, ...]:
    """Read targets, each with where it comes from; those that can't be read stay, without data."""
    by = {record.get("id", "").strip(): record.get(ASKED_BY, "the brief") for record in records}
    read = read_targets(records, notation)
    return tuple(target.asked(by.get(target.ref, "the brief")) for target in read.targets)


class Checked(NamedTuple):
    """A package in SI, its check sheet, and by schedule what couldn't be read.

    told     the check sheet, told from others by all that it was read of
    tables   what was read, as typed, the brief's schedules among it
    marks    what was read on its sheets
    """

    package: criteria.package.Package
    told: Told[CheckSheet]
    refused: Mapping[str, Sequence[RefusedCell]]
    tables: Tables
    marks: Sequence[SheetMarks]

    @property
    def sheet(self) -> CheckSheet:
        return self.told.holds


def tables_of(package: Package) -> Told[Tables]:
    """The schedules of a package in preparation and of its brief, as typed."""
    asked = asked_by(package.scheme.studio.brief)
    marks = marks_of_sheets(package)
    return package.tables({**asked.tables, **with_read_marks(package, marks)})


def draft(
    package: Package, *, asked_alone: bool = False, hung: Iterable[Sheet] | None = None
) -> Checked:
    """Check a package in preparation; without what nothing asks for, where that isn't shown.

    hung   its sheets `with_letters`, where they are at hand
    """
    asked = asked_by(package.scheme.studio.brief)
    marks = marks_of_sheets(package, hung)
    tables = package.tables({**asked.tables, **with_read_marks(package, marks)})
    read = read_tables(tables, package.notation)
    read_of = tables, Told.of(asked.targets), package.notation
    words = standing_words(package.scheme)
    found = _asked_sheet(*read_of) if asked_alone else _sheet(*read_of)
    sheet = with_older_claims(without(found, words), package)
    told = Told(fingerprint(read_of, words, older_claims(sheet), asked_alone), sheet)
    return Checked(read.package, told, read.refused, tables.holds, marks)


def issued(revision: Revision) -> Told[CheckSheet]:
    """The check sheet of a revision as it was issued, less what is set aside."""
    told, words = revision.issued_checks, standing_words(revision.scheme)
    return Told(fingerprint(told, words), without(told.holds, words))


def issued_package(revision: Revision) -> criteria.package.Package:
    """The rows of a revision as they were issued, read today."""
    return read_tables(revision.tables, revision.notation).package


def issued_sheet(revision: Revision) -> CheckSheet:
    """The same, where nothing is kept of it."""
    return issued(revision).holds


def todays(revision: Revision) -> Told[CheckSheet]:
    """What the library says today of what a revision issued, nothing set aside."""
    read_of = revision.tables, Told.of(revision.contents["targets"]), revision.notation
    return Told(fingerprint(read_of), _sheet(*read_of))


def todays_sheet(revision: Revision) -> CheckSheet:
    """The same, where nothing is kept of it."""
    return todays(revision).holds


@kept(MOST_BRIEFS)
def _targets(targets: Told[Targets], notation: Notation) -> tuple[Target, ...]:
    return targets_of(targets.holds, notation)


@kept(MOST_PACKAGES)
def _sheet(tables: Told[Tables], targets: Told[Targets], notation: Notation) -> CheckSheet:
    package = read_tables(tables, notation).package
    return check_sheet(package, _targets(targets, notation))


@kept(MOST_PACKAGES)
def _asked_sheet(tables: Told[Tables], targets: Told[Targets], notation: Notation) -> CheckSheet:
    return asked_sheet(read_tables(tables, notation).package, _targets(targets, notation))
