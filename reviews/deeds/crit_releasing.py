"""Release a crit to its students: what is missing, who opened it, and calling it back."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.mail_queueing import announce_release, drop_release
from reviews.models import Crit, Opening, OwnReleaseWords, Person
from reviews.models.briefs import Frozen
from reviews.moments import moment_words
from reviews.reading.crit_release_read import read_release

CALL_BACK_WITHIN = timedelta(minutes=10)
"""How long a release that nobody has opened can be called back."""

CLOCKS_DIFFER = timedelta(minutes=1)
"""How much later than that it is mailed: two machines may not agree on the moment."""

DUE = ("release_due_at", "release_seen", "release_stopped")


class Changed(Exception):
    """A release over what has changed since its leader read it."""


class Undecided(Exception):
    """A release over what must be decided first, in words."""


@transaction.atomic
def release_crit(
    crit: Crit, by: Person, words: str, *, seen: str = "", at: datetime | None = None
) -> Crit:
    """Send levels and comments to all students at once, the leader's words first.

    Whoever is told something else than the class, and has no words yet, is told ours.

    seen   the fingerprint of the release that the leader read; Changed where it no longer holds.
           Without one nothing is compared.
    """
    crit = Crit.objects.hold(crit.pk)
    if crit.is_released:
        raise Frozen("The crit is released already.")
    told = read_release(crit)
    if seen and seen != told.seen:
        raise Changed(
            "What goes out has changed since this page was opened. Read it again below; the "
            "words are kept."
        )
    released_at = at or clock.now()
    crit.released_at, crit.released_by = released_at, by
    crit.release_words = words
    crit.release_due_at, crit.release_seen, crit.release_stopped = None, "", ""
    crit.save(update_fields=["released_at", "released_by", "release_words", *DUE])
    OwnReleaseWords.objects.bulk_create(
        OwnReleaseWords(crit=crit, scheme=each.scheme, words=each.words, by=by, at=released_at)
        for each in told.schemes
        if each.words and each.own is None
    )
    announce_release(crit, released_at, released_at + CALL_BACK_WITHIN + CLOCKS_DIFFER)
    record(Deed.RELEASED, crit.studio_id, by=by, about=about(crit), at=released_at)
    return crit


def open_results(crit: Crit, person: Person) -> bool:
    """Keep that somebody first opened what is released; False where it is called back by now.

    What somebody has opened is never called back: then nothing is held.
    """
    had = Opening.objects.filter(crit=crit, person=person)
    return had.exists() or _open_first(crit, person)


@transaction.atomic
def _open_first(crit: Crit, person: Person) -> bool:
    if not Crit.objects.hold(crit.pk).is_released:
        return False
    Opening.objects.get_or_create(crit=crit, person=person, defaults={"at": clock.now()})
    return True


def why_not_called_back(crit: Crit, at: datetime | None = None) -> str:
    """Say why a release can't be called back; nothing where it can."""
    if crit.released_at is None:
        return "The crit is not released."
    if first := crit.openings.select_related("person").first():
        return f"{first.person} opened it {moment_words(first.at)}. Put a level right instead."
    if (at or clock.now()) - crit.released_at > CALL_BACK_WITHIN:
        return "It was released more than ten minutes ago. Put a level right instead."
    return ""


@transaction.atomic
def call_back(crit: Crit, by: Person, *, at: datetime | None = None) -> Crit:
    """Take back a release of the last ten minutes that nobody has opened; Frozen else."""
    crit = Crit.objects.hold(crit.pk)
    at = at or clock.now()
    if why := why_not_called_back(crit, at):
        raise Frozen(why)
    crit.released_at = crit.released_by = None
    crit.called_back_at, crit.called_back_by = at, by
    crit.save(update_fields=["released_at", "released_by", "called_back_at", "called_back_by"])
    drop_release(crit)
    record(Deed.CALLED_BACK, crit.studio_id, by=by, about=about(crit), at=at)
    return crit
