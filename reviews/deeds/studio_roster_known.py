"""Who of a roster is known in a studio: by the id that the school has of them, else by address.

Of one who is known by the id, the school may have another address now. An account's address is
changed by a roster only where who brings it in could open the account anyway (`can_make_link`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from reviews import access
from reviews.access import Viewer
from reviews.deeds.table_bringing import folded
from reviews.models import Membership, Person, Studio

_OF_PERSON = re.compile(r"(e-mail|school id) [^,]*")


@dataclass(frozen=True)
class Sought:
    """Whom a line means: as the school writes them."""

    name: str
    email: str
    school_id: str = ""


class Known:
    """The people of a studio, each with the school's id of them where one was brought in.

    by   who brings the roster in
    """

    def __init__(self, studio: Studio, by: Person) -> None:
        self.viewer = Viewer(by)
        self.places: list[Membership] = list(
            studio.memberships.select_related("person", "scheme").order_by("pk")
        )
        people: dict[int, Person] = {}
        self._names: dict[int, str] = {}
        self._ids: dict[int, str] = {}
        for place in self.places:
            place.person = people.setdefault(place.person_id, place.person)
            self._names[place.person_id] = place.name
            self._ids[place.person_id] = place.school_id or self._ids.get(place.person_id, "")
        self._of_id = {given: people[pk] for pk, given in self._ids.items() if given}
        self._of_address = {person.email: person for person in people.values()}

    def person(self, sought: Sought) -> Person | None:
        """Who it is here."""
        return self._of_id.get(sought.school_id) or self._of_address.get(sought.email)

    def address(self, sought: Sought) -> str:
        """The address under which they are here; of whoever is new the school's."""
        person = self.person(sought)
        return person.email if person else sought.email

    def is_readdressed(self, sought: Sought) -> bool:
        """Whether their account gets the school's address."""
        person = self.person(sought)
        if person is None or person.email == sought.email:
            return False
        return access.can_make_link(self.viewer, person)

    def refused(self, sought: Sought) -> tuple[str, str, str] | None:
        """The column that means somebody else than another, what was read and what expected."""
        by_id, by_address = self._of_id.get(sought.school_id), self._of_address.get(sought.email)
        if by_address is None or by_address == by_id:
            return None
        name = self._names[by_address.pk]
        if by_id is not None:
            return "E-mail", sought.email, f"an address that nobody else here has: it is {name}’s"
        before = self._ids[by_address.pk]
        if sought.school_id and before and folded(name) != folded(sought.name):
            expected = f"{before}, the id of {name}, who is here by this address; or a blank"
            return "School id", sought.school_id, expected
        return None

    def news(self, sought: Sought) -> list[str]:
        """What of a person who is here becomes another."""
        person = self.person(sought)
        if person is None:
            return []
        said, before = [], self._ids[person.pk]
        if self.is_readdressed(sought):
            said.append(f"e-mail {person.email} → {sought.email}")
        elif person.email != sought.email:
            said.append(f"e-mail stays {person.email}: the account isn’t yours to change")
        if sought.school_id and sought.school_id != before:
            said.append(f"school id {before and f'{before} → '}{sought.school_id}")
        return said


def without_addresses(change: str) -> str:
    """The words of a change, which stand longer than addresses and ids may.

    >>> without_addresses("Ada: new here, e-mail a@example.org → b@example.org, joins H01")
    'Ada: new here, e-mail, joins H01'
    """
    return _OF_PERSON.sub(r"\1", change)


def without_school_id(told: dict[str, Any], person: Person | None) -> dict[str, Any]:
    """What a change of people keeps, without the school's id of one of them."""

    def of_place(place: dict[str, Any]) -> dict[str, Any]:
        is_theirs = person is not None and place["person_id"] == person.pk
        return {**place, "school_id": ""} if is_theirs and "school_id" in place else place

    return {
        when: {**people, "places": [of_place(place) for place in people["places"]]}
        if isinstance(people, dict) and "places" in people
        else people
        for when, people in told.items()
    }
