"""What is agreed of a crit, beside what its jurors gave: levels, and whether a scheme goes on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import WeightedLevel, shown, weighted_level
from reviews.models import AgreedLevel, Crit, Criterion, Scheme, Verdict
from reviews.reading.crit_moderation_table import SchemeRow
from reviews.reading.crit_sheets import level_text
from reviews.worked_out import fingerprint

HALF = Fraction(1, 2)

NOTHING_YET = "no level is agreed yet"

Agreed = dict[int, AgreedLevel]
"""The levels agreed for one scheme, by the key of the criterion; what is taken back isn't in it."""


def agreed_of(crit: Crit, schemes: Collection[int] | None = None) -> dict[int, Agreed]:
    """The levels agreed of a crit, by the keys of scheme and criterion; one query.

    schemes   keys; None for all. A scheme without an agreed level is there, and empty.
    """
    rows = AgreedLevel.objects.standing().filter(criterion__crit=crit).select_related("by")
    if schemes is not None:
        rows = rows.filter(scheme__in=schemes)
    found: dict[int, Agreed] = defaultdict(dict)
    found |= {pk: {} for pk in schemes or ()}
    for row in rows:
        found[row.scheme_id][row.criterion_id] = row
    return found


def verdicts_of(crit: Crit, schemes: Collection[int] | None = None) -> dict[int, Verdict]:
    """The verdict that stands of each scheme that has one, by its key; one query."""
    rows = Verdict.objects.standing().filter(crit=crit).select_related("by")
    if schemes is not None:
        rows = rows.filter(scheme__in=schemes)
    return {row.scheme_id: row for row in rows}


def weighted_agreed(
    criteria: Iterable[Criterion], agreed: Mapping[int, AgreedLevel]
) -> WeightedLevel | NotAvailable:
    """The weighted level of what is agreed, exact; why there is none while one is owed."""
    return weighted_of(criteria, {pk: row.level for pk, row in agreed.items() if row.level})


def weighted_of(
    criteria: Iterable[Criterion], agreed: Mapping[int, int]
) -> WeightedLevel | NotAvailable:
    """The same of levels by the key of the criterion."""
    criteria = tuple(criteria)
    weights = {each.code: Fraction(each.weight) for each in criteria}
    if not any(weights.values()):
        return NotAvailable("no criterion has a weight")
    levels = {each.code: agreed[each.pk] for each in criteria if each.pk in agreed}
    found = weighted_level(levels, weights)
    if isinstance(found, WeightedLevel):
        return found
    left = [name for name, weight in weights.items() if weight and name not in levels]
    return NotAvailable(f"no level agreed yet for {', '.join(left)}" if levels else NOTHING_YET)


def half_up(mean: Fraction) -> int:
    """The nearest whole level, halves upwards: 3.5 is 4."""
    return (mean + HALF).__floor__()


@dataclass(frozen=True)
class Ground:
    """What a level agreed now would stand on: the jurors' levels on one criterion of a scheme.

    given   of the sheets that count, by the number of the seat, as written
    mean    exact, of those who judged it; None where nobody did
    last    what was decided last, be it that the level was taken back
    """

    criterion: Criterion
    given: Mapping[str, str]
    mean: Fraction | None
    last: AgreedLevel | None

    @property
    def agreed(self) -> int | None:
        """The level that stands agreed."""
        return self.last.level if self.last else None

    @property
    def nearest(self) -> int | None:
        """The jurors' mean to the nearest whole level, half up."""
        return None if self.mean is None else half_up(self.mean)

    @property
    def is_on_boundary(self) -> bool:
        """Whether the mean lies just between two levels."""
        return self.mean is not None and self.mean % 1 == HALF

    @property
    def is_open(self) -> bool:
        """Whether nobody decided anything yet."""
        return self.last is None

    @property
    def has_moved(self) -> bool:
        """Whether the jurors' levels are others than those that the agreed level stood on."""
        stands = self.last is not None and self.last.level is not None
        return stands and self.last is not None and self.last.stood_on != dict(self.given)

    def owes_reason(self, level: int | None) -> bool:
        """Whether a level differs from what the jurors' mean would make it."""
        return level is not None and level != self.nearest

    @cached_property
    def seen(self) -> str:
        """What a form says that its leader saw: the last decision, and a mark of the levels."""
        return f"{self.last.pk if self.last else 0}-{fingerprint(dict(self.given))[:12]}"

    @property
    def shown_mean(self) -> str:
        """The mean to two decimals; blank where there is none."""
        return "" if self.mean is None else shown(self.mean, 2)


def grounds_of(row: SchemeRow, last: Mapping[int, AgreedLevel]) -> list[Ground]:
    """What each criterion's agreed level stands on, in the order of the criteria sheet.

    last   the last decision on each criterion, by its key: see `decided_last`
    """
    grounds = []
    for n, criterion in enumerate(row.criteria):
        given = {
            str(cell.seat.pk): level_text(level)
            for cell in row.counted
            if (level := cell.given[n].level) is not None
        }
        levels = [level for level in row.levels[n] if isinstance(level, int)]
        mean = Fraction(sum(levels), len(levels)) if levels else None
        grounds.append(Ground(criterion, given, mean, last.get(criterion.pk)))
    return grounds


def decided_last(crit: Crit, scheme: Scheme | None = None) -> dict[int, Agreed]:
    """The last decision on each scheme and criterion, those taken back among them; one query."""
    rows = AgreedLevel.objects.filter(criterion__crit=crit).select_related("by")
    if scheme is not None:
        rows = rows.filter(scheme=scheme)
    found: dict[int, Agreed] = defaultdict(dict)
    for row in rows:
        found[row.scheme_id][row.criterion_id] = row
    return found


def decisions_on(crit: Crit, scheme: Scheme) -> dict[int, list[AgreedLevel]]:
    """Every decision on a scheme's levels, by the key of the criterion, the first one first."""
    found: dict[int, list[AgreedLevel]] = defaultdict(list)
    for row in AgreedLevel.objects.of(crit.pk, scheme.pk).select_related("by", "appeal"):
        found[row.criterion_id].append(row)
    return found


def decided_on(crit: Crit) -> list[AgreedLevel | Verdict]:
    """Every decision of a crit on a level or a verdict, the first one first; two queries."""
    levels = AgreedLevel.objects.filter(criterion__crit=crit).select_related("by", "criterion")
    verdicts = Verdict.objects.filter(crit=crit).select_related("by")
    return sorted([*levels, *verdicts], key=lambda each: each.at)
