"""The demo's way in: everybody by role, one click each. Shut unless this is the demo."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, time
from typing import Any

from django.db.models import Count, QuerySet
from django.http import Http404
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString

from criteria.drawing.drawing import NARROW_MM, Field
from criteria.drawing.hut import draw_hut
from reviews import clock, demo_mark
from reviews.drawn.svg import as_svg
from reviews.models import ClockEntry, Crit, Duty, Membership, Package, Person, Seat

Role = Membership.Role
WIDE_MM = 260.0
"""As wide as a sheet across holds within its border [mm]."""

HOURS = (
    ("08:00", "before the day"),
    ("11:05", "in the middle of it"),
    ("13:40", "all shown"),
    ("18:00", "the evening"),
)
"""Hours of the running crit's day to which the demo's clock is moved by one tap."""


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
    drawn = drawn.exclude(scheme__slots__clock__deed=ClockEntry.Deed.ENDED)
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


def ways_in() -> dict[str, Any]:
    """All that the demo's sign-in page shows besides the form."""
    crit = running_crit()
    return {
        "hut": hut(),
        "doors": people_by_role(),
        "juror_doors": juror_doors(),
        "room_doors": room_doors(crit),
        "demo_now": clock.here(),
        "demo_hours": HOURS if crit else (),
    }


def room_doors(crit: Crit | None) -> list[Door]:
    """What the projector of each room shows."""
    links = crit.room_links.all() if crit else []
    return [
        Door(str(link), "on the projector", reverse("show-room", args=[link.code]), is_link=True)
        for link in links
    ]


def running_crit() -> Crit | None:
    """The crit whose day the demo stands at."""
    return Crit.objects.to_come().order_by("day").last()


def moment_of_the_day(hour: time) -> datetime:
    """An hour of the running crit's day, or of today where there is none."""
    crit = running_crit()
    return timezone.make_aware(datetime.combine(crit.day if crit else clock.today(), hour))


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
    for duty in Duty.objects.filter(crit__in=Crit.objects.to_come()).select_related("person"):
        where = f"room {duty.room}" if duty.room else "on the day"
        _add(found.setdefault(f"{duty.get_kind_display()}s on the day", {}), duty.person, where)
    return [(role, list(doors.values())) for role, doors in found.items() if doors]


def _joined() -> QuerySet[Membership]:
    places = Membership.objects.joined().select_related("person", "studio")
    return places.prefetch_related("person__schemes").order_by("-studio__opened_at", "person__name")


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
    told = doors[person.pk].about.split("; ") if person.pk in doors else []
    said = "; ".join([*told, *([] if about in told else [about])])
    doors[person.pk] = Door(person.name, said, _sign_in(person))


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
