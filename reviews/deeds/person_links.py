"""Personal links by which a person sets a password: made by Django's token generator, used once."""

from __future__ import annotations

from django.conf import settings
from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.http import HttpRequest
from django.urls import reverse
from django.utils.encoding import force_bytes
from django.utils.http import urlsafe_base64_decode, urlsafe_base64_encode

from reviews.models import Person

DAYS = settings.PASSWORD_RESET_TIMEOUT // 86_400
"""How long a link stands [days]."""


class _Links(PasswordResetTokenGenerator):
    """Links that end when the person joins or leaves a studio: they were given for those alone."""

    def _make_hash_value(self, user: Person, timestamp: int) -> str:
        places = {place.studio_id for place in user.memberships.all() if not place.is_invited}
        return f"{super()._make_hash_value(user, timestamp)}{sorted(places)}"


def is_sound(person: Person, token: str) -> bool:
    """Whether a link still lets a person set a password."""
    return _LINKS.check_token(person, token)


_LINKS = _Links()


def link_for(request: HttpRequest, person: Person) -> str:
    """Return a whole address that lets a person set a password, once."""
    return request.build_absolute_uri(path_for(person))


def path_for(person: Person) -> str:
    """Return the path of such an address."""
    kwargs = {
        "uidb64": urlsafe_base64_encode(force_bytes(person.pk)),
        "token": _LINKS.make_token(person),
    }
    return reverse("set-password", kwargs=kwargs)


def person_of(uidb64: str) -> Person | None:
    """Return whose link it is, or None where it is nobody's."""
    try:
        pk = int(urlsafe_base64_decode(uidb64))
    except (ValueError, OverflowError):
        return None
    return Person.objects.filter(pk=min(pk, 2**63 - 1), is_active=True).first()


def renew_link(request: HttpRequest, person: Person) -> str:
    """Return a new link; where no password is set yet, the links given before end."""
    if not person.has_usable_password():
        person.set_unusable_password()
        person.save(update_fields=["password"])
    return link_for(request, person)
