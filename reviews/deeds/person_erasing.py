"""Make somebody anonymous on request: what goes, what loses its name, what is kept and why.

An account is never deleted: what an examination rests on, issued revisions, jury sheets, answers,
points at it, and now points at “Former student 12”. Its address, password, sessions and links end,
and so do drafts that nobody else draws. A juror's seat likewise.

Names stand as text in title blocks (of drafts, of issued sheets and in the sheet list that a
revision froze) and in the words of changes. There the name is replaced, in the studios of its
bearer and nowhere else: a name that is only hidden would still be kept. It is the one deed that
rewrites what was issued, the credits alone, and the audit list tells of it. A receipt number stays
as it was handed out, so the one of such a revision can't be computed again. Initials and names in
running text stay as they were typed: nothing tells whose they are; `stays` says so.

Done twice, it changes nothing the second time.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from allauth.mfa.models import Authenticator
from allauth.socialaccount.models import SocialAccount
from axes.models import AccessAttempt
from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.models import Session
from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils import timezone

from reviews.access import SEAT_KEY
from reviews.deeds.audit_keeping import Deed, record_of
from reviews.deeds.evidence_making import mask_books
from reviews.deeds.package_keeping import hold
from reviews.deeds.paper_making import let_paper_go
from reviews.deeds.record_changes import change_words
from reviews.deeds.result_papers_making import let_results_go
from reviews.deeds.sheet_clearing import clear_those
from reviews.deeds.studio_days_erasing import (
    empty_desk,
    forget_opened,
    mask_answers,
    mask_portfolios,
)
from reviews.deeds.studio_roster_known import without_school_id
from reviews.models import (
    BroughtFile,
    CalendarLink,
    Change,
    Crit,
    IssuedPackage,
    IssuedSheet,
    Mail,
    Membership,
    Package,
    Person,
    Revision,
    Scheme,
    ScriptToken,
    Seat,
    SentPicture,
    Sheet,
    Studio,
    UnwantedMail,
)
from reviews.models.briefs import Frozen
from reviews.models.seats import new_code

CREDITS = ("drawn_by", "checked_by")
NAMED = (*CREDITS, "original_name")
LONGEST = 120
"""Most characters of a credit: what stands in a short name's place may be longer than it."""


@dataclass(frozen=True)
class Somebody:
    """An account, the seats of a juror who has none, or both: what an address leads to."""

    person: Person | None
    seats: tuple[Seat, ...] = ()

    @property
    def studios(self) -> QuerySet[Studio]:
        """Where somebody has a place, work or a seat."""
        sat = Studio.objects.filter(crits__seats__in=self.seats)
        found = sat | Studio.objects.of_people([self.person]) if self.person else sat
        return found.distinct()

    @property
    def anonymous(self) -> dict[str, str]:
        """Each name that goes, with what stands in its place."""
        names = {seat.name: f"Former juror {seat.pk}" for seat in self.seats}
        if self.person is None:
            return names
        called = self.person.memberships.invited().values_list("called", flat=True)
        return names | dict.fromkeys((*called, self.person.name), former_name(self.person))

    @property
    def everywhere(self) -> list[Studio]:
        """The same, and the studios that only invited somebody: they typed a name."""
        invited = Studio.objects.filter(memberships__person=self.person) if self.person else ()
        return list({*self.studios, *invited})


@dataclass(frozen=True)
class Erasing:
    """What making somebody anonymous does, in words; refused says why it can't be, if it can't.

    held_back   crits for which it waits, unless whoever asks says that it shall not
    """

    goes: list[str]
    anonymous: list[str]
    stays: list[str]
    refused: list[str]
    held_back: list[str]


def find(email: str) -> Somebody | None:
    """Whom an address leads to, of those who aren't anonymous yet."""
    address = email.strip()
    person = Person.objects.filter(email__iexact=address, erased_at=None).first()
    seats = Seat.objects.named().filter(email__iexact=address) if address else Seat.objects.none()
    seats = seats.select_related("crit__studio").order_by("pk")
    return Somebody(person, tuple(seats)) if person or seats else None


