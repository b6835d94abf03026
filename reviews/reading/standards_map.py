"""What of a studio's criteria meets which published standards, and what meets nothing."""

from __future__ import annotations

from dataclasses import dataclass

from reviews.models import Criterion, MappedStandard, Studio


@dataclass(frozen=True)
class Met:
    """A criterion of one of the studio's crits, with the standards that it meets."""

    criterion: Criterion
    standards: tuple[MappedStandard, ...]


@dataclass(frozen=True)
class StandardsMap:
    """The map read both ways.

    met       each code once, as the last crit that has it names it
    unmet     standards that no criterion is said to meet
    unknown   codes that stand in the map and on no criteria sheet of the studio
    """

    standards: list[MappedStandard]
    met: list[Met]
    unmet: list[MappedStandard]
    unknown: list[str]

    @property
    def idle(self) -> list[Criterion]:
        """Criteria that meet nothing."""
        return [each.criterion for each in self.met if not each.standards]


def standards_map(studio: Studio) -> StandardsMap:
    """Read a studio's map."""
    standards = list(studio.standards.all())
    criteria = Criterion.objects.filter(crit__studio=studio)
    last = {criterion.code: criterion for criterion in criteria.order_by("crit__day", "crit", "pk")}
    named = {standard.pk: codes_of(standard.criteria) for standard in standards}
    met = [
        Met(criterion, tuple(each for each in standards if code in named[each.pk]))
        for code, criterion in sorted(last.items())
    ]
    unmet = [each for each in standards if not set(named[each.pk]) & last.keys()]
    codes = {code for each in standards for code in named[each.pk]}
    return StandardsMap(standards, met, unmet, sorted(codes - last.keys()))


def codes_of(text: str) -> tuple[str, ...]:
    """The codes of a cell, each once, however they are set apart.

    >>> codes_of("F4, K1;F4  K3")
    ('F4', 'K1', 'K3')
    """
    return tuple(dict.fromkeys(text.replace(",", " ").replace(";", " ").split()))
