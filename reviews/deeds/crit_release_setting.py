"""Before a release: proofs, own words, what is left undecided and why, and the minute it is due."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.crit_releasing import Changed, Undecided, release_crit
from reviews.deeds.mail_queueing import tell_stopped
from reviews.models import Crit, Membership, OwnReleaseWords, Person, ProofRead, Scheme
from reviews.models.briefs import Frozen
from reviews.moments import moment_words
from reviews.reading.crit_release import Release, why_not_now
from reviews.reading.crit_release_read import read_release
from reviews.versions import is_new

WITHIN = timedelta(hours=1)
"""How long after its minute a release still goes out by itself, where the server was down."""

_FIELDS = ("release_words", "release_due_at", "release_due_by", "release_seen", "release_stopped")


def _hold(crit: Crit) -> Crit:
    crit = Crit.objects.hold(crit.pk)
    if crit.is_released:
        raise Frozen("The crit is released already.")
    return crit


@transaction.atomic
def keep_words(crit: Crit, words: str) -> Crit:
    """Keep the first words to the class, so that a proof shows them."""
    crit = _hold(crit)
    crit.release_words = words
    crit.save(update_fields=["release_words"])
    return crit


@transaction.atomic
def keep_own_words(crit: Crit, scheme: Scheme, by: Person, words: str, seen: int) -> None:
    """Keep the first words to one scheme's students; none: those to the class, or ours.

    seen   the version that stood beside them, 0 for none; raises Newer over a newer one
    """
    crit = _hold(crit)
    own = crit.own_words.filter(scheme=scheme).first()
    stands = own or OwnReleaseWords(crit=crit, scheme=scheme, by=by, version=0)
    if not is_new(stands, stands.words, words, stands_at=stands.version, seen=seen):
        return
    if not words:
        stands.delete()
        return
    stands.words, stands.by, stands.at = words, by, clock.now()
    stands.version += 1
    stands.save()


@transaction.atomic
def read_proof(crit: Crit, scheme: Scheme, by: Person, seen: str) -> ProofRead:
    """Keep that a leader read what a scheme's students will; Changed where that is another now."""
    crit = _hold(crit)
    out = read_release(crit).of(scheme.pk)
    if out is None or out.seen != seen:
        raise Changed("It has changed since this page was opened. Read it again below.")
    if out.is_read and out.proof:
        return out.proof
    record(Deed.PROOFED, crit.studio_id, by=by, about=about(crit, scheme))
    return ProofRead.objects.create(crit=crit, scheme=scheme, seen=seen, by=by, at=clock.now())


def _decide(crit: Crit, by: Person, told: Release, reasons: Mapping[str, str]) -> None:
    """Keep why the release goes out over what is open; Undecided where a reason lacks."""
    left = [
        each for each in told.items if not (each.can_stay and reasons.get(each.key, "").strip())
    ]
    if left:
        raise Undecided("; ".join(item.named for item in left))
    for item in told.items:
        what = f"let stand: {item.key.partition('-')[0]}: {reasons[item.key].strip()}"
        record(Deed.MODERATED, crit.studio_id, by=by, about=about(crit, item.scheme, what))


def _compare(told: Release, seen: str) -> None:
    if told.seen != seen:
        raise Changed(
            "What goes out has changed since this page was opened. Read it again below; the words "
            "are kept."
        )


@transaction.atomic
def release_now(
    crit: Crit, by: Person, words: str, *, reasons: Mapping[str, str], seen: str
) -> Crit:
    """Release at this minute, where it is a working hour and nothing is undecided."""
    crit, at = _hold(crit), clock.now()
    if why := why_not_now(at):
        raise Frozen(why)
    told = read_release(crit)
    _compare(told, seen)
    _decide(crit, by, told, reasons)
    return release_crit(crit, by, words, at=at)


@transaction.atomic
def set_due(
    crit: Crit, by: Person, words: str, due_at: datetime, *, reasons: Mapping[str, str], seen: str
) -> Crit:
    """Set the minute at which it is released by itself, as its leader has read it."""
    crit = _hold(crit)
    if due_at <= clock.now():
        raise Frozen(f"{moment_words(due_at)} is over. Expected a minute to come.")
    if why_not_now(due_at):
        raise Frozen(why_not_then(due_at))
    told = read_release(crit)
    _compare(told, seen)
    _decide(crit, by, told, reasons)
    crit.release_words, crit.release_due_at, crit.release_due_by = words, due_at, by
    crit.release_seen, crit.release_stopped = told.seen, ""
    crit.save(update_fields=_FIELDS)
    record(Deed.MODERATED, crit.studio_id, by=by, about=about(crit, what=_set_words(due_at)))
    return crit


def why_not_then(due_at: datetime) -> str:
    """Say why nothing is released at a minute to come; nothing where it may be."""
    why = why_not_now(due_at)
    return why and f"Read {moment_words(due_at)}. Expected a minute on {HOURS_WORDS}."


HOURS_WORDS = "a Monday to Friday, from 09:00 to 17:00, the site's time"


def _set_words(due_at: datetime) -> str:
    return f"release set for {moment_words(due_at)}"


@transaction.atomic
def unset_due(crit: Crit, by: Person) -> Crit:
    """Let it be released by hand alone again; unset is unset once."""
    crit = _hold(crit)
    if crit.release_due_at is None:
        return crit
    told = about(crit, what=f"{_set_words(crit.release_due_at)}, unset")
    crit.release_due_at, crit.release_seen = None, ""
    crit.save(update_fields=["release_due_at", "release_seen"])
    record(Deed.MODERATED, crit.studio_id, by=by, about=told)
    return crit


def release_due(at: datetime) -> None:
    """Release what is due at a moment, or say why it wasn't; any number of processes may ask."""
    due = Crit.objects.to_come().filter(release_due_at__lte=at)
    for crit in due.order_by("release_due_at", "pk"):
        _release_due(crit, at)


@transaction.atomic
def _release_due(crit: Crit, at: datetime) -> None:
    crit = Crit.objects.hold(crit.pk)
    due_at, by = crit.release_due_at, crit.release_due_by
    if crit.is_released or due_at is None or due_at > at or by is None:
        return
    if why := _why_stopped(crit, by, due_at, at):
        crit.release_stopped = f"Set for {moment_words(due_at)}, not released: {why}"[:300]
        crit.release_due_at, crit.release_seen = None, ""
        crit.save(update_fields=["release_due_at", "release_seen", "release_stopped"])
        tell_stopped(crit, due_at)
        record(Deed.MODERATED, crit.studio_id, about=about(crit, what="a release stopped"), at=at)
        return
    release_crit(crit, by, crit.release_words, at=at)


def _why_stopped(crit: Crit, by: Person, due_at: datetime, at: datetime) -> str:
    if at - due_at > WITHIN:
        return "the server was away for more than an hour from that minute on."
    places = Membership.objects.joined().filter(studio=crit.studio_id)
    if not places.filter(person=by, role=Membership.Role.LEADER).exists():
        return f"{by}, who set it, leads the studio no more."
    told = read_release(crit)
    if told.seen == crit.release_seen:
        return ""
    changed = [each.scheme.number for each in told.unread if each.changed]
    names = f" of {', '.join(changed)}" if changed else ""
    return f"something{names} has changed since it was read. Read it again and set another minute."
