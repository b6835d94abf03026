"""What every reading of results asks, of whatever crit and scheme: to ask is to filter it.

Building a query takes longer than the database takes to answer it, so what stands the same in each
is built once a process. Nothing here is ever read unfiltered: a queryset that was read would keep
its rows.
"""

from __future__ import annotations

from functools import cache
from typing import cast

from django.db.models import Exists, OuterRef, Prefetch, QuerySet

from reviews.models import ClockEntry, Comment, Correction, JurySheet, LevelGiven, Slot, SpokenNote
from reviews.models.jury import CommentQuerySet, JurySheetQuerySet
from reviews.reading.comment_rulings import with_words_out
from reviews.reading.crit_answers import telling_which_are_ruled


@cache
def sheets_asked() -> JurySheetQuerySet:
    """Jury sheets that are read, with levels, whether these count, whether any was put right."""
    levels = Prefetch("levels", LevelGiven.objects.order_by())
    read = JurySheet.objects.read().telling_which_count().select_related("seat")
    corrected = Correction.objects.filter(given__jury_sheet=OuterRef("pk"))
    read = read.annotate(is_corrected=Exists(corrected))
    return read.prefetch_related(levels).order_by()


@cache
def comments_asked() -> CommentQuerySet:
    """Comments, each with its answer, the words that go out, and whether it is ruled on."""
    told = telling_which_are_ruled(Comment.objects.select_related("answer"))
    return cast(CommentQuerySet, with_words_out(told).order_by())


@cache
def slots_asked() -> QuerySet[Slot]:
    """Slots, each with whether anything was said aloud, and whether a clock was kept."""
    here = OuterRef("pk")
    return Slot.objects.order_by().annotate(
        is_heard=Exists(SpokenNote.objects.filter(slot=here)),
        is_timed=Exists(ClockEntry.objects.filter(slot=here)),
    )
