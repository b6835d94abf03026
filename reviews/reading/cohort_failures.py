"""The failures drawer: what failed in cohorts' studies and schemes, and what became of it.

Buildings that were studied because they failed, with cause and lesson, as issued; targets that a
scheme missed; claims that could not be true; schemes that were shown again. All of released crits,
on the revision that was judged. What became of them is told by what was issued later, as far as
whoever asks may see it and its crit is released.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from typing import Any

from django.db.models import Q, QuerySet

from criteria.check_sheet.claims import ClaimResult
from criteria.findings import State
from criteria.schedules.precedents import Precedent
from reviews.models import Crit, IssuedCheckSheet, IssuedPackage, Revision, StoredFinding, Verdict
from reviews.reading.cohort_records import MOST_RECORDS, Record, Target
from reviews.worked_out import kept

NOTHING_SINCE = "no later revision is released"
"""What is issued for a crit to come stays out, whoever asks."""


@dataclass(frozen=True)
class Failure:
    """One failure.

    place       which cohort's, by its place
    scheme      number and name, as studios call it: no person
    what        the building, the target, the claim, or that it was shown again
    why         the cause, the state it ended in, or what stayed open
    became      lesson taken or refused, or what became of it since; blank where nobody said
    sheet       number of the sheet where it shows; blank where none is named
    revision    key and letter of that on which it was judged; None where nothing was issued
    """

    place: int
    scheme_id: int
    scheme: str
    what: str
    why: str
    became: str
    sheet: str = ""
    revision: tuple[int, str] | None = None

    @property
    def searched(self) -> str:
        """All its words, as a search reads them."""
        return " ".join((self.scheme, self.what, self.why, self.became)).casefold()


@dataclass(frozen=True)
class Drawer:
    """What failed, by kind."""

    buildings: tuple[Failure, ...]
    targets: tuple[Failure, ...]
    claims: tuple[Failure, ...]
    again: tuple[Failure, ...]

    @property
    def kinds(self) -> dict[str, tuple[Failure, ...]]:
        """The same by the name of the kind."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


def failures(records: Sequence[Record], seen: QuerySet[Revision]) -> Drawer:
    """Open the drawer of some cohorts.

    seen   the revisions that whoever asks may see
    """
    later = _issued_since(records, seen)
    return Drawer(
        buildings=tuple(_buildings(records)),
        targets=tuple(_missed(records, later)),
        claims=tuple(_claims(records, later)),
        again=tuple(_again(records)),
    )


def _issued_since(records: Sequence[Record], seen: QuerySet[Revision]) -> dict[int, Revision]:
    """By scheme the last revision after that which was judged, of no crit or a released one."""
    judged = {scheme: pk for record in records for scheme, (pk, _) in record.revisions.items()}
    is_open = Q(crit=None) | Q(crit__in=Crit.objects.released())
    rows = seen.filter(is_open, scheme__in=judged).only("pk", "letter", "scheme_id").order_by("pk")
    return {each.scheme_id: each for each in rows if each.pk > judged[each.scheme_id]}


def _buildings(records: Sequence[Record]) -> Iterator[Failure]:
    """By name, so that a building which several cohorts studied stands together."""
    found = [
        _failure(place, record, scheme, row["building"], row["outcome"], row.get("lesson", ""), row)
        for place, record in enumerate(records)
        for scheme, rows in _precedents(sorted(record.revisions.items())).items()
        for row in rows
    ]
    yield from sorted(found, key=lambda each: (each.what.casefold(), each.place, each.scheme))


@kept(MOST_RECORDS)
def _precedents(judged: list[tuple[int, tuple[int, str]]]) -> dict[int, list[dict[str, str]]]:
    """Rows of buildings that failed, by scheme: of issued revisions, which never change."""
    scheme_of = {pk: scheme for scheme, (pk, _) in judged}
    packages = IssuedPackage.objects.filter(revision__in=scheme_of)
    held = packages.values_list("revision_id", "contents__schedules__precedents")
    return {
        scheme_of[pk]: [row for row in rows or () if row.get("building") and _has_failed(row)]
        for pk, rows in held.order_by("revision")
    }


def _has_failed(row: dict[str, str]) -> bool:
    return Precedent(mark="", outcome=row.get("outcome", "")).has_failed


def _missed(records: Sequence[Record], later: dict[int, Revision]) -> Iterator[Failure]:
    """Targets in the brief's order, and what the last revision since says of each."""
    since = _states_since(later)
    for place, record in enumerate(records):
        for target in record.targets:
            for scheme, state in target.states.items():
                if state.is_missed and scheme in record.schemes:
                    why = _state_words(target, scheme, state)
                    became = _became(later.get(scheme), since.get((scheme, target.ref)))
                    yield _failure(place, record, scheme, target.title, why, became)


def _state_words(target: Target, scheme: int, state: State) -> str:
    ratio = target.ratios.get(scheme)
    return f"{state.word}: {ratio:.2f} of its target" if ratio is not None else state.word