def former_name(person: Person) -> str:
    """What somebody is called afterwards: Former student 12."""
    roles = set(person.memberships.joined().values_list("role", flat=True))
    role = next((r for r in Membership.Role if r in roles), Membership.Role.STUDENT)
    word = "coordinator" if person.is_coordinator else role.label.lower()
    return f"Former {word} {person.pk}"


def plan(whom: Somebody) -> Erasing:
    """Say what making somebody anonymous would do. Nothing is done."""
    person, seats = whom.person, whom.seats
    goes, stays = [], []
    if person:
        goes.append(f"the address {person.email}, the password, every session, link and way in")
        for package in _packages(person):
            held = f"{counted(package.rows.count(), 'row')}, "
            held += counted(package.sheets.count(), "sheet")
            if others := ", ".join(map(str, _others(package.scheme, person))):
                stays.append(f"the draft of {package.scheme}, which {others} draws too")
            else:
                rest = "changes, desk crits, options"
                goes.append(f"the draft of {package.scheme}: statement, {held}, {rest}")
        if sent := _as_sent(person).count():
            goes.append(
                f"the files as sent of {counted(sent, 'issued sheet')}: their pictures stay"
            )
        if adjusted := person.adjustments.count():
            goes.append(f"{counted(adjusted, 'adjustment')}: how they presented")
        issued = Revision.objects.filter(students=person)
        stays += [
            f"{each} with its check sheet: a crit's levels stand on it"
            for each in issued.select_related("scheme")
        ]
    for seat in seats:
        goes.append(
            f"the address and the personal link of {seat} at {seat.crit.studio}: {seat.crit}"
        )
        if own := seat.private_notes.count() + seat.phrases.count():
            goes.append(f"{counted(own, 'private note or phrase')} of {seat}")
        if words := seat.interests.exclude(words="").count():
            goes.append(f"the words of {counted(words, 'declared interest')}")
        sheets = seat.sheets.count()
        if sheets:
            stays.append(f"{counted(sheets, 'jury sheet')} of {seat.crit}: results rest on them")
    credits_ = sum(1 for _ in _credited(whom))
    anonymous = [f"{name} is called {now} on every page" for name, now in whom.anonymous.items()]
    if credits_:
        anonymous.append(f"the name in the title blocks of {counted(credits_, 'sheet')}")
    if person:
        stays.append(
            "answers, reasons and other words written as part of a record, under that name"
        )
        stays += [
            f"the seat of {seat} at {seat.crit.studio}: {seat.crit}, which has no address; type it "
            "there first, if the seat is theirs"
            for seat in _seats_without_address(whom)
        ]
        stays.append("initials, and names in running text: nothing tells whose they are")
    return Erasing(goes, anonymous, stays, _refusals(whom), _held_back(whom))


@transaction.atomic
def erase(whom: Somebody, *, although_a_crit_is_open: bool = False) -> None:
    """Make somebody anonymous. Raises Frozen where that can't be, or waits for a crit."""
    studios = list(whom.studios)
    for crit in Crit.objects.filter(studio__in=studios).order_by("pk"):
        Crit.objects.hold(crit.pk)
    told = plan(whom)
    if told.refused or (told.held_back and not although_a_crit_is_open):
        raise Frozen("; ".join(told.refused or told.held_back))
    make_anonymous(whom)
    of_seat = None if whom.person else next(iter(whom.seats), None)
    record_of(Deed.ERASED, studios, by=None, of_person=whom.person, of_seat=of_seat)


