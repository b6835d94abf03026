"""Hang what was sent, one picture at a time on a machine, whatever many send at once.

What is sent is kept in line before anything is read, so that a server that stops loses nothing.
Whoever sends works the line for a moment; where somebody else does, or it is long, a thread of
this process goes on, and the page says which place each picture has.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from math import inf
from pathlib import Path
from time import monotonic
from typing import Any
from uuid import uuid4

from django.core.files.base import File
from django.db import connection, transaction
from django.utils import timezone
from filelock import FileLock, Timeout

from criteria.errors import Refused
from reviews.deeds.sheet_keeping import hang_sheet, save_sheet, sheets_asked
from reviews.deeds.sheet_uploads import (
    LONGEST_WAIT_S,
    CutOff,
    Unfinished,
    keep_picture,
    make_small,
    require_size,
    work_folder,
)
from reviews.models import Package, Person, SentPicture, Sheet, SheetFile
from reviews.outages import outage_behind
from reviews.reading.sheet_lettering import PageText
from reviews.reading.sheet_proposals import proposals
from reviews.reading.sheet_room import sheet_room
from reviews.reading.title_block import title_block_of
from reviews.versions import Newer

PATIENCE_S = 8.0
"""How long whoever sends is kept for what is in line [s]."""

MOST_TRIES = 3
"""How often a picture is read whose reading was cut off, with or without its server."""

A_ROUND = 20
"""Small pictures made in one round of the background."""

log = logging.getLogger(__name__)


def send_pictures(
    package: Package, files: Iterable[File[bytes]], by: Person, **how: Any
) -> list[SentPicture]:
    """Send files to be hung, as `put_in_line` says; return what has become of each by now.

    What is known of earlier ones is forgotten, and of these where all hang.
    """
    package.sent_pictures.told().filter(by=by).delete()
    sent = [put_in_line(package, file, by, **how).pk for file in files]
    work_line(PATIENCE_S)
    rows = SentPicture.objects.filter(pk__in=sent).select_related("sheet")
    found = list(rows)
    if all(each.is_kept for each in found):
        rows.delete()
    elif any(each.is_waiting for each in found):
        ring()
    return found


def put_in_line(
    package: Package,
    file: File[bytes],
    by: Person,
    *,
    drawn_by: str = "",
    is_replacing: bool = False,
    sheet: Sheet | None = None,
) -> SentPicture:
    """Keep a file that was sent, to be read in its turn; one that can't be taken says why.

    sheet   the sheet whose picture it shall be; else its name says which
    """
    name = file.name or "the file"
    sent = SentPicture(
        package=package, by=by, name=name[:255], drawn_by=drawn_by, is_replacing=is_replacing
    )
    sent.sheet = sheet
    try:
        sent.bytes = require_size(name, file)
        sheet_room(package.scheme.studio).require(name, sent.bytes)
        sent.file.save(uuid4().hex, file, save=False)
    except (Refused, OSError) as error:
        sent.why, sent.ended_at = _why(error), timezone.now()
    sent.save()
    return sent


def said(refused: Refused) -> str:
    """What a person is told of a refusal."""
    return f"Read “{refused.read}”. Expected {refused.expected}."


def the_line(wait_s: float = -1) -> FileLock:
    """What only one on this machine holds at once; raises Timeout where another does."""
    return FileLock(work_folder() / "line.lock", timeout=wait_s)


def work_line(patience_s: float | None = None) -> None:
    """Hang what is in line, first come first, until none is left or patience ends.

    With patience, one who finds another at work leaves at once, and a picture that isn't read in
    time goes back to its place; without, they wait for their turn.
    """
    ends = inf if patience_s is None else monotonic() + patience_s
    try:
        with the_line(-1 if patience_s is None else 0):
            while (left := ends - monotonic()) > 0:
                cut_off, tries = _take_up()
                sent = SentPicture.objects.begin_next()
                if sent is None:
                    return
                _end(sent, left, 1 + tries * (sent.pk == cut_off))
    except Timeout:
        return
    except OSError as out:
        if outage_behind(out) is None:
            raise
        log.warning("What is in line waits: %s", out)


def _in_hand() -> Path:
    """What names the picture that this machine read last, at which moment and for which time."""
    return work_folder() / "in-hand"


def _take_up() -> tuple[int, int]:
    """Give back the place of a picture whose reading was cut off; say which, and after how many.

    Whoever holds the line knows that nobody of this machine is at work: it needn't be waited for.
    """
    try:
        pk, tries, begun_at = _in_hand().read_text(encoding="ascii").split(maxsplit=2)
        is_cut_off = _put_back(int(pk), datetime.fromisoformat(begun_at))
    except (FileNotFoundError, ValueError):  # no word, or half of it
        return 0, 0
    return (int(pk), int(tries)) if is_cut_off else (0, 0)


def _end(sent: SentPicture, left_s: float, tries: int) -> None:
    """Hang one picture, or keep why not; another's refusal doesn't touch it.

    Raises OSError, and it keeps its place, where the store doesn't answer or has no room.
    """
    try:
        _in_hand().write_text(f"{sent.pk} {tries} {sent.begun_at}", encoding="ascii")
        if tries > MOST_TRIES:
            raise CutOff
        with sent.file.open("rb") as file:
            picture = keep_picture(file, sent.name, min(left_s, LONGEST_WAIT_S))
        with transaction.atomic():
            sent.sheet = _hang(sent, picture)
            _tell(sent)
    except CutOff as cut_off:
        if tries < MOST_TRIES:
            return
        sent.why = _why(cut_off)
    except Unfinished as unfinished:
        if left_s < LONGEST_WAIT_S:
            _put_back(sent.pk, sent.begun_at)
            return
        sent.why = _why(unfinished)
    except (Refused, Newer, Sheet.DoesNotExist, OSError) as error:
        if outage_behind(error):
            _put_back(sent.pk, sent.begun_at)
            raise
        sent.why = _why(error)
    if sent.why:
        _tell(sent)
    with suppress(OSError):  # what nothing names any more is cleared later
        sent.file.delete(save=False)


def _put_back(pk: int, begun_at: datetime | None) -> bool:
    """Give a picture back its place, if it's still as it was begun at a moment; say whether."""
    begun = SentPicture.objects.waiting().filter(pk=pk, begun_at=begun_at)
    return bool(begun.update(begun_at=None))


