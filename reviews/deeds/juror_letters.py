"""The letter that tells a juror what became of their remarks: allowed by students, sent once."""

from __future__ import annotations

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.mail_queueing import hand_letters
from reviews.models import Consent, Crit, JurorLetter, Person, Scheme
from reviews.models.briefs import Frozen
from reviews.reading.juror_letters import LetterRead, letters_of
from reviews.versions import Newer


@transaction.atomic
def allow_letter(crit: Crit, scheme: Scheme, by: Person, *, is_allowed: bool) -> bool:
    """Allow that jurors of a crit read what became of their remarks, or allow it no more.

    Any of its students may do either; what stands so already is left. Returns whether it changed.
    A letter that went out stays as it went.
    """
    Crit.objects.hold(crit.pk)
    standing = Consent.objects.filter(
        kind=Consent.Kind.LETTER, crit=crit, scheme=scheme, ended_at=None
    )
    if standing.exists() == is_allowed:
        return False
    if is_allowed:
        Consent.objects.create(
            kind=Consent.Kind.LETTER, crit=crit, scheme=scheme, person=by, given_at=clock.now()
        )
    else:
        standing.update(ended_at=clock.now())
    return True


@transaction.atomic
def send_letters(crit: Crit, by: Person, seen: str) -> list[LetterRead]:
    """Send each juror their letter, once, as its leader read it; return those that went out.

    Those without an address are kept too, to be handed on paper.
    Raises Newer where what would go out isn't what was read; Frozen before the release.
    """
    held = Crit.objects.hold(crit.pk)
    if not held.is_released:
        raise Frozen("The crit isn't released. Letters follow its answers.")
    letters = letters_of(held)
    if letters.seen != seen:
        raise Newer(letters, seen)
    going = letters.to_send
    for each in going:
        contents = [*each.contents]
        JurorLetter.objects.create(seat=each.seat, contents=contents, by=by, at=clock.now())
        record(Deed.LETTER, held.studio_id, by=by, of_seat=each.seat, about=about(held))
    hand_letters([each.seat for each in going], held)
    return going
