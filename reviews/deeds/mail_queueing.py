"""Queue letters with the event that they tell of: one row a letter, sent in the background."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import Any

from allauth.mfa.models import Authenticator
from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from reviews import clock
from reviews.deeds.mail_sending import send_due
from reviews.models import (
    Answer,
    Appeal,
    Crit,
    Mail,
    Membership,
    Person,
    Revision,
    Rewording,
    ScriptToken,
    Seat,
    Studio,
)

Kind = Mail.Kind

OLD = timedelta(days=1)
"""What happened longer ago is no news, and isn't mailed."""

DIGEST_HOUR = time(7)
"""When the letters that come once a day are sent, in the site's time zone."""


def _queue(mails: Iterable[Mail]) -> None:
    """Queue letters; those of events that are told already are passed over."""
    if not (new := list(mails)):
        return
    Mail.objects.bulk_create(new, ignore_conflicts=True)
    transaction.on_commit(send_due.enqueue, robust=True)


def _is_old(at: datetime) -> bool:
    return at < timezone.now() - OLD


def _to(person: Person, kind: Kind, *, key: str, **more: Any) -> Mail:
    """A letter to somebody with an account; the key names the event."""
    key = f"{kind}:{key}:{person.pk}"
    return Mail(kind=kind, key=key, person=person, address=person.email, **more)


def _to_juror(seat: Seat, crit: Crit, kind: Kind, *, key: str = "", **more: Any) -> Mail:
    """A letter to a juror, who has an address and no account; the key names the event."""
    key = ":".join(filter(None, (kind, f"{seat.pk}", key)))
    address, studio_id = seat.email, crit.studio_id
    return Mail(kind=kind, key=key, address=address, studio_id=studio_id, about=seat.pk, **more)


def invite(places: Iterable[Membership], *, anew: bool = False) -> None:
    """Queue the way in for whoever has got a place in a studio; once more where it is asked for."""
    again = f" {timezone.now().isoformat()}" if anew else ""
    _queue(
        _to(
            place.person,
            Kind.INVITATION,
            key=f"{place.pk} {place.role}{again}",
            studio_id=place.studio_id,
            about=place.pk,
        )
        for place in places
    )


def hand_links(crit: Crit) -> int:
    """Queue the personal links of jurors who have an address; return how many that is.

    A link that was sent isn't sent again; a new one is.
    """
    seats = list(crit.seats.exclude(email=""))
    _queue(_link(seat, crit) for seat in seats)
    return len(seats)


def _link(seat: Seat, crit: Crit) -> Mail:
    code = hashlib.sha256(f"{seat.code} {seat.email}".encode()).hexdigest()[:32]
    return _to_juror(seat, crit, Kind.LINK, key=code)


def hand_letters(seats: Iterable[Seat], crit: Crit) -> None:
    """Queue what became of their remarks for jurors who have an address, once each."""
    _queue(_to_juror(seat, crit, Kind.LETTER) for seat in seats if seat.email)


def hand_receipts(revision: Revision) -> None:
    """Queue a receipt for everybody whose work a revision is."""
    if _is_old(revision.issued_at):
        return
    studio_id = revision.scheme.studio_id
    _queue(
        _to(student, Kind.RECEIPT, key=f"{revision.pk}", studio_id=studio_id, about=revision.pk)
        for student in revision.students.all()
    )


def announce_release(crit: Crit, released_at: datetime, stands_at: datetime) -> None:
    """Queue that results are out, for when the release can't be called back any more."""
    if _is_old(released_at):
        return
    _queue(
        _to(
            student,
            Kind.RESULTS,
            key=f"{crit.pk} {released_at.timestamp():.6f}",
            studio_id=crit.studio_id,
            about=crit.pk,
            due_at=stands_at,
        )
        for student in _students_of(crit)
    )


def _students_of(crit: Crit) -> QuerySet[Person]:
    """Those of a crit's schemes, and those whose work was issued for it."""
    of_now = Q(schemes__slots__crit=crit)
    return Person.objects.filter(of_now | Q(issued__crit=crit)).distinct()


def tell_stopped(crit: Crit, due_at: datetime) -> None:
    """Queue for its leaders that a release which was set didn't go out."""
    places = Membership.objects.joined().filter(studio=crit.studio_id)
    leaders = places.filter(role=Membership.Role.LEADER).select_related("person")
    _queue(
        _to(
            place.person,
            Kind.STOPPED,
            key=f"{crit.pk} {due_at.timestamp():.0f}",
            studio_id=crit.studio_id,
            about=crit.pk,
        )
        for place in leaders
    )