def _why(error: Exception) -> str:
    """Why a picture isn't taken, in words."""
    match error:
        case Refused():
            return said(error)
        case Newer(kept=kept):
            return f"{kept.changed_by} changed {kept} meanwhile."
        case Sheet.DoesNotExist():
            return "The sheet was taken down meanwhile."
        case CutOff():
            return (
                f"Reading it was cut off {MOST_TRIES} times: the server may lack memory. Tell "
                "whoever looks after it, and send it again."
            )
        case Unfinished():
            return f"It isn't read within {LONGEST_WAIT_S} s. Send it again."
    log.error("Keeping a picture that was sent", exc_info=error)
    return "It can't be stored just now. Tell whoever looks after the server, and send it again."


def _tell(sent: SentPicture) -> None:
    SentPicture.objects.filter(pk=sent.pk).update(
        sheet=sent.sheet, why=sent.why, ended_at=timezone.now(), file=""
    )


def _hang(sent: SentPicture, picture: SheetFile) -> Sheet:
    package, sheet = sent.package, sent.sheet
    there = {sheet.number: sheet for sheet in package.sheets.all()}
    asked = sheets_asked(package)
    block, proposed = proposals(sent.name, PageText(), asked, there, sent.drawn_by)
    if sent.is_replacing:
        sheet = there.get(block.number)
    if sheet is None:
        return hang_sheet(package, picture, block, sent.by, proposed=proposed)
    block = title_block_of(sheet)
    return save_sheet(package, sheet.pk, block, sheet.version, sent.by, file=picture)


def make_small_pictures() -> None:
    """Make some of the small pictures that those of an earlier version lack.

    Whoever finds a picture being read leaves at once: there is another round.
    """
    lacking = list(SheetFile.objects.filter(small="").order_by("?")[:A_ROUND])
    if not lacking:
        return
    with suppress(Timeout), the_line(0):
        for file in lacking:
            try:
                make_small(file)
            except (OSError, Unfinished) as error:
                log.warning("%s gets no small picture now: %s", file, error)


_bell, _starting = threading.Event(), threading.Lock()
_at_work: threading.Thread | None = None


def ring_for_waiting() -> None:
    """Ring where anything waits: whoever sent it may have gone, and the server that read it."""
    if SentPicture.objects.waiting().exists():
        ring()


def ring() -> None:
    """Have a thread of this process work the line, from now on whenever it is rung for."""
    global _at_work
    _bell.set()
    with _starting:
        if _at_work is None or not _at_work.is_alive():
            _at_work = threading.Thread(target=_answer_the_bell, name="sheet line", daemon=True)
            _at_work.start()


def _answer_the_bell() -> None:
    while _bell.wait():
        _bell.clear()
        try:
            work_line()
        except Exception:
            log.exception("Working the line of sent pictures")
        finally:
            connection.close()
