"""A leader agrees levels and gives verdicts: each decision is a row of its own, the last stands."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import NamedTuple

from django.db import transaction

from criteria.errors import Refused
from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import AgreedLevel, Appeal, Crit, Person, Scheme, Verdict
from reviews.models.briefs import Frozen
from reviews.reading.crit_agreed import Ground, decided_last, grounds_of, verdicts_of
from reviews.reading.crit_moderation_table import moderation_table
from reviews.versions import Newer

FROZEN = "The crit is released. What is agreed changes by an appeal alone."


class Decided(NamedTuple):
    """What a leader decides on one criterion.

    level    None: no level is agreed, so that the jurors' mean stands
    reason   owed where the level isn't the mean to the nearest whole
    seen     the `Ground.seen` that stood beside it
    """

    level: int | None
    reason: str
    seen: str


class VerdictGiven(NamedTuple):
    """A verdict as sent: criteria are the codes that stay open of what is shown again.

    seen   the key of the verdict that stood beside it; 0: none
    """

    kind: str
    criteria: Sequence[str]
    words: str
    seen: int


@dataclass(frozen=True)
class Filled:
    """What one press agreed on: levels, and criteria left because their mean is on a boundary."""

    levels: int
    left: int

    @property
    def words(self) -> str:
        """The same in a sentence."""
        left = f" {self.left} left to decide: their mean lies between two." if self.left else ""
        return f"{self.levels or 'No'} level{'s' * (self.levels != 1)} agreed at the mean.{left}"


@transaction.atomic
def agree_levels(
    crit: Crit,
    scheme: Scheme,
    by: Person,
    decided: Mapping[int, Decided],
    *,
    appeal: Appeal | None = None,
    at: datetime | None = None,
) -> list[AgreedLevel]:
    """Agree levels of a scheme, by the key of the criterion; what stands already changes nothing.

    Each keeps the jurors' levels that it stood on. Raises Newer (kept: grounds that changed since
    they were seen) where another leader decided meanwhile, or a juror's level became another;
    Refused where a reason is owed; Frozen once the crit is released, but for an appeal's.
    """
    crit = _hold(crit, scheme, appeal)
    row = next(iter(moderation_table(crit, scheme).rows), None)
    last = decided_last(crit, scheme)[scheme.pk]
    grounds = {ground.criterion.pk: ground for ground in grounds_of(row, last)} if row else {}
    changes = [
        (grounds[pk], each)
        for pk, each in decided.items()
        if pk in grounds and _changes(grounds[pk], each, scheme)
    ]
    if newer := [ground for ground, each in changes if ground.seen != each.seen]:
        raise Newer(newer, decided)
    for ground, each in changes:
        if ground.owes_reason(each.level) and not each.reason.strip():
            raise Refused("", f"the reason why {ground.criterion.code} is not {_nearest(ground)}")
    made = [_row(ground, scheme, by, each, appeal, at) for ground, each in changes]
    AgreedLevel.objects.bulk_create(made)
    if made:
        codes = " ".join(ground.criterion.code for ground, _ in changes)
        record(Deed.AGREED, crit.studio_id, by=by, about=about(crit, scheme, codes), at=at)
    return made


def _hold(crit: Crit, scheme: Scheme | None = None, appeal: Appeal | None = None) -> Crit:
    crit = Crit.objects.hold(crit.pk)
    of = (appeal.crit_id, appeal.scheme_id) if appeal else None
    if crit.is_released and (scheme is None or of != (crit.pk, scheme.pk)):
        raise Frozen(FROZEN)
    return crit


def _changes(ground: Ground, sent: Decided, scheme: Scheme) -> bool:
    """Whether a leader touched a level: neither what stands nor what they had before them."""
    stands = (ground.last.level, ground.last.reason) if ground.last else (None, "")
    given = sent.level, sent.reason.strip()
    if given == stands:
        return sent.level is not None and ground.has_moved and ground.seen == sent.seen
    key = sent.seen.partition("-")[0]
    if not key.isdecimal() or ground.seen == sent.seen:
        return True
    before = AgreedLevel.objects.of(ground.criterion.crit_id, scheme.pk)
    shown = before.filter(pk=int(key), criterion=ground.criterion).first()
    return given != ((shown.level, shown.reason) if shown else (None, ""))


def _nearest(ground: Ground) -> str:
    return f"{ground.nearest}, the mean {ground.shown_mean} half up" if ground.mean else "given"


def _row(
    ground: Ground,
    scheme: Scheme,
    by: Person,
    sent: Decided,
    appeal: Appeal | None,
    at: datetime | None,
) -> AgreedLevel:
    return AgreedLevel(
        criterion=ground.criterion,
        scheme=scheme,
        level=sent.level,
        mean="" if ground.mean is None else str(ground.mean),
        stood_on=dict(ground.given),
        reason=sent.reason.strip(),
        by=by,
        at=at or clock.now(),
        appeal=appeal,
    )


@transaction.atomic
def agree_means(
    crit: Crit, by: Person, *, closed: Collection[int] = (), at: datetime | None = None
) -> Filled:
    """Agree on the jurors' mean, to the nearest whole, wherever nobody decided anything yet.

    Where the mean lies just between two levels, and where no juror's level counts, nothing is
    agreed: that is a leader's to decide. closed   schemes that aren't open to the leader yet
    """
    crit = _hold(crit)
    last = decided_last(crit)
    made, left = [], 0
    for row in moderation_table(crit, closed=closed).rows:
        for ground in grounds_of(row, last[row.scheme.pk]):
            if not ground.is_open or ground.mean is None:
                continue
            if ground.is_on_boundary:
                left += 1
                continue
            sent = Decided(ground.nearest, "", ground.seen)
            made.append(_row(ground, row.scheme, by, sent, None, at))
    AgreedLevel.objects.bulk_create(made)
    if made:
        told = about(crit, what=f"{len(made)} levels at their mean")
        record(Deed.AGREED, crit.studio_id, by=by, about=told, at=at)
    return Filled(len(made), left)


@transaction.atomic
def give_verdict(
    crit: Crit,
    scheme: Scheme,
    by: Person,
    sent: VerdictGiven,
    *,
    appeal: Appeal | None = None,
    at: datetime | None = None,
) -> Verdict:
    """Say whether a scheme goes on; the verdict that stands changes nothing.

    Raises Newer where another verdict was given since, Refused where what is shown again names no
    criterion of the crit, Frozen once the crit is released, but for an appeal's.
    """
    crit = _hold(crit, scheme, appeal)
    is_again = sent.kind == Verdict.Kind.AGAIN
    codes = [c.code for c in crit.criteria.all() if is_again and c.code in sent.criteria]
    if is_again and not codes:
        raise Refused(" ".join(sent.criteria), "a criterion or more that stay open")
    stands = verdicts_of(crit, [scheme.pk]).get(scheme.pk)
    given = sent.kind, codes, sent.words.strip()
    if stands and given == (stands.kind, stands.criteria, stands.words):
        return stands
    if (stands.pk if stands else 0) != sent.seen:
        raise Newer(stands, sent)
    verdict = Verdict.objects.create(
        crit=crit,
        scheme=scheme,
        kind=sent.kind,
        criteria=codes,
        words=given[2],
        by=by,
        at=at or clock.now(),
        appeal=appeal,
    )
    record(Deed.AGREED, crit.studio_id, by=by, about=about(crit, scheme, "verdict"), at=at)
    return verdict


@transaction.atomic
def decide_scheme(
    crit: Crit,
    scheme: Scheme,
    by: Person,
    decided: Mapping[int, Decided],
    verdict: VerdictGiven | None,
) -> int:
    """Agree levels and give the verdict of one scheme, all or nothing; how much of it was new."""
    made = len(agree_levels(crit, scheme, by, decided))
    if verdict is None:
        return made
    return made + (give_verdict(crit, scheme, by, verdict).pk != verdict.seen)
