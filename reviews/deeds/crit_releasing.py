"""Release a crit to its students: what is missing, who opened it, and calling it back."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.mail_queueing import announce_release, drop_release
from reviews.models import Crit, Opening, Person, Scheme
from reviews.models.briefs import Frozen
from reviews.moments import moment_words
from reviews.reading.crit_moderation_table import SchemeRow, Table, moderation_table

CALL_BACK_WITHIN = timedelta(minutes=10)
"""How long a release that nobody has opened can be called back."""

CLOCKS_DIFFER = timedelta(minutes=1)
"""How much later than that it is mailed: two machines may not agree on the moment."""


class Changed(Exception):
    """A release over what has changed since its leader read what is missing."""


@dataclass(frozen=True)
class Lack:
    """What a release would leave out of one scheme, in words a leader can act on."""

    scheme: Scheme
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Lacks:
    """What a release would leave out, scheme by scheme.

    seen   a short fingerprint of that and of all that would go out
    """

    schemes: tuple[Lack, ...]
    seen: str


def lacks(table: Table) -> Lacks:
    """Say of each scheme which sheets, levels and comments its students would not read."""
    found = tuple(Lack(row.scheme, tuple(_lines(row))) for row in table.rows)
    goes_out = [
        (row.scheme.pk, [cell.seat.pk for cell in row.cells if cell.is_read], lack.lines)
        for row, lack in zip(table.rows, found, strict=True)
    ]
    seen = hashlib.sha256(repr(goes_out).encode()).hexdigest()[:16]
    return Lacks(tuple(lack for lack in found if lack.lines), seen)


def _lines(row: SchemeRow) -> list[str]:
    begun = [cell.seat.name for cell in row.cells if cell.is_owed and cell.sheet]
    absent = [cell.seat.name for cell in row.cells if cell.is_owed and not cell.sheet]
    held = sum(comment.held_at is not None for comment in row.comments)
    worded = [bool(comment.words) for comment in row.comments]
    bare = sum(not comment.words and not comment.kind for comment in row.comments)
    lines = []
    if not row.counted and not row.scheme.withdrawn_at:
        lines.append("no locked sheet, so its students read no level")
    if begun:
        lines.append(f"begun and not locked, so left out: {', '.join(begun)}")
    if absent:
        lines.append(f"no sheet from: {', '.join(absent)}")
    if held:
        lines.append(f"{_counted(held, 'comment')} held, not released")
    if bare:
        lines.append(f"{_counted(bare, 'stub')} without kind or words, left out")
    if stubs := worded.count(False) - bare:
        lines.append(f"{_counted(stubs, 'comment')} released without words")
    return lines


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'s' * (number != 1)}"


@transaction.atomic
def release_crit(
    crit: Crit, by: Person, words: str, *, seen: str = "", at: datetime | None = None
) -> Crit:
    """Send levels and comments to all students at once, the leader's words first.

    seen   the fingerprint of what the leader read to be missing; Changed where it no longer
           holds. Without one nothing is compared.
    """
    crit = Crit.objects.hold(crit.pk)
    if crit.is_released:
        raise Frozen("The crit is released already.")
    if seen and seen != lacks(moderation_table(crit)).seen:
        raise Changed(
            "What is missing has changed since this page was opened. Read it again below; the "
            "words are kept."
        )
    released_at = at or clock.now()
    crit.released_at, crit.released_by = released_at, by
    crit.release_words = words
    crit.save(update_fields=["released_at", "released_by", "release_words"])
    announce_release(crit, released_at, released_at + CALL_BACK_WITHIN + CLOCKS_DIFFER)
    record(Deed.RELEASED, crit.studio_id, by=by, about=about(crit), at=released_at)
    return crit


def open_results(crit: Crit, person: Person) -> bool:
    """Keep that somebody first opened what is released; False where it is called back by now.

    What somebody has opened is never called back: then nothing is held.
    """
    return crit.openings.filter(person=person).exists() or _open_first(crit, person)


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
