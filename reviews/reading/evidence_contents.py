"""The contents of a book of evidence as plain data, and what has changed since it was made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reviews.models import EvidenceBook, Scheme, Studio
from reviews.reading.evidence_names import masks_of
from reviews.reading.evidence_schemes import schemes_told
from reviews.reading.evidence_studio import studio_told

Told = dict[str, Any]
FORMAT = 1
"""Of contents.json; it grows where a reader of an older one couldn't read it."""
TEACHING = (
    "Figures are teaching checks, not a code approval; local codes and licensed practice decide."
)
CREDITS = ("drawn_by", "checked_by")

OF_CRIT = {
    "verdict": "verdict",
    "criteria": "levels",
    "comments": "comments, answers or closings",
    "spoken": "spoken notes",
    "appeals": "appeals",
}
OF_STUDIO = {
    "brief": "the brief",
    "crits": "the criteria sheets",
    "standards": "the map of standards",
    "cohort_figures": "the cohort's figures",
    "jurors": "the jurors' figures",
    "register": "the register",
}


def gathered(studio: Studio, schemes: Sequence[Scheme], *, is_anonymous: bool) -> Told:
    """Studio and schemes as they stand now, of crits that are released; masked, where asked."""
    crits = list(studio.crits.released().prefetch_related("criteria").order_by("day", "pk"))
    told: Told = {"studio": studio_told(studio, crits), "schemes": schemes_told(schemes, crits)}
    return nameless(studio, told) if is_anonymous else told


def nameless(studio: Studio, told: Told) -> Told:
    """The same without a name: title blocks' credits go whole, texts are masked."""
    for scheme in told["schemes"]:
        for revision in scheme["revisions"]:
            for sheet in revision["sheets"]:
                sheet |= dict.fromkeys(CREDITS, "")
    masked: Told = masks_of(studio).all(told)
    return masked


def schemes_of(book: EvidenceBook) -> list[Scheme]:
    """The schemes of a book, by number."""
    chosen = book.schemes.select_related("studio").prefetch_related("members")
    return list(chosen.order_by("number", "pk"))


def changed_since(book: EvidenceBook) -> list[str]:
    """What differs now from what the book holds, in words; the book stays as it is."""
    now = gathered(book.studio, schemes_of(book), is_anonymous=book.is_anonymous)
    return [*_studio_changes(book.contents["studio"], now["studio"]), *_schemes(book.contents, now)]


def _studio_changes(then: Told, now: Told) -> Iterator[str]:
    for key, words in OF_STUDIO.items():
        if then.get(key) != now.get(key):
            yield f"{words} changed".capitalize()


def _schemes(then: Told, now: Told) -> Iterator[str]:
    after = {scheme["number"]: scheme for scheme in now["schemes"]}
    for scheme in then["schemes"]:
        number = scheme["number"]
        if number not in after:
            yield f"{number} is no scheme of the studio any more"
            continue
        yield from (f"{number}: {words}" for words in _scheme(scheme, after[number]))


def _scheme(then: Told, now: Told) -> Iterator[str]:
    letters = {revision["letter"] for revision in then["revisions"]}
    new = [each["letter"] for each in now["revisions"] if each["letter"] not in letters]
    if new:
        yield f"revision {', '.join(new)} issued"
    if [then[key] for key in ("name", "by", "withdrawn")] != [
        now[key] for key in ("name", "by", "withdrawn")
    ]:
        yield "its name, its students or its standing changed"
    before = {crit["crit"]: crit for crit in then["crits"]}
    for crit in now["crits"]:
        if crit["crit"] not in before:
            yield f"results of {crit['crit']} released"
            continue
        for key, words in OF_CRIT.items():
            if before[crit["crit"]].get(key) != crit.get(key):
                yield f"{words} of {crit['crit']} changed"
    gone = before.keys() - {crit["crit"] for crit in now["crits"]}
    yield from (f"results of {crit} called back" for crit in sorted(gone))
