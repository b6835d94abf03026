"""The demo's way in: everybody by role, one click each. Shut unless this is the demo."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404
from django.urls import reverse

from reviews import demo_mark
from reviews.models import Crit, Membership, Person, Seat

Role = Membership.Role


@dataclass(frozen=True)
class Door:
    """One click of the demo's sign-in page."""

    name: str
    about: str
    url: str


def require_demo() -> None:
    """Raise Http404 unless this is the demo."""
    if not demo_mark.is_demo():
        raise Http404


def people_by_role() -> list[tuple[str, list[Door]]]:
    """Everybody of the demo under their roles, with the scheme or studio beside each name."""
    found: dict[str, dict[int, Door]] = {Role.LEADER.label: {}}
    places = Membership.objects.joined().select_related("person", "studio")
    places = places.prefetch_related("person__schemes")
    by_studio = sorted(places.order_by("-studio__pk", "person__name"), key=_rank)
    for place in by_studio:
        own = [str(s) for s in place.person.schemes.all() if s.studio_id == place.studio_id]
        group = place.get_role_display()
        if place.role == Role.STUDENT:
            group = f"Students of {place.studio.title}"
        _add(found.setdefault(group, {}), place.person, ", ".join(own) or place.studio.title)
    for person in Person.objects.filter(is_coordinator=True):
        _add(found.setdefault("Coordinator", {}), person, "every studio")
    return [(role, list(doors.values())) for role, doors in found.items() if doors]


def _rank(place: Membership) -> int:
    return list(Role.values).index(place.role)


def _add(doors: dict[int, Door], person: Person, about: str) -> None:
    url = reverse("demo-sign-in", kwargs={"person_id": person.pk})
    before = f"{doors[person.pk].about}; " if person.pk in doors else ""
    doors[person.pk] = Door(person.name, before + about, url)


def juror_doors() -> list[Door]:
    """The personal links of the jurors whose crits aren't released."""
    seats = Seat.objects.filter(crit__in=Crit.objects.to_come()).select_related("crit__studio")
    return [
        Door(
            seat.name,
            ", ".join(
                part
                for part in (
                    seat.get_kind_display(),
                    f"room {seat.room}" if seat.room else "",
                    f"{seat.crit.studio.title}, {seat.crit.get_kind_display().lower()}",
                )
                if part
            ),
            reverse("enter-jury", kwargs={"code": seat.code}),
        )
        for seat in seats.order_by("crit__day", "name")
    ]
