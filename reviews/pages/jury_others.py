"""What other jurors gave a scheme, as far as a juror may read it."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.scoring.levels import NotJudged
from reviews import access
from reviews.models import Criterion, JurySheet
from reviews.reading.crit_sheets import level_of


@dataclass(frozen=True)
class OtherLevel:
    """What another juror gave."""

    given: int | NotJudged | None

    @property
    def level(self) -> int | None:
        """The level, where there is one."""
        return self.given if isinstance(self.given, int) else None

    @property
    def words(self) -> str:
        """Why there is none."""
        return "none" if self.given is None else "Not mine"


@dataclass(frozen=True)
class Others:
    """Other jurors' levels of one scheme, criteria by jurors."""

    jurors: list[str]
    rows: list[tuple[str, list[OtherLevel]]]


def others_of(own: JurySheet | None, criteria: list[Criterion]) -> Others:
    """What other jurors gave, as far as a juror may read it beside a locked own sheet."""
    sheets = []
    if own is not None and own.is_locked:
        opened = access.opened_sheets(own).select_related("seat")
        sheets = list(opened.prefetch_related("levels"))
    rows = [("Overall impression", [OtherLevel(sheet.impression) for sheet in sheets])]
    held = [{given.criterion_id: level_of(given) for given in s.levels.all()} for s in sheets]
    rows += [(str(c), [OtherLevel(each.get(c.pk)) for each in held]) for c in criteria]
    return Others([sheet.seat.name for sheet in sheets], rows)
