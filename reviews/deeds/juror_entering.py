"""Enter by the short code of a printed strip, typed: until crit day ends, wrong ones slowed."""

from __future__ import annotations

from django.http import HttpRequest
from django.utils import timezone
from django.utils.crypto import salted_hmac

from reviews.deeds import wrong_tries
from reviews.models import Seat
from reviews.models.seats import CODE_LETTERS

LENGTH = 8
"""Letters of a short code: 40 bits, against the 59 of the link, which it doesn't give away."""

MOST_WRONG = 60
"""Wrong codes from one address in a quarter of an hour: a whole jury may sit behind it."""

TRIED_AS = "a juror's short code"
"""Under what name wrong codes are counted, beside the accounts that are tried."""


def short_code(seat: Seat) -> str:
    """Return what is typed in place of the personal link; a new link changes it."""
    digest = salted_hmac("reviews.short_code", seat.code, algorithm="sha256").digest()
    number, letters = int.from_bytes(digest, "big"), ""
    for _ in range(LENGTH):
        number, which = divmod(number, len(CODE_LETTERS))
        letters += CODE_LETTERS[which]
    return letters


def seat_of(typed: str) -> Seat | None:
    """Return the seat of a short code as somebody types it, until its crit day has ended."""
    code = "".join(sign for sign in typed.lower() if sign.isalnum())
    to_come = Seat.objects.filter(crit__day__gte=timezone.localdate()).select_related("crit")
    found = [seat for seat in to_come if short_code(seat) == code]
    return found[0] if len(found) == 1 else None


def is_refused(request: HttpRequest) -> bool:
    """Whether so many wrong codes came from an address that it has to wait a quarter of an hour."""
    return wrong_tries.too_many(request, TRIED_AS, MOST_WRONG)


def keep_wrong(request: HttpRequest) -> None:
    """Count a wrong code."""
    wrong_tries.keep_wrong(request, TRIED_AS)
