"""Bring people into a studio from a table, and take them out again."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from django.contrib.auth.hashers import make_password
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction

from criteria.typed.columns import text, word
from criteria.typed.rows import Row, Schedule, schedule
from criteria.typed.tables import RefusedCell
from reviews import clock
from reviews.deeds.mail_queueing import invite
from reviews.deeds.person_readdressing import readdress
from reviews.deeds.record_changes import Part, has_entries, last_seen, logged
from reviews.deeds.studio_roster_heads import one_name_a_line
from reviews.deeds.studio_roster_known import Known, Sought, without_addresses
from reviews.deeds.table_bringing import (
    THE_SAME,
    Preview,
    Record,
    clean,
    folded,
    line_by_line,
    read_table,
    synonyms,
)
from reviews.models import Membership, Package, Person, Scheme, Studio

Role = Membership.Role


@schedule("people", "People", purpose="Who belongs to the studio, and which scheme they draw.")
class RosterRow(Row):
    """One line of a roster."""

    name: str | None = text("name", required=True, longest=120, eg="Ada Merrowby")
    email: str | None = text("email", "E-mail", required=True, longest=254, eg="ada@example.org")
    scheme_number: str | None = text("number", "Scheme number", longest=12, eg="H01").says(
        "A pair shares one."
    )
    scheme: str | None = text("scheme", "Scheme name", longest=80, eg="Ridge Ladder").says(
        "Once is enough for a pair."
    )
    role: str | None = word("role", Role.values, eg="student").says("Blank is student.", blank=None)
    school_id: str | None = text("school_id", "School id", longest=255, eg="s-20431").says(
        "What the school’s roster calls the person, who is known again by it."
    )


ROSTER: Schedule = RosterRow.schedule
ADDRESS = "an e-mail address, such as ada@example.org"

_HEADS = synonyms(
    {
        "name": "fullname student studentname person",
        "email": "mail emailaddress address",
        "number": "schemeno schemenumber no nr",
        "scheme": "schemename handle schemetitle",
        "school_id": "sourcedid",
    }
)
_WORDS = synonyms({"leader": "studioleader instructor teacher", "examiner": "externalexaminer"})


def _sought(record: Record) -> Sought:
    name, school_id = record["name"].strip(), record["school_id"].strip()
    return Sought(name, record["email"].strip().lower(), school_id)


def _number(record: Record) -> str:
    return record["number"].strip()


def _role(record: Record) -> str:
    return record["role"].strip().lower() or Role.STUDENT


class _Lines:
    """Holds each line to the lines above it and to the studio."""

    def __init__(self, studio: Studio, known: Known) -> None:
        self.known = known
        self.names = {scheme.number: scheme.name for scheme in studio.schemes.all()}
        self.typed_names: dict[str, str] = {}
        self.seen: set[tuple[str, str]] = set()
        self.ids: dict[str, str] = {}

    def check(self, number: int, record: Record) -> list[RefusedCell]:
        refused = []

        def refuse(label: str, read: str, expected: str) -> None:
            refused.append(RefusedCell(number, "", label, read, expected))

        sought, role = _sought(record), _role(record)
        email, here = sought.email, self.known.address(sought)
        try:
            validate_email(email)
        except ValidationError:
            refuse("E-mail", email, ADDRESS)
        if (here, role) in self.seen:
            refuse("E-mail", email, f"an address that no {role} above has")
        self.seen.add((here, role))
        if sought.school_id and self.ids.setdefault(sought.school_id, email) != email:
            refuse("School id", sought.school_id, "an id that nobody above has by another address")
        if wrong := self.known.refused(sought):
            refuse(*wrong)
        scheme, name = _number(record), record["scheme"].strip()
        if role != Role.STUDENT and (scheme or name):
            refuse("Scheme number", scheme or name, f"a blank: a {role} draws no scheme")
        elif scheme:
            before = self.typed_names.get(scheme)
            if name and before and folded(before) != folded(name):
                refuse("Scheme name", name, f"“{before}”, as {scheme} is called above, or a blank")
            if not name and not before and scheme not in self.names:
                refuse("Scheme name", "nothing", f"a name for the new scheme {scheme}")
            self.typed_names.setdefault(scheme, name) if name else None
        elif name:
            refuse("Scheme number", "nothing", f"the number of {name}")
        return refused


def read_roster(studio: Studio, typed: str, by: Person) -> Preview:
    """Read a roster and say what each line would do, if `by` kept it. Nothing is kept."""
    known = Known(studio, by)
    lines = _Lines(studio, known)
    check = line_by_line(lines.check)
    preview = read_table(
        ROSTER, typed, heads=_HEADS, words=_WORDS, check=check, laid=one_name_a_line
    )
    news = tuple(_news(studio, known, preview.records))
    refused = tuple(_asking_for_address(cell) for cell in preview.refused)
    return replace(preview, refused=refused, news=news, seen=last_seen(studio, PEOPLE.slug))


def _asking_for_address(cell: RefusedCell) -> RefusedCell:
    """Ask in words for the address that a line lacks."""
    is_blank = cell.column == ROSTER.column("email").label and cell.read in ("", "nothing")
    return replace(cell, expected=ADDRESS) if is_blank else cell


def _news(studio: Studio, known: Known, records: tuple[Record, ...]) -> list[str]:
    places = {(p.person.email, p.role): p for p in known.places}
    schemes = {s.number: s for s in studio.schemes.prefetch_related("members")}
    by_key = {scheme.pk: scheme for scheme in schemes.values()}
    drawn = {m.email: s for s in schemes.values() for m in s.members.all()}
    drawn |= {email: by_key[p.scheme_id] for (email, _), p in places.items() if p.scheme_id}
    news, begun = [], set(schemes)
    for record in records:
        sought, role, number = _sought(record), _role(record), _number(record)
        email, said = known.address(sought), []
        if (email, role) not in places:
            said.append("new here")  # whether there is an account is nobody's business
        said += known.news(sought)
        if number and number not in begun:
            said.append(f"new scheme {number}")
            begun.add(number)
        said += _scheme_news(record, schemes.get(number), drawn.get(email))
        news.append(", ".join(said) or THE_SAME)
    return news


def _scheme_news(record: Record, scheme: Scheme | None, before: Scheme | None) -> list[str]:
    said = []
    if before and _number(record) and before.number != _number(record):
        said.append(f"moves from {before.number}")
    if scheme is None:
        return said
    name = record["scheme"].strip()
    if name and name != scheme.name:
        said.append(f"{scheme.number} is renamed from {scheme.name}")
    if scheme.withdrawn_at:
        said.append(f"{scheme.number} is taken up again")
    if before != scheme:
        said.append(f"joins {scheme.number}")
    return said


@transaction.atomic
def bring_in(
    studio: Studio,
    typed: str,
    by: Person,
    *,
    seen: int | None = None,
    at: datetime | None = None,
) -> Preview:
    """Keep a roster. Whoever has an account is invited; bringing in twice changes nothing.

    Raises NotClean where a cell is refused, Newer where people came or went since the last change
    that was seen, Refused where an address is another account's.
    """
    held = PEOPLE.hold(studio)
    preview, known = clean(read_roster(held, typed, by)), Known(held, by)
    before = set(held.memberships.values_list("pk", flat=True))
    with logged(held, PEOPLE, by, without_addresses(preview.change), seen=seen, at=at):
        for record in preview.records:
            place = _known_again(held, known, _sought(record), _role(record), by)
            if _number(record):
                _draw(place, _scheme_of(held, _number(record), record["scheme"].strip()))
    invite(held.memberships.exclude(pk__in=before).select_related("person"))
    return preview


@transaction.atomic
def name_leader(studio: Studio, name: str, email: str, by: Person) -> Membership:
    """Give an address a leader's place, and tell it; an account that is used is invited."""
    held = PEOPLE.hold(studio)
    address = email.strip().lower()
    before = held.memberships.filter(person__email__iexact=address, role=Role.LEADER).first()
    if before:
        return before
    with logged(held, PEOPLE, by, f"{name} named as leader"):
        place = _placed(held, address, name, Role.LEADER)
    invite([place])
    return place


