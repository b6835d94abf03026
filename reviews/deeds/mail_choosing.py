"""Choose which kinds of e-mail come: by whoever has an account, or by the link in each letter."""

from __future__ import annotations

from collections.abc import Collection

from django.core import signing

from reviews.models import UnwantedMail
from reviews.models.mails import SWITCHABLE

_SALT = "reviews.mail"


def wanted(address: str) -> list[str]:
    """The kinds that an address gets."""
    off = set(UnwantedMail.objects.filter(address=address.lower()).values_list("kind", flat=True))
    return [kind for kind, _ in SWITCHABLE if kind not in off]


def choose(address: str, kinds: Collection[str]) -> None:
    """Switch kinds on, and all others off."""
    UnwantedMail.objects.filter(address=address.lower(), kind__in=kinds).delete()
    UnwantedMail.objects.bulk_create(
        [UnwantedMail(address=address.lower(), kind=k) for k, _ in SWITCHABLE if k not in kinds],
        ignore_conflicts=True,
    )


def token_for(address: str, kind: str) -> str:
    """Return what lets whoever has the letter switch its kind off, without an account."""
    return signing.dumps([address.lower(), kind], salt=_SALT)


def read_token(token: str) -> tuple[str, str] | None:
    """Return address and kind; None where it isn't one of ours."""
    try:
        address, kind = signing.loads(token, salt=_SALT)
    except signing.BadSignature:
        return None
    return address, kind


def switch(address: str, kind: str, *, on: bool) -> None:
    """Switch one kind on or off."""
    choose(address, {*wanted(address), kind} if on else {*wanted(address)} - {kind})
