"""Who belongs to a studio, and who has no way in yet."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Prefetch
from django.urls import reverse

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import person_links
from reviews.models import Membership, Scheme, Studio


@dataclass(frozen=True)
class PersonLine:
    """One person's place in a studio, or the place to which they are invited.

    way_in   how they get in
    link     what to print for who isn't in yet: a personal link where the viewer may give it, the
             sign-in page for whoever is invited
    """

    membership: Membership
    schemes: str
    way_in: str
    can_make_link: bool
    link: str = ""


def people_lines(request: HttpRequest, studio: Studio) -> list[PersonLine]:
    """Everybody's places: leaders, students, scribes, examiners; by name within each."""
    order = list(Membership.Role.values)
    here = Prefetch("person__schemes", Scheme.objects.filter(studio=studio))
    places = studio.memberships.select_related("person")
    places = places.prefetch_related(here, "person__memberships", "person__issued__scheme")
    places = places.select_related("scheme")
    lines = sorted(places, key=lambda place: (order.index(place.role), place.name))
    return [_line(request, place) for place in lines]


def _line(request: HttpRequest, place: Membership) -> PersonLine:
    if place.is_invited:
        home = request.build_absolute_uri(reverse("home"))
        drawn = str(place.scheme) if place.scheme else ""
        return PersonLine(place, drawn, "invited, joins by signing in", False, home)
    person, drawn = place.person, ""
    if place.role == Membership.Role.STUDENT:
        drawn = ", ".join(str(scheme) for scheme in person.schemes.all())
    if person.erased_at:
        return PersonLine(place, drawn, "made anonymous", False)
    may = access.can_make_link(request.viewer, person)
    if person.has_usable_password():
        return PersonLine(place, drawn, "password set", may)
    link = person_links.link_for(request, person) if may else ""
    return PersonLine(place, drawn, "no password yet", may, link)


def links_to_print(lines: list[PersonLine]) -> list[PersonLine]:
    """One line for each person whose link can be given, however many places they have."""
    return list({line.membership.person_id: line for line in lines if line.link}.values())