def make_anonymous(whom: Somebody) -> None:
    """Take name, address and ways in from somebody, and drafts that nobody else draws."""
    _replace_names(whom)
    _end_sessions(whom)
    _stop_letters(whom)
    everywhere = Crit.objects.filter(studio__in=whom.everywhere)
    let_paper_go(*everywhere)
    let_results_go(*everywhere)
    for seat in whom.seats:
        seat.name, seat.email, seat.code = whom.anonymous[seat.name], "", new_code()
        seat.erased_at = timezone.now()
        seat.save()
        seat.interests.exclude(words="").update(words="")
        CalendarLink.objects.filter(seat=seat).delete()
        seat.private_notes.all().delete()
        seat.phrases.all().delete()
    if whom.person:
        for package in _packages(whom.person):
            if not _others(package.scheme, whom.person):
                _empty(hold(package))
        _let_go_as_sent(whom.person)
        forget_opened(whom.person)
        _close(whom.person)
        SentPicture.objects.filter(by=whom.person).delete()
        BroughtFile.objects.filter(by=whom.person).delete()
        whom.person.adjustments.all().delete()


def _close(person: Person) -> None:
    fresh = Person()
    kept = ("id", "name", "email", "password")
    for field in Person._meta.concrete_fields:
        if field.name not in kept:
            setattr(person, field.name, getattr(fresh, field.name))
    AccessAttempt.objects.filter(username__iexact=person.email).delete()
    for way_in in (SocialAccount, Authenticator):
        way_in.objects.filter(user=person).delete()
    person.memberships.invited().delete()
    person.memberships.update(school_id="")
    for secret in (CalendarLink, ScriptToken):
        secret.objects.filter(person=person).delete()
    person.name, person.email = former_name(person), f"former-{person.pk}@erased.invalid"
    person.set_unusable_password()
    person.is_active, person.erased_at = False, timezone.now()
    person.save()


def _packages(person: Person) -> QuerySet[Package]:
    return Package.objects.filter(scheme__members=person).select_related("scheme__studio")


def _others(scheme: Scheme, person: Person) -> list[Person]:
    """Who else draws a scheme and has a name."""
    return list(scheme.members.filter(erased_at=None).exclude(pk=person.pk))


def _empty(package: Package) -> None:
    files = [*package.sheets.values_list("file", "original"), *empty_desk(package.scheme)]
    sent = (package.sent_pictures, package.brought_files)
    for kept in (package.rows, package.sheets, *sent, package.changes):
        kept.all().delete()
    package.statement, package.statement_version = "", package.statement_version + 1
    package.save()
    # outside of what is held here: the line of pictures waits for its turn at the database too
    transaction.on_commit(partial(clear_those, files))


def _as_sent(person: Person) -> QuerySet[IssuedSheet]:
    """The issued sheets of somebody and nobody else who has a name, whose file as sent is kept.

    Such a file says in places that nobody can mask who made it.
    """
    named = Person.objects.filter(erased_at=None).exclude(pk=person.pk)
    alone = Revision.objects.filter(students=person).exclude(students__in=named)
    return IssuedSheet.objects.filter(revision__in=alone, original__isnull=False)


def _let_go_as_sent(person: Person) -> None:
    sent = _as_sent(person)
    held = list(sent.values_list("file", "original"))
    sent.update(original=None, original_name="")
    transaction.on_commit(partial(clear_those, held))


def _refusals(whom: Somebody) -> list[str]:
    """Where somebody can't go yet: a studio keeps a leader for as long as it is kept."""
    if whom.person is None:
        return []
    leaders = Membership.objects.filter(role=Membership.Role.LEADER, person__erased_at=None)
    led = Studio.objects.filter(memberships__in=leaders.filter(person=whom.person))
    others = leaders.exclude(person=whom.person)
    alone = led.exclude(memberships__in=others).exclude(pk__in=led.due(timezone.localdate()))
    return [f"{whom.person} is the only leader of {each}: bring in another first" for each in alone]


def _held_back(whom: Somebody) -> list[str]:
    crits = Crit.objects.open_on(timezone.localdate()).filter(studio__in=whom.studios)
    return [f"{crit} of {crit.studio} is not released" for crit in crits.select_related("studio")]


def _end_sessions(whom: Somebody) -> None:
    accounts = {str(whom.person.pk)} if whom.person else set()
    seats = {seat.pk for seat in whom.seats}
    for session in Session.objects.iterator():
        held = session.get_decoded()
        if held.get(SESSION_KEY) in accounts or (held.get(SEAT_KEY) or [None])[0] in seats:
            session.delete()


