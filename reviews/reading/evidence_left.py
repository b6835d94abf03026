"""What may still name somebody in a book that names nobody, for whoever makes it to read before.

Masks take out what is written like a name. Left are words that may be one: in other letters (stef),
with an ending (Stefs), the beginning of somebody's address; and what is drawn in pictures, which
nobody here reads. A word of ours is never named.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from reviews.models import IssuedPackage, IssuedSheet, Person, Seat, Studio
from reviews.reading.evidence_contents import OF_STUDIO, Told, gathered
from reviews.reading.evidence_names import LETTER, Masks, masks_of, unaccented
from reviews.worked_out import fingerprint

LEAST = 3
"""Letters of a part of a name that is looked for."""
LONG, ENDING = 4, 3
"""From how many letters a name is found with an ending, of at most so many."""
MOST_PLACES = 4
WORD = re.compile(LETTER + "+")
OURS = re.compile(
    r"\b(?:Student|Classmate|Juror|Leader|Scribe|Examiner|Person) (?:\d+|[A-Z]{1,2})\b"
    r"|\[(?:name|address)\]"
)


@dataclass(frozen=True)
class Left:
    """A word that may name somebody, and where it stands."""

    word: str
    places: tuple[str, ...]

    @property
    def where(self) -> str:
        """The places, the first ones by name."""
        more = len(self.places) - MOST_PLACES
        named = "; ".join(self.places[:MOST_PLACES])
        return f"{named}; and {more} more" if more > 0 else named


@dataclass(frozen=True)
class LeftNames:
    """All of it, with a mark of it by which a form says that it was read."""

    words: tuple[Left, ...]
    pictures: tuple[str, ...]

    def __bool__(self) -> bool:
        return bool(self.words or self.pictures)

    @property
    def mark(self) -> str:
        """Changes with what is left."""
        told = [*((each.word, each.places) for each in self.words), *self.pictures]
        return fingerprint(told)[:16]


def names_left(studio: Studio) -> LeftNames:
    """What may still name somebody, were every scheme of the studio in the book."""
    masks = masks_of(studio)
    schemes = list(studio.schemes.prefetch_related("members").order_by("number", "pk"))
    told = gathered(studio, schemes, is_anonymous=True)
    sought = _sought(studio, masks)
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for place, text in [*_texts(told), *_schedules(studio, masks)]:
        for word in WORD.findall(OURS.sub(" ", text)):
            if _may_name(word, sought):
                found[word][place] = None
    words = tuple(Left(word, tuple(places)) for word, places in sorted(found.items()))
    return LeftNames(words, tuple(_pictures(studio)))


def _sought(studio: Studio, masks: Masks) -> set[str]:
    """Parts of names, and beginnings of addresses, without accents and capitals."""
    people = Person.objects.filter(memberships__studio=studio).values_list("email", flat=True)
    jurors = Seat.objects.filter(crit__studio=studio).values_list("email", flat=True)
    first = {word for email in (*people, *jurors) for word in WORD.findall(email.split("@")[0])}
    parts = {unaccented(word).casefold() for word in {*first, *masks.parts}}
    return {part for part in parts if len(part) >= LEAST}


def _may_name(word: str, sought: set[str]) -> bool:
    plain = unaccented(word).casefold()
    shortest = max(LONG, len(plain) - ENDING)
    return plain in sought or any(plain[:n] in sought for n in range(shortest, len(plain)))


def _texts(told: Told) -> Iterator[tuple[str, str]]:
    """Every text of the contents, and where it stands."""
    for key, words in OF_STUDIO.items():
        yield from ((words, text) for text in _deep(told["studio"].get(key)))
    for scheme in told["schemes"]:
        number = scheme["number"]
        yield number, scheme["name"]
        for revision in scheme["revisions"]:
            place = f"{number} revision {revision['letter']}"
            yield from ((place, text) for text in _deep(revision))
        for crit in scheme["crits"]:
            yield from ((f"{number}, {crit['crit']}", text) for text in _deep(crit))


def _deep(told: Any) -> Iterator[str]:
    if isinstance(told, str):
        yield told
    elif isinstance(told, Mapping):
        for value in told.values():
            yield from _deep(value)
    elif isinstance(told, list):
        for value in told:
            yield from _deep(value)


def _schedules(studio: Studio, masks: Masks) -> Iterator[tuple[str, str]]:
    packages = IssuedPackage.objects.filter(revision__scheme__studio=studio)
    for package in packages.select_related("revision__scheme"):
        place = f"{package.revision.scheme.number} revision {package.revision.letter}, schedules"
        held = masks.all(package.contents.get("schedules", {}))
        yield from ((place, text) for text in _deep(held))


def _pictures(studio: Studio) -> Iterator[str]:
    """Sheets whose title block names somebody, as far as it was read or typed."""
    sheets = IssuedSheet.objects.filter(revision__scheme__studio=studio).defer("lettering")
    named = sheets.exclude(drawn_by="", checked_by="").select_related("revision__scheme")
    by: dict[str, list[str]] = defaultdict(list)
    for each in named.order_by("revision__scheme__number", "revision__pk", "number"):
        of = f"{each.revision.scheme.number} revision {each.revision.letter}"
        by[of].append(each.number)
    yield from (f"{of}: {', '.join(numbers)}" for of, numbers in by.items())
