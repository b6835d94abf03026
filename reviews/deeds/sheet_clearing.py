"""Clear what nothing refers to: pictures that hang nowhere, files that nothing names."""

from __future__ import annotations

import logging
import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.core.files.storage import default_storage
from django.utils import timezone

from reviews.deeds.sheet_uploads import WORK, the_line
from reviews.models import (
    BroughtFile,
    EvidenceBook,
    Original,
    PaperSheets,
    ResultPapers,
    SentPicture,
    SheetFile,
)

FOLDERS = (
    "sheets",
    "previews",
    "small",
    "tiles",
    "originals",
    "sent",
    "paper",
    "results",
    "evidence",
    "brought",
    "files-in",
)

LOG = logging.getLogger(__name__)


def clear_pictures(older_than: timedelta, *, is_trial: bool = False) -> list[str]:
    """Delete pictures that no sheet has had for some time, and files that nothing names.

    What a revision was issued with is referred to, and stays. Returns the names of the files;
    a trial deletes nothing. Waits until no picture is being hung.
    """
    before = timezone.now() - older_than
    with the_line():
        gone = SheetFile.objects.unused().filter(kept_at__lt=before)
        told = SentPicture.objects.told().filter(ended_at__lt=before)
        originals = Original.objects.unused().filter(kept_at__lt=before)
        names = gone.names() | originals.names()
        if not is_trial:
            gone.delete()
            originals.delete()
            told.delete()
        names |= set(_unnamed(before))
        if not is_trial:
            for name in names:
                default_storage.delete(name)
            _clear_work(before)
    return sorted(names)


def clear_those(held: Iterable[tuple[int, int | None]]) -> None:
    """Delete those of some pictures and their originals that no sheet has.

    Waits until no picture is being hung.
    """
    with the_line():
        let_go(held)


def let_go(held: Iterable[tuple[int, int | None]]) -> None:
    """The same, for whoever holds the line.

    Files that the store doesn't let go of now are named by nothing, and cleared another day.
    """
    pictures, originals = zip(*held, strict=True) if (held := list(held)) else ((), ())
    unused = (
        SheetFile.objects.unused().filter(pk__in=pictures),
        Original.objects.unused().filter(pk__in=originals),
    )
    for gone in unused:
        names = gone.names()
        gone.delete()
        for name in names:
            try:
                default_storage.delete(name)
            except OSError as error:
                LOG.error("%s stays until clear_pictures is run: %s", name, error)


def _named() -> set[str]:
    sent = set(SentPicture.objects.values_list("file", flat=True))
    paper = set(PaperSheets.objects.values_list("file", flat=True))
    results = set(ResultPapers.objects.values_list("file", flat=True))
    files = set(BroughtFile.objects.values_list("file", flat=True))
    books = EvidenceBook.objects.values_list("file", "pdf")
    named = {name for files in books for name in files} | sent | files | paper | results
    return SheetFile.objects.all().names() | Original.objects.all().names() | named


def _unnamed(before: datetime) -> Iterator[str]:
    """Files that nothing names and that have been stored for some time."""
    named = _named()
    arriving = {each.stem for each in SentPicture.objects.arriving()}
    for folder in FOLDERS:
        stored: list[str] = []
        with suppress(FileNotFoundError):  # a folder that nothing was put into yet
            stored = [f"{folder}/{file}" for file in default_storage.listdir(folder)[1]]
        for name in stored:
            is_piece = name.rpartition("-")[0] in arriving
            if (
                not is_piece
                and name not in named
                and default_storage.get_modified_time(name) < before
            ):
                yield name


def _clear_work(before: datetime) -> None:
    """What a process that was killed has left."""
    for left in os.scandir(Path(settings.MEDIA_ROOT, WORK)):
        if left.is_dir() and left.stat().st_mtime < before.timestamp():
            shutil.rmtree(left, ignore_errors=True)
