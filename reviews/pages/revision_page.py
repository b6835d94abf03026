"""An issued revision as it stands on its pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from criteria.schedules import SCHEDULES
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews import access
from reviews.access import Viewer
from reviews.deeds.record_typed import shown_cells
from reviews.models import IssuedSheet, Revision
from reviews.models.revisions import of_brief
from reviews.models.weather import WEATHER
from reviews.pages.schedule_cells import Head, Reader, heads_of
from reviews.pages.schedule_page import Line


@dataclass(frozen=True)
class IssuedScheduleLine:
    """A schedule of a revision and how many rows it has."""

    schedule: Schedule
    rows: int


@dataclass(frozen=True)
class RevisionPage:
    """A revision: its sheets, its schedules, and the letters around it that the viewer may see.

    weather   what the year of weather that it was judged with is called; blank where it is made of
              the climate
    """

    sheets: Sequence[IssuedSheet]
    schedules: Sequence[IssuedScheduleLine]
    letters: Sequence[Revision]
    is_superseded: bool
    weather: str


def revision_page(revision: Revision, viewer: Viewer) -> RevisionPage:
    """Everything of a revision but what it comes to."""
    rows = revision.contents["schedules"]
    letters = list(access.revisions(viewer).filter(scheme=revision.scheme).order_by("pk"))
    return RevisionPage(
        sheets=list(revision.sheets.select_related("file").defer("lettering")),
        schedules=[
            IssuedScheduleLine(schedule, len(rows[schedule.slug]))
            for schedule in SCHEDULES
            if rows.get(schedule.slug)
        ],
        letters=letters,
        is_superseded=any(other.pk > revision.pk for other in letters),
        weather=next((each["name"] for each in revision.contents.get(WEATHER, ())), ""),
    )


@dataclass(frozen=True)
class IssuedSchedule:
    """A schedule of a revision, as typed."""

    schedule: Schedule
    heads: tuple[Head, ...]
    lines: tuple[Line, ...]


def issued_schedule(revision: Revision, schedule: Schedule, system: System) -> IssuedSchedule:
    """Return a schedule of a revision as it was typed, in a reader's units."""
    tables: dict[str, Any] = dict(revision.contents["schedules"])
    tables |= of_brief(revision.contents)
    reader = Reader(tables, revision.reading.refused, revision.notation.read_in(system))
    shown = [shown_cells(schedule, record, system) for record in tables.get(schedule.slug, [])]
    refusals = reader.refusals(schedule, shown)
    lines = tuple(
        Line(
            schedule=schedule,
            cells=tuple(
                reader.cell(c, record[c.head], refusals.get((place, c.label), ""), f"r{place}")
                for c in schedule.columns
            ),
        )
        for place, record in enumerate(shown)
    )
    return IssuedSchedule(schedule, heads_of(schedule, system), lines)
