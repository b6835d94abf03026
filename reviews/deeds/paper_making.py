"""Make a crit's jury sheets for paper: in the background, by default at 08:00 on its day."""

from __future__ import annotations

import hashlib
import io
import logging
from collections.abc import Iterator
from datetime import datetime, time
from functools import partial

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils import timezone
from PIL import Image

from reviews import clock
from reviews.deeds.mail_words import whole_address
from reviews.drawn.paper_sheets import MOST_SHEETS, Hung, PaperSheet, draw_paper
from reviews.jobs import job
from reviews.models import Crit, IssuedSheet, PaperSheets, Person, Scheme, Seat, Slot
from reviews.moments import day_words, moment_words
from reviews.reading.crit_sheets import revision_shown
from reviews.reading.paper_tries import DELAYS, tried_since
from reviews.reading.recrit_scope import asked_of

MADE_AT = time(8)
"""When the day's are made, in the site's time zone."""
THUMB_PX = 520
"""Across a sheet's picture on paper: 300 dots an inch at 44 mm [px]."""

LOG = logging.getLogger(__name__)


def queue_papers(at: datetime) -> None:
    """Have the paper made of each crit of the day that has none of it yet, from 08:00 on.

    What can't be made is tried three times, and then only where somebody asks for it.
    """
    here = timezone.localtime(at)
    if here.time() < MADE_AT:
        return
    midnight = timezone.make_aware(datetime.combine(here.date(), time.min))
    tried = tried_since(midnight - clock.shift())
    for crit in Crit.objects.to_come().filter(day=here.date()):
        if crit.pk not in tried and not _is_made(crit):
            make_paper.enqueue(crit.pk)


def _is_made(crit: Crit) -> bool:
    begin = timezone.make_aware(datetime.combine(clock.today(), time.min))
    return crit.paper.filter(made_at__gte=begin).exists()


@partial(job, delays=DELAYS)
def make_paper(crit_id: int, by_id: int | None = None) -> None:
    """Make it and keep it in place of what was made before; by itself, once a day."""
    crit = Crit.objects.select_related("studio").filter(pk=crit_id).first()
    if crit is None or (by_id is None and _is_made(crit)):
        return
    drawn = draw_paper(paper_of(crit), f"Jury sheets, {crit}, {crit.studio.title}")
    with transaction.atomic():
        Crit.objects.hold(crit.pk)
        if by_id is None and _is_made(crit):
            return
        let_paper_go(crit)
        paper = PaperSheets(crit=crit, bytes=len(drawn), made_at=clock.now(), by_id=by_id)
        name = f"{crit.pk}-{hashlib.sha256(drawn).hexdigest()[:16]}.pdf"
        paper.file.save(name, ContentFile(drawn), save=False)
        paper.save()


def let_paper_go(*crits: Crit) -> None:
    """Delete what was made of some crits, files and all: it repeats names."""
    made = PaperSheets.objects.filter(crit__in=crits)
    for name in made.values_list("file", flat=True):
        transaction.on_commit(partial(_delete, name))
    made.delete()


def _delete(name: str) -> None:
    try:
        default_storage.delete(name)
    except OSError as error:
        LOG.error("%s stays until clear_pictures is run: %s", name, error)


def paper_code(seat: Seat, scheme: Scheme) -> str:
    """The short code on a sheet: juror's number and scheme's; no secret, it opens nothing alone."""
    return f"{seat.pk}-{scheme.number}"


def paper_of(crit: Crit) -> Iterator[PaperSheet]:
    """The sheets of each juror, scheme after scheme as they see them."""
    hung: dict[int, tuple[str, tuple[Hung, ...]]] = {}
    asked: dict[int, tuple[tuple[str, str], ...]] = {}
    for seat in crit.seats.named().prefetch_related("interests"):
        slots = Slot.objects.seen_by(seat).select_related("scheme")
        for slot in slots.filter(scheme__in=crit.studio.schemes.standing()):
            scheme = slot.scheme
            if scheme.pk not in hung:
                hung[scheme.pk] = _hung(crit, scheme)
                weighed = (each for each in asked_of(crit, scheme.pk) if each.weight)
                asked[scheme.pk] = tuple((each.code, each.name) for each in weighed)
            why_none = _why_no_level(crit, seat, scheme)
            revision, sheets = hung[scheme.pk]
            room = slot.room or seat.room
            yield PaperSheet(
                scheme=str(scheme),
                juror=f"{seat.name}, {seat.get_kind_display().lower()}",
                place=", ".join(
                    filter(
                        None,
                        (
                            f"Room {room}" if room else "All jurors",
                            f"{slot.starts_at:%H:%M}" if slot.starts_at else "no hour yet",
                            day_words(crit.day),
                        ),
                    )
                ),
                crit=f"{crit.get_kind_display()}, {crit.studio.title}",
                revision=revision,
                code=paper_code(seat, scheme),
                link=whole_address("type-sheet", crit.pk, seat.pk, scheme.pk),
                levels=() if why_none else asked[scheme.pk],
                sheets=sheets,
                why_none=why_none,
            )


def _why_no_level(crit: Crit, seat: Seat, scheme: Scheme) -> str:
    if crit.talk == Crit.Talk.TALK_FIRST:
        return "Talk first: comments alone, no level is asked."
    if seat.interest_in(scheme.pk):
        return "An interest is declared: comments, no level."
    return ""


def _hung(crit: Crit, scheme: Scheme) -> tuple[str, tuple[Hung, ...]]:
    revision = revision_shown(crit, scheme)
    if revision is None:
        return "Nothing was issued", ()
    told = f"Revision {revision.letter}, issued {moment_words(revision.issued_at)}"
    sheets = revision.sheets.select_related("file").order_by("number", "pk")
    return told, tuple(_picture(each, n < MOST_SHEETS) for n, each in enumerate(sheets))


def _picture(sheet: IssuedSheet, is_shown: bool) -> Hung:
    """A sheet with its picture made small; without one where the store doesn't give it."""
    size = (sheet.file.width, sheet.file.height)
    picture = small_picture(sheet, THUMB_PX) if is_shown else None
    return Hung(sheet.number, sheet.title, picture, *size)


def small_picture(sheet: IssuedSheet, most_px: int) -> bytes | None:
    """A sheet's picture as JPEG, so many px at most; None where the store doesn't give it."""
    try:
        with sheet.file.preview.open("rb") as stored, Image.open(stored) as picture:
            picture.draft("RGB", (most_px, most_px))
            small = picture.convert("RGB")
            small.thumbnail((most_px, most_px))
            out = io.BytesIO()
            small.save(out, "JPEG", quality=70)
    except OSError as error:
        LOG.warning("%s is on paper without its picture: %s", sheet, error)
        return None
    return out.getvalue()


def ask_for_paper(crit: Crit, by: Person) -> None:
    """Have it made anew, as the order and the sheets are now."""
    transaction.on_commit(partial(make_paper.enqueue, crit.pk, by.pk))
