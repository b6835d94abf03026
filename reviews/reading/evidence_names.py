"""What stands in place of names in a book that names nobody.

Masked are, in every text of the book: full names, their parts (first names and surnames, as typed
or in capitals), the initials of jurors in capitals, and every e-mail address. All in one pass, so
that what stands in a name's place is never read as one. A name that is also a word is masked as
well where it is written like the name. What a picture shows as drawn isn't read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import Q

from criteria.drawing.lettering import initials_of
from reviews.models import Membership, Person, Scheme, Seat, Studio
from reviews.reading.spoken_lines import initials_of_jurors

ADDRESS = re.compile(r"[^\s@<>()\"',;:]+@[^\s@<>()\"',;:]+")
NO_ADDRESS, NO_NAME = "[address]", "[name]"
_ROLES = {
    Membership.Role.LEADER: "Leader",
    Membership.Role.SCRIBE: "Scribe",
    Membership.Role.EXAMINER: "Examiner",
}


@dataclass(frozen=True)
class Masks:
    """Names with what stands in their place: `parts` as written, `whole` in any case."""

    whole: dict[str, str]
    parts: dict[str, str]

    def __post_init__(self) -> None:
        folded = {name.casefold(): now for name, now in self.whole.items()}
        whole = "|".join(map(re.escape, sorted(self.whole, key=len, reverse=True))) or r"(?!)"
        parts = "|".join(map(re.escape, sorted(self.parts, key=len, reverse=True))) or r"(?!)"
        found = rf"(?<!\w)(?:(?P<whole>(?i:{whole}))|(?P<part>{parts}))(?!\w)"
        object.__setattr__(self, "_folded", folded)
        object.__setattr__(self, "_found", re.compile(found))

    def text(self, text: str) -> str:
        """A text that names nobody."""
        found: re.Pattern[str] = self._found  # type: ignore[attr-defined]
        return found.sub(self._instead, ADDRESS.sub(NO_ADDRESS, text))

    def _instead(self, match: re.Match[str]) -> str:
        if match["whole"] is not None:
            folded: dict[str, str] = self._folded  # type: ignore[attr-defined]
            return folded.get(match["whole"].casefold(), NO_NAME)
        return self.parts[match["part"]]

    def all(self, told: Any) -> Any:
        """The same of everything, however deep."""
        if isinstance(told, dict):
            return {key: self.all(value) for key, value in told.items()}
        if isinstance(told, list):
            return [self.all(value) for value in told]
        return self.text(told) if isinstance(told, str) else told


def masks_of(studio: Studio) -> Masks:
    """Everybody who may be named in a studio's record."""
    whole = dict(_people(studio))
    seats = list(Seat.objects.filter(crit__studio=studio).order_by("pk"))
    jurors = dict.fromkeys(seat.name for seat in seats if seat.erased_at is None)
    for n, name in enumerate(jurors):
        whole.setdefault(name, f"Juror {_letters(n)}")
    parts: dict[str, str] = {}
    for name, now in whole.items():
        for part in _parts(name):
            parts[part] = now if parts.get(part, now) == now else NO_NAME
    for crit in studio.crits.prefetch_related("seats"):
        names = [seat.name for seat in crit.seats.all()]
        called = zip(initials_of_jurors(names), names, strict=True)
        for short, name in [*called, *((s, n) for n, s in initials_of(names).items())]:
            if name in whole and len(short) > 1:
                parts[short] = whole[name] if parts.get(short) in (None, whole[name]) else NO_NAME
    return Masks({name: now for name, now in whole.items() if name.strip()}, parts)


def _people(studio: Studio) -> Iterator[tuple[str, str]]:
    """Each name with what stands in its place: students by their scheme, then by role."""
    schemes = Scheme.objects.filter(studio=studio).order_by("number")
    drew = [
        person
        for scheme in schemes.prefetch_related("members", "revisions__students")
        for held in (scheme.members.all(), *(r.students.all() for r in scheme.revisions.all()))
        for person in held
    ]
    yield from _called("Student", drew)
    places = list(studio.memberships.select_related("person").order_by("pk"))
    for role, word in _ROLES.items():
        yield from _called(word, [each.person for each in places if each.role == role])
    students = [each.person for each in places if each.role == Membership.Role.STUDENT]
    yield from _called("Classmate", [person for person in students if person not in drew])
    yield from ((each.called, NO_NAME) for each in places if each.called)
    here = Q(is_coordinator=True) | Q(opens_studios=True) | Q(duties__crit__studio=studio)
    here |= Q(pk__in=studio.audit_lines.exclude(person=None).values("person"))
    here |= Q(pk__in=studio.audit_lines.exclude(of_person=None).values("of_person"))
    here |= Q(pk__in=studio.schemes.values("revisions__issued_by"))
    known = {person.pk for person in [*drew, *(each.person for each in places)]}
    others = Person.objects.filter(here).exclude(pk__in=known).distinct().order_by("pk")
    yield from _called("Person", others)


def _called(word: str, people: Iterable[Person]) -> Iterator[tuple[str, str]]:
    named = dict.fromkeys(person for person in people if person.erased_at is None)
    yield from ((person.name, f"{word} {n}") for n, person in enumerate(named, start=1))


def _parts(name: str) -> Iterator[str]:
    """First names and surnames, as typed and in capitals; no particle, no single letter."""
    for part in re.findall(r"[^\W\d_][\w’'-]*", name):
        if len(part) > 1 and not part.islower():
            yield part
            yield part.upper()


def _letters(n: int) -> str:
    """A, B, …, Z, AA: what a juror is called by.

    >>> _letters(0), _letters(25), _letters(26)
    ('A', 'Z', 'AA')
    """
    before, last = divmod(n, 26)
    return (_letters(before - 1) if before else "") + chr(ord("A") + last)
