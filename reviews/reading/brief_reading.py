"""What a brief asks, read once for a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from criteria.schedules import CLIMATE, SITE
from criteria.schedules.climate import Month
from criteria.schedules.site import Site
from criteria.targets.reading import Target, TargetsReading, read_targets
from criteria.targets.words import figures_of
from criteria.typed.tables import read_records
from reviews.models import Brief
from reviews.worked_out import kept

Record = dict[str, str]

MOST_BRIEFS = 64
"""Briefs whose words a process keeps as they were read."""


def site_in_force(brief: Brief, targets: Sequence[Record]) -> Record:
    """The site sheet, with what only a target's words give: “at 12 L per person-day”.

    Where several targets give a figure, the first holds.
    """
    given = {head: text for head, text in brief.site_record().items() if text.strip()}
    return _figures_in_words(targets) | given


@kept(MOST_BRIEFS)
def _figures_in_words(targets: Sequence[Record]) -> Record:
    figures: Record = {}
    for target in targets:
        figures = figures_of(target) | figures
    return figures


@dataclass(frozen=True)
class BriefReading:
    """The targets in force as typed and as read, the site sheet, and the months of the climate."""

    brief: Brief
    records: Sequence[Record]
    read: TargetsReading
    site: Site
    months: tuple[Month, ...]

    @classmethod
    def of(cls, brief: Brief) -> BriefReading:
        """Read a brief."""
        records, notation = brief.target_records(), brief.notation
        return cls(
            brief=brief,
            records=records,
            read=read_targets(records, notation),
            site=cast(Site, SITE.parse(site_in_force(brief, records), notation)),
            months=cast("tuple[Month, ...]", read_records(CLIMATE, brief.climate, notation).read),
        )

    @property
    def targets(self) -> tuple[Target, ...]:
        """The targets, those that can't be read among them."""
        return self.read.targets

    @property
    def refs(self) -> list[str]:
        """The references of all targets."""
        return [record.get("id", "") for record in self.records]
