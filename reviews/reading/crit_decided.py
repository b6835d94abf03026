"""What was decided of one scheme at a crit, as its students read it: one query for all of it."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from typing import Any

from django.db.models import CharField, F, IntegerField, QuerySet, TextField, Value
from django.db.models.functions import Cast, Coalesce

from reviews.models import AgreedLevel, Crit, OwnReleaseWords, Scheme, Verdict

_LEVEL, _VERDICT, _WORDS = "level", "verdict", "words"


@dataclass(frozen=True)
class AgreedRead:
    """One decision on a criterion; level None: taken back, so that the jurors' own stand."""

    level: int | None
    reason: str
    at: datetime
    by: str


@dataclass(frozen=True)
class VerdictRead:
    """One verdict, and the codes of the criteria that stay open."""

    kind: str
    codes: tuple[str, ...]
    words: str
    at: datetime
    by: str

    @property
    def title(self) -> str:
        """In words."""
        return str(Verdict.Kind(self.kind).label)

    @property
    def is_again(self) -> bool:
        return self.kind == Verdict.Kind.AGAIN


@dataclass(frozen=True)
class Decided:
    """Levels by the key of the criterion and verdicts, the first decision of each first.

    own_words   the leader's first words to these students; None: those to the whole class
    """

    levels: Mapping[int, Sequence[AgreedRead]] = field(default_factory=dict)
    verdicts: Sequence[VerdictRead] = ()
    own_words: str | None = None

    @property
    def verdict(self) -> VerdictRead | None:
        """The one that stands."""
        return self.verdicts[-1] if self.verdicts else None

    def agreed(self, criterion_id: int) -> int | None:
        """The level that stands agreed; None where none is."""
        made = self.levels.get(criterion_id)
        return made[-1].level if made else None

    @property
    def is_agreed(self) -> bool:
        """Whether any level stands agreed."""
        return any(made[-1].level for made in self.levels.values())

    def since(self, criterion_id: int, moment: datetime | None) -> list[tuple[AgreedRead, str]]:
        """The decisions after a release, each with what was agreed before it, in a figure."""
        made = self.levels.get(criterion_id, ())
        before = ["", *(str(each.level or "") for each in made)]
        later = zip(made, before, strict=False)
        return [(each, was) for each, was in later if moment and each.at > moment]


NOTHING_DECIDED = Decided()


def decided_of(crit: Crit, scheme: Scheme) -> Decided:
    """Read what was decided of a scheme, in one query."""
    levels: dict[int, list[AgreedRead]] = defaultdict(list)
    verdicts, own = [], None
    for what, _, criterion, said, words, codes, at, by in sorted(_rows(crit, scheme)):
        if what == _LEVEL:
            levels[criterion].append(AgreedRead(int(said) if said else None, words, at, by))
        elif what == _VERDICT:
            verdicts.append(VerdictRead(said, tuple(json.loads(codes)), words, at, by))
        else:
            own = words
    return Decided(dict(levels), tuple(verdicts), own)


def _rows(crit: Crit, scheme: Scheme) -> QuerySet[Any, Any]:
    levels, verdicts, own = _tables()
    of = {"crit": crit, "scheme": scheme}
    agreed = levels.filter(criterion__crit=crit, scheme=scheme)
    return agreed.union(verdicts.filter(**of), own.filter(**of), all=True)


@cache
def _tables() -> tuple[QuerySet[Any, Any], ...]:
    """The three tables, of whatever crit and scheme, built once."""
    nothing, none = Value("", TextField()), Value(0, IntegerField())
    level = Coalesce(_as_text("level"), nothing)
    kind, criteria = _as_text("kind"), _as_text("criteria")
    return (
        _columns(AgreedLevel.objects.all(), _LEVEL, F("criterion_id"), level, F("reason"), nothing),
        _columns(Verdict.objects.all(), _VERDICT, none, kind, F("words"), criteria),
        _columns(OwnReleaseWords.objects.all(), _WORDS, none, nothing, F("words"), nothing),
    )


def _as_text(name: str) -> Cast:
    return Cast(name, TextField())


def _columns(rows: QuerySet[Any, Any], what: str, *told: Any) -> QuerySet[Any, Any]:
    """The same columns of each table, so that one query reads all three."""
    names = ("of", "said", "said_words", "codes")
    rows = rows.annotate(
        what=Value(what, CharField()), by_name=F("by__name"), **dict(zip(names, told, strict=True))
    )
    return rows.order_by().values_list("what", "pk", *names, "at", "by_name")
