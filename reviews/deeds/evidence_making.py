"""Make a book of evidence: choose its schemes, then freeze contents and files in the background.

A book is frozen once and for all. One thing alone makes its files again: that somebody is made
anonymous (`mask_books`). Then its contents have the new name in place of the old, its files go and
are made of these contents, and it says which receipt it had before.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from tempfile import TemporaryFile
from typing import Any

from django.core.files import File
from django.core.files.storage import default_storage
from django.db import transaction

from criteria.crit_day.drawing_lots import new_lot
from criteria.errors import Refused
from criteria.scoring.levels import shown
from reviews import clock
from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.evidence_files import write_book
from reviews.jobs import job
from reviews.models import EvidenceBook, Person, Scheme, Studio
from reviews.moments import moment_words
from reviews.reading import evidence_choice
from reviews.reading.evidence_choice import Candidate
from reviews.reading.evidence_contents import FORMAT, TEACHING, gathered, schemes_of
from reviews.reading.evidence_names import masks_of

Choice = EvidenceBook.Choice
LOG = logging.getLogger(__name__)
BY_VERDICT = "passed: its last verdict isn’t “Show again”; without a verdict it hasn’t"
BY_BOUND = "passed: a weighted level of {} or more at the final crit"
NO_FINAL = "a studio with a released final crit"


@dataclass(frozen=True)
class Wish:
    """What whoever makes a book asks for.

    asked   how many by lot, or of each band
    bound   the least weighted level that passed [level]; None: by the verdict
    lot     a seed that was typed; None: a fresh one
    named   keys of schemes
    """

    title: str
    choice: str
    is_anonymous: bool = False
    asked: int = 1
    bound: Fraction | None = None
    lot: int | None = None
    named: tuple[int, ...] = ()


@transaction.atomic
def ask_for_book(studio: Studio, wish: Wish, by: Person) -> EvidenceBook:
    """Choose the schemes and have the book made. Raises Refused where none can be chosen."""
    keys, drawn_from = _chosen(studio, wish)
    if not keys:
        raise Refused("no scheme", f"at least one: {drawn_from.get('rule', 'choose another way')}")
    is_draw, counts = wish.choice == Choice.DRAW, wish.choice in (Choice.DRAW, Choice.BANDS)
    book = EvidenceBook.objects.create(
        studio=studio,
        title=wish.title,
        is_anonymous=wish.is_anonymous,
        choice=wish.choice,
        lot=drawn_from["lot"] if is_draw else None,
        asked=wish.asked if counts else None,
        drawn_from=masks_of(studio).all(drawn_from) if wish.is_anonymous else drawn_from,
        total=len(keys),
        by=by,
        asked_at=clock.now(),
    )
    book.schemes.set(keys)
    record(Deed.EVIDENCE, studio, by=by, about=wish.title)
    transaction.on_commit(partial(make_book.enqueue, book.pk))
    return book


def _chosen(studio: Studio, wish: Wish) -> tuple[list[int], dict[str, Any]]:
    """Keys of the schemes, and what they were chosen from, by which figures."""
    schemes = studio.schemes.order_by("number")
    if wish.choice == Choice.ALL:
        return list(schemes.values_list("pk", flat=True)), {"rule": "every scheme of the studio"}
    if wish.choice == Choice.NAMED:
        named = schemes.filter(pk__in=wish.named)
        return list(named.values_list("pk", flat=True)), {
            "rule": "each ticked by whoever made the book"
        }
    crit = evidence_choice.last_final(studio)
    if crit is None:
        raise Refused("a choice by the levels of the final crit", NO_FINAL)
    found = evidence_choice.candidates(crit)
    chosen, more = (_in_bands if wish.choice == Choice.BANDS else _drawn)(found, wish)
    told = {"crit": str(crit), "list": evidence_choice.told(found, chosen), **more}
    return list(chosen), told


def _in_bands(found: list[Candidate], wish: Wish) -> tuple[dict[int, str], dict[str, Any]]:
    rule = f"{wish.asked} of each band, low, middle and high, by weighted level"
    return evidence_choice.in_bands(found, wish.asked), {"rule": rule}


def _drawn(found: list[Candidate], wish: Wish) -> tuple[dict[int, str], dict[str, Any]]:
    lot = new_lot() if wish.lot is None else wish.lot
    passed = {each.scheme.number: each.scheme.pk for each in found if each.has_passed(wish.bound)}
    rule = BY_VERDICT if wish.bound is None else BY_BOUND.format(shown(wish.bound, 2))
    taken = evidence_choice.drawn(passed, lot, wish.asked)
    more = {"rule": rule, "passed": sorted(passed), "lot": lot}
    return {passed[number]: "drawn by lot" for number in taken}, more


@job
def make_book(book_id: int) -> None:
    """Freeze a book and write its files; of one that is written, nothing more is done."""
    book = EvidenceBook.objects.select_related("studio__brief", "by").filter(pk=book_id).first()
    if book is None or book.file:
        return
    contents = deepcopy(book.contents) or frozen_contents(book, schemes_of(book))
    try:
        _write(book, contents)
    except Exception as fault:
        told = f"{type(fault).__name__}: {fault}"[:300]
        EvidenceBook.objects.filter(pk=book.pk).update(failed=told)
        raise


def frozen_contents(book: EvidenceBook, schemes: Sequence[Scheme]) -> dict[str, Any]:
    """The contents as they stand at this moment."""
    with transaction.atomic():
        told = gathered(book.studio, schemes, is_anonymous=book.is_anonymous)
    return told | {
        "format": FORMAT,
        "title": masks_of(book.studio).text(book.title) if book.is_anonymous else book.title,
        "is_anonymous": book.is_anonymous,
        "choice": book.get_choice_display(),
        "drawn_from": book.drawn_from,
        "frozen": moment_words(clock.now()),
        "by": "" if book.is_anonymous else str(book.by),
        "teaching": TEACHING,
        "formers": [],
    }


def _write(book: EvidenceBook, contents: dict[str, Any]) -> None:
    def on_scheme(n: int) -> None:
        EvidenceBook.objects.filter(pk=book.pk).update(done=n)

    with TemporaryFile() as zipped, TemporaryFile() as drawn:
        receipt = write_book(contents, book.studio, zipped, drawn, on_scheme)
        with transaction.atomic():
            held = EvidenceBook.objects.select_for_update().get(pk=book.pk)
            if held.file or held.contents != book.contents:  # made by another, or masked meanwhile
                return
            held.bytes = zipped.tell()
            for stream, field, ending in ((zipped, held.file, "zip"), (drawn, held.pdf, "pdf")):
                stream.seek(0)
                field.save(f"{receipt[:32]}.{ending}", File(stream), save=False)
            held.contents, held.receipt, held.failed = contents, receipt, ""
            held.done, held.frozen_at = held.total, held.frozen_at or clock.now()
            held.save()


def mask_books(
    studios: Iterable[Studio],
    names: Mapping[str, str],
    masked: Callable[[Any, Mapping[str, str]], Any],
) -> None:
    """Write new names over old ones in the books of some studios, and make their files again."""
    books = EvidenceBook.objects.select_for_update().filter(studio__in=list(studios))
    for book in books:
        held = {"t": book.title, "d": book.drawn_from, "c": book.contents}
        now = masked(held, names)
        if now == held:
            continue
        contents = now["c"]
        if contents and book.receipt:
            why = {"receipt": book.receipt, "until": moment_words(clock.now())}
            contents["formers"] = [*contents.get("formers", []), why]
        for name in filter(None, (str(book.file), str(book.pdf))):
            transaction.on_commit(partial(_delete, name))
        book.title, book.drawn_from, book.contents = now["t"][:120], now["d"], contents
        book.file, book.pdf, book.receipt, book.done = "", "", "", 0
        book.save()
        transaction.on_commit(partial(make_book.enqueue, book.pk))


def _delete(name: str) -> None:
    try:
        default_storage.delete(name)
    except OSError as error:
        LOG.error("%s stays until clear_pictures is run: %s", name, error)


def scheme_choices(studio: Studio) -> list[tuple[int, str]]:
    """The schemes that may be named."""
    return [(each.pk, str(each)) for each in Scheme.objects.filter(studio=studio)]
