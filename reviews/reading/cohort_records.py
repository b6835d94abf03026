"""A cohort as its last released crit left it: levels, targets, comments, told apart unread.

What was released changes by a few deeds alone: a correction, an interest declared late, a scheme
withdrawn, a comment held. So a handful of queries, which count for all cohorts at once, tell
whether a crit is as it was when it was read; only one that isn't is read again.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from django.db.models import Count, F, QuerySet, Sum

from criteria.findings import State, situation_words
from reviews.models import (
    Comment,
    Crit,
    Criterion,
    IssuedCheckSheet,
    JudgedChoice,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    Seat,
    StoredFinding,
    Studio,
)
from reviews.reading.crit_sheets import judged_revisions
from reviews.worked_out import Told, fingerprint, kept

KINDS = (Crit.Kind.FINAL, Crit.Kind.INTERIM)
"""Crits of which cohorts are compared: a re-crit and a pin-up see some schemes alone."""

MOST_RECORDS = 40
"""Cohorts that a process keeps as they were read: four pages of ten."""

Asked = tuple[str, str, str]
"""What a target is: its check's slug, the uses of rooms it is asked of, and its rule."""

_REFS = re.compile(r"\b[A-Z]\d{1,3}\b")


@dataclass(frozen=True)
class Wording:
    """A criterion as its sheet words it: what must agree before its levels are compared."""

    code: str
    name: str
    levels: tuple[str, ...]
    weight: Fraction

    def __str__(self) -> str:
        return f"{self.code} {self.name}"

    def is_same(self, other: Wording) -> bool:
        """Whether code, name and the words of all five levels are the same."""
        own, theirs = ((each.code, each.name, each.levels) for each in (self, other))
        return own == theirs


@dataclass(frozen=True)
class Target:
    """What became of one target in a cohort.

    states, ratios   by the key of the scheme that issued something it was asked of
    """

    asked: Asked
    ref: str
    title: str
    states: dict[int, State]
    ratios: dict[int, float | None]
    situations: dict[str, int]

    @property
    def words(self) -> str:
        """Its title as titles are compared."""
        return self.title.casefold()


@dataclass(frozen=True)
class Said:
    """A released comment that nobody holds, without its words.

    criterion   as its sheet calls it; blank where it names none
    place       sheet and square: 02·C4
    refs        targets that its words name
    """

    scheme: int
    kind: str
    criterion: str
    place: str
    refs: tuple[str, ...]


@dataclass(frozen=True)
class Record:
    """A studio's released crit.

    schemes     by key, those that aren't withdrawn: number and name
    given       (scheme, juror, criterion's code) → level, of every sheet that counts
    revisions   by scheme, the revision that it was judged on: key and letter
    """

    studio_id: int
    crit_id: int
    title: str
    cohort: str
    crit: str
    schemes: dict[int, str]
    criteria: dict[str, Wording]
    given: dict[tuple[int, str, str], int]
    targets: tuple[Target, ...]
    revisions: dict[int, tuple[int, str]]
    said: tuple[Said, ...]

    @cached_property
    def jurors(self) -> frozenset[str]:
        """Everybody whose sheet counts."""
        return frozenset(juror for _, juror, _ in self.given)

    def levels(self, code: str) -> list[int]:
        """Every level given on a criterion."""
        return [level for (_, _, c), level in self.given.items() if c == code]

    def means(self, code: str) -> list[float | None]:
        """Each scheme's mean over its jurors, None where nobody judged it."""
        found: dict[int, list[int]] = defaultdict(list)
        for (scheme, _, c), level in self.given.items():
            if c == code:
                found[scheme].append(level)
        return [
            float(Fraction(sum(found[pk]), len(found[pk]))) if found[pk] else None
            for pk in self.schemes
        ]


