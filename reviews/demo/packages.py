"""Fill the schedules, hang the sheets and issue the revisions of the demo's schemes."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils import timezone

from criteria.drawing.border import A3_MM
from reviews.deeds.package_keeping import bring_in, keep_statement
from reviews.deeds.revision_issuing import issue
from reviews.deeds.sheet_keeping import NOWHERE, Came, hang_sheet, save_sheet
from reviews.deeds.sheet_uploads import PlainPicture, keep_plain, work_folder
from reviews.demo.drawing_room import DrawingJob, Drawn, draw, drawers
from reviews.demo.scenario import (
    DRAWN,
    ISSUED,
    OPENING,
    PLAN,
    SETS,
    SHEETS,
    Calendar,
    StudioStory,
    issue_hour,
)
from reviews.demo.sheets import Told
from reviews.demo.tables import DATA, GENERATED, given, read_csv, typed, use_of
from reviews.models import Original, Package, Person, Scheme, SheetFile, Studio
from reviews.moments import day_words
from reviews.reading.title_block import TitleBlock

Records = dict[str, list[dict[str, str]]]

SHOWN = {number: (kind, state) for number, _, _, kind, state in SHEETS}
"""Kind and state of each sheet."""


def letters(number: str) -> str:
    """Return the revisions that a scheme issues."""
    return "ABC" if number == "E11" else "AB"


FULL = tuple(dict.fromkeys(number for number, _ in DRAWN))
"""Numbers of the schemes that are loaded before the demo is served."""


def hand_in(
    studios: Sequence[tuple[Studio, StudioStory]], calendar: Calendar, *, full: bool
) -> Iterator[Scheme]:
    """Issue the revisions of the schemes drawn whole, or of all others; yield each scheme before.

    A scheme's come in the order of their days, whole or not at all. The sheets are drawn meanwhile
    by processes of their own.
    """
    said = {row["no"]: row["statement"] or row["idea"] for row in read_csv("schemes")}
    wanted = [
        (scheme, story)
        for studio, story in studios
        for scheme in studio.schemes.prefetch_related("members").select_related("package")
        if (scheme.number in FULL) == full
    ]
    with TemporaryDirectory(dir=work_folder()) as folder, drawers() as room:
        drawn = {
            (scheme.number, letter): room.submit(draw, job, folder)
            for scheme, story in wanted
            for letter in letters(scheme.number)
            if (job := _job(scheme, letter, said[scheme.number], story, calendar))
        }
        try:
            for scheme, story in wanted:
                yield scheme
                own = {key: job.result() for key, job in drawn.items() if key[0] == scheme.number}
                with transaction.atomic():  # short, for pages may be served meanwhile
                    _issue_all(scheme, said[scheme.number], story, calendar, own)
        except BaseException:
            room.shutdown(cancel_futures=True)
            raise


def _issue_all(
    scheme: Scheme,
    statement: str,
    story: StudioStory,
    calendar: Calendar,
    drawn: dict[tuple[str, str], Drawn],
) -> None:
    keep_statement(scheme.package, statement, 0)
    for letter in letters(scheme.number):
        by, at = scheme.members.all()[0], _moment(scheme.number, letter, story, calendar)
        for slug, rows in _records(scheme.number, letter).items():
            bring_in(scheme.package, slug, rows, by, is_replacing=True, at=at)
        if sheets := drawn.get((scheme.number, letter)):
            _hang(scheme, sheets, by, at)
        issue(scheme.package, by, at)


def _job(
    scheme: Scheme, letter: str, statement: str, story: StudioStory, calendar: Calendar
) -> DrawingJob | None:
    is_full = (scheme.number, letter) in (*DRAWN, *OPENING)
    only = () if is_full else _wanted(scheme.number, letter)
    if not (is_full or only):
        return None
    site = next(row for row in read_csv("site") if row["cohort"] == story.letter)
    told = Told(
        number=scheme.number,
        name=scheme.name,
        by=scheme.by,
        letter=letter,
        day=day_words(timezone.localdate(_moment(scheme.number, letter, story, calendar))),
        statement=statement,
        site=site["place"],
    )
    records = {**_records(scheme.number, letter), **use_of(story.letter)}
    is_set = (scheme.number, letter) in SETS
    return DrawingJob(told, records, site, only, is_set)


def _wanted(number: str, letter: str) -> tuple[str, ...]:
    """The sheets of a revision that are drawn: those commented on by then, and the final plan."""
    seen = {"interim": "A", "final": letters(number)[-1]}
    said = {
        row["place"].partition("·")[0]
        for row in read_csv("comments")
        if row["scheme"] == number and seen[row["crit"]] <= letter
    }
    return tuple(sorted(said.union(PLAN if letter == seen["final"] else ()) - {""}))


def _records(number: str, letter: str) -> Records:
    own = typed(given(number, letter, DATA))
    return own if own.get("rooms") else typed(given(number, letter, GENERATED))


def _moment(number: str, letter: str, story: StudioStory, calendar: Calendar) -> datetime:
    if told := ISSUED.get((number, letter)):
        return calendar.at(*told)
    year, month, day, _ = story.interim_pens_down if letter == "A" else story.final_pens_down
    return calendar.at(year, month, day, issue_hour(number))


def _hang(scheme: Scheme, drawn: Drawn, by: Person, at: datetime) -> None:
    names = [member.name for member in scheme.members.all()]
    original = _original(drawn.pdf) if drawn.pdf else None
    for page, (number, title, scale, picture) in enumerate(drawn.pictures, start=1):
        file = keep_plain(PlainPicture(**picture))
        kind, state = SHOWN[number]
        said = TitleBlock(number, title, scale, names[0], names[-1], kind, state, width_mm=A3_MM[0])
        came = NOWHERE
        if original:
            came = Came(original, Path(drawn.pdf).name, page, drawn.lettering[page - 1])
        _hang_or_change(scheme.package, said, file, came, by, at)


def _original(path: str) -> Original:
    """Keep a set of sheets as it was sent."""
    sent = Path(path).read_bytes()
    sha256 = hashlib.sha256(sent).hexdigest()
    name = default_storage.save(f"originals/{sha256}", ContentFile(sent))
    held: dict[str, Any] = {"file": name, "bytes": len(sent)}
    return Original.objects.get_or_create(sha256=sha256, defaults=held)[0]


def _hang_or_change(
    package: Package, said: TitleBlock, file: SheetFile, came: Came, by: Person, at: datetime
) -> None:
    hung = package.sheets.filter(number=said.number).first()
    if hung is None:
        hang_sheet(package, file, said, by, came=came, at=at)
    else:
        save_sheet(package, hung.pk, said, hung.version, by, file=file, came=came, at=at)
