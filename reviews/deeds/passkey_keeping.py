"""Keep passkeys and sign in by them: W3C Web Authentication, by a library's tables and checks.

A passkey is a key pair that a device or a manager holds behind a finger, a face or a number, bound
to this site's name; kept here are its public half and what its owner calls it. What is asked of a
browser waits in its session until it is answered, once.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any, cast

from allauth.mfa.models import Authenticator
from allauth.mfa.webauthn.internal import auth
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import QuerySet

from reviews.deeds import mail_queueing
from reviews.models import Mail, Person

Kind = Mail.Kind

MOST_SENT = 20_000
"""Most signs of an answer that is read: what a device sends takes some 1,000."""
MOST_PASSKEYS = 20

UNREADABLE = (
    *(ValidationError, ValueError, TypeError, LookupError, AttributeError),
    RecursionError,  # lists in lists without end
)
"""What the reading of anything at all may end in."""


class NoPasskey(Exception):
    """What was sent is no answer to what was asked, or of no passkey that is kept."""


@contextmanager
def _reading() -> Iterator[None]:
    """Anybody may send anything: whatever can't be read of it is no passkey."""
    try:
        yield
    except UNREADABLE as fault:
        raise NoPasskey from fault


def passkeys_of(person: Person) -> QuerySet[Authenticator]:
    """Somebody's passkeys, the oldest first."""
    kept = Authenticator.objects.filter(user=person, type=Authenticator.Type.WEBAUTHN)
    return cast("QuerySet[Authenticator]", kept.order_by("created_at", "pk"))


def ask_for_new(person: Person) -> dict[str, Any]:
    """What a browser is asked for a new passkey: one that needs no name typed, behind a lock."""
    return dict(auth.begin_registration(person, passwordless=True))


@transaction.atomic
def keep(person: Person, name: str, sent: str) -> None:
    """Keep a new passkey, and tell its owner. Raises NoPasskey."""
    with _reading():
        answer = _answer(sent)
        if passkeys_of(person).count() >= MOST_PASSKEYS:
            raise NoPasskey
        auth.parse_registration_response(answer)
        auth.complete_registration(answer)
        kept = auth.WebAuthn.add(person, name, answer).instance
    mail_queueing.tell_owner(person, Kind.PASSKEY_ADDED, [kept])


@transaction.atomic
def remove(person: Person, passkeys: Iterable[Authenticator]) -> None:
    """End passkeys of somebody's, and tell them of each."""
    ended = list(passkeys)
    passkeys_of(person).filter(pk__in=[each.pk for each in ended]).delete()
    mail_queueing.tell_owner(person, Kind.PASSKEY_REMOVED, ended)


def ask_for_any() -> dict[str, Any]:
    """What a browser is asked for signing in: any passkey of this site."""
    return dict(auth.begin_authentication())


@_reading()
def owner_of(sent: str) -> Person:
    """Whose passkey answered, if the account is open. Raises NoPasskey."""
    answer = _answer(sent)
    auth.parse_authentication_response(answer)
    person = auth.extract_user_from_response(answer)
    used = auth.complete_authentication(person, answer)
    if not isinstance(person, Person) or not person.is_active:
        raise NoPasskey
    used.record_usage()
    return person


def _answer(sent: str) -> dict[str, Any]:
    answer = json.loads(sent[:MOST_SENT])
    if not isinstance(answer, dict):
        raise NoPasskey
    return answer
