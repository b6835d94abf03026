"""What a leader's table reads beside levels: agreed, verdicts, pairs without a ruling, speech."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import NamedTuple

from reviews.models import AgreedLevel, Comment, Crit, OpposedPair, SpokenNote, Verdict
from reviews.reading.crit_agreed import grounds_of
from reviews.reading.crit_levels_read import Said
from reviews.reading.crit_moderation_table import SchemeRow
from reviews.worked_out import fingerprint


class Heard(NamedTuple):
    """Of a spoken note that nobody confirmed, what the table counts."""

    scheme: int
    kind: str
    held_at: datetime | None
    decided_at: datetime | None


@dataclass(frozen=True)
class Beside:
    """Of one crit; schemes and criteria by their keys.

    agreed     every decision, the last stands: scheme, criterion, level, levels that it stood on
    verdicts   every one: scheme, kind, criteria
    unruled    the scheme of each opposed pair without a ruling
    """

    agreed: tuple[tuple[int, int, int | None, dict[str, str]], ...]
    verdicts: tuple[tuple[int, str, list[str]], ...]
    unruled: tuple[int, ...]
    heard: tuple[Heard, ...]

    @cached_property
    def fingerprint(self) -> str:
        """Of all of it."""
        return fingerprint(self.agreed, self.verdicts, self.unruled, self.heard)

    @cached_property
    def level_of(self) -> dict[int, dict[int, int]]:
        """The agreed levels that stand."""
        found: dict[int, dict[int, int]] = defaultdict(dict)
        for scheme, criterion, level, _ in self.agreed:
            found[scheme].pop(criterion, None)
            if level is not None:
                found[scheme][criterion] = level
        return found

    @cached_property
    def _stood_on(self) -> dict[tuple[int, int], dict[str, str]]:
        return {(scheme, criterion): given for scheme, criterion, _, given in self.agreed}

    @cached_property
    def verdict_of(self) -> dict[int, tuple[str, list[str]]]:
        """Kind, and the criteria that stay open, of the verdict that stands."""
        return {scheme: (kind, criteria) for scheme, kind, criteria in self.verdicts}

    @cached_property
    def unruled_of(self) -> Counter[int]:
        """How many opposed pairs of a scheme have no ruling."""
        return Counter(self.unruled)

    def is_settled(self, row: SchemeRow) -> bool:
        """Whether every criterion that counts has an agreed level, on the jurors' levels of now."""
        levels = self.level_of.get(row.scheme.pk, {})
        owed = [each for each in grounds_of(row, {}) if each.criterion.weight]
        return bool(owed) and all(
            each.criterion.pk in levels
            and self._stood_on[row.scheme.pk, each.criterion.pk] == dict(each.given)
            for each in owed
        )

    def moved(self, row: SchemeRow) -> list[str]:
        """The criteria whose jurors' levels became others since a level was agreed, by code."""
        levels = self.level_of.get(row.scheme.pk, {})
        return [
            each.criterion.code
            for each in (grounds_of(row, {}) if levels else ())
            if each.criterion.pk in levels
            and self._stood_on[row.scheme.pk, each.criterion.pk] != dict(each.given)
        ]


def beside_levels(crit: Crit) -> Beside:
    """Read it, in four queries."""
    agreed = AgreedLevel.objects.filter(criterion__crit=crit).order_by("pk")
    unruled = OpposedPair.objects.unruled().filter(crit=crit).order_by("pk")
    heard = SpokenNote.objects.standing().filter(slot__crit=crit).order_by("pk")
    return Beside(
        agreed=tuple(agreed.values_list("scheme_id", "criterion_id", "level", "stood_on")),
        verdicts=tuple(
            Verdict.objects.filter(crit=crit)
            .order_by("pk")
            .values_list("scheme_id", "kind", "criteria")
        ),
        unruled=tuple(unruled.values_list("scheme_id", flat=True)),
        heard=tuple(
            Heard(*each)
            for each in heard.values_list("slot__scheme_id", "kind", "held_at", "decided_at")
        ),
    )


def is_open_hazard(said: Comment | Said | Heard) -> bool:
    """Whether something said is a hazard that no leader read or held back yet."""
    return said.kind == Comment.Kind.HAZARD and said.held_at is None and said.decided_at is None
