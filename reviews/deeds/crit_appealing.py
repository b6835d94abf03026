"""An appeal: made by a student, added to by those it concerns, decided with its corrections.

Nothing is overwritten: a decision corrects by rows of its own, which name the appeal.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from django.db import transaction

from criteria.errors import Refused
from criteria.scoring.levels import NotJudged
from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.crit_agreeing import Decided, VerdictGiven, agree_levels, give_verdict
from reviews.deeds.crit_moderating import correct_level
from reviews.deeds.crit_releasing import Changed
from reviews.deeds.mail_queueing import tell_of_appeal
from reviews.models import Appeal, AppealWords, Crit, LevelGiven, Person, Scheme
from reviews.models.briefs import Frozen
from reviews.reading.crit_agreed import decided_last, grounds_of, verdicts_of
from reviews.reading.crit_moderation_table import moderation_table
from reviews.reading.crit_trail import trail_of, trail_seen

OPEN_ALREADY = "An appeal of yours is open. Add to it what there is to say."
OVER = "The appeal is decided or withdrawn. Nothing is added to it."


@dataclass(frozen=True)
class Decision:
    """What is decided of an appeal, and what is put right with it.

    words     the reasons, which stand beside each correction too
    levels    jurors' levels that are corrected, by the key of the level given
    agreed    agreed levels, by the key of the criterion
    verdict   blank: the one that stands
    criteria  of what is shown again, the codes that stay open
    """

    outcome: str
    words: str
    levels: Mapping[int, int | NotJudged] = field(default_factory=dict)
    agreed: Mapping[int, int] = field(default_factory=dict)
    verdict: str = ""
    criteria: Sequence[str] = ()

    @property
    def corrects(self) -> bool:
        """Whether anything is put right with it."""
        return bool(self.levels or self.agreed or self.verdict)


@transaction.atomic
def make_appeal(
    crit: Crit,
    scheme: Scheme,
    by: Person,
    key: UUID,
    ground: str,
    words: str,
    *,
    at: datetime | None = None,
) -> Appeal:
    """Keep an appeal with the trail as it stands; sent again with its key it is the same.

    Raises Frozen where the crit isn't released, or another of theirs is open; Appeal.DoesNotExist
    where the key is another's.
    """
    crit = Crit.objects.hold(crit.pk)
    if before := Appeal.objects.filter(key=key).first():
        if (before.crit_id, before.scheme_id, before.by_id) != (crit.pk, scheme.pk, by.pk):
            raise Appeal.DoesNotExist(key)
        return before
    if not crit.is_released:
        raise Frozen("The crit is not released.")
    if Appeal.objects.of(crit, scheme).open().filter(by=by).exists():
        raise Frozen(OPEN_ALREADY)
    moment = at or clock.now()
    appeal = Appeal.objects.create(
        crit=crit,
        scheme=scheme,
        by=by,
        key=key,
        ground=ground,
        words=words,
        trail={"facts": trail_of(crit, scheme)},
        at=moment,
    )
    record(Deed.APPEALED, crit.studio_id, by=by, about=about(crit, scheme), at=moment)
    tell_of_appeal(appeal)
    return appeal


def _hold(appeal: Appeal) -> Appeal:
    Crit.objects.hold(appeal.crit_id)
    return Appeal.objects.select_related("crit", "scheme", "by").get(pk=appeal.pk)


@transaction.atomic
def add_words(appeal: Appeal, by: Person, words: str, *, at: datetime | None = None) -> AppealWords:
    """Add words to an open appeal; the same sent twice is once. Raises Frozen once it is over."""
    appeal = _hold(appeal)
    last = appeal.added.last()
    if last and (last.by_id, last.words) == (by.pk, words):
        return last
    if not appeal.is_open:
        raise Frozen(OVER)
    return AppealWords.objects.create(appeal=appeal, by=by, words=words, at=at or clock.now())


@transaction.atomic
def withdraw(appeal: Appeal, *, at: datetime | None = None) -> Appeal:
    """Take an appeal back; what was written stays. Raises Frozen where it is decided."""
    appeal = _hold(appeal)
    if appeal.decided_at:
        raise Frozen("The appeal is decided.")
    if appeal.withdrawn_at is None:
        appeal.withdrawn_at = at or clock.now()
        appeal.save(update_fields=["withdrawn_at"])
        what = "appeal withdrawn"
        told = about(appeal.crit, appeal.scheme, what)
        record(Deed.APPEALED, appeal.crit.studio_id, by=appeal.by, about=told, at=at)
    return appeal


def decision_seen(appeal: Appeal) -> str:
    """A fingerprint of all that a decision rests on: the trail as it is now, and what was added."""
    added = appeal.added.count()
    return f"{trail_seen(trail_of(appeal.crit, appeal.scheme))}-{added}"


@transaction.atomic
def decide(
    appeal: Appeal, by: Person, decision: Decision, seen: str, *, at: datetime | None = None
) -> Appeal:
    """Decide an appeal, and put right what it says; the same decision again changes nothing.

    seen   `decision_seen` as whoever decides read it; Changed where it no longer holds
    Raises Frozen once it is over, Refused where what isn't upheld would correct something.
    """
    appeal = _hold(appeal)
    if not appeal.is_open:
        same = (appeal.outcome, appeal.decision) == (decision.outcome, decision.words)
        if same and appeal.decided_by_id == by.pk:
            return appeal
        raise Frozen(OVER)
    if decision.corrects and decision.outcome == Appeal.Outcome.NOT_UPHELD:
        raise Refused("Not upheld, with a correction", "no correction, or an appeal upheld in part")
    if seen != decision_seen(appeal):
        raise Changed("Something was added or corrected since this page was opened. Read it again.")
    moment = at or clock.now()
    _put_right(appeal, by, decision, moment)
    appeal.outcome, appeal.decision = decision.outcome, decision.words
    appeal.decided_by, appeal.decided_at = by, moment
    appeal.save(update_fields=["outcome", "decision", "decided_by", "decided_at"])
    told = about(appeal.crit, appeal.scheme)
    record(Deed.DECIDED, appeal.crit.studio_id, by=by, about=told, of_person=appeal.by, at=moment)
    tell_of_appeal(appeal)
    return appeal


def _put_right(appeal: Appeal, by: Person, decision: Decision, at: datetime) -> None:
    """Correct levels, agreed levels and the verdict, each by a row that names the appeal."""
    crit, scheme, words = appeal.crit, appeal.scheme, decision.words
    of_scheme = LevelGiven.objects.filter(jury_sheet__seat__crit=crit, jury_sheet__scheme=scheme)
    given = of_scheme.select_related("jury_sheet__seat", "jury_sheet__scheme", "criterion")
    for each in given.filter(pk__in=decision.levels):
        level = decision.levels[each.pk]
        correct_level(each, by, level, words, each.version, appeal=appeal, at=at)
    if decision.agreed:
        row = next(iter(moderation_table(crit, scheme).rows), None)
        grounds = grounds_of(row, decided_last(crit, scheme)[scheme.pk]) if row else []
        agreed = {
            ground.criterion.pk: Decided(decision.agreed[ground.criterion.pk], words, ground.seen)
            for ground in grounds
            if ground.criterion.pk in decision.agreed
        }
        agree_levels(crit, scheme, by, agreed, appeal=appeal, at=at)
    if decision.verdict:
        stands = verdicts_of(crit, [scheme.pk]).get(scheme.pk)
        sent = VerdictGiven(decision.verdict, decision.criteria, words, stands.pk if stands else 0)
        give_verdict(crit, scheme, by, sent, appeal=appeal, at=at)
