"""What became of letters, for whoever leads: those that didn't arrive, and links that went out."""

from __future__ import annotations

from reviews.models import Crit, Mail, Seat, Studio

Kind = Mail.Kind


def undelivered_to_people(studio: Studio) -> list[tuple[str, str]]:
    """Who of a studio's people a letter didn't reach, and what was said; the last of each kind."""
    places = studio.memberships.select_related("person")
    names: dict[int | None, str] = {place.person_id: place.name for place in places}
    to_people = studio.mails.exclude(person=None)
    last = {(mail.person_id, mail.kind): mail for mail in to_people.order_by("pk")}
    return [
        (names.get(mail.person_id, mail.address), f"{mail.get_kind_display()}: {mail.state_words}")
        for mail in last.values()
        if mail.is_in_trouble
    ]


def undelivered_to_jurors(crit: Crit) -> list[tuple[str, str]]:
    """Which of a crit's jurors a letter didn't reach, and what was said."""
    names = {seat.pk: seat.name for seat in crit.seats.all()}
    last = {(mail.about, mail.kind): mail for mail in _to_jurors(crit)}
    return [
        (names[mail.about], f"{mail.get_kind_display()}, {mail.address}: {mail.state_words}")
        for mail in last.values()
        if mail.about in names and mail.is_in_trouble
    ]


def links_out(crit: Crit) -> dict[int, Mail]:
    """The last personal link that went to each seat by e-mail."""
    return {mail.about: mail for mail in _to_jurors(crit) if mail.kind == Kind.LINK}


def asked_for_words(crit: Crit) -> dict[int, Mail]:
    """The letter about comments without words that went to each seat."""
    return {mail.about: mail for mail in _to_jurors(crit) if mail.kind == Kind.STUBS}


def _to_jurors(crit: Crit) -> list[Mail]:
    seats = Seat.objects.filter(crit=crit).values("pk")
    letters = Mail.objects.filter(
        kind__in=(Kind.LINK, Kind.STUBS, Kind.ANSWERS, Kind.LETTER), about__in=seats
    )
    return list(letters.order_by("pk"))


def letters_out(crit: Crit) -> dict[int, Mail]:
    """The letter about what became of their remarks that went to each seat."""
    return {mail.about: mail for mail in _to_jurors(crit) if mail.kind == Kind.LETTER}