def released_of(studios: QuerySet[Studio]) -> list[Crit]:
    """The released crits of some studios that cohorts are compared by, the latest studio first."""
    crits = Crit.objects.released().filter(studio__in=studios, kind__in=KINDS)
    found = crits.select_related("studio").defer("release_words")
    return list(found.order_by("-studio__opened_at", "-studio", "day", "pk"))


def last_of(crits: Iterable[Crit], kind: str) -> dict[int, Crit]:
    """The last of a kind, by studio."""
    return {crit.studio_id: crit for crit in crits if crit.kind == kind}


def records_of(crits: Sequence[Crit]) -> list[Told[Record]]:
    """Read some released crits, each with its studio, in a number of queries that is theirs all."""
    stands = _as_they_stand(crits)
    found = [_read(Told(fingerprint(stands[crit.pk]), crit)) for crit in crits]
    return [
        Told(fingerprint(stands[crit.pk]), each) for crit, each in zip(crits, found, strict=True)
    ]


def _as_they_stand(crits: Sequence[Crit]) -> dict[int, list[Any]]:
    """Of each crit what differs once anything of it does that a record holds."""
    of_crit: dict[int, list[Any]] = {
        crit.pk: [crit.released_at, crit.studio.title, crit.studio.cohort, str(crit)]
        for crit in crits
    }
    of_studio = {crit.studio_id: of_crit[crit.pk] for crit in crits}
    held = list(of_crit)
    rows: list[tuple[dict[int, list[Any]], Any]] = [
        (of_studio, _standing(crits).values_list("studio_id", "pk", "number", "name")),
        (of_crit, Seat.objects.filter(crit__in=held).values_list("crit_id", "pk", "name")),
        (of_crit, _wordings(held)),
        (
            of_crit,
            _counted(_levels(held), "jury_sheet__seat__crit", F("pk") * F("level"), "version"),
        ),
        (of_crit, _counted(Revision.objects.filter(crit__in=held), "crit")),
        (
            of_crit,
            _counted(JudgedChoice.objects.filter(slot__crit__in=held), "slot__crit", "revision_id"),
        ),
        (of_crit, _counted(comments_of(held), "jury_sheet__seat__crit", "version")),
    ]
    for by_key, found in rows:
        for key, *more in found:
            by_key[key].append(more)
    return of_crit


def _counted(rows: QuerySet[Any], of: str, *sums: Any) -> QuerySet[Any, Any]:
    added = {f"sum_{n}": Sum(each) for n, each in enumerate(("pk", *sums))}
    counted: QuerySet[Any, Any] = rows.order_by().values_list(of).annotate(Count("pk"), **added)
    return counted


def _standing(crits: Sequence[Crit]) -> QuerySet[Scheme]:
    return Scheme.objects.standing().filter(studio__in={crit.studio_id for crit in crits})


def _wordings(crits: Sequence[int]) -> QuerySet[Any, Any]:
    words = ("code", "name", *(f"level_{n}" for n in range(1, 6)), "weight")
    return Criterion.objects.filter(crit__in=crits).values_list("crit_id", *words)


def _levels(crits: Sequence[int]) -> QuerySet[LevelGiven]:
    standing = Scheme.objects.standing()
    sheets = JurySheet.objects.counting().filter(seat__crit__in=crits, scheme__in=standing)
    return LevelGiven.objects.filter(jury_sheet__in=sheets, level__isnull=False)


def comments_of(crits: Collection[int]) -> QuerySet[Comment]:
    """Comments of released crits that nobody holds, on schemes that aren't withdrawn."""
    released = Comment.objects.released().not_held().exclude(kind="")
    standing = Scheme.objects.standing()
    return released.filter(jury_sheet__seat__crit__in=list(crits), jury_sheet__scheme__in=standing)


