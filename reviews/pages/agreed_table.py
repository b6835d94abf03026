"""What is agreed of all schemes of a crit, a line each, and what one press would agree on."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.scoring.levels import PanelLevel, WeightedLevel, shown
from reviews.models import Scheme, Verdict
from reviews.reading.crit_agreed import grounds_of, weighted_of
from reviews.reading.crit_beside_levels import Beside
from reviews.reading.crit_moderation_table import SchemeRow, Table

NONE = "–"
LABELS = dict(Verdict.Kind.choices)


@dataclass(frozen=True)
class AgreedRow:
    """One scheme: a mark a criterion, the jurors' mean and the weighted agreed level [level].

    verdict   in words, with the criteria that stay open
    """

    scheme: Scheme
    marks: tuple[str, ...]
    mean: str
    weighted: str
    verdict: str


@dataclass(frozen=True)
class AgreedTable:
    """All of a crit; codes   of its criteria.

    can_fill, boundary   levels that one press would agree on, and those it would leave
    """

    codes: tuple[str, ...]
    rows: tuple[AgreedRow, ...]
    can_fill: int
    boundary: int

    @property
    def fills(self) -> str:
        """What one press would do."""
        said = f"{self.can_fill} level{'s' * (self.can_fill != 1)} at the mean, half up"
        if self.boundary:
            said += f"; {self.boundary} lie just between two and stay to be decided"
        return f"{said}."


def agreed_table(table: Table, beside: Beside) -> AgreedTable:
    """Set out what is agreed, in the order of the day."""
    decided = {(scheme, criterion) for scheme, criterion, _, _ in beside.agreed}
    rows = [row for row in table.rows if not row.is_closed]
    left = [
        ground.is_on_boundary
        for row in rows
        for ground in grounds_of(row, {})
        if ground.mean is not None and (row.scheme.pk, ground.criterion.pk) not in decided
    ]
    return AgreedTable(
        codes=tuple(criterion.code for criterion in table.criteria),
        rows=tuple(_row(row, beside) for row in rows),
        can_fill=left.count(False),
        boundary=left.count(True),
    )


def _row(row: SchemeRow, beside: Beside) -> AgreedRow:
    levels = beside.level_of.get(row.scheme.pk, {})
    weighted = weighted_of(row.criteria, levels)
    kind, codes = beside.verdict_of.get(row.scheme.pk, ("", []))
    verdict = LABELS.get(kind, "")
    return AgreedRow(
        scheme=row.scheme,
        marks=tuple(str(levels.get(each.pk, "·")) for each in row.criteria),
        mean=shown(row.panel.value, 2) if isinstance(row.panel, PanelLevel) else NONE,
        weighted=shown(weighted.value, 2) if isinstance(weighted, WeightedLevel) else NONE,
        verdict=f"{verdict}: {', '.join(codes)}" if codes else verdict,
    )