def _seats_without_address(whom: Somebody) -> QuerySet[Seat]:
    """Seats of the same name in the same studios: nothing tells whether they are theirs."""
    named = Seat.objects.named().filter(name__iexact=getattr(whom.person, "name", ""), email="")
    return named.filter(crit__studio__in=whom.studios).select_related("crit__studio")


def _stop_letters(whom: Somebody) -> None:
    """Take out what was sent or waits to be sent to an address, and what it didn't want."""
    for address in {seat.email for seat in whom.seats} | {getattr(whom.person, "email", "")}:
        if address:
            Mail.objects.filter(address__iexact=address).delete()
            UnwantedMail.objects.filter(address__iexact=address).delete()
    if whom.person:  # and what went to an address before
        whom.person.mails.all().delete()


def _credited(whom: Somebody) -> Iterator[Sheet | IssuedSheet]:
    """The sheets of somebody's studios whose title block has the name, in drafts and as issued."""
    named = Q()
    for name in filter(None, whom.anonymous):
        for head in NAMED:
            named |= Q(**{f"{head}__icontains": name})
    if named:
        studios = whom.everywhere
        yield from Sheet.objects.filter(named, package__scheme__studio__in=studios)
        yield from IssuedSheet.objects.filter(named, revision__scheme__studio__in=studios)


def _replace_names(whom: Somebody) -> None:
    """Write the new name over the old one, in title blocks and in what changes say."""
    names = whom.anonymous
    issued = set()
    for sheet in _credited(whom):
        now = {head: masked(getattr(sheet, head), names)[:LONGEST] for head in NAMED}
        type(sheet)._base_manager.filter(pk=sheet.pk).update(**now)
        if isinstance(sheet, IssuedSheet):
            issued.add(sheet.revision_id)
    for package in IssuedPackage.objects.filter(revision__in=issued):
        lines = [
            line | {head: masked(line.get(head, ""), names)[:LONGEST] for head in CREDITS}
            for line in package.contents["sheets"]
        ]
        contents = package.contents | {"sheets": lines}
        IssuedPackage.objects.filter(pk=package.pk).update(contents=contents)
    texts = names | {seat.email: "" for seat in whom.seats}
    texts |= {seat.code: new_code() for seat in whom.seats}
    calendars = CalendarLink.objects.filter(seat__in=whom.seats)
    texts |= dict.fromkeys(calendars.values_list("code", flat=True), "")
    studios = whom.everywhere
    mask_answers(studios, names, masked)
    mask_portfolios(studios, names, masked)
    own = {whom.person.email: ""} if whom.person else {}
    mask_books(studios, texts | own, masked)
    of_studios = Q(studio__in=studios) | Q(crit__studio__in=studios)
    for change in Change.objects.filter(of_studios):
        held = {name: getattr(change, name) for name in ("what", "before", "after")}
        if held != (without := masked(without_school_id(held, whom.person), texts)):
            without["what"] = change_words(without["what"])
            Change.objects.filter(pk=change.pk).update(**without)


def masked(told: Any, names: Mapping[str, str]) -> Any:
    """The same with other names in every text of it, however deep; part of a word is no name.

    >>> masked({"by": "ADA Merrowby, Ben", "n": 2}, {"Ada Merrowby": "Former student 4"})
    {'by': 'Former student 4, Ben', 'n': 2}
    >>> masked("Adamant", {"Ada": "Former student 4"})
    'Adamant'
    """
    if isinstance(told, dict):
        return {key: masked(value, names) for key, value in told.items()}
    if isinstance(told, list):
        return [masked(value, names) for value in told]
    if isinstance(told, str):
        for name in sorted(filter(None, names), key=len, reverse=True):
            whole = rf"(?<!\w){re.escape(name)}(?!\w)"
            told = re.sub(whole, names[name], told, flags=re.IGNORECASE)
    return told


def counted(number: int, what: str) -> str:
    """So many of something, in words."""
    return f"{number} {what}{'s' * (number != 1)}"
