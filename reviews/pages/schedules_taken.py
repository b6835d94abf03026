"""All schedules of a package to take away: as one workbook, or as tables that scripts read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial
from typing import NamedTuple

from criteria.schedules import SCHEDULES, marks_in
from criteria.units import Notation, System
from reviews.deeds.record_typed import example_text, taken_cells
from reviews.exchange.data_package import Part, data_package, zip_of
from reviews.exchange.data_package import Told as DataTold
from reviews.exchange.workbook_schedules import Told, schedules_workbook
from reviews.models import Package, Revision
from reviews.models.revisions import of_brief
from reviews.reading.package_checking import tables_of

Records = Mapping[str, Sequence[Mapping[str, str]]]

HOW_TO_USE = (
    ("Row 1", "Heads by which columns are known: leave them as they are, in any order."),
    ("Row 2", "What the columns are called. A star: required. The note says what a cell takes."),
    ("Row 3", "Units of bare figures. A cell may name its own: 1.2 m, 4'-6\"."),
    ("Lists", "They warn and forbid nothing. Whatever is typed otherwise is looked at."),
    (
        "In again",
        "Bring this file in: what differs is shown, and nothing is kept before you say so.",
    ),
    ("Caution", "Figures are teaching checks, not a code approval; local codes decide."),
)


class Taken(NamedTuple):
    """Schedules as they are taken, of a package in preparation or of what was issued.

    records   of its schedules by slug, as kept
    of_brief  of its brief's
    number    of its scheme, with the letter of its revision
    """

    records: Records
    of_brief: Records
    notation: Notation
    said: str
    number: str
    issued_at: datetime | None = None
    receipt: str = ""

    @classmethod
    def of_package(cls, package: Package) -> Taken:
        """As they stand."""
        said = f"{package.scheme}, in preparation"
        tables = tables_of(package).holds
        return cls(package.records(), tables, package.notation, said, package.scheme.number)

    @classmethod
    def of_revision(cls, revision: Revision) -> Taken:
        """As they were issued."""
        return cls(
            revision.contents["schedules"],
            of_brief(revision.contents),
            revision.notation,
            str(revision),
            f"{revision.scheme.number}-{revision.letter}",
            revision.issued_at,
            revision.fingerprint,
        )


def as_workbook(taken: Taken, system: System) -> bytes:
    """One workbook in a reader's units; what has no row yet has its heads."""
    notation = taken.notation.read_in(system)
    tables = [
        (schedule, [taken_cells(schedule, row, notation) for row in taken.records.get(slug, ())])
        for schedule in SCHEDULES
        for slug in (schedule.slug,)
    ]
    return schedules_workbook(tables, _told(taken, notation))


def _told(taken: Taken, notation: Notation) -> Told:
    units = "US units" if notation.system is System.US else "metric"
    receipt = [("Receipt number", taken.receipt)] if taken.receipt else []
    return Told(
        title=taken.said,
        lines=(("Units", units), ("Decimal sign", notation.decimal.value), *receipt, *HOW_TO_USE),
        system=notation.system,
        marks=marks_in({**taken.of_brief, **taken.records}),
        example=partial(example_text, notation=notation),
        made_at=taken.issued_at,
    )


def as_data(taken: Taken) -> list[Part]:
    """Each schedule with rows as CSV, metric, with what describes them."""
    tables = [
        (schedule, list(rows))
        for schedule in SCHEDULES
        if (rows := taken.records.get(schedule.slug, ()))
    ]
    told = DataTold(
        name=taken.number, title=taken.said, notation=taken.notation, made_at=taken.issued_at
    )
    return data_package(tables, told)


def as_data_zip(taken: Taken) -> bytes:
    """The same as one ZIP."""
    return zip_of(as_data(taken))
