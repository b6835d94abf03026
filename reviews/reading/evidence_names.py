"""What stands in place of names in a book that names nobody.

Masked are, in every text of the book: full names in any case, with or without their accents,
however their words are joined (mira_mate, MiraMate); their parts (first names and surnames, as
typed or in capitals), the initials of jurors in capitals, and every e-mail address. All in one
pass, so that what stands in a name's place is never read as one. A name that is also a word is
masked as well where it is written like the name; where it isn't, `evidence_left` names it. What a
picture shows as drawn isn't read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any
from unicodedata import combining, normalize

from django.db.models import Q

from criteria.drawing.lettering import initials_of
from reviews.models import Answer, Membership, Person, Scheme, Seat, Studio
from reviews.reading.spoken_lines import initials_of_jurors

ADDRESS = re.compile(r"[^\s@<>()\"',;:]+@[^\s@<>()\"',;:]+")
SEPARATORS = re.compile(r"[\s_.,-]+")
NO_ADDRESS, NO_NAME = "[address]", "[name]"
_ROLES = {
    Membership.Role.LEADER: "Leader",
    Membership.Role.SCRIBE: "Scribe",
    Membership.Role.EXAMINER: "Examiner",
}


LETTER = r"[^\W\d_]"
JOINED = 8
"""Letters of a name from which it is known with its words written as one: MiraMate, not annex."""


@dataclass(frozen=True)
class Masks:
    """Names with what stands in their place: `parts` as written, `whole` in any case."""

    whole: dict[str, str]
    parts: dict[str, str]

    def __post_init__(self) -> None:
        whole = {as_written: now for n, now in self.whole.items() for as_written in _written(n)}
        parts = {as_written: now for n, now in self.parts.items() for as_written in _written(n)}
        names = "|".join(map(_joined, sorted(whole, key=len, reverse=True))) or r"(?!)"
        short = "|".join(map(re.escape, sorted(parts, key=len, reverse=True))) or r"(?!)"
        found = rf"(?<!{LETTER})(?:(?P<whole>(?i:{names}))|(?P<part>{short}))(?!{LETTER})"
        object.__setattr__(self, "_folded", {_folded(name): now for name, now in whole.items()})
        object.__setattr__(self, "_short", parts)
        object.__setattr__(self, "_found", re.compile(found))

    def text(self, text: str) -> str:
        """A text that names nobody."""
        found: re.Pattern[str] = self._found  # type: ignore[attr-defined]
        return found.sub(self._instead, ADDRESS.sub(NO_ADDRESS, normalize("NFC", text)))

    def _instead(self, match: re.Match[str]) -> str:
        if match["whole"] is not None:
            folded: dict[str, str] = self._folded  # type: ignore[attr-defined]
            return folded.get(_folded(match["whole"]), NO_NAME)
        short: dict[str, str] = self._short  # type: ignore[attr-defined]
        return short[match["part"]]

    def all(self, told: Any) -> Any:
        """The same of everything, however deep."""
        if isinstance(told, dict):
            return {key: self.all(value) for key, value in told.items()}
        if isinstance(told, list):
            return [self.all(value) for value in told]
        return self.text(told) if isinstance(told, str) else told


def unaccented(text: str) -> str:
    """A text without the marks on its letters.

    >>> unaccented("Zoë Čapek")
    'Zoe Capek'
    """
    return "".join(letter for letter in normalize("NFKD", text) if not combining(letter))


def _written(name: str) -> set[str]:
    return {normalize("NFC", name), unaccented(name)}


def _joined(name: str) -> str:
    """A pattern of a full name, whatever stands between its words."""
    words = [word for word in SEPARATORS.split(name) if word]
    between = "*" if sum(map(len, words)) >= JOINED else "+"
    return (SEPARATORS.pattern.removesuffix("+") + between).join(map(re.escape, words))


def _folded(name: str) -> str:
    return SEPARATORS.sub("", name).casefold()


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
    secret = {seat.code: NO_NAME for seat in seats}
    return Masks(secret | {name: now for name, now in whole.items() if name.strip()}, parts)


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
    answered = Answer.objects.filter(comment__jury_sheet__scheme__studio=studio)
    here |= Q(pk__in=answered.values("answered_by"))
    here |= Q(pk__in=studio.schemes.values("consents__person"))
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
