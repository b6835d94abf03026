"""Make and end tokens for scripts, and find whose a token is; wrong ones are slowed."""

from __future__ import annotations

import secrets

from django.db import IntegrityError, transaction
from django.http import HttpRequest

from reviews import access_scripts, clock
from reviews.deeds import mail_queueing
from reviews.deeds.wrong_tries import keep_wrong, too_many
from reviews.models import Mail, Person, ScriptToken
from reviews.models.tokens import digest_of

BEGINNING = "muntin_"
"""Of each token, so that whoever finds one somewhere knows what it is."""
MOST_TOKENS = 20
MOST_WRONG = 60
"""Wrong tokens from one address in a quarter of an hour: a script that lost its own goes on."""
TRIED_AS = "a script's token"


class NoToken(Exception):
    """A token can't be made: one has the name already, or there are too many."""


class Slowed(Exception):
    """So many wrong tokens came from an address that it has to wait."""


@transaction.atomic
def make(person: Person, name: str) -> str:
    """Make a token, tell its owner by letter, and return it: nobody can read it again.

    Raises NoToken.
    """
    if len(ScriptToken.objects.filter(person=person)) >= MOST_TOKENS:
        raise NoToken(f"You have {MOST_TOKENS} tokens. End one that nothing uses any more.")
    token = f"{BEGINNING}{secrets.token_urlsafe(32)}"
    try:
        with transaction.atomic():
            kept = ScriptToken.objects.create(person=person, name=name, digest=digest_of(token))
    except IntegrityError:
        raise NoToken(
            f"You have a token called “{name}” already. End it, or name this one."
        ) from None
    mail_queueing.tell_owner(person, Mail.Kind.TOKEN_MADE, [kept])
    return token


def end_all(person: Person) -> None:
    """End every token of somebody's."""
    ScriptToken.objects.filter(person=person).delete()


def token_of(request: HttpRequest, sent: str) -> ScriptToken | None:
    """Find a token that was sent, and keep the day on which it was. Raises Slowed.

    Who has a token is never held up: wrong ones may come from another of the same school.
    """
    token = access_scripts.token_behind(sent)
    if token is None:
        if too_many(request, TRIED_AS, MOST_WRONG):
            raise Slowed
        keep_wrong(request, TRIED_AS)
    elif token.used_on != (today := clock.today()):
        ScriptToken.objects.filter(pk=token.pk).update(used_on=today)
    return token
