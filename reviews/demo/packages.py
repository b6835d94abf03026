"""Fill the schedules, hang the sheets and issue the revisions of the demo's schemes."""

from __future__ import annotations

import io
from datetime import datetime

from django.core.files.base import ContentFile

from criteria.package import read_package
from reviews.demo.drawings import draw_sheets
from reviews.demo.scenario import (
    DRAWN,
    ISSUED,
    PLAN_AND_SECTIONS,
    STATEMENTS,
    Calendar,
    StudioStory,
    issue_hour,
)
from reviews.demo.tables import DATA, GENERATED, given, read_csv, typed
from reviews.issuing import issue
from reviews.keeping import bring_in, keep_statement
from reviews.models import Package, Person, Scheme, Studio
from reviews.moments import day_words
from reviews.sheet_keeping import TitleBlock, hang_sheet, save_sheet
from reviews.uploads import keep_picture

Records = dict[str, list[dict[str, str]]]


def letters(number: str) -> str:
    """Return the revisions that a scheme issues."""
    return "ABC" if number == "E11" else "AB"


def hand_in_all(studio: Studio, story: StudioStory, calendar: Calendar) -> None:
    """Issue every revision of every scheme, in the order of the days."""
    ideas = {row["no"]: row["idea"] for row in read_csv("schemes")}
    for scheme in studio.schemes.prefetch_related("members").select_related("package"):
        by = scheme.members.all()[0]
        text = STATEMENTS.get(scheme.number, ideas[scheme.number])
        keep_statement(scheme.package, text, 0)
        for letter in letters(scheme.number):
            at = _moment(scheme.number, letter, story, calendar)
            records = _records(scheme.number, letter)
            for slug, rows in records.items():
                bring_in(scheme.package, slug, rows, by, is_replacing=True, at=at)
            only = () if (scheme.number, letter) in DRAWN else PLAN_AND_SECTIONS
            if not only or letter == letters(scheme.number)[-1]:
                _hang(scheme, letter, text, records, story, by, at, only)
            issue(scheme.package, by, at)


def _records(number: str, letter: str) -> Records:
    own = typed(given(number, letter, DATA))
    return own if own.get("rooms") else typed(given(number, letter, GENERATED))


def _moment(number: str, letter: str, story: StudioStory, calendar: Calendar) -> datetime:
    if told := ISSUED.get((number, letter)):
        return calendar.at(*told)
    year, month, day, _ = story.interim_pens_down if letter == "A" else story.final_pens_down
    return calendar.at(year, month, day, issue_hour(number))


def _hang(
    scheme: Scheme, letter: str, statement: str, records: Records, story: StudioStory,
    by: Person, at: datetime, only: tuple[str, ...],
) -> None:  # fmt: skip
    site = next(row for row in read_csv("site") if row["cohort"] == story.letter)
    drawn = draw_sheets(
        scheme.number, scheme.name, scheme.by, letter, day_words(at), statement,
        read_package({**records, "site": [site]}).package, records, site["place"], only,
    )  # fmt: skip
    names = [member.name for member in scheme.members.all()]
    for sheet in drawn:
        picture = io.BytesIO()
        sheet.image.save(picture, "PNG", compress_level=1)
        file = keep_picture(ContentFile(picture.getvalue(), f"{sheet.number}.png"))
        said = TitleBlock(sheet.number, sheet.title, sheet.scale, names[0], names[-1])
        _hang_or_change(scheme.package, said, file, by, at)


def _hang_or_change(
    package: Package, said: TitleBlock, file: object, by: Person, at: datetime
) -> None:
    hung = package.sheets.filter(number=said.number).first()
    if hung is None:
        hang_sheet(package, file, said, by, at=at)
    else:
        save_sheet(package, hung.pk, said, hung.version, by, file=file, at=at)