@kept(MOST_RECORDS)
def _read(told: Told[Crit]) -> Record:
    crit = told.holds
    criteria = {
        code: Wording(code, name, tuple(levels), Fraction(weight))
        for _, code, name, *levels, weight in _wordings([crit.pk])
    }
    schemes = _standing([crit]).values_list("pk", "number", "name")
    judged = list(judged_revisions(crit).order_by("pk"))
    return Record(
        studio_id=crit.studio_id,
        crit_id=crit.pk,
        title=crit.studio.title,
        cohort=crit.studio.cohort,
        crit=str(crit),
        schemes={pk: f"{number} {name}" for pk, number, name in schemes},
        criteria=criteria,
        given=_given(crit),
        targets=_targets(crit, judged),
        revisions={each.scheme_id: (each.pk, each.letter) for each in judged},
        said=tuple(_said(crit)),
    )


def _given(crit: Crit) -> dict[tuple[int, str, str], int]:
    """A juror is known by name from one crit to the next, but for one who is made anonymous."""
    seats = {
        pk: f"{name} ({pk})" if erased_at else name
        for pk, name, erased_at in crit.seats.values_list("pk", "name", "erased_at")
    }
    rows = _levels([crit.pk]).order_by("pk")
    return {
        (scheme, seats[seat], code): level
        for scheme, seat, code, level in rows.values_list(
            "jury_sheet__scheme_id", "jury_sheet__seat_id", "criterion__code", "level"
        )
        if level
    }


def _targets(crit: Crit, judged: Sequence[Revision]) -> tuple[Target, ...]:
    """The targets that were asked of a cohort, in the brief's order."""
    rows = StoredFinding.objects.filter(revision__in=[each.pk for each in judged]).exclude(ref="")
    found: dict[tuple[Asked, str], Target] = {}
    decided = _decided(crit, judged)
    for slug, uses, rule, ref, title, state, scheme, ratio in rows.order_by("pk").values_list(
        "check_slug", "uses", "rule", "ref", "title", "state", "revision__scheme_id", "ratio"
    ):
        asked = slug, uses, rule
        target = found.setdefault((asked, ref), Target(asked, ref, title, {}, {}, {}))
        target.states[scheme], target.ratios[scheme] = State(state), ratio
        if situation := decided.get((ref, scheme)):
            target.situations[situation] = target.situations.get(situation, 0) + 1
    return tuple(found.values())


def _decided(crit: Crit, judged: Sequence[Revision]) -> dict[tuple[str, int], str]:
    """In which state and case each target was decided, by scheme, where a brief names such.

    The worst decides: its ratio is the one that is compared.
    """
    tables = crit.studio.brief.leader_tables()
    if not (tables["states"] or tables["cases"]):
        return {}
    sheets = IssuedCheckSheet.objects.filter(revision__in=[each.pk for each in judged])
    held = sheets.values_list("revision__scheme_id", "record__sheet__findings")
    return {
        (finding["ref"], scheme): situation
        for scheme, findings in held.iterator()  # a third of a megabyte each: one at a time
        for finding in findings
        if finding.get("ref") and (situation := _situation(finding))
    }


def _situation(finding: dict[str, str]) -> str:
    """Of a finding as it was issued; reading whole check sheets would take seconds."""
    return situation_words(finding.get("in_state", ""), finding.get("in_case", ""))


def _said(crit: Crit) -> Iterable[Said]:
    rows = crit.criteria.values_list("pk", "code", "name")
    criteria = {pk: f"{code} {name}" for pk, code, name in rows}
    for scheme, kind, criterion, number, zone, words in (
        comments_of([crit.pk])
        .order_by("pk")
        .values_list(
            "jury_sheet__scheme_id", "kind", "criterion_id", "issued_sheet__number", "zone", "words"
        )
    ):
        place = f"{number}·{zone}" if number and zone else ""
        yield Said(scheme, kind, criteria.get(criterion, ""), place, refs_in(words))


def refs_in(words: str) -> tuple[str, ...]:
    """The references of targets that words name, each once.

    >>> refs_in("T14 holds; T3 and T14 don't")
    ('T14', 'T3')
    """
    return tuple(sorted(set(_REFS.findall(words))))
