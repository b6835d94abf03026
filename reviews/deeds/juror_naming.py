"""Whether portfolios may name a juror: said by their link, or recorded from what they wrote.

Never where the crit was announced without jurors' names. What is said anew stands beside what was
said before, each with its moment.
"""

from __future__ import annotations

from collections.abc import Collection

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import Consent, Crit, Person, Scheme, Seat
from reviews.models.briefs import Frozen

NOT_NAMED = "This crit was announced without jurors’ names, so no portfolio names anybody."


def judged_schemes(seat: Seat) -> list[Scheme]:
    """The schemes that a juror began a sheet for."""
    schemes = Scheme.objects.filter(pk__in=seat.sheets.values("scheme"))
    return list(schemes.order_by("number"))


@transaction.atomic
def allow_name(seat: Seat, allowed: Collection[int], by: Person | None = None) -> None:
    """Keep for which of the schemes that a juror judged their name may stand.

    allowed   keys of schemes; the others aren't, from now on
    by        the leader who records what the juror wrote; None where the juror says so
    """
    crit = Crit.objects.hold(seat.crit_id)
    if not crit.names_jurors:
        raise Frozen(NOT_NAMED)
    stands = {each.scheme_id: each for each in names_allowed(seat)}
    for scheme in judged_schemes(seat):
        consent = stands.get(scheme.pk)
        if scheme.pk in allowed and consent is None:
            Consent.objects.create(
                kind=Consent.Kind.NAME, scheme=scheme, crit=crit, seat=seat, given_at=clock.now()
            )
        elif scheme.pk not in allowed and consent is not None:
            consent.ended_at = clock.now()
            consent.save(update_fields=["ended_at"])
    if by is not None and set(stands) != {*allowed}:
        what = "name in portfolios allowed" if allowed else "name in portfolios not allowed"
        told = about(crit, what=f"{what}, as the juror wrote")
        record(Deed.MODERATED, crit.studio_id, by=by, about=told, of_seat=seat)


def names_allowed(seat: Seat) -> list[Consent]:
    """What stands of a juror's consent to be named."""
    return list(seat.consents.filter(kind=Consent.Kind.NAME, ended_at=None))
