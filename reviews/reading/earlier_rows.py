"""Rows of a schedule as revisions of the same scheme were issued with them."""

from __future__ import annotations

from typing import NamedTuple

from criteria.schedules.plan import READ
from criteria.typed.rows import Schedule
from criteria.typed.tables import write_csv
from criteria.units import System
from reviews.models import Package, Revision


class Earlier(NamedTuple):
    """A revision, and how many rows of a schedule it was issued with."""

    revision: Revision
    rows: int


def earlier_of(package: Package, schedule: Schedule) -> list[Earlier]:
    """The issued revisions that have rows of a schedule, the latest first."""
    revisions = package.scheme.revisions.order_by("-pk")
    counted = (Earlier(each, len(records_as_issued(each, schedule))) for each in revisions)
    return [each for each in counted if each.rows]


def rows_as_issued(package: Package, schedule: Schedule, revision_id: int) -> str:
    """The rows of a revision of the same scheme as a block with heads and units; else nothing."""
    revision = package.scheme.revisions.filter(pk=revision_id).first()
    records = records_as_issued(revision, schedule) if revision else []
    return write_csv(schedule, records, System.METRIC) if records else ""


def records_as_issued(revision: Revision, schedule: Schedule) -> list[dict[str, str]]:
    """The rows of a schedule that a revision was issued with, without those read on its sheets."""
    records: list[dict[str, str]] = revision.contents["schedules"].get(schedule.slug, [])
    return [record for record in records if record.get("how") != READ]  # it is read again