def _states_since(later: dict[int, Revision]) -> dict[tuple[int, str], State]:
    revisions = [each.pk for each in later.values()]
    rows = StoredFinding.objects.filter(revision__in=revisions).exclude(ref="").order_by("pk")
    return {
        (scheme, ref): State(state)
        for scheme, ref, state in rows.values_list("revision__scheme_id", "ref", "state")
    }


def _became(revision: Revision | None, state: State | None) -> str:
    if revision is None:
        return NOTHING_SINCE
    if state is None or state is State.NOT_ASKED:
        return f"not asked of revision {revision.letter}"
    if state.is_met:
        return f"met in revision {revision.letter}"
    if state.is_missed:
        return f"still {state.word.casefold()} in revision {revision.letter}"
    return f"not known in revision {revision.letter}: {state.word.casefold()}"


def _claims(records: Sequence[Record], later: dict[int, Revision]) -> Iterator[Failure]:
    """Claims more favourable than what the schedules give, in each scheme's order."""
    since = _claims_of(sorted(each.pk for each in later.values()))
    for place, record in enumerate(records):
        judged = _claims_of(sorted(pk for pk, _ in record.revisions.values()))
        for scheme, (pk, _) in record.revisions.items():
            if scheme not in record.schemes:
                continue
            revision = later.get(scheme)
            for claim in judged.get(pk, ()):
                if claim["result"] != ClaimResult.DIFFERS:
                    continue
                became = _claimed_since(claim, revision, since)
                yield _failure(
                    place, record, scheme, f"{claim['about']}: {claim['text']}",
                    ClaimResult.DIFFERS.word, became, claim,
                )  # fmt: skip


@kept(MOST_RECORDS)
def _claims_of(revisions: list[int]) -> dict[int, list[dict[str, str]]]:
    """Claims as issued, by revision: what each says, of which sheet, and what became of it."""
    rows = IssuedCheckSheet.objects.filter(revision__in=revisions)
    held = rows.values_list("revision_id", "record__sheet__claims").order_by("revision")
    return {pk: [_claim(each) for each in claims or ()] for pk, claims in held}


def _claim(held: dict[str, Any]) -> dict[str, str]:
    result = held.get("result")
    return {
        "about": str(held.get("about", "")),
        "text": str(held.get("text", "")),
        "sheet": str(held.get("sheet", "")),
        "result": str(result.get("value", "") if isinstance(result, dict) else result),
    }


def _claimed_since(
    claim: dict[str, str], revision: Revision | None, since: dict[int, list[dict[str, str]]]
) -> str:
    if revision is None:
        return NOTHING_SINCE
    about = claim["about"].casefold()
    same = [each for each in since.get(revision.pk, ()) if each["about"].casefold() == about]
    if not same:
        return f"not claimed in revision {revision.letter}"
    words = {each.value: each.word.casefold() for each in ClaimResult}
    results = dict.fromkeys(words.get(each["result"], "not read") for each in same)
    return f"{', '.join(results)} in revision {revision.letter}"


def _again(records: Sequence[Record]) -> Iterator[Failure]:
    """Schemes that were to be shown again, and their verdict in a re-crit that is released."""
    kinds = Verdict.Kind
    place_of = {record.crit_id: place for place, record in enumerate(records)}
    followed = _re_crits(place_of)
    stand = Verdict.objects.standing().filter(crit__in=[*place_of, *followed])
    verdicts = {(each.crit_id, each.scheme_id): each for each in stand}
    for (crit, scheme), verdict in verdicts.items():
        if crit not in place_of or verdict.kind != kinds.AGAIN:
            continue
        place = place_of[crit]
        record = records[place]
        if scheme not in record.schemes:
            continue
        after = [
            verdicts[later, scheme].get_kind_display().casefold()
            for later, first in followed.items()
            if first == crit and (later, scheme) in verdicts
        ]
        became = f"re-crit: {after[-1]}" if after else "no re-crit of it is released"
        codes = ", ".join(verdict.criteria)
        yield _failure(
            place, record, scheme, "Show again", f"open: {codes}" if codes else "", became
        )


def _re_crits(crits: Iterable[int]) -> dict[int, int]:
    """The released re-crits of some crits in their order, each by the crit that it follows."""
    released = Crit.objects.released().filter(follows__in=crits).order_by("day", "pk")
    return {pk: follows for pk, follows in released.values_list("pk", "follows") if follows}


def _failure(
    place: int,
    record: Record,
    scheme: int,
    what: str,
    why: str,
    became: str,
    row: dict[str, str] | None = None,
) -> Failure:
    return Failure(
        place=place,
        scheme_id=scheme,
        scheme=record.schemes.get(scheme, ""),
        what=what,
        why=why,
        became=became,
        sheet=(row or {}).get("sheet", ""),
        revision=record.revisions.get(scheme),
    )
