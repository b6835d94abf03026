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

Record = dict[str, str]


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
        """Read a brief. A figure that only a target's words give counts as the site sheet's."""
        records, notation = brief.target_records(), brief.notation
        figures = {head: text for record in records for head, text in figures_of(record).items()}
        filled = {head: text for head, text in brief.site_record().items() if text.strip()}
        return cls(
            brief=brief,
            records=records,
            read=read_targets(records, notation),
            site=cast(Site, SITE.parse(figures | filled, notation)),
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
