"""Who belongs to a studio, and who has no way in yet."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Prefetch

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import person_links
from reviews.models import Membership, Scheme, Studio


@dataclass(frozen=True)
class PersonLine:
    """One person's place in a studio.

    link   the personal link, where the viewer may give it and no password is set
    """

    membership: Membership
    schemes: str
    has_password: bool
    can_make_link: bool
    link: str = ""


def people_lines(request: HttpRequest, studio: Studio) -> list[PersonLine]:
    """Everybody's places: leaders, students, scribes, examiners; by name within each."""
    order = list(Membership.Role.values)
    here = Prefetch("person__schemes", Scheme.objects.filter(studio=studio))
    places = studio.memberships.select_related("person")
    places = places.prefetch_related(here, "person__memberships")
    lines = sorted(places, key=lambda place: (order.index(place.role), place.person.name))
    return [_line(request, place) for place in lines]


def _line(request: HttpRequest, place: Membership) -> PersonLine:
    person = place.person
    may = access.can_make_link(request.viewer, person)
    has_password = person.has_usable_password()
    return PersonLine(
        place,
        ", ".join(str(scheme) for scheme in person.schemes.all())
        if place.role == Membership.Role.STUDENT
        else "",
        has_password,
        may,
        person_links.link_for(request, person) if may and not has_password else "",
    )


def links_to_print(lines: list[PersonLine]) -> list[PersonLine]:
    """One line for each person whose link can be given, however many places they have."""
    return list({line.membership.person_id: line for line in lines if line.link}.values())
