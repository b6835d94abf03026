"""Find whom the school's answer leads to, and keep that it does.

The first time by a verified address, however it is capitalised; from then on by issuer and subject
alone, so that an address may change at the school, and one that was given to somebody else there
leads to nobody else's account here. No account is ever made.
"""

from __future__ import annotations

from allauth.socialaccount.models import SocialAccount
from django.db import transaction

from reviews.deeds.school_asking import NotSignedIn, Told, Why
from reviews.models import Person


@transaction.atomic
def person_told_of(told: Told) -> Person:
    """The account of whom the school tells. Raises NotSignedIn where none is open to them."""
    link = SocialAccount.objects.filter(provider=told.issuer, uid=told.subject).first()
    link = link or _first_link(told)
    person: Person = link.user
    if not person.is_active:
        raise NotSignedIn(Why.UNKNOWN)
    if told.email:
        link.extra_data = {"email": told.email}
    link.save()
    return person


def _first_link(told: Told) -> SocialAccount:
    """A new link by address, held until it is kept: of two at once the second finds the first."""
    if not told.email:
        raise NotSignedIn(Why.UNVERIFIED)
    people = Person.objects.select_for_update().filter(is_active=True)
    person = people.filter(email__iexact=told.email).first()
    if person is None:
        raise NotSignedIn(Why.UNKNOWN)
    of_person = SocialAccount.objects.filter(user=person, provider=told.issuer)
    if of_person.exclude(uid=told.subject).exists():
        raise NotSignedIn(
            Why.TAKEN,
            f"account {person.pk} is linked to another subject of the school's than the one that "
            "now has its address; `manage.py person ADDRESS --unlink` takes the link away, if it "
            "is the same human being",
        )
    link, _ = SocialAccount.objects.get_or_create(
        provider=told.issuer, uid=told.subject, defaults={"user": person}
    )
    return link


def unlink(person: Person) -> int:
    """Take away what links an account to a school; the next time its address counts again."""
    return int(SocialAccount.objects.filter(user=person).delete()[0])
