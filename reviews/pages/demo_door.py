"""The demo's way in: everybody by role, one click each. Shut unless this is the demo."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, QuerySet
from django.http import Http404
from django.urls import reverse
from django.utils.safestring import SafeString

from criteria.drawing.drawing import NARROW_MM, Field
from criteria.drawing.hut import draw_hut
from criteria.drawing.running_order import Turn
from reviews import clock, demo_mark
from reviews.drawn.svg import as_svg
from reviews.models import Crit, Membership, Package, Person, Seat

Role = Membership.Role
WIDE_MM = 260.0
"""As wide as a sheet across holds within its border [mm]."""


@dataclass(frozen=True)
class Door:
    """One click of the demo's sign-in page; a link of their own, or an account's."""

    name: str
    about: str
    url: str
    is_link: bool = False


@dataclass(frozen=True)
class Hut:
    """The four ways in that the demo begins with, as doors of a hut in section."""

    doors: list[tuple[str, Door]]
    wide: SafeString
    narrow: SafeString


def hut() -> Hut | None:
    """One person of each of four roles, a leader first; None where the demo has nobody yet."""
    leader = _joined().filter(role=Role.LEADER).first()
    drawn = Package.objects.annotate(filled=Count("rows")).order_by("-filled", "pk")
    drawn = drawn.filter(scheme__studio=leader.studio if leader else None)
    drawn = drawn.exclude(scheme__slots__state=Turn.DONE)
    students = Person.objects.filter(schemes__package__in=drawn[:1]).order_by("name")
    seats = _seats().filter(crit__day__gte=clock.today()).order_by("crit__day", "room")
    seat = seats.first() or _seats().order_by("-crit__day").first()
    examiner = _joined().filter(role=Role.EXAMINER).first()
    places = _joined().filter(role=Role.STUDENT)
    student = places.filter(person=students.first()).first() or places.first()
    found = [
        ("Studio leader", _door(leader, leader.studio.title)) if leader else None,
        ("Student", _door(student, _own(student))) if student else None,
        ("Juror", _juror_door(seat)) if seat else None,
        ("Examiner", _door(examiner, examiner.studio.title)) if examiner else None,
    ]
    doors = [each for each in found if each]
    if not doors:
        return None
    names = [role for role, _ in doors]
    wide, narrow = (draw_hut(names, Field(width_mm=width)) for width in (WIDE_MM, NARROW_MM))
    return Hut(doors, as_svg(wide, "hut"), as_svg(narrow, "hut-narrow"))


def require_demo() -> None:
    """Raise Http404 unless this is the demo."""
    if not demo_mark.is_demo():
        raise Http404


def people_by_role() -> list[tuple[str, list[Door]]]:
    """Everybody of the demo under their roles, with the scheme or studio beside each name."""
    found: dict[str, dict[int, Door]] = {Role.LEADER.label: {}}
    for place in sorted(_joined(), key=_rank):
        group = place.get_role_display()
        if place.role == Role.STUDENT:
            group = f"Students of {place.studio.title}"
        _add(found.setdefault(group, {}), place.person, _own(place) or place.studio.title)
    for person in Person.objects.filter(is_coordinator=True):
        _add(found.setdefault("Coordinator", {}), person, "every studio")
    return [(role, list(doors.values())) for role, doors in found.items() if doors]


def _joined() -> QuerySet[Membership]:
    places = Membership.objects.joined().select_related("person", "studio")
    return places.prefetch_related("person__schemes").order_by("-studio__pk", "person__name")


def _own(place: Membership) -> str:
    """The schemes of a student in a studio."""
    own = [str(s) for s in place.person.schemes.all() if s.studio_id == place.studio_id]
    return ", ".join(own)


def _rank(place: Membership) -> int:
    return list(Role.values).index(place.role)


def _door(place: Membership, about: str) -> Door:
    return Door(place.person.name, about, _sign_in(place.person))


def _sign_in(person: Person) -> str:
    return reverse("demo-sign-in", kwargs={"person_id": person.pk})


def _add(doors: dict[int, Door], person: Person, about: str) -> None:
    before = f"{doors[person.pk].about}; " if person.pk in doors else ""
    doors[person.pk] = Door(person.name, before + about, _sign_in(person))


def juror_doors() -> list[Door]:
    """The personal links of the jurors whose crits aren't released."""
    return [_juror_door(seat) for seat in _seats().order_by("crit__day", "name")]


def _seats() -> QuerySet[Seat]:
    return Seat.objects.filter(crit__in=Crit.objects.to_come()).select_related("crit__studio")


def _juror_door(seat: Seat) -> Door:
    room = f"room {seat.room}" if seat.room else ""
    about = (
        seat.get_kind_display(),
        room,
        f"{seat.crit.studio.title}, {seat.crit.get_kind_display().lower()}",
    )
    url = reverse("enter-jury", kwargs={"code": seat.code})
    return Door(seat.name, ", ".join(filter(None, about)), url, is_link=True)