def announce_comments(crit: Crit, sent_at: datetime) -> None:
    """Queue that comments are out, without levels."""
    if _is_old(sent_at - clock.shift()):
        return
    _queue(
        _to(
            student,
            Kind.COMMENTS,
            key=f"{crit.pk}",
            studio_id=crit.studio_id,
            about=crit.pk,
        )
        for student in _students_of(crit)
    )


def ask_for_words(crit: Crit, seats: Iterable[Seat]) -> bool:
    """Queue for each juror the list of comments that lack words; whether any is asked anew."""
    mails = [_to_juror(seat, crit, Kind.STUBS) for seat in seats]
    told = Mail.objects.filter(key__in=[mail.key for mail in mails]).count()
    _queue(mails)
    return told < len(mails)


def offer_words(offer: Rewording) -> None:
    """Queue for a comment's juror that other words are offered, where there is an address."""
    seat = offer.comment.jury_sheet.seat
    if not seat.email or _is_old(offer.offered_at - clock.shift()):
        return
    _queue([_to_juror(seat, seat.crit, Kind.REWORDING, key=f"{offer.pk}")])


def drop_release(crit: Crit) -> None:
    """Send nothing of a release that is called back."""
    waits = Mail.objects.filter(kind=Kind.RESULTS, about=crit.pk, state=Mail.State.QUEUED)
    waits.update(state=Mail.State.DROPPED)


def tell_juror(answer: Answer) -> None:
    """Queue the day's answers for the juror who wrote the comment, once a day."""
    seat = answer.comment.jury_sheet.seat
    if not seat.email or _is_old(answer.answered_at):
        return
    day = timezone.localdate(answer.answered_at)
    when = {"day": day, "due_at": morning_after(day)}
    _queue([_to_juror(seat, seat.crit, Kind.ANSWERS, key=f"{day}", **when)])


def tell_of_appeal(appeal: Appeal) -> None:
    """Queue word of an appeal: made, to leaders and coordinators; decided, to who made it."""
    of: dict[str, Any] = {"studio_id": appeal.crit.studio_id, "about": appeal.pk}
    at = appeal.decided_at or appeal.at
    if _is_old(at - clock.shift()):
        return
    if appeal.decided_at:
        _queue([_to(appeal.by, Kind.APPEAL, key=f"{appeal.pk} decided", **of)])
        return
    leads = Q(
        memberships__in=Membership.objects.joined().filter(
            role=Membership.Role.LEADER, studio=appeal.crit.studio_id
        )
    )
    told = Person.objects.filter(leads | Q(is_coordinator=True), is_active=True)
    told = told.exclude(pk=appeal.by_id).distinct()
    _queue(_to(person, Kind.APPEAL, key=f"{appeal.pk} made", **of) for person in told)


def tell_owner(
    person: Person, kind: Kind, ways: Iterable[Authenticator] | Iterable[ScriptToken]
) -> None:
    """Queue for an account's owner that ways into it were made or ended, whoever did it."""
    _queue(_to(person, kind, key=f"{each.pk}", named=f"{each}"[:60]) for each in ways)


def tell_readdressed(person: Person, before: str, studio: Studio) -> None:
    """Queue for an account's owner, at both addresses, that it has another one."""
    at = timezone.now().isoformat()
    letters = [_to(person, Kind.READDRESSED, key=f"{at} {n}", studio=studio) for n in range(2)]
    letters[0].address = before
    _queue(letters)


def morning_after(day: date) -> datetime:
    """The moment at which a day's digest is sent."""
    return timezone.make_aware(datetime.combine(day + timedelta(days=1), DIGEST_HOUR))


def queue_days(at: datetime) -> None:
    """Queue yesterday for every leader of a crit that is open, once, from the morning on."""
    day = timezone.localdate(at) - timedelta(days=1)
    if at < morning_after(day) or Mail.objects.filter(kind=Kind.DAY, day=day).exists():
        return
    places = Membership.objects.joined().filter(role=Membership.Role.LEADER)
    places = places.filter(studio__crits__in=Crit.objects.to_come())
    leaders = Person.objects.filter(memberships__in=places).distinct()
    _queue(_to(leader, Kind.DAY, key=f"{day}", day=day) for leader in leaders)
