"""Keep three ways that a scheme might go, and which one was chosen, with why.

Each deed holds the scheme. Options stand outside what an issue freezes: no jury reads them.
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from django.db import transaction

from reviews import clock
from reviews.deeds.desk_crit_keeping import hold
from reviews.models import Option, Person, Scheme
from reviews.versions import is_new

PLACES = (1, 2, 3)


class OptionSent(NamedTuple):
    """One option as typed."""

    title: str = ""
    words: str = ""
    sheet: str = ""


class Choice(NamedTuple):
    """Which option is chosen, by its place (0: none), and why."""

    place: int = 0
    why: str = ""


@transaction.atomic
def keep_option(
    scheme: Scheme,
    place: int,
    sent: OptionSent,
    seen: int,
    by: Person,
    *,
    at: datetime | None = None,
) -> Option:
    """Keep an option, by the version seen (0 of one that isn't there); raises Newer."""
    held = hold(scheme)
    option = held.options.filter(position=place).first()
    option = option or Option(scheme=held, position=place, version=0, changed_by=by)
    stands = OptionSent(option.title, option.words, option.sheet)
    if is_new(option, stands, sent, stands_at=option.version, seen=seen):
        option.title, option.words, option.sheet = sent
        option.version += 1
        option.changed_by, option.changed_at = by, at or clock.now()
        option.save()
    return option


def choice_of(scheme: Scheme) -> Choice:
    """What is chosen, and why."""
    chosen = scheme.options.exclude(chosen_at=None).first()
    return Choice(chosen.position, chosen.why) if chosen else Choice()


def choice_version(scheme: Scheme) -> int:
    """The version of the choice: when it was made, in microseconds; 0 where none is."""
    chosen = scheme.options.exclude(chosen_at=None).first()
    return round(chosen.chosen_at.timestamp() * 10**6) if chosen and chosen.chosen_at else 0


@transaction.atomic
def choose_option(
    scheme: Scheme, sent: Choice, seen: int, by: Person, *, at: datetime | None = None
) -> Choice:
    """Keep which option is chosen and why, by `choice_version` as seen.

    An option that isn't chosen any more keeps why it was, for whoever changes it back.

    Raises Newer with both choices, Option.DoesNotExist where there is none in the place.
    """
    held = hold(scheme)
    stands = choice_of(held)
    if is_new(stands, stands, sent, stands_at=choice_version(held), seen=seen):
        chosen = held.options.get(position=sent.place)
        held.options.exclude(pk=chosen.pk).update(chosen_at=None)
        chosen.chosen_at, chosen.why, chosen.changed_by = at or clock.now(), sent.why, by
        chosen.save()
    return sent