def _known_again(held: Studio, known: Known, sought: Sought, role: str, by: Person) -> Membership:
    """The place of whom a line means, with the school's address and id as far as it gives them."""
    person = known.person(sought)
    if person is not None and known.is_readdressed(sought):
        readdress(person, sought.email, held, by)
    place = _placed(held, known.address(sought), sought.name, role)
    if sought.school_id:
        held.memberships.filter(person=place.person_id).update(school_id=sought.school_id)
    return place


def _placed(studio: Studio, email: str, name: str, role: str) -> Membership:
    """Give an address its place. An account that somebody uses is invited, and stays as it is."""
    person, is_new = Person.objects.get_or_create(
        email__iexact=email,
        defaults={"email": email, "name": name, "password": make_password(None)},
    )
    is_free = is_new or person.is_unused
    if is_free and person.name != name:
        person.name = name
        person.save(update_fields=["name"])
    is_here = studio.memberships.joined().filter(person=person).exists()
    invited = {} if is_free or is_here else {"is_invited": True, "called": name}
    place, _ = studio.memberships.get_or_create(person=person, role=role, defaults=invited)
    return place


def _scheme_of(studio: Studio, number: str, name: str) -> Scheme:
    """The scheme of a number, made or renamed or taken up again as a roster says."""
    scheme, _ = Scheme.objects.get_or_create(
        studio=studio, number=number, defaults={"name": name or number}
    )
    Package.objects.get_or_create(scheme=scheme)
    if (name and name != scheme.name) or scheme.withdrawn_at:
        scheme.name, scheme.withdrawn_at = name or scheme.name, None
        scheme.save(update_fields=["name", "withdrawn_at"])
    return scheme


