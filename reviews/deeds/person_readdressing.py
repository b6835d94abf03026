"""Give an account another address: it is what its bearer signs in by, and where letters go."""

from __future__ import annotations

from django.db import IntegrityError, transaction

from criteria.errors import Refused
from reviews.deeds import audit_keeping, mail_choosing, mail_queueing
from reviews.models import Mail, Person, Studio, UnwantedMail


@transaction.atomic
def readdress(person: Person, email: str, studio: Studio, by: Person) -> None:
    """Change an account's address, and tell its bearer at both; what waits to be sent goes along.

    Whoever never entered the account is sent the way in once more. Raises Refused where another
    account has the address.
    """
    before, person.email = person.email, email
    try:
        with transaction.atomic():
            person.save(update_fields=["email"])
    except IntegrityError:
        raise Refused(email, "an address that no other account has") from None
    Mail.objects.filter(person=person, state=Mail.State.QUEUED).update(address=email)
    mail_choosing.choose(email, mail_choosing.wanted(before))
    UnwantedMail.objects.filter(address=before).delete()
    if person.has_usable_password() or person.last_login:
        mail_queueing.tell_readdressed(person, before, studio)
    else:
        mail_queueing.invite(studio.memberships.filter(person=person), anew=True)
    audit_keeping.record(audit_keeping.Deed.READDRESSED, studio, by=by, of_person=person)
