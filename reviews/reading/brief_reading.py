"""What a brief asks, read once for a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from criteria.schedules import CASES, CLIMATE, SITE, STATES
from criteria.schedules.climate import Month
from criteria.schedules.site import Site
from criteria.schedules.states import BuildingState, PeopleCase
from criteria.targets.reading import Target, TargetsReading, read_targets
from criteria.targets.words import figures_of
from criteria.typed.rows import Row, Schedule
from criteria.typed.tables import read_records
from reviews.models import Brief
from reviews.worked_out import kept

Record = dict[str, str]

MOST_BRIEFS = 64
"""Briefs whose words a process keeps as they were read."""


def with_figures_in_words(site: Record, targets: Sequence[Record]) -> Record:
    """The site sheet in force, with what only a target's words give: “at 12 L per person-day”.

    Where several targets give a figure, the first holds.
    """
    given = {head: text for head, text in site.items() if text.strip()}
    return _figures_in_words(targets) | given


@kept(MOST_BRIEFS)
def _figures_in_words(targets: Sequence[Record]) -> Record:
    figures: Record = {}
    for target in targets:
        figures = figures_of(target) | figures
    return figures


@dataclass(frozen=True)
class BriefReading:
    """What a brief has in force: targets as typed and as read, and its schedules."""

    brief: Brief
    records: Sequence[Record]
    read: TargetsReading
    site: Site
    months: tuple[Month, ...]
    states: tuple[BuildingState, ...]
    cases: tuple[PeopleCase, ...]

    @classmethod
    def of(cls, brief: Brief) -> BriefReading:
        """Read a brief."""
        records, notation = brief.target_records(), brief.notation
        tables = brief.leader_tables()
        (site,) = tables["site"]

        def rows(schedule: Schedule) -> tuple[Row, ...]:
            return read_records(schedule, tables[schedule.slug], notation).read

        return cls(
            brief=brief,
            records=records,
            read=read_targets(records, notation),
            site=cast(Site, SITE.parse(with_figures_in_words(site, records), notation)),
            months=cast("tuple[Month, ...]", rows(CLIMATE)),
            states=cast("tuple[BuildingState, ...]", rows(STATES)),
            cases=cast("tuple[PeopleCase, ...]", rows(CASES)),
        )

    @property
    def targets(self) -> tuple[Target, ...]:
        """The targets, those that can't be read among them."""
        return self.read.targets

    @property
    def refs(self) -> list[str]:
        """The references of all targets."""
        return [record.get("id", "") for record in self.records]