def _draw(place: Membership, scheme: Scheme) -> None:
    """Make a person a student of a scheme, and of no other of the studio; once they have joined."""
    if place.is_invited:
        place.scheme = scheme
        place.save(update_fields=["scheme"])
        return
    person = place.person
    for other in person.schemes.filter(studio=scheme.studio_id).exclude(pk=scheme.pk):
        leave(other, person)
    scheme.members.add(person)


@transaction.atomic
def join(place: Membership) -> None:
    """Take up an invitation: only the person invited does."""
    studio = PEOPLE.hold(place.studio)
    held = studio.memberships.select_related("scheme", "person").get(pk=place.pk)
    with logged(studio, PEOPLE, held.person, f"{held.person} joined"):
        scheme, held.is_invited, held.called, held.scheme = held.scheme, False, "", None
        held.save(update_fields=["is_invited", "called", "scheme"])
        if scheme:
            _draw(held, _scheme_of(studio, scheme.number, scheme.name))


def leave(scheme: Scheme, person: Person) -> None:
    """Take a student off a scheme. One left without students is withdrawn, and kept."""
    scheme.members.remove(person)
    if scheme.withdrawn_at is None and not scheme.members.exists():
        scheme.withdrawn_at = clock.now()
        scheme.save(update_fields=["withdrawn_at"])


@transaction.atomic
def remove_member(membership: Membership, by: Person) -> None:
    """Take a person's place in a studio away; what they drew and issued is kept.

    Raises LastLeader where nobody would lead the studio.
    """
    held, person = PEOPLE.hold(membership.studio), membership.person
    leaders = held.memberships.joined().filter(role=Role.LEADER)
    if membership in leaders and leaders.count() == 1:
        raise LastLeader(f"{person} is the only leader. A studio keeps at least one.")
    role = membership.get_role_display().lower()
    with logged(held, PEOPLE, by, f"{membership.name} removed, {role}"):
        if membership.role == Role.STUDENT and not membership.is_invited:
            for scheme in person.schemes.filter(studio=held):
                leave(scheme, person)
        held.memberships.filter(pk=membership.pk).delete()


class LastLeader(Exception):
    """A studio keeps at least one leader."""


_PLACE = ("pk", "person_id", "role", "is_invited", "called", "scheme_id", "school_id")


def _people_of(studio: Studio) -> dict[str, Any]:
    """Who is in a studio as what, and who draws which scheme: never a password, never a link."""
    schemes = studio.schemes.prefetch_related("members").order_by("pk")
    return {
        "places": list(studio.memberships.order_by("pk").values(*_PLACE)),
        "schemes": [
            {
                "pk": scheme.pk,
                "name": scheme.name,
                "withdrawn_at": scheme.withdrawn_at and str(scheme.withdrawn_at),
                "members": sorted(member.pk for member in scheme.members.all()),
            }
            for scheme in schemes
        ],
    }


def _put_back(held: Studio, people: dict[str, Any]) -> None:
    """Put places and teams back. Accounts stay as they are, and so does a scheme that has work."""
    held.memberships.exclude(pk__in=[place["pk"] for place in people["places"]]).delete()
    for place in people["places"]:
        held.memberships.update_or_create(pk=place["pk"], defaults=place)
    was = {scheme["pk"]: scheme for scheme in people["schemes"]}
    for scheme in held.schemes.all():
        if before := was.get(scheme.pk):
            scheme.members.set(before["members"])
            scheme.name, scheme.withdrawn_at = before["name"], before["withdrawn_at"]
            scheme.save(update_fields=["name", "withdrawn_at"])
        elif _has_work(scheme):
            for member in scheme.members.all():
                leave(scheme, member)
        else:
            scheme.delete()


def _has_work(scheme: Scheme) -> bool:
    """Whether anybody drew, typed, planned, judged or issued anything of a scheme."""
    package = scheme.package
    return bool(package.statement_version) or any(
        has_entries(row, besides=(Package,)) for row in (package, scheme)
    )


PEOPLE = Part(
    "people",
    "roster",
    lambda studio: Studio.objects.select_for_update().get(pk=studio.pk),
    _people_of,
    _put_back,
)
