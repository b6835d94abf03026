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
from filelock import Timeout

from criteria.errors import Refused
from reviews.deeds.sheet_clearing import let_go
from reviews.deeds.sheet_keeping import Came, hang_sheet, save_sheet, sheets_asked
from reviews.deeds.sheet_uploads import (
    LONGEST_WAIT_S,
    PICTURE,
    AtHand,
    CutOff,
    Unfinished,
    at_hand,
    keep_original,
    keep_picture,
    make_lacking,
    pages_of,
    require_size,
    the_line,
    work_folder,
)
from reviews.models import Package, Person, SentPicture, Sheet, SheetFile
from reviews.outages import outage_behind
from reviews.reading.sheet_lettering import PageText
from reviews.reading.sheet_proposals import PAGE, proposals
from reviews.reading.sheet_room import sheet_room
from reviews.reading.title_block import title_block_of
from reviews.versions import Newer

PATIENCE_S = 8.0
"""How long whoever sends is kept for what is in line [s]."""

MOST_TRIES = 3
"""How often a picture is read whose reading was cut off, with or without its server."""

A_ROUND = 20
"""Pictures of which what lacks is made in one round of the background."""

RESOLUTION = "resolution of the file"
"""What the width of a picture's paper is read from."""

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
    rows = SentPicture.objects.filter(pk__in=sent).select_related("sheet__original")
    found = list(rows)
    lacking = SheetFile.objects.lacking().filter(sheets__in=[each.sheet for each in found])
    if any(each.is_waiting for each in found) or lacking.exists():
        ring()
    if all(each.is_kept_whole for each in found):
        rows.delete()
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
    """Hang what was sent, or keep why not; another's refusal doesn't touch it.

    Raises OSError, and it keeps its place, where the store doesn't answer or has no room.
    """
    ends = monotonic() + left_s
    try:
        _note(sent, tries)
        if tries > MOST_TRIES:
            raise CutOff
        with sent.file.open("rb") as file, at_hand(file, sent.name) as copy:
            _read_pages(sent, copy, ends, tries)
    except Unfinished as unfinished:
        if isinstance(unfinished, CutOff) and tries < MOST_TRIES:
            return
        if not isinstance(unfinished, CutOff) and left_s < LONGEST_WAIT_S:
            _put_back(sent.pk, sent.begun_at)
            return
        sent.why = _why(unfinished)
    except (Refused, Newer, Sheet.DoesNotExist, OSError) as error:
        if outage_behind(error):
            _put_back(sent.pk, sent.begun_at)
            raise
        sent.why = _why(error)
    _tell(sent)
    with suppress(OSError):  # what nothing names any more is cleared later
        sent.file.delete(save=False)


def _note(sent: SentPicture, tries: int) -> None:
    """Say beside the lock what is in hand."""
    _in_hand().write_text(f"{sent.pk} {tries} {sent.begun_at}", encoding="ascii")


def _read_pages(sent: SentPicture, copy: AtHand, ends: float, tries: int) -> None:
    """Hang a picture, or page after page of a PDF or TIFF; each page has its own answer.

    Raises as `_hang` does of a picture, and of pages what lets the rest wait.
    """
    if not sent.report:
        labels = pages_of(copy, _left(ends))
        if not labels:
            sent.sheet = _hang(sent, copy, 0, ends)
            return
        if sent.sheet and len(labels) > 1:
            raise Refused(
                f"{sent.name}, a {copy.kind} of {len(labels)} pages", "one page for one sheet"
            )
        _report(sent, [{"label": label} for label in labels])
    for n, page in enumerate(sent.report, 1):
        if "sheet" in page or "why" in page:
            continue
        _note(sent, tries)
        try:
            sent.sheet = _hang(sent, copy, n, ends)
            page["sheet"] = sent.sheet.number
        except (Refused, Newer, Sheet.DoesNotExist) as error:
            page["why"] = _why(error)
        except Unfinished as unfinished:
            is_short = ends - monotonic() < LONGEST_WAIT_S
            if tries < MOST_TRIES if isinstance(unfinished, CutOff) else is_short:
                raise
            page["why"] = _why(unfinished)
        _report(sent, sent.report)
        tries = 1
    if not sent.numbers:
        sent.why = sent.report[0]["why"]


def _left(ends: float) -> float:
    """The time that is left for one process [s]; raises Unfinished where none is."""
    if (left := min(ends - monotonic(), LONGEST_WAIT_S)) <= 0:
        raise Unfinished
    return left


def _report(sent: SentPicture, report: list[dict[str, str]]) -> None:
    """Keep what has become of each page, so that whoever goes on knows."""
    sent.report = report
    SentPicture.objects.filter(pk=sent.pk).update(report=report, sheet=sent.sheet)


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


def _hang(sent: SentPicture, copy: AtHand, page: int, ends: float) -> Sheet:
    """Read a picture, or one page of several, and hang it; what fails leaves nothing behind."""
    picture, lettering = keep_picture(copy, page, _left(ends))
    original = keep_original(copy)
    came = Came(original, sent.name, page or None, lettering.as_record())
    try:
        with transaction.atomic():
            return _hung(
                sent, picture, came, lettering, RESOLUTION if copy.reader == PICTURE else PAGE
            )
    except (Refused, Newer, Sheet.DoesNotExist):
        let_go([(picture.pk, original.pk)])
        raise


def _hung(
    sent: SentPicture, picture: SheetFile, came: Came, lettering: PageText, width_by: str
) -> Sheet:
    package, sheet = sent.package, sent.sheet if len(sent.report) < 2 else None
    there = {sheet.number: sheet for sheet in package.sheets.all()}
    # the name of a file of many pages says which sheet none of them is
    name = "" if len(sent.report) > 1 else sent.name
    block, proposed = proposals(name, lettering, sheets_asked(package), there, sent.drawn_by)
    if "width_mm" in proposed:
        proposed["width_mm"] = width_by
    if sent.is_replacing:
        sheet = there.get(block.number)
    if sheet is None:
        return hang_sheet(package, picture, block, sent.by, came=came, proposed=proposed)
    block = title_block_of(sheet)
    return save_sheet(package, sheet.pk, block, sheet.version, sent.by, file=picture, came=came)


def make_lacking_pictures() -> None:
    """Make what pages lack of some pictures: tiles of large ones, small ones of earlier versions.

    Whoever finds a picture being read, or one that waits, leaves at once: there is another round.
    """
    for file in SheetFile.objects.lacking().order_by("?")[:A_ROUND]:
        if SentPicture.objects.waiting().exists():
            return
        try:
            with the_line(0):
                make_lacking(file)
        except Timeout:
            return
        except (OSError, Refused, Unfinished) as error:
            log.warning("%s isn't made in all its sizes now: %s", file, error)


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
            make_lacking_pictures()
        except Exception:
            log.exception("Working the line of sent pictures")
        finally:
            connection.close()
